"""A file with recipes as it arrives: CSV in whatever encoding, XLSX or ODS; and carried, signed,
from the page that shows what would come of it to the one that takes it in."""

from __future__ import annotations

import base64
import binascii
import datetime as dt
import io
import zipfile
from collections.abc import Callable, Mapping
from dataclasses import dataclass

from django.core import signing
from python_calamine import CalamineError, CalamineWorkbook

from barcourse.people.models import Venue
from recipes.formulas import without_results
from recipes.grammar.reasons import CannotBuild, Reason
from recipes.grammar.sheet_text import Sheet, decode, read_sheet, sheet_of

CODES = frozenset({"sheet_too_large", "sheet_unpacks_too_large", "sheet_of_no_kind"})
ENCODINGS = ("utf-8", "cp1252")
"""What may be chosen by hand where the encoding was found out wrongly."""

MOST_KB = 500
_MOST_UNPACKED = 20_000_000
_SNIFFED = 100_000
_PACKED = b"PK\x03\x04"
_OLD_WORKBOOK = b"\xd0\xcf\x11\xe0"
_UTF16 = (b"\xff\xfe", b"\xfe\xff")
_SALT = "recipes.importing"
_KEPT = dt.timedelta(days=1)

Rows = list[tuple[int, list[str]]]


class NotReceived(ValueError):  # noqa: N818  # read as a sentence: raise NotReceived
    """Not signed here, for another house, or too long ago."""


@dataclass(frozen=True)
class Received:
    """A file as it came: its bytes; of a workbook also the rows of one sheet with their numbers,
    that sheet's name and the names of the others that are not empty."""

    data: bytes = b""
    rows: Rows | None = None
    name: str = ""
    others: tuple[str, ...] = ()

    @property
    def is_text(self) -> bool:
        return self.rows is None

    def sheet(self, encoding: str | None = None) -> tuple[Sheet, str]:
        """The sheet, and the encoding it was read in ("" for a workbook, which has none of its
        own to choose). Raises `CannotBuild` where it is no sheet of recipes."""
        if self.rows is not None:
            return sheet_of(self.rows), ""
        text, found = decode(self.data, encoding)
        return read_sheet(text), found

    def signed(self, venue: Venue) -> str:
        data = base64.b64encode(self.data).decode("ascii")
        said = {"venue": venue.code, "data": data, "sheet": None if self.is_text else self.name}
        return signing.dumps(said, salt=_SALT, compress=True)


def received(
    data: bytes, most_kb: int = MOST_KB, fits: Callable[[Rows], bool] = bool, *,
    formulas: bool = False,
) -> Received:  # fmt: skip
    """Whatever the file is called: its first bytes say what it is. Of a workbook it is the first
    sheet that `fits`, else the first with anything in it. With `formulas` a cell whose formula was
    stored without its result has that formula. Raises `CannotBuild`."""
    if len(data) > most_kb * 1000:
        raise _refused("sheet_too_large", kilobytes=most_kb)
    if data.startswith((_PACKED, _OLD_WORKBOOK)):
        sheets = _sheets(data, formulas=formulas)
        filled = [name for name, rows in sheets.items() if rows]
        fitting = (name for name in filled if fits(sheets[name]))
        return _one_of(data, sheets, next(fitting, (filled or [*sheets])[0]))
    if b"\0" in data[:_SNIFFED] and not data.startswith(_UTF16):
        raise _refused("sheet_of_no_kind")
    return Received(data)


def carried(
    said: str, venue: Venue, sheet: str | None = None, *, formulas: bool = False
) -> Received:
    """What `Received.signed` gave for this house; of a workbook `sheet` in place of the one that
    was read, with its `formulas` as `received` has them. Raises `NotReceived`."""
    try:
        found = signing.loads(said, salt=_SALT, max_age=_KEPT)
        data, name = base64.b64decode(found["data"]), found["sheet"]
    except (signing.BadSignature, binascii.Error, KeyError, TypeError) as bad:
        raise NotReceived from bad
    if found["venue"] != venue.code:
        raise NotReceived
    if name is None:
        return Received(data)
    sheets = _sheets(data, formulas=formulas)
    return _one_of(data, sheets, sheet if sheet in sheets else name)


def _one_of(data: bytes, sheets: dict[str, Rows], name: str) -> Received:
    others = tuple(other for other, rows in sheets.items() if rows and other != name)
    return Received(data, sheets[name], name, others)


def _sheets(data: bytes, *, formulas: bool) -> dict[str, Rows]:
    """Each sheet by its name, its rows counted as the workbook counts them. A formula that was
    stored without its value is an empty cell but with `formulas`."""
    try:
        _refuse_bomb(data)
        book = CalamineWorkbook.from_filelike(io.BytesIO(data))
        sheets = {name: _rows(book, name) for name in book.sheet_names}
        if formulas and data.startswith(_PACKED):
            for name, cells in without_results(data).items():
                _fill(sheets.get(name, []), cells)
    except CannotBuild:
        raise
    except (CalamineError, zipfile.BadZipFile, IndexError, ValueError) as bad:
        raise _refused("sheet_of_no_kind") from bad
    if not sheets:
        raise _refused("sheet_of_no_kind")
    return sheets


def _rows(book: CalamineWorkbook, name: str) -> Rows:
    rows = book.get_sheet_by_name(name).to_python(skip_empty_area=False)
    return [(n, [_cell(value) for value in row]) for n, row in enumerate(rows, start=1)]


def _fill(rows: Rows, cells: Mapping[tuple[int, int], str]) -> None:
    """Formulas into the cells that have nothing, where the sheet's rows reach."""
    for (row, column), formula in cells.items():
        if row <= len(rows):
            found = rows[row - 1][1]
            found += [""] * (column - len(found))
            found[column - 1] = found[column - 1] or formula


def _refuse_bomb(data: bytes) -> None:
    """A small file that unpacks to a huge one is refused before anything is unpacked."""
    if not data.startswith(_PACKED):
        return
    with zipfile.ZipFile(io.BytesIO(data)) as packed:
        if sum(entry.file_size for entry in packed.infolist()) > _MOST_UNPACKED:
            raise _refused("sheet_unpacks_too_large", megabytes=_MOST_UNPACKED // 1_000_000)


def _cell(value: object) -> str:
    """Whole numbers come as floats."""
    if isinstance(value, float) and value.is_integer():
        return str(int(value))
    return "" if value is None else str(value)


def _refused(code: str, **values: int) -> CannotBuild:
    return CannotBuild((Reason.of(code, **values),))
