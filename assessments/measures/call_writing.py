"""Calls to practise, made by what the house sells, with choices for each part of the build.

Same seed, same menu: the same calls.
"""

from __future__ import annotations

from collections.abc import Collection, Iterator, Mapping, Sequence
from dataclasses import dataclass
from enum import StrEnum
from functools import cached_property
from random import Random
from typing import Any

from assessments.measures.call_answers import may_be
from assessments.measures.call_build import PIECES, Build
from assessments.measures.call_choices import Shelf, parts_of
from assessments.measures.call_marking import DrinkAsked
from assessments.measures.call_open import differing
from assessments.measures.call_parts import Piece
from recipes.grammar import calls
from recipes.grammar.aspects import Aspect, Topic, aspect_fingerprints, fingerprint, topics
from recipes.grammar.calls import About, AskKind, Book, CalledDrink, Question, over_the_bar
from recipes.grammar.calls.generate import GeneratedCall
from recipes.grammar.calls.over_the_bar import call_over_the_bar
from recipes.grammar.drink import Drink
from recipes.grammar.house_spec import HouseSpec
from recipes.grammar.ingredients import Pantry
from recipes.grammar.rules import HouseRules


class CallKind(StrEnum):
    SINGLE = "single"  # one drink a call, told at once what came of it
    ROUND = "round"  # several drinks a call
    RUSH = "rush"  # twenty calls against the clock


COUNT = {CallKind.SINGLE: 5, CallKind.ROUND: 3, CallKind.RUSH: 20}
"""Calls of each kind: about as much as fits five minutes (our own number, no source)."""
TRIES = 20
"""So often another call is looked for instead of one that was said already (our own number)."""
DRINKS = {CallKind.SINGLE: (1,), CallKind.ROUND: (2, 2, 3), CallKind.RUSH: (1,)}


@dataclass(frozen=True)
class CallAsked:
    """A call as it is put to somebody: what is heard, and each of its drinks in order."""

    text: str
    drinks: tuple[DrinkAsked, ...]

    def to_json(self) -> dict[str, Any]:
        return {"text": self.text, "drinks": [d.to_json() for d in self.drinks]}

    @classmethod
    def from_json(cls, data: Mapping[str, Any]) -> CallAsked:
        return cls(data["text"], tuple(DrinkAsked.from_json(d) for d in data["drinks"]))


@dataclass(frozen=True)
class Bar:
    """What calls are made from: the words of a menu, its drinks, its rules and its stock."""

    book: Book
    drinks: tuple[Drink, ...]
    rules: HouseRules
    pantry: Pantry

    @cached_property
    def shelf(self) -> Shelf:
        return Shelf(self.drinks, self.pantry)

    @property
    def mix(self) -> dict[str, float]:
        return {d.slug: d.share for d in self.drinks}


def write_calls(kind: CallKind, bar: Bar, seed: int) -> tuple[CallAsked, ...]:
    """Nothing where the house has nothing that can be called."""
    if not bar.drinks:
        return ()
    random = Random(seed)  # noqa: S311 - calls need to be repeatable, not secret
    guests = over_the_bar.Bar(bar.book, bar.mix)
    made: list[GeneratedCall] = []
    for number in range(COUNT[kind]):
        said = {call.text for call in made}
        call = _unsaid(guests, random, DRINKS[kind][number % len(DRINKS[kind])], said)
        made += [call] if call else []
    return tuple(
        CallAsked(call.text, tuple(_asked(call.text, call.drinks, call.ask, bar))) for call in made
    )


def _unsaid(
    guests: over_the_bar.Bar, random: Random, drinks: int, said: Collection[str]
) -> GeneratedCall | None:
    """One that hasn't been said in this run, unless there is hardly anything else to say here."""
    call = call_over_the_bar(guests, random, drinks)
    for _try in range(TRIES):
        if call is None or call.text not in said:
            break
        call = call_over_the_bar(guests, random, drinks)
    return call


def call_of(text: str, bar: Bar) -> CallAsked:
    """A call in these words, as it would be put to somebody."""
    heard = calls.read(text, bar.book)
    return CallAsked(text, tuple(_asked(text, heard.drinks, heard.ask, bar)))


def _asked(
    text: str, drinks: Sequence[CalledDrink], ask: Sequence[Question], bar: Bar
) -> Iterator[DrinkAsked]:
    for at, drink in enumerate(drinks):
        questions = [q for q in ask if q.drink == at]
        known = _known(text, at, drink, questions, bar)
        parts, alike = parts_of(known.builds[0], known.topics, f"{at} {text}", bar.shelf)
        yield DrinkAsked(
            name=drink.name,
            recipe=drink.recipe,
            build=_print(drink.spec) if drink.spec else "",
            parts=parts,
            ask=tuple(dict.fromkeys(q.about for q in questions)),
            alike=alike,
            count=drink.count,
            varies=known.varies,
            may_ask=known.may_ask,
        )


@dataclass(frozen=True)
class _Known:
    """What a drink as called is or may be, and what can be known of it before an answer."""

    builds: Sequence[Build]
    topics: Sequence[Topic]
    varies: tuple[Piece, ...] = ()
    may_ask: tuple[About, ...] = ()


def _known(
    text: str, at: int, drink: CalledDrink, questions: Sequence[Question], bar: Bar
) -> _Known:
    if drink.spec and all(q.kind is AskKind.SERVICE for q in questions):
        build = Build(drink.spec, bar.pantry, drink.recipe)
        return _Known([build], _topics(drink.spec, drink, bar))
    whole = any(q.about is About.DRINK for q in questions)
    found = [] if whole else may_be(calls.read(text, bar.book), at, bar.book)
    specs = [one.drink.spec for one in found if one.drink.spec]
    if not specs:
        build = Build(_some_spec(questions, bar), bar.pantry)
        return _Known([build], (), tuple(PIECES))
    builds = [Build(spec, bar.pantry) for spec in specs]
    asks = tuple(dict.fromkeys(about for one in found for about in one.asks))
    shared = [t for t in _topics(specs[0], drink, bar)
              if all(t in _topics(spec, drink, bar) for spec in specs[1:])]  # fmt: skip
    return _Known(builds, shared, differing(builds, asks), asks)


def _print(spec: HouseSpec) -> str:
    """The same print that a drink of the menu with this very build has."""
    prints = aspect_fingerprints(spec)
    return fingerprint([prints[aspect] for aspect in Aspect])


def _some_spec(questions: Sequence[Question], bar: Bar) -> HouseSpec:
    """Where nothing is certain, the choices are those of what it may be: else an empty page would
    say that there is nothing to build yet."""
    by_slug = {d.slug: d for d in bar.drinks}
    named = [c for q in questions for c in q.choices if c in by_slug]
    if named:
        return by_slug[named[0]].spec
    with_it = [d for d in bar.drinks for q in questions for c in q.choices
               if any(p.ingredient == c for p in d.spec.parts)]  # fmt: skip
    return (with_it or bar.drinks)[0].spec


def _topics(spec: HouseSpec, called: CalledDrink, bar: Bar) -> list[Topic]:
    """Rules that the build uses, and what it shares with the house's own build of the drink."""
    own = next((d for d in bar.drinks if d.slug == called.recipe), None)
    known = {t.fingerprint for t in own.topics} if own else set()
    return [
        topic
        for topic in topics(called.recipe or "", spec, bar.rules, bar.pantry)
        if topic.rule or topic.fingerprint in known
    ]
