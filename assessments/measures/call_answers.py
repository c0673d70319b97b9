"""What a drink may turn out to be, of which a call leaves open what goes in: every answer tried."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from recipes.grammar import calls
from recipes.grammar.calls import About, AskKind, Book, CalledDrink, Question, Reading
from recipes.grammar.calls.answering import answered, phrases
from recipes.grammar.calls.reading import NONE


@dataclass(frozen=True)
class MayBe:
    """The drink once a guest has answered, and what is still to be asked then: its garnish."""

    drink: CalledDrink
    asks: tuple[About, ...]


def may_be(heard: Reading, at: int, book: Book) -> list[MayBe]:
    """Every drink that the one at `at` may be, the likeliest first; none where an answer can't be
    said in words, so that nobody can tell."""
    question = next((q for q in heard.asks_about(at) if q.kind is AskKind.IDENTITY), None)
    if question is None:
        asks = tuple(dict.fromkeys(q.about for q in heard.asks_about(at)))
        return [MayBe(heard.drinks[at], asks)] if heard.drinks[at].spec else []
    found: list[MayBe] = []
    for settled in _settled(heard, question, book):
        whole = may_be(settled, at, book) if settled else []
        if not whole:
            return []
        found += whole
    return found


def _settled(heard: Reading, question: Question, book: Book) -> Iterator[Reading | None]:
    def read(text: str) -> Reading:
        return calls.read(text, book)

    for choice in question.choices:
        if choice != NONE:
            said = phrases(question, choice, _name(choice, book))
            text = answered(heard, question, choice, said, read)
            yield read(text) if text else None


def _name(choice: str, book: Book) -> str:
    if choice in book.stock.drinks:
        return book.stock.drinks[choice].name
    return book.pantry[choice].name if choice in book.pantry else choice
