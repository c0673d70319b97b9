"""Cells of an XLSX workbook whose formula was stored without its result, as programs do that write
sheets and never reckon them. Whoever reads the values finds nothing there."""

from __future__ import annotations

import html
import io
import posixpath
import re
import zipfile
from collections.abc import Iterator

Unfilled = dict[str, dict[tuple[int, int], str]]
"""By sheet the cells, by row and column from 1, and the formula: "=2+3"."""

_TAG = rb"<(?:\w+:)?"
_END = rb"</(?:\w+:)?"
_CELL = re.compile(
    _TAG + rb"c\b([^<>]*)>\s*" + _TAG + rb"f\b(?:[^<>]*/>|[^<>]*>([^<]*)" + _END + rb"f>)\s*"
    rb"(?:" + _TAG + rb"v\s*/>|" + _TAG + rb"v>\s*" + _END + rb"v>)?\s*" + _END + rb"c>"
)  # fmt: skip
"""Each part stops at the next sign of a tag, so that no file takes long."""
_ATTRIBUTE = re.compile(r'([\w:]+)\s*=\s*"([^"<>]*)"')
_PLACE = re.compile(r"([A-Z]{1,3})(\d{1,7})")
_BOOK, _TARGETS = "xl/workbook.xml", "xl/_rels/workbook.xml.rels"


def without_results(data: bytes) -> Unfilled:
    """Nothing for what is no XLSX."""
    with zipfile.ZipFile(io.BytesIO(data)) as packed:
        names = {*packed.namelist()}
        if not {_BOOK, _TARGETS} <= names:
            return {}
        paths = dict(_paths(packed.read(_BOOK), packed.read(_TARGETS)))
        return {
            sheet: found
            for sheet, path in paths.items()
            if path in names and (found := dict(_cells(packed.read(path))))
        }


def _paths(book: bytes, targets: bytes) -> Iterator[tuple[str, str]]:
    """Each sheet's name, and where it stands."""
    relations = (_attributes(tag) for tag in _tags(targets, rb"Relationship"))
    target = {r.get("Id", ""): r.get("Target", "") for r in relations}
    for tag in _tags(book, rb"sheet"):
        said = _attributes(tag)
        path = target.get(next((v for n, v in said.items() if n.endswith(":id")), ""), "")
        yield said.get("name", ""), posixpath.normpath(posixpath.join("/xl", path)).lstrip("/")


def _tags(xml: bytes, name: bytes) -> list[bytes]:
    return re.findall(_TAG + name + rb"\s([^<>]*)>", xml)


def _attributes(tag: bytes) -> dict[str, str]:
    pairs = _ATTRIBUTE.findall(tag.decode("utf-8", "replace"))
    return {name: html.unescape(value) for name, value in pairs}


def _cells(xml: bytes) -> Iterator[tuple[tuple[int, int], str]]:
    """A formula that gave an empty text has its result."""
    for found in _CELL.finditer(xml):
        said = _attributes(found[1])
        place = _PLACE.fullmatch(said.get("r", ""))
        if place and said.get("t") != "str":
            formula = html.unescape((found[2] or b"\xe2\x80\xa6").decode("utf-8", "replace"))
            yield (int(place[2]), _column(place[1])), f"={formula}"


def _column(letters: str) -> int:
    at = 0
    for letter in letters:
        at = 26 * at + ord(letter) - ord("A") + 1
    return at
