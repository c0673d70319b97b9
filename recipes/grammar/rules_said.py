"""What guests say, as lines of text: patterns of the house, and words for how much.

Patterns, one a line: the word, what tops the base up, and if it is the pattern's own the base that
is meant where the guest says none, and the garnish (`none` for nothing on it):

    press = ginger ale, club soda
    rickey = club soda; always lime wedge
    highball = ginger ale; base bourbon; none

Servings, one a line, with what the word means by its label in the reader's language:

    short = a measure of any spirit

What is written is read back as the same.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping
from typing import TypeVar

from recipes.grammar.course import fold
from recipes.grammar.ingredients import Pantry
from recipes.grammar.lines import read_garnish, write_garnish
from recipes.grammar.reasons import CannotBuild, Reason
from recipes.grammar.rules import Pattern, Serving
from recipes.grammar.spec import Garnish

CODES = frozenset({"pattern_without_meaning", "serving_without_meaning", "said_twice"})
"""Codes that only these lines give. Every reason from here says the `line`, counted from 1."""

BASE = "base "
Labels = Mapping[Serving, str]
_Meant = TypeVar("_Meant", Pattern, Serving)


def read_patterns(text: str, pantry: Pantry) -> dict[str, Pattern]:
    """`CannotBuild` with a reason for each line that can't be taken."""
    return _read(text, lambda meaning: _pattern(meaning, pantry), "pattern_without_meaning")


def write_patterns(patterns: Mapping[str, Pattern], pantry: Pantry) -> str:
    return "\n".join(f"{word} = {_written(made, pantry)}" for word, made in patterns.items())


def read_servings(text: str, labels: Labels) -> dict[str, Serving]:
    """`CannotBuild` with a reason for each line that can't be taken."""
    meant = {fold(said): serving for serving, said in labels.items()}
    meant |= {fold(serving.value.replace("_", " ")): serving for serving in Serving}
    return _read(text, lambda meaning: meant.get(fold(meaning)), "serving_without_meaning")


def write_servings(servings: Mapping[str, Serving], labels: Labels) -> str:
    return "\n".join(f"{word} = {labels[serving]}" for word, serving in servings.items())


def _read(text: str, read: Callable[[str], _Meant | None], without: str) -> dict[str, _Meant]:
    found: dict[str, _Meant] = {}
    first: dict[str, int] = {}
    wrong: list[Reason] = []
    for number, line in _lines(text):
        word, _, meaning = (part.strip() for part in line.partition("="))
        try:
            meant = read(meaning) if fold(word) and fold(meaning) else None
        except CannotBuild as bad:
            wrong += [Reason.of(r.code, **{**r.values, "line": number}) for r in bad.reasons]
            continue
        if meant is None:
            wrong.append(_nothing(without, line, number))
        elif fold(word) in first:
            at = first[fold(word)]
            wrong.append(Reason.of("said_twice", word=word[:80], earlier=at, line=number))
        else:
            first[fold(word)], found[word] = number, meant
    if wrong:
        raise CannotBuild(tuple(wrong))
    return found


def _nothing(code: str, line: str, number: int) -> Reason:
    if code == "pattern_without_meaning":
        return Reason.of("pattern_without_meaning", said=line[:80], line=number)
    return Reason.of("serving_without_meaning", said=line[:80], line=number)


def _lines(text: str) -> Iterator[tuple[int, str]]:
    for number, line in enumerate(text.splitlines(), start=1):
        if line.strip():
            yield number, " ".join(line.split())


def _pattern(meaning: str, pantry: Pantry) -> Pattern | None:
    mixers, *more = (part.strip() for part in meaning.split(";"))
    named = [name for name in mixers.split(",") if fold(name)]
    bases = [part[len(BASE) :] for part in more if part.casefold().startswith(BASE)]
    rest = [part for part in more if not part.casefold().startswith(BASE)]
    if not named or len(bases) > 1:
        return None
    garnish = read_garnish("\n".join(rest), pantry)
    return Pattern(
        mixers=tuple(dict.fromkeys(_slug(name, pantry) for name in named)),
        garnish=None if garnish is None else tuple(Garnish.model_validate(g) for g in garnish),
        base=_slug(bases[0], pantry) if bases else None,
    )


def _written(made: Pattern, pantry: Pantry) -> str:
    parts = [", ".join(_name(slug, pantry) for slug in made.mixers)]
    parts += [f"{BASE}{_name(made.base, pantry)}"] if made.base else []
    parts += write_garnish(made.garnish, pantry).splitlines()
    return "; ".join(parts)


def _slug(said: str, pantry: Pantry) -> str:
    """A name is found as in a recipe's garnish, with the same refusals."""
    found = read_garnish(f"always {said.strip()}", pantry) or []
    return str(found[0]["item"])


def _name(slug: str, pantry: Pantry) -> str:
    written = write_garnish([Garnish(item=slug)], pantry).removeprefix("always ")
    return slug if set("=,") & set(written) else written
