"""A row of a till's export, and what it is."""

from __future__ import annotations

import datetime as dt
from dataclasses import dataclass
from enum import StrEnum

MOST_LETTERS, FEW_LETTERS = 250, 60
"""Of a name with all that a till writes beside it, and of what is told of a cell that isn't read
(our own numbers)."""


def clipped(said: str) -> str:
    return said if len(said) <= FEW_LETTERS else f"{said[:FEW_LETTERS].rstrip()} \u2026"


class Kind(StrEnum):
    """What a row is. A void was rung up and never sold; one below zero takes a sale off again, as a
    return does, so both are sales below zero."""

    SALE = "sale"
    VOID = "void"
    TOTAL = "total"  # or a payment
    UNREADABLE = "unreadable"  # no figure where one is wanted, or a name that can be none


@dataclass(frozen=True)
class TillLine:
    """A row; `line` is its place in the file; `item` is "" where it sold something and doesn't say
    what. `size` is what a column of its own says. `unread` are the cells of its day and hour that
    say neither: it counts without; `figure` the cell of its quantity where that is no figure;
    `called` what names a row of sums beside an empty item; `letters` how many stand where a name
    is wanted, if they are too many to be one. What can't be read is clipped."""

    line: int
    kind: Kind
    item: str
    quantity: float = 0.0
    size: str = ""
    day: dt.date | None = None
    hour: int | None = None
    order: str = ""
    unread: tuple[str, ...] = ()
    figure: str = ""
    called: str = ""
    letters: int = 0
