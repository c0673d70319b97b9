"""What things are called besides their names: without small words, and by their base's other names.

"Rum and Cola" is called rum cola; a Whiskey Sour is called a bourbon sour where bourbon is what is
in it.
"""

from __future__ import annotations

from collections.abc import Collection, Iterable, Iterator, Mapping

from recipes.grammar.calls.tokens import BREAKS, MARKS, ONE_SPELLING, tokens, words_of
from recipes.grammar.drink import Drink
from recipes.grammar.spec import Method

SMALL = frozenset({"and", "on", "the", "of", "with", "a"})
Words = tuple[str, ...]
_DRAWN = frozenset({Method.DRAUGHT, Method.TWO_PART})
_BEER_GLASSES = {"pint": "pint", "half": "half-pint"}
MOST_COUNTED = 100
"""Numbers up to here are read at once; bigger ones as words that the book doesn't have."""
LEAST_PLURAL = 2
"""Letters of the shortest word that has no plural."""


def variants(name: str) -> Iterator[Words]:
    """The words of the name; then the same without small words, where anything is left."""
    words = words_of(name)
    yield words
    if "," in name:
        yield tuple(t.word for t in tokens(name) if t.word)  # as it is written
    bare = tuple(w for w in words if w not in SMALL)
    if bare and bare != words:
        yield bare
    halves = tuple(w for w in words if w != "and")
    if halves and halves not in (words, bare):
        yield halves


def of_its_size(drink: Drink, names: Iterable[str]) -> Iterator[str]:
    """Other names without those that say another glass than the house draws it in: a "pint of
    lager" is a pint also where lager comes in a schooner."""
    for name in names:
        glass = _BEER_GLASSES.get((words_of(name) or ("",))[0])
        if glass is None or drink.spec.method not in _DRAWN or drink.spec.glass == glass:
            yield name


def in_a_blender(drink: Drink, forms: Iterable[Words]) -> Iterator[Words]:
    """A frozen drink is also called blended."""
    first: Words = ()
    for form in forms:
        first = first or form
        yield form
    if drink.spec.method is Method.BLEND and "frozen" in first:
        yield tuple("blended" if w == "frozen" else w for w in first)


def by_other_base(words: Words, base: Iterable[Words]) -> Iterator[Words]:
    """The name with each other name of its base in place of the one that it has."""
    others = tuple(base)
    for said in sorted(others, key=len, reverse=True):
        at = _find(words, said)
        if at is None:
            continue
        before, after = words[:at], words[at + len(said) :]
        if before or after:
            yield from ((*before, *other, *after) for other in others if other != said)
        return


def _find(words: Words, part: Words) -> int | None:
    wide = len(part)
    found = (i for i in range(len(words) - wide + 1) if words[i : i + wide] == part)
    return next(found, None) if wide else None


def joined(phrases: Iterable[Words]) -> Mapping[str, Words]:
    """Phrases of several words by how they are written without blanks."""
    return {"".join(p): p for p in phrases if len(p) > 1}


def plain_words(known: Collection[str]) -> dict[str, str]:
    """Each word, and the one that it is a plural of; numbers, alone and as "2x" and "x2"; marks."""
    words = {w: w for n in range(1, MOST_COUNTED) for w in (f"{n}", f"{n}x", f"x{n}")}
    words |= {w: w for w in (*known, *BREAKS)}
    plain = MARKS | {w + "s": w for w in known if len(w) > LEAST_PLURAL} | words
    return plain | {w: plain[one] for w, one in ONE_SPELLING.items() if one in plain}
