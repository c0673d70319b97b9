"""What the pages about papers show, where that takes more than one query."""

from __future__ import annotations

import datetime as dt
from collections.abc import Iterable
from dataclasses import dataclass

from assessments.board import boards, hires_here, look_at, order_stations
from assessments.measures.readiness import Standing
from assessments.showing import VerdictShown, show_verdict
from barcourse.people.models import Membership, PersonalText, Station, Venue
from recipes.menu import Menu

from .models import Certificate
from .states import State, state
from .wording import STATES


@dataclass(frozen=True)
class Ready:
    """Who could have a certificate now; `holds` is one for this station that still does."""

    hire: Membership
    station: Station
    shown: VerdictShown
    holds: Certificate | None


def ready_for_a_station(menu: Menu) -> list[Ready]:
    """Every hire at every station that takes orders where they are ready now, by station."""
    stations = order_stations(menu.venue)
    rows = boards(stations, menu, hires_here(menu.venue, menu.at))
    look_at([r for of in rows.values() for r in of if r.standing is Standing.READY])
    held = _held(menu.venue, menu.at)
    return [
        Ready(row.hire, station, show_verdict(row.verdict), held.get((row.hire.pk, station.pk)))
        for station in stations
        for row in rows[station.pk]
        if row.standing is Standing.READY
    ]


def _held(venue: Venue, at: dt.datetime) -> dict[tuple[int, int], Certificate]:
    """The certificate that holds longest, by hire and station."""
    rows = Certificate.objects.in_house(venue).with_all().order_by("valid_until")
    return {(c.hire_id, c.station_id): c for c in rows if state(c, at) is State.VALID}


@dataclass(frozen=True)
class Issued:
    """A certificate for a list. `reason` is why it was revoked, where that isn't erased."""

    certificate: Certificate
    state: State
    reason: str

    @property
    def state_words(self) -> str:
        return str(STATES[self.state])

    @property
    def is_valid(self) -> bool:
        return self.state is State.VALID


def issued_in(venue: Venue, at: dt.datetime) -> list[Issued]:
    return _issued(Certificate.objects.in_house(venue).with_all().newest_first(), at)


def issued_to(hire: Membership, at: dt.datetime) -> list[Issued]:
    return _issued(Certificate.objects.of(hire).with_all().newest_first(), at)


def _issued(certificates: Iterable[Certificate], at: dt.datetime) -> list[Issued]:
    rows = list(certificates)
    codes = [c.revoked.reason_code for c in rows if c.revoked]
    words = dict(PersonalText.objects.filter(code__in=codes).values_list("code", "text"))
    return [
        Issued(c, state(c, at), words.get(c.revoked.reason_code, "") if c.revoked else "")
        for c in rows
    ]
