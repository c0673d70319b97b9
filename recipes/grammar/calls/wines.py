"""How much of a wine: the house's glass where that was said, else it is asked."""

from __future__ import annotations

from collections.abc import Sequence

from recipes.grammar.calls.identified import Ask
from recipes.grammar.calls.reading import About
from recipes.grammar.calls.vocabulary import Book
from recipes.grammar.calls.words import SAID_IN_UNITS
from recipes.grammar.calls.work import Work
from recipes.grammar.ingredients import LiquorClass
from recipes.grammar.spec import How

OF_WINE = frozenset({"bottle", "half", "double", "triple"})
"""Sizes that a glass of wine doesn't come in."""
_GLASSES = {"small": 125, "medium": 175, "large": 250}
"""Millilitres in `_SAID_SO`: common practice, no source; the measures themselves are law there."""
_SAID_SO = frozenset({"gb", "ie"})
ALIKE_ML = 0.5


def is_wine(work: Work) -> bool:
    """By the glass: one pour of it and nothing else."""
    [part, *more] = work.build.parts
    return not more and part.how is How.MEASURED and _is_wine(work.book, part.ingredient)


def measured(work: Work, said: str, place: int) -> None:
    """ "A 175", "a large glass": the house pours one size, and no other one in its place."""
    rules = work.book.rules
    number = said.removesuffix(SAID_IN_UNITS)
    named = _GLASSES.get(said, 0) if rules.country in _SAID_SO else 0
    ml = float(number) if number[:1].isdigit() else named
    if abs(ml - rules.pours[LiquorClass.WINE].ml) > ALIKE_ML:
        ask_size(work)


def ask_size(work: Work) -> None:
    """Whether it may be the house's own measure."""
    if not any(about is About.SIZE for about, _ in work.ask):
        work.ask.append((About.SIZE, ("single",)))


def the_wine(book: Book, ask: Sequence[Ask], ops: Sequence[tuple[str, str]]) -> str | None:
    """ "A 175 of red": of what it may be, the one glass of wine."""
    if not any(code == "measure" for code, _ in ops):
        return None
    choices = [c for about, some in ask if about is About.BASE for c in some if _is_wine(book, c)]
    found = [d for c in choices for d in book.stock.by_set.get(frozenset({c}), ())]
    return found[0] if len(found) == 1 else None


def _is_wine(book: Book, slug: str) -> bool:
    return book.stock.of_class(slug, LiquorClass.WINE)
