"""A question answered in the guest's own words: the call, said again with the answer in it.

The call stays one text. Where the answer belongs in it is found by reading: a place is right where
the question is settled as chosen and every other drink is heard as before.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Iterator, Sequence

from recipes.grammar.calls.reading import NONE, About, CalledDrink, Change, Question, Reading, What
from recipes.grammar.calls.words import AGAIN, COUNTS
from recipes.grammar.house_spec import HouseSpec

_IN_LETTERS = {n: w for w, n in COUNTS.items() if w not in AGAIN and " " not in w and w != "couple"}
Read = Callable[[str], Reading]
_PIECE = re.compile(r"[^\s,;|]+")
_BLANKS = re.compile(" {2,}")
MOST_REPLACED = 3
"""Words that an answer takes the place of: "whiskey" for one, "a short one" for three."""
MOST_TRIED = 600
IN_WORDS: dict[str, tuple[str, ...]] = {
    "short": ("short",), "tall": ("tall",), "single": ("", "single", "glass of"), "neat": ("neat",),
    "rocks": ("on the rocks",), "up": ("up",), "shot": ("as a shot", "shot"),
}  # fmt: skip


MANY = {"two": 2, "three": 3}
_WHOLE = {What.SHOT, What.NEAT, What.ROCKS, What.UP, What.PINT, What.HALF, What.VIRGIN}
"""Changes that a drink of the house may have in it already: a shot, a half, one without alcohol."""


def phrases(question: Question, choice: str, name: str) -> tuple[str, ...]:
    """How a guest would answer; nothing where only they can say it ("with a mixer")."""
    if question.about is About.GARNISH:
        if choice != NONE:
            return (f"with {name}",)
        others = (c.replace("-", " ") for c in question.choices if c != NONE)
        return ("no garnish", *(f"no {other}" for other in others))
    if choice == NONE:
        return ()
    if question.about is About.MIXER:
        return (name, f"with {name}")  # "with a wheel of lime": on it, not in it
    if question.about in (About.SIZE, About.STYLE):
        return (choice,) if choice in MANY else IN_WORDS.get(choice, ())
    return (name,)


def answered(
    before: Reading, question: Question, choice: str, said: Sequence[str], read: Read
) -> str | None:
    """The call with the answer in it, None where no place for it was found in `MOST_TRIED`."""
    if choice in MANY and question.about is About.SIZE:
        many = before.drinks[question.drink].count * MANY[choice]
        said = (_IN_LETTERS.get(many, str(many)),)
    places = (text for words in said for text in _places(before, question, choice, words))
    for _try, text in zip(range(MOST_TRIED), places, strict=False):
        if _settles(before, question, choice, read(text)):
            return text
    return None


def _places(before: Reading, question: Question, choice: str, words: str) -> Iterator[str]:
    """Near to where the drink was called first. What a drink is takes the place of what was open
    about it; a base stands before, and how a drink is served behind its name."""
    text = before.heard.strip()
    spans = [m.span() for m in _PIECE.finditer(text)]
    near = (question.drink + 1) / max(1, len(before.drinks)) * len(spans)
    order = sorted(range(len(spans)), key=lambda n: (abs(n + 1 - near), n))
    if question.about is About.BASE:
        yield from _beside(text, spans, order, words)
        ends = [n for n in order if _ends_a_drink(text, spans, n)]
        yield from (_with(text, spans[n][1], spans[n][1], f" with {words}") for n in ends)
    if question.about in (About.DRINK, About.BASE, About.MIXER) or not words:
        yield from _instead(text, spans, order, words)
    if question.about is About.SIZE and choice in ("single", *MANY) and words:
        yield from _instead(text, spans, order, words)
    if words and question.about is not About.BASE:
        last = [n for n in order if _ends_a_drink(text, spans, n)]
        rest = [n for n in order if n not in last]
        yield from (_with(text, spans[n][1], spans[n][1], f" {words}") for n in [*last, *rest])
        yield from _beside(text, spans, order, words)
    if question.about is About.STYLE:
        yield from _instead(text, spans, order, words)  # "straight up": up, or neat


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
    return _BLANKS.sub(" ", f"{text[:start]}{words}{text[end:]}").strip()


def _settles(before: Reading, question: Question, choice: str, after: Reading) -> bool:
    at = question.drink
    if len(after.drinks) != len(before.drinks) or set(after.unplaced) - set(before.unplaced):
        return False
    if any(_same(n, before) != _same(n, after) for n in range(len(after.drinks)) if n != at):
        return False
    drink, was = after.drinks[at], before.drinks[at]
    asked = before.asks_about(at)
    new = [q for q in after.asks_about(at) if q not in asked and q.about not in _OF_SERVICE]
    waits = (
        bool(_unnamed(was)) and question.about is not About.MIXER
    )  # which back, once it is known
    if question in after.ask or any(not waits or q.about is not About.MIXER for q in new):
        return False
    if any(q.about is question.about for q in after.asks_about(at) if q not in asked):
        return False
    if drink.count != was.count * (MANY.get(choice, 1) if question.about is About.SIZE else 1):
        return False
    return _keeps(drink, was, question, choice) and _is_chosen(drink, was, question, choice)


def _unnamed(drink: CalledDrink) -> set[Change]:
    """Backs and splashes of which nobody said what."""
    return {c for c in drink.changes if c.what in _OF_SOMETHING and not c.item}


_OF_SOMETHING = frozenset({What.BACK, What.SPLASH, What.DASH})
_OF_SERVICE = {About.GARNISH, About.SIZE, About.STYLE}


def _keeps(drink: CalledDrink, was: CalledDrink, question: Question, choice: str) -> bool:
    """Whether all that was said of the drink besides is still so: dirty, tall, without alcohol."""
    lost: set[Change] = set(was.changes) - set(drink.changes)
    if question.about is About.DRINK and choice == drink.recipe:
        lost = {c for c in lost if c.what not in _WHOLE}
    if question.about is About.SIZE and choice in ("single", *MANY):
        lost = {c for c in lost if c.what not in (What.DOUBLE, What.TRIPLE)}
    if question.about is About.MIXER:
        lost -= _unnamed(was)
    if question.about is About.BASE:
        lost = {c for c in lost if c.what not in (What.CALL, What.PREMIUM, What.BASE)}
    if any(c.what is What.VIRGIN for c in was.changes):
        spec = drink.spec
        if spec is not None and not spec.alcohol_free:
            return False
    return not lost


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
    before = was.spec
    if question.about is About.GARNISH:
        on_it = {g.item for g in spec.garnish}
        others = {g.item for g in before.garnish} - set(question.choices) if before else set()
        chosen = set() if choice == NONE else {choice}
        return others <= on_it and on_it & set(question.choices) == chosen
    if question.about is About.SIZE:
        same = before is None or _things(before) == _things(spec)
        return same and (drink.recipe, drink.name) == (was.recipe, was.name)
    if question.about is About.STYLE:
        # A recipe of how it is served may have a bottle of its own: "tequila on the rocks".
        return before is None or len(_things(before)) == len(_things(spec))
    if question.about is About.MIXER and _unnamed(was) - _unnamed(drink):
        return choice in {c.item for c in drink.changes if c.what in _OF_SOMETHING}
    kept = {p.ingredient for p in was.spec.parts} if was.spec else set()
    parts = {p.ingredient for p in spec.parts} | {g.item for g in spec.garnish}
    return choice in parts and (
        question.about is About.BASE or kept - parts <= set(question.choices)
    )


def _things(spec: HouseSpec) -> set[str]:
    return {p.ingredient for p in spec.parts}
