"""What would come of an export, as it is shown before it is taken in."""

from __future__ import annotations

import datetime as dt
from collections import defaultdict
from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from django.utils.formats import date_format
from django.utils.translation import gettext as _
from django.utils.translation import ngettext

from assessments.models.sales import Place
from assessments.sales_alike import as_asked
from assessments.sales_counting import Counted
from assessments.sales_read_as import (
    doubts_words,
    formula_words,
    laid_words,
    title_words,
    unequal_words,
)
from assessments.sales_replacing import Replacing
from assessments.sales_words import (
    amount,
    below_zero_words,
    beside_words,
    beyond_words,
    counts_words,
    old_words,
    outdone_words,
    replaced_words,
    spans,
    ways_words,
)
from recipes.grammar.till_found import TillSheet
from recipes.grammar.till_kinds import Kind, TillLine
from recipes.menu import Menu

MOST_ROWS = 20
"""Rows that are told one by one."""
_ASIDE = tuple(place for place in Place if place not in (Place.MAPPED, Place.WAITING))


@dataclass(frozen=True)
class Preview:
    """In words. `read` are the names that were read as drinks, `asked` those that wait to be told,
    each with how often it was sold and what is odd about it; `aside` the places of what else is
    set aside, with their sum and names. `odd` is what looks like a slip, or is read in one of two
    ways."""

    rows: int
    quantity: str
    mapped: str
    glasses: str
    set_aside: str
    read: list[tuple[str, str, str]]
    asked: list[tuple[str, str, str]]
    aside: list[tuple[str, str, str]]
    days: list[str]
    replaced: list[str]
    outdone: list[str]
    undated: bool
    beside: list[str]
    odd: list[str]
    laid: list[str]
    ahead: list[str]
    unread: list[str]
    uncounted: int
    uncounted_rows: str
    totals: int
    sums: str
    more: int
    below_zero: list[str]
    beyond: list[str]
    seen: str
    tells_less: bool
    waiting: str

    @property
    def asks(self) -> bool:
        """Whether something must be answered before it goes in, or may be."""
        return bool(
            self.tells_less or self.below_zero or self.beyond or self.beside or self.undated
        )

    @property
    def notes(self) -> bool:
        others = self.odd or self.outdone or self.ahead or self.unread
        return bool(others or (self.replaced and not self.asks))


def preview(
    sheet: TillSheet, counted: Counted, replaces: Replacing, menu: Menu, today: dt.date
) -> Preview:
    sums, ahead, unread = counted.sums(), _each(_ahead(counted)), _each(_unread(sheet))
    aside = [place for place in _ASIDE if place in sums]
    mapped = sums.get(Place.MAPPED, counted.quantity - counted.quantity)
    return Preview(
        rows=sheet.rows,
        quantity=amount(counted.quantity),
        mapped=amount(mapped),
        glasses=amount(glasses) if (glasses := counted.drinks_mapped) != mapped else "",
        set_aside=amount(counted.quantity - mapped),
        read=_read(counted),
        asked=_asked(counted, menu),
        aside=[(str(p.label), amount(sums[p]), _names(counted, p)) for p in aside],
        days=spans(counted.days),
        replaced=[replaced_words(one) for one in replaces.replaced],
        outdone=outdone_words(replaces),
        undated=bool(replaces.undated),
        beside=[beside_words(one) for one in replaces.beside],
        odd=[
            *_title(sheet),
            *formula_words(sheet),
            *unequal_words(sheet),
            *doubts_words(sheet.doubts),
            *old_words(counted.days, today),
        ],
        laid=[*laid_words(sheet)],
        ahead=ahead[:MOST_ROWS],
        unread=unread[:MOST_ROWS],
        uncounted=sheet.rows_of(Kind.UNREADABLE),
        uncounted_rows=uncounted_rows(sheet),
        totals=sheet.rows_of(Kind.TOTAL),
        sums=_sums(sheet),
        more=max(0, len(ahead) - MOST_ROWS) + max(0, len(unread) - MOST_ROWS),
        below_zero=below_zero_words(counted.below_zero())[:MOST_ROWS],
        beyond=beyond_words(counted.beyond())[:MOST_ROWS],
        seen=replaces.print,
        tells_less=replaces.tells_less,
        waiting=amount(sums[Place.WAITING]) if Place.WAITING in sums else "",
    )


def uncounted_rows(sheet: TillSheet) -> str:
    """Rows without a figure or a name, by their places in the file: "3 Vodka Soda (ten), 5"."""
    long = _("a name of %(n)s letters")
    rows = ((row, long % {"n": row.letters} if row.letters else row.figure)
            for row in sheet.of(Kind.UNREADABLE))  # fmt: skip
    return _row_words([*rows])


def _row_words(rows: Sequence[tuple[TillLine, str]]) -> str:
    """Each once, where a row tells several sizes or days."""
    every = (
        " ".join(filter(None, (str(row.line), row.item, f"({said})" if said else "")))
        for row, said in rows
    )
    told = [*dict.fromkeys(every)]
    return f"{', '.join(told[:MOST_ROWS])}{' …' if len(told) > MOST_ROWS else ''}"


def read_as_words(sheet: TillSheet, counted: Counted, today: dt.date) -> list[str]:
    """What was read in one of two ways, or looks like a slip."""
    return [
        *title_words(sheet),
        *laid_words(sheet),
        *formula_words(sheet),
        *unequal_words(sheet),
        *doubts_words(sheet.doubts),
        *old_words(counted.days, today),
        *counts_words(counted.counts),
        *_first(_each(_unread(sheet))),
    ]


def _first(said: list[str]) -> list[str]:
    more = len(said) - MOST_ROWS
    told = ngettext("And %(n)s more row.", "And %(n)s more rows.", more) % {"n": more}
    return [*said[:MOST_ROWS], *([told] if more > 0 else [])]


def _read(counted: Counted) -> list[tuple[str, str, str]]:
    """Each name that became a drink, the drink, and how many; most first."""
    drinks = ((said, counted.recipes[said], n) for said, n in counted.names(Place.MAPPED).items())
    return [(counted.written[said], recipe.name, amount(n)) for said, recipe, n in drinks if recipe]


def _asked(counted: Counted, menu: Menu) -> list[tuple[str, str, str]]:
    """As the file writes them, most first; those that are one question by the name that is asked
    about, with how each is written."""
    tells = _("its name tells of %(n)s drinks")
    found = []
    for one in as_asked(counted.names(Place.WAITING).items(), menu, counted.meant):
        ways = [(counted.written[said], n) for said, n in one.written]
        said = ways[0][0] if len(ways) == 1 else one.said
        note = ways_words(ways) if len(ways) > 1 else ""
        if one.said in counted.each:
            note = tells % {"n": counted.each[one.said]}
        found.append((said, amount(one.quantity), note))
    return found


def _title(sheet: TillSheet) -> Iterator[str]:
    otherwise = _("If that isn't so, pick “none” for the day under “Read other columns”.")
    yield from (f"{said} {otherwise}" for said in title_words(sheet))


def _sums(sheet: TillSheet) -> str:
    """Each name once, with its figures added up where it stands in several rows."""
    rows: dict[str, float] = defaultdict(float)
    for line in sheet.of(Kind.TOTAL):
        rows[line.item or line.called or _("no name")] += line.quantity
    told = list(rows.items())[:MOST_ROWS]
    said = ", ".join(f"{name} ({amount(n)})" if n else name for name, n in told)
    return f"{said} …" if len(rows) > MOST_ROWS else said


def _each(said: Iterator[str]) -> list[str]:
    """Once, where a row is a sale and a void."""
    return list(dict.fromkeys(said))


def _names(counted: Counted, place: Place) -> str:
    if place is Place.NAMELESS:
        rows = _row_words([(row, amount(row.quantity)) for row in counted.nameless])
        return _("rows %(rows)s") % {"rows": rows}
    names = list(counted.names(place).items())
    told = ((counted.written[said], amount(n)) for said, n in names[:MOST_ROWS])
    said = ", ".join(f"{name} ({n})" for name, n in told)
    return f"{said} …" if len(names) > MOST_ROWS else said


def _ahead(counted: Counted) -> Iterator[str]:
    for line in counted.ahead:
        day = date_format(line.day) if line.day else ""
        values = {"n": line.line, "item": line.item, "day": day}
        yield _("Row %(n)s, %(item)s: %(day)s is not over yet.") % values


def _unread(sheet: TillSheet) -> Iterator[str]:
    for line in sheet.lines:
        if line.kind not in (Kind.SALE, Kind.VOID):
            continue
        for said in line.unread:
            values = {"n": line.line, "item": line.item, "said": said}
            yield (_("Row %(n)s, %(item)s: “%(said)s” is no day or hour: without it.") % values)
