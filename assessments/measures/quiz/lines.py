"""Lines of a quiz's mix as words that a plan stores: "build", "name_it", "aspect:glass"."""

from collections.abc import Iterable

from assessments.measures.quiz.blueprint import DEFAULT_MIX, Line
from assessments.measures.quiz.items import ItemKind
from recipes.grammar.aspects import Aspect


def write_line(line: Line) -> str:
    kind, aspect = line
    return f"{kind.value}:{aspect.value}" if aspect else kind.value


LINES: dict[str, Line] = {write_line(line): line for line in DEFAULT_MIX}
"""Every line that a plan can hold, in the order in which the default deals them."""


def read_mix(words: Iterable[str]) -> tuple[Line, ...]:
    """The lines in the order of the default; words that are none are left out."""
    said = set(words)
    return tuple(line for word, line in LINES.items() if word in said)


__all__ = ["LINES", "Aspect", "ItemKind", "read_mix", "write_line"]
