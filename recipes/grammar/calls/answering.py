"""A question answered in the guest's own words: the call, said again with the answer in it.

The call stays one text. Where the answer belongs in it is found by reading: a place is right where
the question is settled as chosen and every other drink is heard as before.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Iterator, Sequence

from recipes.grammar.calls.reading import About, CalledDrink, Question, Reading

Read = Callable[[str], Reading]
_PIECE = re.compile(r"[^\s,;|]+")
MOST_REPLACED = 3
"""Words that an answer takes the place of: "whiskey" for one, "a short one" for three."""
MOST_TRIED = 600
IN_WORDS: dict[str, tuple[str, ...]] = {
    "short": ("short",), "tall": ("tall",), "single": ("single", ""), "neat": ("neat",),
    "rocks": ("on the rocks",), "up": ("up",), "shot": ("as a shot", "shot"),
}  # fmt: skip


def phrases(question: Question, choice: str, name: str) -> tuple[str, ...]:
    """How a guest would answer; nothing where only they can say it ("with a mixer")."""
    if question.about is About.GARNISH:
        return ("no garnish",) if choice == "none" else (f"with {name}",)
    if question.about in (About.SIZE, About.STYLE):
        return IN_WORDS.get(choice, ())
    return (name,)


def answered(
    before: Reading, question: Question, choice: str, said: Sequence[str], read: Read
) -> str | None:
    """The call with the answer in it, None where no place for it was found in `MOST_TRIED`."""
    places = (text for words in said for text in _places(before, question, words))
    for _try, text in zip(range(MOST_TRIED), places, strict=False):
        if _settles(before, question, choice, read(text)):
            return text
    return None


def _places(before: Reading, question: Question, words: str) -> Iterator[str]:
    """Near to where the drink was called first. What a drink is takes the place of what was open
    about it; a base stands before, and how a drink is served behind its name."""
    text = before.heard.strip()
    spans = [m.span() for m in _PIECE.finditer(text)]
    near = (question.drink + 1) / max(1, len(before.drinks)) * len(spans)
    order = sorted(range(len(spans)), key=lambda n: (abs(n + 1 - near), n))
    if question.about is About.BASE:
        yield from _beside(text, spans, order, words)
    if question.about in (About.DRINK, About.BASE, About.MIXER) or not words:
        yield from _instead(text, spans, order, words)
    if words and question.about is not About.BASE:
        last = [n for n in order if _ends_a_drink(text, spans, n)]
        rest = [n for n in order if n not in last]
        yield from (_with(text, spans[n][1], spans[n][1], f" {words}") for n in [*last, *rest])
        yield from _beside(text, spans, order, words)


Spans = Sequence[tuple[int, int]]


def _beside(text: str, spans: Spans, order: Sequence[int], words: str) -> Iterator[str]:
    return (_with(text, spans[n][0], spans[n][0], f"{words} ") for n in order)


def _instead(text: str, spans: Spans, order: Sequence[int], words: str) -> Iterator[str]:
    for width in range(1, MOST_REPLACED + 1):
        for n in order:
            if n + width <= len(spans):
                yield _with(text, spans[n][0], spans[n + width - 1][1], words)


def _ends_a_drink(text: str, spans: Spans, n: int) -> bool:
    """Whether a mark, an "and" or nothing follows."""
    if n + 1 == len(spans):
        return True
    start, end = spans[n + 1]
    return text[start:end].casefold() in ("and", "plus", "&", "+") or bool(
        text[spans[n][1] : start].strip(" ")
    )


def _with(text: str, start: int, end: int, words: str) -> str:
    return " ".join(f"{text[:start]}{words}{text[end:]}".split(" "))


def _settles(before: Reading, question: Question, choice: str, after: Reading) -> bool:
    at = question.drink
    if len(after.drinks) != len(before.drinks) or set(after.unplaced) - set(before.unplaced):
        return False
    if any(_same(n, before) != _same(n, after) for n in range(len(after.drinks)) if n != at):
        return False
    drink = after.drinks[at]
    still = {q.about for q in after.asks_about(at)}
    new = (
        still - {q.about for q in before.asks_about(at)} - {About.GARNISH, About.SIZE, About.STYLE}
    )
    if drink.count != before.drinks[at].count or question.about in still or new:
        return False
    return _is_chosen(drink, before.drinks[at], question, choice)


def _same(at: int, reading: Reading) -> tuple[object, ...]:
    drink = reading.drinks[at]
    asks = tuple((q.about, q.choices) for q in reading.asks_about(at))
    return drink.count, drink.recipe, drink.name, drink.changes, drink.spec, asks


def _is_chosen(drink: CalledDrink, was: CalledDrink, question: Question, choice: str) -> bool:
    """Whether the drink is now as it was answered, and otherwise what it was."""
    if question.about is About.DRINK:
        return choice in (drink.recipe, drink.name)
    spec = drink.spec
    if spec is None:
        return False
    if question.about is About.GARNISH:
        on_it = {g.item for g in spec.garnish}
        return not on_it if choice == "none" else on_it == {choice}
    if question.about in (About.SIZE, About.STYLE):
        return True  # the question is settled, and no other word was said
    kept = {p.ingredient for p in was.spec.parts} if was.spec else set()
    parts = {p.ingredient for p in spec.parts}
    return choice in parts and (
        question.about is About.BASE or kept - parts <= set(question.choices)
    )
