"""The certificate: a ticket on the rail, torn from the stub by which anybody can check it."""

from __future__ import annotations

import datetime as dt
import math
from dataclasses import dataclass
from itertools import groupby
from typing import Any

from django.conf import settings
from django.urls import reverse
from django.utils.translation import gettext as _

from barcourse.people.log import Head

from .columns import Day, Entry, Line, More, in_columns
from .models import Certificate
from .pdf import Paper, to_pdf
from .qr import code_of
from .shown import Shown


@dataclass(frozen=True)
class CertificateFacts:
    """Everything that the paper says, and nothing else that could change a byte of it."""

    house: str
    person: str
    issued_by: str
    issued_at: dt.datetime
    valid_from: dt.date
    valid_until: dt.date
    shown: Shown
    head: Head
    rules_version: int
    address: str
    revoked_on: dt.date | None = None
    size: str = "a4"


def facts_of(certificate: Certificate, size: str = "") -> CertificateFacts:
    """`size` is "letter" or "a4"; the house's own paper unless said."""
    venue = certificate.venue
    revocation = certificate.revoked
    return CertificateFacts(
        house=venue.name,
        person=certificate.hire.name,
        issued_by=certificate.issued_by.name,
        issued_at=venue.local(certificate.issued_at),
        valid_from=certificate.valid_from,
        valid_until=certificate.valid_until,
        shown=certificate.what_was_shown,
        head=Head(certificate.log_number, certificate.log_hash),
        rules_version=certificate.rules_version,
        address=address_of(certificate.code),
        revoked_on=venue.business_day(revocation.at) if revocation else None,
        size=size or venue.paper_size,
    )


def address_of(code: str) -> str:
    """Where anybody can check the paper. From the settings alone, never from a request."""
    return str(settings.BASE_URL).rstrip("/") + reverse("check_paper", args=(code,))


def certificate_pdf(facts: CertificateFacts) -> bytes:
    title = _("Certificate of %(person)s: ready for %(station)s") % {
        "person": facts.person,
        "station": facts.shown.station,
    }
    return to_pdf(
        Paper(
            template="papers/paper/certificate.html",
            styles=("certificate.css",),
            size=facts.size,
            title=title,
            dated=facts.issued_at.isoformat(timespec="seconds"),
            context=_context(facts),
        )
    )


def _context(facts: CertificateFacts) -> dict[str, Any]:
    return {
        "facts": facts,
        "house": facts.house,
        "house_is_long": len(facts.house) > _LONG_HOUSE,
        "name_size": name_size(facts.person),
        "orders": facts.shown.orders,
        "modules": [
            {"name": m.name, "day": dt.date.fromisoformat(m.day)} for m in facts.shown.modules
        ],
        "columns": [_blocks(column) for column in in_columns(facts.shown.drinks, rows_for(facts))],
        "code": code_of(facts.address),
    }


def _blocks(column: list[Entry]) -> list[dict[str, Any]]:
    """A column for the template: runs of drinks, each under its day where that begins here."""
    blocks: list[dict[str, Any]] = []
    for kind, run in groupby(column, key=type):
        if kind is Day:
            blocks.extend({"day": dt.date.fromisoformat(e.day)} for e in run if isinstance(e, Day))
        elif kind is Line:
            blocks.append({"drinks": [e.drink for e in run if isinstance(e, Line)]})
        else:
            blocks.extend({"more": e.count} for e in run if isinstance(e, More))
    return blocks


# Room on the ticket, in millimetres, as certificate.css sets it. Letters a line, wide ones among
# them; drinks end where the line to sign on begins.
_LONG_HOUSE = 26
_HEIGHT = {"letter": 149.3, "a4": 166.9}
_NAMES = {"": (1, 13.0), "medium": (24, 9.6), "small": (32, 7.6)}
_STATION_LETTERS, _STATION_LINE = 30, 7.1
_PASSED_LETTERS, _PASSED_LINE = 80, 4.7
_REST = 3 + 5 + 20.1 + 43 + 12.7
_ROW = 4.3


def name_size(name: str) -> str:
    """The class that sets a name: one line of large letters, two of medium or three of small."""
    if len(name) <= 20:
        return ""
    return "medium" if len(name) <= 44 else "small"


def rows_for(facts: CertificateFacts) -> int:
    """How many rows of drinks the ticket has room for, once everything above them is set."""
    letters, line = _NAMES[name_size(facts.person)]
    used = _REST + line * (_lines(facts.person, letters) if letters > 1 else 1)
    used += _STATION_LINE * _lines(facts.shown.station, _STATION_LETTERS)
    used += sum(
        _PASSED_LINE * _lines(module.name + " " * 30, _PASSED_LETTERS)
        for module in facts.shown.modules
    )
    return max(0, int((_HEIGHT[facts.size] - used) / _ROW))


def _lines(text: str, letters: int) -> int:
    return math.ceil(len(text) / letters)
