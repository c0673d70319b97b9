"""Figures, days and hours as tills write them. A column is read as one: which sign parts the
decimals and whether the day or the month comes first is seen in its other cells."""

from __future__ import annotations

import datetime as dt
import re
from collections.abc import Iterable, Iterator, Sequence

_SIGNS = str.maketrans({"\u2212": "-", "\u2013": "-", "\u2019": "'", "\u00a0": " ", "\u202f": " "})
_FIGURE = re.compile(r"[-+]?\d[\d.,' ]*")
_ENDS_IN_THREE = re.compile(r"[-+]?\d{1,3}([.,])\d{3}")
_DECIMALS = re.compile(r"[-+]?[\d.,' ]*?([.,])(?:\d{1,2}|\d{4,})")
_THOUSANDS = re.compile(r"[-+]?\d{1,3}(?:[.,' ]\d{3})+")

_MONEY = re.compile(r"[-+]?[€$£]? ?\d{1,3}(?:[.,' ]?\d{3})*[.,]\d\d ?[€$£]?")

_DAY = re.compile(r"(\d{1,4})[-./ ](\d{1,2}|[^\W\d_]{3,})\.?[-./ ,]+(\d{4}|\d{2})\b")
_PACKED = re.compile(r"(\d{4})(\d{2})(\d{2})\b")
_CLOCK = re.compile(
    r"(?<![\d.,/-])(\d{1,2})(?:[:.h](\d{2})(?::\d{2})?)?\s*([ap])?\.?(?:m\.?)?", re.IGNORECASE
)
_MONTH_FIRST = re.compile(r"(?<![^\W\d_])([^\W\d_]{3,})\.? (\d{1,2})(?:st|nd|rd|th)?,? (\d{4})")
_MONTHS = ("jan", "feb", "mar", "apr", "may", "jun", "jul", "aug", "sep", "oct", "nov", "dec")


def figures(cells: Sequence[str], decimal: str | None = None) -> list[float | None]:
    """The numbers of a column; None where a cell holds none. Brackets or a sign on either side
    make it negative: "(3)", "3-". `decimal` is the sign before decimals, if it is known."""
    bare = [_bare(c) for c in cells]
    sign = decimal or decimal_sign(cells)[0]
    return [_figure(b, sign) for b in bare]


def is_doubtful(cell: str) -> bool:
    """Whether it could be thousands as well as decimals: "1,204"."""
    return bool(_ENDS_IN_THREE.fullmatch(_bare(cell))) and _bare(cell).lstrip("+-0")[:1] not in ".,"


def is_money(cell: str) -> bool:
    """Whether it is written with two decimals, a sign of money beside them or none."""
    return bool(_MONEY.fullmatch(_bare(cell)))


def is_formula(cell: str) -> bool:
    """Whether it holds a formula in place of its result: "=2+3"; a text that is kept from being
    read as a figure ("=\"007\"") is none."""
    return len(cell) > 1 and cell[0] == "=" and cell[1] != '"'


def _bare(cell: str) -> str:
    cell = cell.translate(_SIGNS).strip()
    if cell.startswith("(") and cell.endswith(")"):
        cell = f"-{cell[1:-1]}"
    if cell.endswith("-"):
        cell = f"-{cell[:-1]}"
    return cell.strip()


def decimal_sign(
    cells: Sequence[str], beside: Iterable[str] = (), house: str = "."
) -> tuple[str, bool]:
    """The sign before decimals in the whole file, and whether its own numbers say so.

    They do where some cell can be read in one way only, in this column or as money in those
    `beside`; where each cell ends in ".000", since not everything sells by the thousand; and where
    others have no decimals at all. Else it is the sign of the house's country."""
    bare = [b for c in cells if (b := _bare(c))]
    for cell in (*bare, *(b for c in beside if _MONEY.fullmatch(b := _bare(c)))):
        if found := _only_decimals(cell):
            return found, True
    ends = {m[1] if (m := _ENDS_IN_THREE.fullmatch(c)) else "" for c in bare}
    [*signs] = ends - {""}
    if len(signs) != 1:
        return house, False
    other = "," if signs[0] == "." else "."
    if len(ends) > 1:
        return other, True
    if len(bare) > 1 and all(c.endswith("000") for c in bare):
        return signs[0], True
    return house, False


def _only_decimals(cell: str) -> str:
    """The sign that this cell can only have before decimals."""
    both = [s for s in cell if s in ".,"]
    if not both or not _FIGURE.fullmatch(cell):
        return ""
    if len(set(both)) > 1:
        return both[-1]
    if len(both) > 1 and _THOUSANDS.fullmatch(cell):
        return "," if both[0] == "." else "."
    if re.match(r"[-+]?0[.,]", cell):
        return both[0]
    found = _DECIMALS.fullmatch(cell)
    return found[1] if found and not _THOUSANDS.fullmatch(cell) else ""


def _figure(cell: str, decimal: str) -> float | None:
    if not _FIGURE.fullmatch(cell):
        return None
    thousands = "," if decimal == "." else "."
    plain = re.sub(rf"[{re.escape(thousands)}' ]", "", cell).replace(decimal, ".")
    try:
        return float(plain)
    except ValueError:
        return None


def month_comes_first(cells: Iterable[str]) -> bool | None:
    """Whether the month stands before the day: known where a figure above 12 says so, and with
    dots between them, where the day comes first (common practice, no source)."""
    dotted = False
    for cell in cells:
        found = _DAY.search(cell)
        if found and len(found[1]) < 3 and found[2].isdecimal():
            if int(found[1]) > 12:
                return False
            if int(found[2]) > 12:
                return True
            dotted = dotted or cell[found.end(1)] == "."
    return False if dotted else None


def day_of(cell: str, *, month_first: bool) -> dt.date | None:
    """The day that a cell names, with or without a time beside it."""
    cell = _apart(cell)
    if found := _PACKED.match(cell.strip()):
        return _day(*(int(x) for x in found.groups()))
    found = _DAY.search(cell)
    if found is None:
        return _american(cell)
    one, two, three = found.groups()
    if len(one) == 4:
        return _day(int(one), _month(two), int(three))
    year = int(three) + (2000 if len(three) == 2 else 0)
    if not two.isdecimal():
        return _day(year, _month(two), int(one))
    day, month = (int(two), int(one)) if month_first else (int(one), int(two))
    return _day(year, month, day)


def is_day(cell: str) -> bool:
    """Whether it names a day with the month first or the day."""
    return any(day_of(cell, month_first=m) is not None for m in (False, True))


def days_in(text: str, *, month_first: bool) -> Iterator[tuple[int, int, dt.date | None]]:
    """Where each whole day with a year of four figures stands in a text; None for one that is on no
    calendar."""
    whole = text = _apart(text)
    spans = [found.span() for found in _MONTH_FIRST.finditer(text) if is_month(found[1])]
    for at, end in spans:
        text = text[:at] + "\n" * (end - at) + text[end:]
    spans += [m.span() for m in _DAY.finditer(text) if 4 in (len(m[1]), len(m[3]))]
    for at, end in sorted(spans):
        yield at, end, day_of(whole[at:end], month_first=month_first)


def is_month(word: str) -> bool:
    return word[:3].casefold() in _MONTHS


def _apart(cell: str) -> str:
    return re.sub(r"(?<=\d)T(?=\d)", " ", cell)


def _american(cell: str) -> dt.date | None:
    """ "Nov 20, 2026"."""
    found = _MONTH_FIRST.search(cell)
    return _day(int(found[3]), _month(found[1]), int(found[2])) if found else None


def _month(said: str) -> int:
    if said.isdecimal():
        return int(said)
    return _MONTHS.index(said[:3].casefold()) + 1 if said[:3].casefold() in _MONTHS else 0


def _day(year: int, month: int, day: int) -> dt.date | None:
    try:
        return dt.date(year, month, day)
    except ValueError:
        return None


def clocks(cells: Sequence[str]) -> Sequence[str]:
    """A column of hours that a spreadsheet wrote as shares of a day, as clocks: "0.9375" is
    "22:30". As it is where they all may be clocks themselves: "0.25" is a quarter past midnight
    beside "23.50"."""
    said = [cell for cell in cells if cell]
    if not all(map(_SHARE.fullmatch, said)) or all(map(_may_be_clock, said)):
        return cells
    return [_clock(float(cell.replace(",", "."))) if cell else "" for cell in cells]


_SHARE = re.compile(r"0?[.,]\d+|0")


def _may_be_clock(cell: str) -> bool:
    return bool(re.fullmatch(r"0[.,][0-5]\d|0", cell))


def _clock(share: float) -> str:
    minutes = round(share * 24 * 60)
    return f"{minutes // 60 % 24:02}:{minutes % 60:02}"


def hour_of(cell: str) -> int | None:
    """The hour from 0 to 23 in which it was sold: "23", "23:15", "11 PM", "23:00 - 23:59", or the
    time beside a day."""
    rest = _DAY.sub(" ", _PACKED.sub(" ", _apart(cell))).strip()
    found = _CLOCK.match(rest)
    if not found:
        return None
    hour, half = int(found[1]), (found[3] or "").casefold()
    if half and 1 <= hour <= 12:
        hour = hour % 12 + (12 if half == "p" else 0)
    return hour % 24 if hour <= 24 else None
