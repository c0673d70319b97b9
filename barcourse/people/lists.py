"""A pasted list of people to invite: one name a line, a role after a comma where it is said."""

from __future__ import annotations

import csv
import re
from collections.abc import Iterator, Mapping

from .names import clean_name
from .reasons import Reason, Refused, refuse
from .roles import Role

MOST_LINES = 60
# What a list is pasted with: "- ", "• ", "1. ", "2) ".
_BULLET = re.compile(
    r"^(?:[-*\u2013\u2014](?:\s+|$)|[\u2022\u2023\u25aa\u25cf\u25e6\u00b7]\s*|\d{1,3}[.)]\s*)+"
)

# What stands between cells, and what joins those that make up a name.
_JOINED = {"\t": " ", ";": " ", ",": ", "}


def read_names(
    text: str, allowed: tuple[Role, ...], taken: Mapping[str, str] | None = None
) -> list[tuple[str, Role]]:
    """(name, role) of each line, trainee where none is said; empty lines don't count.

    `taken`: names in small letters that the house has already, each with the reason to say.

    Raises BadLines with every line that can't be read, Refused for an empty or too long list.
    """
    lines = [(number, line) for number, line in _lines(text) if line.strip()]
    if not lines:
        raise refuse("list_empty", "names")
    if len(lines) > MOST_LINES:
        raise refuse("list_too_long", "names", most=MOST_LINES, lines=len(lines))
    people, bad, taken = [], [], dict(taken or {})
    for number, line in lines:
        try:
            name, role = _read_line(line, allowed)
            _refuse_double(name, taken)
            people.append((name, role))
            taken[name.casefold()] = "name_twice"
        except Refused as refused:
            bad.append((number, line.strip()[:40], refused.reason))
    if bad:
        raise BadLines(bad)
    return people


class BadLines(Exception):  # noqa: N818  (an answer, like Refused)
    """Lines that can't be read: number, the beginning of the line, why."""

    def __init__(self, lines: list[tuple[int, str, Reason]]) -> None:
        super().__init__(f"{len(lines)} bad lines")
        self.lines = lines


def _lines(text: str) -> Iterator[tuple[int, str]]:
    return enumerate(text.replace("\r\n", "\n").replace("\r", "\n").split("\n"), start=1)


def _read_line(line: str, allowed: tuple[Role, ...]) -> tuple[str, Role]:
    cells, between = _cells(_BULLET.sub("", line.strip()))
    role = Role.TRAINEE
    if len(cells) > 1:
        role = _role(cells.pop(), allowed)
    if role not in allowed:
        raise refuse("role_not_yours_to_give", "names", role=str(role.label))
    return clean_name(between.join(cell for cell in cells if cell), "names"), role


def _cells(line: str) -> tuple[list[str], str]:
    """The cells of a line, empty ones at its end left off, and what joins those of a name.

    A spreadsheet's tab, a semicolon or a comma stands between them, the first of these that does;
    in double quotes it is part of the cell.
    """
    if not line:
        return [], ""
    for mark in _JOINED:
        [cells] = csv.reader([line], delimiter=mark, skipinitialspace=True)
        if len(cells) > 1:
            break
    cells = [cell.strip() for cell in cells]
    while cells and not cells[-1]:
        cells.pop()
    return cells, _JOINED[mark]


def _refuse_double(name: str, earlier: Mapping[str, str]) -> None:
    if why := earlier.get(name.casefold()):
        raise refuse(why, "names")


def _role(word: str, allowed: tuple[Role, ...]) -> Role:
    """By its name in the reader's language or in English."""
    for role in Role:
        if word.strip().casefold() in {role.value, str(role.label).casefold()}:
            return role
    raise refuse("role_unknown", "names", roles=", ".join(str(role.label) for role in allowed))
