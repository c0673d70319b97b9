"""A question answered in the guest's own words: the call, said again with the answer in it.

The call stays one text. Where the answer belongs in it is found by reading: a place is right where
the question is settled as chosen and every other drink is heard as before.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Iterator, Sequence
from itertools import islice

from recipes.grammar.calls.either import OR, WIDEST
from recipes.grammar.calls.placeholder import as_said, glass_of, opening
from recipes.grammar.calls.reading import (
    IDENTITY,
    NONE,
    About,
    CalledDrink,
    Change,
    Question,
    Reading,
    What,
)
from recipes.grammar.calls.words import AGAIN, COUNTS, STEPS_UP
from recipes.grammar.house_spec import HouseSpec

_IN_LETTERS = {n: w for w, n in COUNTS.items() if w not in AGAIN and " " not in w and w != "couple"}
Read = Callable[[str], Reading]
Spans = Sequence[tuple[int, int]]
_PIECE = re.compile(r"[^\s,;|]+")
_STEP = re.compile(
    rf",? *\b(?:{'|'.join(sorted(STEPS_UP, key=len, reverse=True))})\b", re.IGNORECASE
)
_BLANKS = re.compile(" {2,}")
_JOINS = frozenset({"and", "plus", "&", "+"})
_JOINED = re.compile(r"^(?:and|plus|&|\+) | (?:and|plus|&|\+)$", re.IGNORECASE)
MOST_REPLACED = 3
"""Words that an answer takes the place of: "whiskey" for one, "a short one" for three."""
MOST_TRIED = 600
IN_WORDS: dict[str, tuple[str, ...]] = {
    "short": ("short",), "tall": ("tall",), "single": ("", "single", "glass of"), "neat": ("neat",),
    "rocks": ("on the rocks",), "up": ("up",), "shot": ("as a shot", "shot"),
}  # fmt: skip


MANY = {"two": 2, "three": 3}
MIXED = "mixer"
"""Answers how a spirit is served, and which mixer is the next question."""
_WHOLE = {What.SHOT, What.NEAT, What.ROCKS, What.UP, What.PINT, What.HALF, What.VIRGIN}
"""Changes that a drink of the house may have in it already: a shot, a half, one without alcohol."""


def phrases(question: Question, choice: str, name: str) -> tuple[str, ...]:
    """How a guest would answer; "" where the answer takes the drink out of the call."""
    if question.about is About.GARNISH:
        if choice != NONE:
            return (f"with {name}",)
        others = (c.replace("-", " ") for c in question.choices if c != NONE)
        return ("no garnish", *(f"no {other}" for other in others))
    if choice == NONE:
        return ("",)  # not this one: the guest says something else
    if choice == MIXED:
        return ("with a mixer",)
    if question.about is About.MIXER:
        return (name, f"with {name}")  # "with a wheel of lime": on it, not in it
    if question.about in (About.SIZE, About.STYLE):
        return (choice,) if choice in MANY else IN_WORDS.get(choice, ())
    return (name,)


def answered(
    before: Reading, question: Question, choice: str, said: Sequence[str], read: Read,
    *, most: int = MOST_TRIED,
) -> str | None:  # fmt: skip
    """The call with the answer in it, None where no place for it was found in `most`."""
    if choice == NONE and question.about is not About.GARNISH:
        return _without(before, question.drink, read)
    if choice in MANY and question.about is About.SIZE:
        many = before.drinks[question.drink].count * MANY[choice]
        said = (_IN_LETTERS.get(many, str(many)),)
    places = (text for words in said for text in _places(before, question, choice, words))
    less = None
    for _try, text in zip(range(most), places, strict=False):
        if _settles(before, question, choice, read(text)):
            if all(word in text for word in before.unplaced if word in before.heard):
                return text
            less = less or text  # what was handed back is to be looked at, where it can stay
    return less


def _without(before: Reading, at: int, read: Read) -> str | None:
    """The call without this drink, so that something else can be said in its place."""
    rest = [_same(n, before) for n in range(len(before.drinks)) if n != at]
    if not rest:
        return ""
    text = before.heard.strip()
    spans = [m.span() for m in _PIECE.finditer(text)]
    for start, end in islice(_windows(text, spans), MOST_TRIED):
        left = _JOINED.sub("", _with(text, spans[start][0], spans[end][1], "")).strip(" ,;|")
        after = read(left)
        same = rest == [_same(n, after) for n in range(len(after.drinks))]
        if same and not set(after.unplaced) - set(before.unplaced):
            return left
    return None


def _windows(text: str, spans: Spans) -> Iterator[tuple[int, int]]:
    """Whole drinks first, with the "and" before them; then any words, the most at once."""
    said = [text[start:end].casefold() for start, end in spans]
    many = range(len(spans))
    ends = [n for n in many if _ends_a_drink(text, spans, n)]
    starts = [n for n in many if said[n] in _JOINS]
    starts += [n for n in many if not n or (n - 1 in ends) or said[n - 1] in _JOINS]
    yield from ((start, end) for start in starts for end in ends if end >= start)
    yield from (
        (n, n + wide - 1) for wide in reversed(many) for n in many if n + wide <= len(spans)
    )


def _places(before: Reading, question: Question, choice: str, words: str) -> Iterator[str]:
    """Near to where the drink was called first. What a drink is takes the place of what was open
    about it; a base stands before, and how a drink is served behind its name."""
    text = before.heard.strip()
    spans = [m.span() for m in _PIECE.finditer(text)]
    near = (question.drink + 1) / max(1, len(before.drinks)) * len(spans)
    order = sorted(range(len(spans)), key=lambda n: (abs(n + 1 - near), n))
    if question.about in (About.BASE, About.MIXER):
        yield from _instead_of_either(text, spans, words)
    if question.about is About.BASE:
        yield from _beside(text, spans, order, words)
        ends = [n for n in order if _ends_a_drink(text, spans, n)]
        yield from (_with(text, spans[n][1], spans[n][1], f" with {words}") for n in ends)
        for step in _STEP.finditer(text):  # "madras, top shelf": the house's own will do
            left = _with(text, *step.span(), "")
            parts = [m.span() for m in _PIECE.finditer(left)]
            yield from _beside(left, parts, range(len(parts)), words)
    instead, stays = question.about in IDENTITY, _stays(before.drinks[question.drink])
    if not words or (instead and not stays):
        yield from _instead(text, spans, order, words)
    if question.about is About.SIZE and choice in ("single", *MANY) and words:
        yield from _instead(text, spans, order, words)
    if words and question.about is not About.BASE:
        last = [n for n in order if _ends_a_drink(text, spans, n)]
        rest = [n for n in order if n not in last]
        yield from (_with(text, spans[n][1], spans[n][1], f" {words}") for n in [*last, *rest])
        yield from _beside(text, spans, order, words)
    if question.about is About.STYLE or (instead and stays):
        yield from _instead(text, spans, order, words)  # "straight up": up, or neat


def _stays(drink: CalledDrink) -> bool:
    """Whether all the words of it stay: "a half" of the lager is still one, a tall scotch topped up
    with cola still tall."""
    return opening(drink) not in (None, What.SHOT) or Change(What.TALL) in as_said(drink)


def _beside(text: str, spans: Spans, order: Sequence[int], words: str) -> Iterator[str]:
    return (_with(text, spans[n][0], spans[n][0], f"{words} ") for n in order)


def _instead(text: str, spans: Spans, order: Sequence[int], words: str) -> Iterator[str]:
    for width in range(1, MOST_REPLACED + 1):
        for n in order:
            if n + width <= len(spans):
                yield _with(text, spans[n][0], spans[n + width - 1][1], words)


def _instead_of_either(text: str, spans: Spans, words: str) -> Iterator[str]:
    """ "White or dark rum": both, with the word between them, make way."""
    said = [text[start:end].casefold() for start, end in spans]
    for at in (n for n, word in enumerate(said) if word == OR):
        ends = range(len(spans) - 1, at, -1)
        starts = range(at - 1, -1, -1)
        pairs = ((start, end) for start in starts for end in ends if end - start <= WIDEST)
        yield from (_with(text, spans[s][0], spans[e][1], words) for s, e in pairs)


def _ends_a_drink(text: str, spans: Spans, n: int) -> bool:
    """Whether a mark, an "and" or nothing follows."""
    if n + 1 == len(spans):
        return True
    start, end = spans[n + 1]
    return text[start:end].casefold() in _JOINS or bool(text[spans[n][1] : start].strip(" "))


def _with(text: str, start: int, end: int, words: str) -> str:
    whole = _BLANKS.sub(" ", f"{text[:start]}{words}{text[end:]}").strip()
    return whole if words else whole.replace(" ,", ",")


def _settles(before: Reading, question: Question, choice: str, after: Reading) -> bool:
    at = question.drink
    if len(after.drinks) != len(before.drinks) or set(after.unplaced) - set(before.unplaced):
        return False
    if any(_same(n, before) != _same(n, after) for n in range(len(after.drinks)) if n != at):
        return False
    drink, was = after.drinks[at], before.drinks[at]
    if question in after.ask or not _leads_on(before, question, choice, after):
        return False
    if drink.count != was.count * (MANY.get(choice, 1) if question.about is About.SIZE else 1):
        return False
    asks_how = any(q.about is About.STYLE for q in after.asks_about(at))
    return _keeps(drink, was, question, choice, asks_how=asks_how) and _is_chosen(
        drink, was, question, choice
    )


def _leads_on(before: Reading, question: Question, choice: str, after: Reading) -> bool:
    """Whether what is asked now is asked because of the answer, or only how it is served."""
    was = before.drinks[question.drink]
    new = [q for q in after.asks_about(question.drink) if q not in before.ask]
    again = [q for q in new if q.about is question.about]
    more = [q for q in new if q.about not in (question.about, *_OF_SERVICE)]
    if choice == MIXED:
        return [q.about for q in more] == [About.MIXER]
    if question.about is About.DRINK:
        return not again  # a drink that is known may have a bottle or a back to ask about
    waits = bool(_unnamed(was)) and question.about is not About.MIXER  # which back: now it is asked
    tall = question.about is About.BASE and Change(What.TALL) in as_said(was)  # topped up: of what
    later = {About.MIXER} if waits or tall else set()
    return {q.about for q in more} <= later and all(_is_of_its_step(was, q, choice) for q in again)


def _is_of_its_step(was: CalledDrink, question: Question, choice: str) -> bool:
    """Which bottle above the house's pour is asked once it is known of what."""
    stepped = any(c.what in _STEPS for c in was.changes)
    return stepped and question.about is About.BASE and choice in question.choices


def _unnamed(drink: CalledDrink) -> set[Change]:
    """Backs and splashes of which nobody said what."""
    return {c for c in drink.changes if c.what in _OF_SOMETHING and not c.item}


_STEPS = frozenset({What.CALL, What.PREMIUM})
_OF_SOMETHING = frozenset({What.BACK, What.SPLASH, What.DASH})
_SERVED_SO = frozenset({What.NEAT, What.ROCKS, What.UP, What.SHOT})
_OF_SERVICE = {About.GARNISH, About.SIZE, About.STYLE}


def _keeps(
    drink: CalledDrink, was: CalledDrink, question: Question, choice: str, *, asks_how: bool
) -> bool:
    """Whether all that was said of the drink besides is still so: dirty, tall, without alcohol.
    Neat is no change of a whiskey that comes neat, as long as it isn't asked how."""
    lost: set[Change] = as_said(was) - set(drink.changes)
    if question.about is About.DRINK and choice == drink.recipe:
        lost = {c for c in lost if c.what not in _WHOLE - {opening(was)} | {What.SHOT}}
    if question.about is About.SIZE and choice in ("single", *MANY):
        lost = {c for c in lost if c.what not in (What.DOUBLE, What.TRIPLE)}
    if question.about is About.MIXER:
        lost -= _unnamed(was)
    if question.about is About.BASE:
        lost = {c for c in lost if c.what not in (*_STEPS, What.BASE)}
        lost = {c for c in lost if asks_how or c.what not in _SERVED_SO}
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
        return choice in (drink.recipe, drink.name) or bool(glass_of(was) and drink.recipe)
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
    kept = _things(was.spec) if was.spec else set()
    parts = _things(drink.shown or spec) | {g.item for g in spec.garnish}
    return choice in parts and kept - parts <= set(question.choices)


def _things(spec: HouseSpec) -> set[str]:
    return {p.ingredient for p in spec.parts}
