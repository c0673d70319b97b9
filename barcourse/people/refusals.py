"""Sales refused and incidents: noted by whoever was there, in the sealed record; read for lists."""

from __future__ import annotations

import datetime as dt
from collections.abc import Iterable
from dataclasses import dataclass

from django.db import transaction

from . import enrol, log
from .models import Membership, PersonalText, Refusal, Venue
from .models.refusal import REFUSED, What
from .reasons import refuse

LATEST = dt.timedelta(hours=24)
"""So long afterwards something can still be noted (our own number, no source)."""


@transaction.atomic
def note(
    *, by: Membership, what: str, happened_at: dt.datetime, words: str = "", at: dt.datetime
) -> Refusal:
    """Refuses a time to come or one further back than a day, and "something else" without a
    word about what."""
    if happened_at > at:
        raise refuse("refusal_to_come", "time")
    if happened_at < at - LATEST:
        raise refuse("refusal_time", "time")
    if What(what) is What.OTHER and not words.strip():
        raise refuse("refusal_needs_words", "words")
    text = log.keep_text(about=by, text=words.strip()) if words.strip() else None
    row = Refusal.objects.create(
        venue=by.venue, by=by, what=What(what), happened_at=happened_at,
        text_code=text.code if text else "", at=at,
    )  # fmt: skip
    kind = "sale_refused" if row.is_refusal else "incident_noted"
    log.append(
        venue=by.venue, by=by, kind=kind, subject=by, row=row, text=text,
        facts={"what": str(row.what)}, at=at,
    )  # fmt: skip
    return row


def erase_words(*, by: Membership, row: Refusal, at: dt.datetime) -> None:
    """The words about it go; that it happened, when and why stays."""
    text = PersonalText.objects.filter(venue=by.venue, code=row.text_code).first()
    if row.venue_id != by.venue_id:
        raise refuse("other_house")
    if text is None:
        raise refuse("refusal_without_words")
    enrol.erase_text(by=by, text=text, at=at)


@dataclass(frozen=True)
class Noted:
    """A line of a list. `erased` where there were words and they are gone."""

    row: Refusal
    words: str
    erased: bool


def shown(venue: Venue, rows: Iterable[Refusal]) -> list[Noted]:
    """The rows with their words, in two queries."""
    rows = list(rows)
    codes = [row.text_code for row in rows if row.text_code]
    texts = {t.code: t for t in PersonalText.objects.filter(venue=venue, code__in=codes)}
    found = [(row, texts.get(row.text_code)) for row in rows]
    return [Noted(row, t.text if t else "", bool(t and t.erased_at)) for row, t in found]


def newest(
    venue: Venue, most: int, *, noted_by: Membership | None = None, what: str = "", skip: int = 0
) -> list[Noted]:
    """Everybody's, or only what one person noted; of one kind, where that is asked for. `skip`
    says how many newer ones are left out."""
    rows = Refusal.objects.in_house(venue).newest_first()
    if noted_by is not None:
        rows = rows.noted_by(noted_by)
    if what:
        rows = rows.about(what)
    return shown(venue, rows[skip : skip + most])


@dataclass(frozen=True)
class Month:
    """What was noted in one month of the house's calendar; `first` is its first day."""

    first: dt.date
    noted: list[Noted]


def by_month(venue: Venue, noted: Iterable[Noted]) -> list[Month]:
    """In the order given."""
    found: dict[dt.date, list[Noted]] = {}
    for one in noted:
        first = venue.local(one.row.happened_at).date().replace(day=1)
        found.setdefault(first, []).append(one)
    return [Month(first, rows) for first, rows in found.items()]


def since(venue: Venue, at: dt.datetime) -> list[Noted]:
    return shown(venue, Refusal.objects.in_house(venue).since(at).newest_first())


def choices() -> list[tuple[str, str]]:
    """As they stand on the page: refusals first."""
    return [(what.value, str(what.label)) for what in (*REFUSED, *_incidents())]


def _incidents() -> list[What]:
    return [what for what in What if what not in REFUSED]
