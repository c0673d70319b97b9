"""What a till exports, as rows: which columns hold what, and which rows are sales.

The names of the columns stand in one of the first rows; above them a till may write its own title.
Nothing that was counted is dropped: rows that are no sale come back beside the others, by why.
"""

from __future__ import annotations

import csv
import io
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, replace

from recipes.grammar import till_cells, till_moments
from recipes.grammar.course import fold
from recipes.grammar.reasons import CannotBuild, Reason
from recipes.grammar.till_columns import Chosen, Rows, as_chosen, days_by_cells, places_of
from recipes.grammar.till_found import Doubt, TillSheet
from recipes.grammar.till_heading import LOOKED_AT, in_one_row
from recipes.grammar.till_kinds import MOST_LETTERS, Kind, TillLine, clipped
from recipes.grammar.till_names import VOID, is_back, is_void
from recipes.grammar.till_off import BACK, YES, TakenOff, places_off, taken_off
from recipes.grammar.till_sums import PAYMENT, is_sum, nameless_sums, without_sums
from recipes.grammar.till_title import day_above
from recipes.grammar.till_wide import laid_long, named_from_above

CODES = frozenset({"till_empty", "till_columns", "till_too_long", "till_unreadable"})

MOST_LINES = 50_000
_DELIMITERS = (",", ";", "\t", "|")


def has_columns(rows: Rows) -> bool:
    """Whether some of its first rows names items and figures."""
    return _head(laid_long(in_one_row(rows)).rows) is not None


def read_till(
    text: str, *, month_first: bool = False, decimal: str = ".", chosen: Chosen | None = None
) -> TillSheet:
    """The rows of a text, parted by what makes most sense of it. Raises `CannotBuild`."""
    text = text.removeprefix("\ufeff")
    if not text.strip():
        raise _refused("till_empty")
    found = [_parted(text, delimiter) for delimiter in _DELIMITERS]
    rows = next((r for r in found if has_columns(r)), max(found, key=_widest))
    return till_of(rows, month_first=month_first, decimal=decimal, chosen=chosen)


def till_of(
    rows: Rows, *, month_first: bool = False, decimal: str = ".", chosen: Chosen | None = None
) -> TillSheet:
    """`month_first` and the sign before decimals decide where the file itself does not; `chosen`
    columns are read in place of those that the file's names tell. Raises `CannotBuild`."""
    chosen = chosen or {}
    if len(rows) > MOST_LINES:
        raise _refused("till_too_long", most=MOST_LINES)
    laid = laid_long(in_one_row(rows), chosen.get("quantity", ""))
    table = _table(laid.rows, chosen)
    sheet = replace(
        _read(table, month_first=month_first, decimal=decimal, is_wide=bool(laid.wide)),
        wide=laid.wide, wide_as_days=laid.as_days, sum=laid.sum, unequal=laid.unequal,
    )  # fmt: skip
    above = [row for row in rows if row[0] < table.number]
    return sheet if "date" in table.places else _titled(sheet, above, month_first, chosen)


@dataclass(frozen=True)
class _Table:
    """Rows below the one with the `names` of columns, whose `number` in the file this is, and where
    each thing stands; `by_cells` as `TillSheet` has it, `below` too."""

    number: int
    names: Sequence[str]
    places: Mapping[str, int]
    body: Rows
    by_cells: tuple[str, ...]
    below: tuple[tuple[int, str], ...]

    def column(self, place: int | None) -> list[str]:
        return [_cell(cells, place) for _n, cells in self.body]


def _table(rows: Rows, chosen: Chosen) -> _Table:
    head = _head(rows, chosen.get("quantity", ""))
    if head is None:
        raise _refused("till_columns", most=LOOKED_AT)
    at, places = head
    names = [cell.strip() for cell in rows[at][1]]
    body = [(n, cells) for n, cells in rows[at + 1 :] if any(c.strip() for c in cells)]
    by_name = places.get("date")
    places = till_moments.with_moments(body, places, names)
    by_cells = {"date": places["date"]} if places.get("date") not in (None, by_name) else {}
    if "date" not in places:
        by_cells = days_by_cells(body, places, names, till_moments.rank)
    places = as_chosen(places | by_cells, names, chosen)
    if not {"item", "quantity"} <= places.keys():
        raise _refused("till_columns", most=LOOKED_AT)
    body, below = named_from_above(till_moments.with_clocks(body, places.get("hour")), places)
    by = tuple(what for what in by_cells if places.get(what) == by_cells[what])
    return _Table(rows[at][0], names, places, body, by, below)


def _read(table: _Table, *, month_first: bool, decimal: str, is_wide: bool) -> TillSheet:
    places, names, body = dict(table.places), table.names, table.body
    days, sold = table.column(places.get("date")), table.column(places["quantity"])
    first = till_cells.month_comes_first(days)
    doubted = month_first if first is None else first
    off_places = places_off(places, names)
    used = {*places.values(), *off_places}
    beside = (c for _n, cells in body for p, c in enumerate(cells) if p not in used)
    sign, sure = till_cells.decimal_sign(sold, beside, decimal)
    columns = {place: table.column(place) for place in off_places}
    off = taken_off(columns, names, sold, sign, [n for n, _cells in body])
    places.pop("status", None)
    if off.read:
        places["status"] = off.read[0]
    used -= {*off.unread}
    counts = till_cells.figures(sold, sign)
    lines = [*nameless_sums([*_lines(body, places, doubted, off, counts)])]
    has_more = is_wide or {"date", "hour", "order"} & {*places}
    shared = {n: (n, _cell(c, places["item"])) for n, c in body if n in off.shared}
    return TillSheet(
        lines=tuple(lines if has_more else without_sums(lines)),
        columns={what: names[place] for what, place in places.items()},
        ignored=tuple(n for p, n in enumerate(names) if n and p not in used),
        month_first=doubted if "date" in places else None,
        doubts=(
            *_doubted_day(days, doubted, first is None),
            *_doubted_figure(sold, sign, not sure),
        ),
        by_cells=table.by_cells,
        also_off=tuple(names[place] for place in off.read[1:]),
        below=table.below,
        other_moments=tuple(till_moments.beside(body, places, names)),
        shared_off=tuple(shared.values()),
    )


def _titled(sheet: TillSheet, above: Rows, month_first: bool, chosen: Chosen) -> TillSheet:
    """With the day that a row above names, where nobody chose that there is none."""
    first = till_cells.month_comes_first(" | ".join(cells) for _n, cells in above)
    doubted = month_first if first is None else first
    title = day_above(above, month_first=doubted)
    if title is None or title.said in {*sheet.columns.values(), *sheet.ignored}:
        return sheet
    sheet = replace(sheet, title=title)
    if chosen.get("date", title.said) != title.said:
        return sheet
    return replace(
        sheet,
        lines=tuple(replace(line, day=title.day) for line in sheet.lines),
        columns={**sheet.columns, "date": title.said},
        doubts=(*_doubted_day([title.cell], doubted, first is None), *sheet.doubts),
    )


def _doubted_day(cells: Sequence[str], month_first: bool, by_house: bool) -> Iterator[Doubt]:
    """The first day that would be another one with the month and the day the other way round."""
    for cell in cells:
        one, other = (
            till_cells.day_of(cell, month_first=m) for m in (month_first, not month_first)
        )
        if one and other and one != other:
            yield Doubt(cell, one, by_house)
            return


def _doubted_figure(cells: Sequence[str], sign: str, by_house: bool) -> Iterator[Doubt]:
    for cell in cells:
        if till_cells.is_doubtful(cell):
            [figure] = till_cells.figures([cell], sign)
            yield Doubt(cell, figure or 0.0, by_house)
            return


def _parted(text: str, delimiter: str) -> list[tuple[int, list[str]]]:
    reader = csv.reader(io.StringIO(text, newline=""), delimiter=delimiter)
    rows, line = [], 1
    try:
        for cells in reader:
            rows.append((line, cells))
            line = reader.line_num + 1
    except csv.Error:
        raise _refused("till_unreadable", line=line) from None
    return rows


def _widest(rows: Rows) -> int:
    return max((len(cells) for _n, cells in rows), default=0)


def _head(rows: Rows, picked: str = "") -> tuple[int, dict[str, int]] | None:
    """Which row names the columns, and where each stands: the first with items and figures, or with
    the column that somebody `picked` for these."""
    for at, (_n, cells) in enumerate(rows[:LOOKED_AT]):
        places = places_of([fold(c) for c in cells])
        has_figures = "quantity" in places or (picked and picked in [c.strip() for c in cells])
        if "item" in places and has_figures:
            return at, places
    return None


def _cell(cells: Sequence[str], place: int | None) -> str:
    return cells[place].strip() if place is not None and place < len(cells) else ""


def _lines(
    body: Rows, places: Mapping[str, int], month_first: bool, off: TakenOff,
    counts: Sequence[float | None],
) -> Iterator[TillLine]:  # fmt: skip
    """Where a column counts what was rung up and never sold, a row is a sale and a void."""
    for (number, cells), count, void, mark in zip(body, counts, off.counts, off.said, strict=True):
        said = {what: _cell(cells, place) for what, place in places.items()} | {"status": mark}
        line = _line(number, said, count, cells, month_first)
        if line.kind is not Kind.SALE or line.quantity < 0 or not void:
            yield line
            continue
        if line.quantity != void:
            yield replace(line, quantity=line.quantity - void)
        yield replace(line, quantity=void, kind=Kind.VOID)


def _line(
    number: int, said: Mapping[str, str], count: float | None, cells: Sequence[str],
    month_first: bool,
) -> TillLine:  # fmt: skip
    time = said.get("hour") or said.get("date", "")
    day = till_cells.day_of(said.get("date", ""), month_first=month_first)
    hour = till_cells.hour_of(time) if time else None
    read = {"date": day, "hour": hour}
    letters = sum(map(len, (said["item"], said.get("size", ""))))
    is_long = letters > MOST_LETTERS
    if is_long:
        said = {**said, "item": clipped(said["item"]), "size": clipped(said.get("size", ""))}
    back = count and (BACK.match(said.get("status", "")) or is_back(said["item"]))
    return TillLine(
        line=number,
        kind=Kind.UNREADABLE if is_long else _kind(said, count, cells),
        called=clipped(_first(cells)) if not said["item"] and is_sum(_first(cells)) else "",
        item=said["item"],
        quantity=-abs(count) if count and back else count or 0.0,
        size=said.get("size", ""),
        day=day,
        hour=hour,
        order=said.get("order", ""),
        unread=tuple(clipped(said[what]) for what in read if said.get(what) and read[what] is None),
        figure=clipped(said["quantity"]) if count is None else "",
        letters=letters if is_long else 0,
    )


def _kind(said: Mapping[str, str], count: float | None, cells: Sequence[str]) -> Kind:
    """A row of sums has a word for it where the item stands, or in its first cell beside none."""
    if is_sum(said["item"] or _first(cells)) or PAYMENT.match(said.get("status", "")):
        return Kind.TOTAL
    if count is None or till_cells.is_formula(said["item"]):
        return Kind.UNREADABLE
    status = said.get("status", "")
    void = is_void(said["item"]) or VOID.match(status) or fold(status) in YES
    return Kind.VOID if void and count >= 0 else Kind.SALE


def _first(cells: Sequence[str]) -> str:
    return next((c.strip() for c in cells if c.strip()), "")


def _refused(code: str, **values: int) -> CannotBuild:
    return CannotBuild((Reason.of(code, **values),))
