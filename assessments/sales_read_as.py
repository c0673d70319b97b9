"""What is said of how an export's file was read: its columns, its rows, what can't be read."""

from __future__ import annotations

import datetime as dt
from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from django.utils.formats import date_format
from django.utils.translation import gettext as _
from django.utils.translation import gettext_lazy, ngettext

from assessments.sales_words import amount
from recipes.grammar.till_found import Doubt, TillSheet
from recipes.grammar.till_kinds import clipped

HOLDS = {
    "item": gettext_lazy("What was sold"),
    "quantity": gettext_lazy("How many"),
    "size": gettext_lazy("Its size"),
    "date": gettext_lazy("The day"),
    "hour": gettext_lazy("The hour"),
    "order": gettext_lazy("The order"),
    "status": gettext_lazy("Void or sold"),
}


@dataclass(frozen=True)
class Column:
    """What a column of the file is read as: `name` is how the file calls it, "" where there is
    none; `by_cells` where it was known by what stands in it; `also` more of the same meaning."""

    what: str
    holds: str
    name: str
    by_cells: bool
    also: tuple[str, ...] = ()

    @property
    def names(self) -> str:
        return ", ".join(filter(None, (self.name, *self.also)))


def columns_of(sheet: TillSheet) -> list[Column]:
    return [
        Column(
            what, str(holds), sheet.columns.get(what, ""), what in sheet.by_cells,
            sheet.also_off if what == "status" else (),
        )
        for what, holds in HOLDS.items()
    ]  # fmt: skip


def unused_words(sheet: TillSheet) -> list[str]:
    """The columns that nothing was read from."""
    if not sheet.ignored:
        return []
    return [
        _("Not used: %(columns)s.")
        % {"columns": ", ".join(dict.fromkeys(map(clipped, sheet.ignored)))}
    ]


MOST_BELOW = 8
"""Rows that are told one by one."""


def laid_words(sheet: TillSheet) -> Iterator[str]:
    """How a sheet was laid out again before it was read."""
    if sheet.wide:
        columns = {"columns": ", ".join(sheet.wide)}
        days = _("These columns are read as days, each with how many were sold: %(columns)s.")
        sizes = _("These columns are read as sizes, each with how many were sold: %(columns)s.")
        yield (days if sheet.wide_as_days else sizes) % columns
    if sheet.other_moments:
        taken = [sheet.columns[what] for what in ("date", "hour") if what in sheet.columns]
        named = {"taken": ", ".join(dict.fromkeys(taken)), "others": ", ".join(sheet.other_moments)}
        yield _("When it was sold is read from %(taken)s, not from %(others)s.") % named
    if sheet.below:
        said = _("Rows without a name are read under the name above them: %(rows)s.")
        yield said % {"rows": _named_rows(sheet.below)}
    if sheet.shared_off:
        days = _("What was taken off isn't told by day. It comes off the busiest: %(rows)s.")
        sizes = _("What was taken off isn't told by size. It comes off what sold most: %(rows)s.")
        said = days if sheet.wide_as_days else sizes
        yield said % {"rows": _named_rows(sheet.shared_off)}


def title_words(sheet: TillSheet) -> Iterator[str]:
    """The day that a row above names for all of them."""
    if sheet.title and sheet.has_title_day:
        said = _("No row tells its day. Row %(row)s does for all of them, “%(said)s”: they "
                 "count as sold on %(day)s.")  # fmt: skip
        day = date_format(sheet.title.day)
        yield said % {"row": sheet.title.row, "said": sheet.title.said, "day": day}


def _named_rows(rows: Sequence[tuple[int, str]]) -> str:
    return _first([f"{number} {name}" for number, name in rows])


def unequal_words(sheet: TillSheet) -> Iterator[str]:
    """Which rows don't add up, and which of the two counts."""
    if not sheet.unequal:
        return
    if sheet.wide:
        said = _("These rows don't add up to their “%(sum)s”; what the columns say counts:")
    else:
        said = _("The columns beside it don't add up to “%(sum)s”, which counts:")
    row = _("row %(line)s, %(item)s: %(parts)s, not %(whole)s")
    rows = [
        row % {"line": x.line, "item": x.item, "parts": amount(x.parts), "whole": amount(x.whole)}
        for x in sheet.unequal[:MOST_BELOW]
    ]
    more = " …" if len(sheet.unequal) > MOST_BELOW else "."
    yield f"{said % {'sum': sheet.sum}} {'; '.join(rows)}{more}"


def row_numbers(rows: Sequence[int]) -> str:
    """ "2, 3, 9 …" """
    return _first([*map(str, rows)])


def _first(said: Sequence[str]) -> str:
    return ", ".join(said[:MOST_BELOW]) + (" …" if len(said) > MOST_BELOW else "")


def formula_words(sheet: TillSheet) -> Iterator[str]:
    if sheet.formulas:
        said = ngettext(
            "Row %(rows)s holds a formula whose result the file doesn't have: it can't be read. "
            "Open it in a spreadsheet, save it there, and send it once more.",
            "Rows %(rows)s hold formulas whose results the file doesn't have: they can't be read. "
            "Open it in a spreadsheet, save it there, and send it once more.",
            len(sheet.formulas),
        )
        yield said % {"rows": row_numbers(sheet.formulas)}


def doubts_words(doubts: Sequence[Doubt]) -> Iterator[str]:
    for doubt in doubts:
        is_day = isinstance(doubt.meant, dt.date)
        meant = date_format(doubt.meant) if is_day else amount(doubt.meant)  # type: ignore[arg-type]
        values = {"said": doubt.said, "meant": meant}
        if doubt.by_house:
            yield _("“%(said)s” is read as %(meant)s, as your country writes it.") % values
        else:
            yield _("“%(said)s” is read as %(meant)s, as the file's other rows say.") % values
