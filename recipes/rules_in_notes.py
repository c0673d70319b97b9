"""Notes and lessons that tell the house's own rules.

What the rules decide is never typed twice: a line of its own that says `{house garnish}` stands
for the garnish rules as they are today, in words. So the shipped lessons are true in a house that
puts lemon in its tonic, and stay true when the rules change.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Mapping

from recipes import rules_sheet
from recipes.menu import Menu


def _words(menu: Menu) -> list[str]:
    found = [*rules_sheet.patterns(menu), *rules_sheet.servings(menu)]
    return [": ".join((line.label, _told(line))) for line in found]


def _told(line: rules_sheet.Line) -> str:
    return f"{line.value} ({line.note})" if line.note else line.value


def _pours(menu: Menu) -> list[str]:
    return [f"{line.label}: {_told(line)}" for line in rules_sheet.pours(menu.rules)]


SAID: Mapping[str, Callable[[Menu], list[str]]] = {
    "garnish": rules_sheet.garnish,
    "doubles": lambda menu: rules_sheet.doubles(menu.rules),
    "pours": _pours,
    "words": _words,
}
"""What may stand after `house`, and the sentences that take its place."""

_LINE = re.compile(r"^\{house (\w+)\}[ \t]*$", re.MULTILINE)
_MARKS = re.compile(r"([\\`*_\[\]<>#|])")


def with_rules(text: str, menu: Menu) -> str:
    """The Markdown with each such line replaced by a list; an unknown word stays as typed."""

    def told(found: re.Match[str]) -> str:
        sentences = SAID.get(found[1])
        if sentences is None:
            return found[0]
        return "\n".join("- " + _MARKS.sub(r"\\\1", said) for said in sentences(menu))

    return _LINE.sub(told, text)
