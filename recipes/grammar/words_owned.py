"""Who owns a word that guests say: one word, one meaning in a house.

A drink and an ingredient own their names and other names; the house rules own the words of their
patterns, their servings and their slang. Slang may be the name of an ingredient that it doesn't
mean ("lemonade" is the fizzy one in Britain): that is pointed out (`rules_check`), not refused.
What an ingredient is called besides its name ("cran") can't be slang for another one.
"""

from __future__ import annotations

from collections.abc import Collection, Iterable, Iterator
from dataclasses import dataclass

from recipes.grammar.calls import Book
from recipes.grammar.calls.owned import Claim, Claimant, Owns, named_in, owner
from recipes.grammar.course import fold
from recipes.grammar.ingredients import Pantry
from recipes.grammar.reasons import Reason
from recipes.grammar.rules import HouseRules

CODES = frozenset({
    "word_of_a_drink", "word_of_an_ingredient", "word_of_another", "word_of_two", "word_is_a_way",
    "word_is_a_kind", "word_is_a_call",
})  # fmt: skip
PATTERN, SERVING, SLANG = "pattern", "serving", "slang"
"""Where in the house rules a word stands."""


@dataclass(frozen=True)
class Word:
    """A word of the house rules. `means` is the slug of an ingredient where it is slang."""

    said: str
    section: str
    means: str = ""


def may_be_shared(ingredient: str, inside: Collection[str]) -> bool:
    """Whether a drink with these ingredients `inside` may be called as this one is: where it pours
    it, as "lager" is both what is tapped and the glass of it. A course may have it so."""
    return ingredient in inside


@dataclass(frozen=True)
class NamedDrink:
    """What a drink is called, and what is in it."""

    name: str
    names: tuple[str, ...]
    parts: frozenset[str] = frozenset()


def words_in(rules: HouseRules) -> Iterator[Word]:
    yield from (Word(word, PATTERN) for word in rules.patterns)
    yield from (Word(word, SERVING) for word in rules.servings)
    yield from (Word(word, SLANG, slug) for word, slug in rules.slang.items())


def owner_in(rules: HouseRules, said: str, parts: frozenset[str]) -> Word | None:
    """The word of the rules that this name would clash with. Slang for what is in the drink (or is
    the ingredient itself) means the same in the end and is no clash."""
    for word in words_in(rules):
        if fold(word.said) == fold(said) and word.means not in parts:
            return word
    return None


def clashes(
    rules: HouseRules,
    before: HouseRules | None,
    pantry: Pantry,
    drinks: Iterable[NamedDrink],
    book: Book | None = None,
) -> Iterator[Reason]:
    """Words that the rules begin to use though somebody owns them; what they said `before` they may
    go on saying. `book` has what guests say under those."""
    known = {(w.section, fold(w.said)) for w in words_in(before)} if before else set()
    names = {fold(n): drink for drink in drinks for n in drink.names}
    things = {fold(n): i for i in pantry.values() for n in (i.name, *i.aliases)}
    called = {fold(n): i for i in pantry.values() for n in i.aliases}
    met: dict[str, Word] = {}
    for word in words_in(rules):
        key = fold(word.said)
        other = met.setdefault(key, word)
        if (word.section, key) in known:
            continue
        drink, thing = names.get(key), things.get(key)
        if other.section != word.section:
            told = {"word": word.said, "section": word.section, "already": other.section}
            yield Reason.of("word_of_two", **told)
        elif drink is not None and drink.parts != {word.means}:
            told = {"word": word.said, "section": word.section, "owner": drink.name}
            yield Reason.of("word_of_a_drink", **told)
        elif thing is not None and word.section != SLANG:
            told = {"word": word.said, "section": word.section, "owner": thing.name}
            yield Reason.of("word_of_an_ingredient", **told)
        elif word.section == SLANG and key in called and called[key].slug != word.means:
            means = pantry[word.means].name if word.means in pantry else word.means
            told = {"word": word.said, "section": SLANG, "owner": called[key].name, "means": means}
            yield Reason.of("word_of_another", **told)
        elif book is not None:
            yield from _heard(book, word, pantry)


_CLAIMS = {PATTERN: Claim.PATTERN, SERVING: Claim.SERVING, SLANG: Claim.SLANG}


def _heard(book: Book, word: Word, pantry: Pantry) -> Iterator[Reason]:
    """The word is understood already, in another spelling or as a whole call."""
    kind = pantry[word.means].kind if word.means in pantry else None
    parts = frozenset({word.means} - {""})
    found = owner(book, word.said, Claimant(_CLAIMS[word.section], "", parts, kind))
    told = {"word": word.said, "section": word.section}
    if found is None:
        return
    means = named_in(book, found)
    if found.owns is Owns.WAY:
        yield Reason.of("word_is_a_way", **told)
    elif found.owns is Owns.KIND:
        yield Reason.of("word_is_a_kind", **told)
    elif found.owns is Owns.CALL:
        yield Reason.of("word_is_a_call", **told, means=means)
    elif found.owns is Owns.PATTERN:
        yield Reason.of("word_of_two", **told, already=PATTERN)
    elif found.owns is Owns.DRINK:
        yield Reason.of("word_of_a_drink", **told, owner=means)
    else:
        yield Reason.of("word_of_an_ingredient", **told, owner=means)


def without_owned(
    rules: HouseRules,
    before: HouseRules,
    pantry: Pantry,
    drinks: Iterable[NamedDrink],
    book: Book | None = None,
) -> tuple[HouseRules, tuple[Reason, ...]]:
    """Rules from elsewhere without the words that somebody here owns, each told."""
    owned = [r.values for r in clashes(rules, before, pantry, drinks, book)]
    gone = {(str(v["section"]), str(v["word"])) for v in owned}
    kept = {
        field: {w: meant for w, meant in words.items() if (section, w) not in gone}
        for field, section, words in (
            ("patterns", PATTERN, rules.patterns),
            ("servings", SERVING, rules.servings),
            ("slang", SLANG, rules.slang),
        )
    }
    told = (Reason.of("word_left_out", word=str(v["word"])) for v in owned)
    return rules.model_copy(update=kept), tuple(told)
