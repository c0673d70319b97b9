"""What people are held against at a station, and what is known of each beside drinks."""

from __future__ import annotations

import datetime as dt
from collections.abc import Sequence
from dataclasses import dataclass

from assessments.gate_facts import gates_of, gather_beside
from assessments.measures.ready_facts import NOTHING_BESIDE, Gates, ReadyPolicy
from assessments.measures.sales_mix import ShiftKind
from assessments.policy import Book, book_at
from barcourse.people.models import Membership, Station
from recipes.menu import Menu


@dataclass(frozen=True)
class Asked:
    """A kind of shift, None for whatever it is; and where it isn't what is in force at the menu's
    moment, the policies and the day of the calendar on which permits must hold."""

    shift: ShiftKind | None = None
    book: Book | None = None
    on: dt.date | None = None


ANY_SHIFT = Asked()


@dataclass(frozen=True)
class Bar:
    """What a station asks for, and what is known of each hire beside drinks, in their order."""

    policy: ReadyPolicy
    gates: Sequence[Gates]


def bars_of(
    stations: Sequence[Station], hires: Sequence[Membership], menu: Menu, asked: Asked
) -> dict[int, Bar]:
    """By station: one query for the policies, and one for each kind of gate that one of them
    has."""
    book = asked.book or book_at(menu.venue, menu.at)
    policies = {s.pk: book.of(s, asked.shift) for s in stations}
    beside = gather_beside(hires, policies.values(), menu.at)
    on = asked.on or menu.venue.local(menu.at).date()

    def known(station: Station) -> list[Gates]:
        if not policies[station.pk].asks_beside:
            return [NOTHING_BESIDE] * len(hires)
        return [gates_of(hire, station, beside, at=menu.at, on=on) for hire in hires]

    return {s.pk: Bar(policies[s.pk], known(s)) for s in stations}
