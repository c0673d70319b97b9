"""One drink that words name, before its size, style and changes; and which words made it so."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from recipes.grammar.calls.entries import ALIAS, KIND, NAME, SLANG, Entry
from recipes.grammar.calls.reading import About, Change
from recipes.grammar.calls.tokens import words_of
from recipes.grammar.calls.vocabulary import Book
from recipes.grammar.house_spec import HouseSpec
from recipes.grammar.reasons import Reason
from recipes.grammar.spec import BuildSpec, How

Slugs = tuple[str, ...]
Ask = tuple[About, Slugs]

COSTS = {"bare": 1.5, "soft": 1.5, "extended": 0.4, "swapped": 0.4, "open": 0.6, "torn": 4.0}
"""What makes a reading less likely, so that drinks are cut where they belong (our own choice)."""


@dataclass(eq=False, slots=True)
class Identity:
    """One drink before size, style and changes. `bare` is a spirit by itself; `dear` what it costs
    to read the words so; `options` are the beers that a glass or a bottle chooses from."""

    recipe: str | None
    build: BuildSpec | None
    name: str
    why: tuple[Reason, ...] = ()
    ask: tuple[Ask, ...] = ()
    bare: str = ""
    dear: float = 0.0
    options: Slugs = ()
    changes: tuple[Change, ...] = ()  # another base or mixer than its recipe has
    spec: HouseSpec | None = None  # of its build, where that was resolved already


def named_why(by: int, said: str, drink: str) -> Reason:
    if by == NAME:
        return Reason.of("call_name", said=said, drink=drink)
    if by == ALIAS:
        return Reason.of("call_alias", said=said, drink=drink)
    if by == SLANG:
        return Reason.of("call_slang_drink", said=said, drink=drink)
    return Reason.of("call_part", said=said, drink=drink)


def outdone(book: Book, said: Sequence[Entry], build: BuildSpec | None) -> list[Reason]:
    """The words of the house that mean another thing of the same kind, where a name was stronger:
    a "whiskey cola" with bourbon in a house whose whiskey is Scotch."""
    found: list[Reason] = []
    for entry in said:
        named = entry.recipes_by <= ALIAS or (entry.items_by <= ALIAS and not entry.recipes)
        words = entry.phrase.split() if entry.recipes else (entry.phrase,)
        meant = {w: book.stock.slang[w] for w in words if w in book.stock.slang} if named else {}
        for word, slug in meant.items():
            parts = [p.ingredient for p in build.parts] if build else []
            kind = book.pantry[slug].kind
            alike = [p for p in parts if book.pantry[p].kind is kind]
            if len(alike) == 1 and alike[0] != slug and not _says_kind(book, words, alike[0], word):
                told = {"said": word, "ingredient": slug, "instead": alike[0]}
                found.append(Reason.of("call_word_outdone", **told))
    return found


def unsaid(book: Book, recipe: str | None, said: Sequence[Reason]) -> list[Reason]:
    """What is in a recipe under a word that means another thing in this house: a shandy with still
    lemonade where lemonade is the fizzy one. The word isn't said, and still it is in the drink."""
    if recipe is None:
        return []
    slang, known = book.stock.slang, {r.values["instead"] for r in said}
    words = {
        p.ingredient: " ".join(words_of(p.ingredient)) for p in book.stock.builds[recipe].parts
    }
    return [
        Reason.of("call_word_outdone", said=word, ingredient=slang[word], instead=slug)
        for slug, word in words.items()
        if slug not in known and slang.get(word, slug) != slug
    ]


def tied(
    book: Book, said: Sequence[Entry], found: Identity, told: Sequence[Reason]
) -> tuple[Ask, ...]:
    """The name of a recipe that is called by a word which means another bottle here ties with that
    word: nobody knows which of the two is meant. Where a bottle was said beside it, that is."""
    if found.recipe is None or not told:
        return ()
    sure = {i for e in said if not e.recipes or e.items_by <= ALIAS for i in e.items}
    asked = {about for about, _ in found.ask}
    ties = []
    for reason in told:
        own, word = str(reason.values["instead"]), str(reason.values["ingredient"])
        about = About.MIXER if _tops(found.build, own) else About.BASE
        if own not in sure and about not in asked:
            ties.append((about, (own, word)))
    return tuple(ties)


def _tops(build: BuildSpec | None, slug: str) -> bool:
    return any(p.ingredient == slug and p.how is How.TOP for p in (build.parts if build else ()))


def _says_kind(book: Book, words: Sequence[str], slug: str, word: str) -> bool:
    """ "Irish whiskey shot" is said of no other whiskey."""
    return bool((set(words_of(book.pantry[slug].name)) - {word}) & set(words))


def titled(name: str) -> str:
    """As names of drinks are written: "White Rum"."""
    return " ".join(w[:1].upper() + w[1:] for w in name.split(" "))


def listed(names: Sequence[str]) -> str:
    """ "vodka and ginger ale", "vodka, cranberry juice and club soda"."""
    *most, last = names
    return f"{', '.join(most)} and {last}" if most else last


def item_why(entry: Entry) -> Reason:
    slug = entry.items[0]
    if entry.items_by == SLANG:
        return Reason.of("call_slang", said=entry.phrase, ingredient=slug)
    if entry.items_by == KIND:
        return Reason.of("call_kind", said=entry.phrase, ingredient=slug)
    return Reason.of("call_ingredient", said=entry.phrase, ingredient=slug)
