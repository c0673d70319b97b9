"""How people stand at stations, whether orders are taken there or not, and how to mend it."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, field

from assessments import board, tasks
from assessments.asked import ANY_SHIFT, Asked
from assessments.measures.mending import mend
from assessments.measures.readiness import Standing
from assessments.measures.waits import Reader, Waits, read_by
from assessments.wording import word
from barcourse.people.models import Membership, Station
from recipes.grammar.reasons import Reason
from recipes.menu import Menu


@dataclass(frozen=True)
class Stand:
    """How somebody stands at a station, and everything between them and ready."""

    hire: Membership
    station: Station
    standing: Standing
    missing: tuple[Reason, ...]
    waiting: Mapping[str, Waits] = field(default_factory=dict)
    """By the drink's name, what is passed and waits for its sign-off."""

    def told_to(self, reader: Reader) -> tuple[Reason, ...]:
        """What is missing, as this reader is told."""
        return tuple(read_by(reader, self.waiting, self.missing))

    @property
    def mends(self) -> list[tuple[str, str]]:
        """What is missing, each with the way to mend it."""
        return [(word(reason), word(mend(reason))) for reason in self.missing]


def stands(
    stations: Sequence[Station], hires: Sequence[Membership], menu: Menu, asked: Asked = ANY_SHIFT
) -> Iterator[Stand]:
    """Everybody at each station, in the order given. The menu is weighed for the shift already."""
    rows = board.boards([s for s in stations if s.takes_orders], menu, hires, asked=asked)
    board.look_at([row for of_station in rows.values() for row in of_station])
    for station in stations:
        if station.takes_orders:
            for row in rows[station.pk]:
                said, waiting = row.verdict.missing, row.facts.known.waiting
                yield Stand(row.hire, station, row.standing, said, waiting)
        else:
            for done in tasks.task_rows(station, hires, menu.at, asked):
                yield Stand(done.hire, station, done.verdict.standing, done.verdict.missing)
