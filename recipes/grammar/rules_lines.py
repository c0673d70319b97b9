"""House rules as lines of text: what a garnish rule needs, and what guests call things.

Needs, a group a line; every group must find something in the drink:

    vodka, gin          either of them
    soda mixer          an ingredient, a kind or a class, by its label in the reader's language

Words, one a line, with what the house means by it:

    cran = cranberry juice

What is written is read back as the same.
"""

from collections.abc import Iterator, Mapping

from recipes.grammar.course import fold
from recipes.grammar.ingredients import Pantry
from recipes.grammar.lines import read_garnish, write_garnish
from recipes.grammar.reasons import CannotBuild, Reason
from recipes.grammar.spec import Garnish

CODES = frozenset({"slang_without_meaning", "slang_said_twice"})
"""Codes that only these lines give. Every reason from here says the `line`, counted from 1."""

Labels = Mapping[str, str]
"""What kinds and classes are called, by their word."""

Needs = tuple[tuple[str, ...], ...]


def read_needs(text: str, pantry: Pantry, labels: Labels) -> Needs:
    """`CannotBuild` names every word that is no ingredient, kind or class."""
    meant, wrong = _vocabulary(pantry, labels), []
    needs = []
    for number, line in _lines(text):
        said = [word.strip() for word in line.split(",") if word.strip()]
        wrong += [
            Reason.of("unknown_word", word=w[:80], line=number)
            for w in said
            if fold(w) not in meant
        ]
        needs.append(tuple(dict.fromkeys(meant[fold(w)] for w in said if fold(w) in meant)))
    if wrong:
        raise CannotBuild(tuple(wrong))
    return tuple(group for group in needs if group)


def write_needs(needs: Needs, pantry: Pantry, labels: Labels) -> str:
    meant = _vocabulary(pantry, labels)
    return "\n".join(", ".join(_said(w, meant, pantry, labels) for w in group) for group in needs)


def read_slang(text: str, pantry: Pantry) -> dict[str, str]:
    """Ingredient by word. `CannotBuild` with a reason for each line that can't be taken."""
    found: dict[str, str] = {}
    wrong: list[Reason] = []
    for number, line in _lines(text):
        word, _, meaning = (part.strip() for part in line.partition("="))
        if not fold(word) or not fold(meaning):
            wrong.append(Reason.of("slang_without_meaning", said=line[:80], line=number))
            continue
        try:
            slug = _ingredient(meaning, pantry)
        except CannotBuild as bad:
            wrong += [Reason.of(r.code, **{**r.values, "line": number}) for r in bad.reasons]
            continue
        if found.setdefault(word, slug) != slug:
            told = {"word": word, "ingredient": slug, "stock": pantry[found[word]].name}
            wrong.append(Reason.of("slang_said_twice", **told, line=number))
    if wrong:
        raise CannotBuild(tuple(wrong))
    return found


def write_slang(slang: Mapping[str, str], pantry: Pantry) -> str:
    return "\n".join(f"{word} = {_name(slug, pantry)}" for word, slug in slang.items())


def _lines(text: str) -> Iterator[tuple[int, str]]:
    for number, line in enumerate(text.splitlines(), start=1):
        if line.strip():
            yield number, " ".join(line.split())


def _vocabulary(pantry: Pantry, labels: Labels) -> dict[str, str]:
    """The word that a rule writes, by what was typed: words themselves first, then labels of
    kinds and classes, then names, then other names."""
    meant: dict[str, str] = {}
    names = ((item.name, item.slug) for item in pantry.values())
    others = ((name, item.slug) for item in pantry.values() for name in item.aliases)
    own = ((word, word) for word in (*labels, *pantry))
    for said, word in (*own, *((text, word) for word, text in labels.items()), *names, *others):
        meant.setdefault(fold(said), word)
    return meant


def _said(word: str, meant: Mapping[str, str], pantry: Pantry, labels: Labels) -> str:
    """The label or name where it leads back to the word, else the word."""
    text = pantry[word].name if word in pantry else labels.get(word, word)
    return text if "," not in text and meant.get(fold(text)) == word else word


def _ingredient(said: str, pantry: Pantry) -> str:
    """A name is found as in a recipe's garnish, with the same refusals."""
    found = read_garnish(f"always {said.replace(';', ' ')}", pantry) or []
    return str(found[0]["item"])


def _name(slug: str, pantry: Pantry) -> str:
    written = write_garnish([Garnish(item=slug)], pantry).removeprefix("always ")
    return slug if "=" in written else written
