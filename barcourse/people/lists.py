"""A pasted list of people to invite: one name a line, a role after a comma where it is said."""

from __future__ import annotations

from collections.abc import Iterator

from .names import clean_name
from .reasons import Reason, Refused, refuse
from .roles import Role

MOST_LINES = 60


def read_names(text: str, allowed: tuple[Role, ...]) -> list[tuple[str, Role]]:
    """(name, role) of each line, trainee where none is said; empty lines don't count.

    Raises BadLines with every line that can't be read, Refused for an empty or too long list.
    """
    lines = [(number, line) for number, line in _lines(text) if line.strip()]
    if not lines:
        raise refuse("list_empty", "names")
    if len(lines) > MOST_LINES:
        raise refuse("list_too_long", "names", most=MOST_LINES, lines=len(lines))
    people, bad = [], []
    for number, line in lines:
        try:
            people.append(_read_line(line, allowed))
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
    """A spreadsheet's tab, a comma or a semicolon stands between name and role."""
    name, role = line.strip(), Role.TRAINEE
    for mark in "\t;,":
        if mark in name:
            name, _, word = name.rpartition(mark)
            role = _role(word, allowed)
            break
    if role not in allowed:
        raise refuse("role_not_yours_to_give", "names", role=str(role.label))
    return clean_name(name, "names"), role


def _role(word: str, allowed: tuple[Role, ...]) -> Role:
    """By its name in the reader's language or in English."""
    for role in Role:
        if word.strip().casefold() in {role.value, str(role.label).casefold()}:
            return role
    raise refuse("role_unknown", "names", roles=", ".join(str(role.label) for role in allowed))
