"""Calls to practise, made from the grammar by what the house sells, with choices for each aspect.

Same seed, same menu: the same calls. Wrong choices are those of look-alikes, of the other size and
of what a change would make of it. Their order never depends on which one is right.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from enum import StrEnum
from random import Random
from typing import Any

from assessments.measures.call_marking import DrinkAsked
from assessments.measures.quiz.alike import same_answer
from assessments.measures.quiz.items import BuildPart, Choice
from recipes.grammar import calls
from recipes.grammar.aspects import (
    Aspect,
    Content,
    aspect_fingerprints,
    contents,
    fingerprint,
    topics,
)
from recipes.grammar.calls import About, Book, CalledDrink, Question, Status
from recipes.grammar.drink import Drink
from recipes.grammar.house_spec import HouseSpec
from recipes.grammar.ingredients import Pantry
from recipes.grammar.lookalikes import apart
from recipes.grammar.rules import HouseRules
from recipes.grammar.spec import Ice
from recipes.grammar.traits import traits
from recipes.grammar.units import Unit


class CallKind(StrEnum):
    SINGLE = "single"  # one drink a call, told at once what came of it
    ROUND = "round"  # several drinks a call
    RUSH = "rush"  # twenty calls against the clock


COUNT = {CallKind.SINGLE: 5, CallKind.ROUND: 3, CallKind.RUSH: 20}
"""Calls of each kind: about as much as fits five minutes (our own number, no source)."""
DRINKS = {CallKind.SINGLE: (1,), CallKind.ROUND: (2, 2, 3), CallKind.RUSH: (1,)}
OPEN_SHARE = 0.15
"""Part of the calls that leave open what is wanted: a beer, a rickey, a tequila (our own)."""
FEW, MOST = 4, 8
"""Choices seen at once, and in all: four big ones fit a phone and a thumb (our own number)."""
_TRIES = 200


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

    @property
    def mix(self) -> dict[str, float]:
        return {d.slug: d.share for d in self.drinks}


def write_calls(kind: CallKind, bar: Bar, seed: int) -> tuple[CallAsked, ...]:
    """Nothing where the house has nothing that can be called."""
    if not bar.drinks:
        return ()
    random = Random(seed)  # noqa: S311 - calls need to be repeatable, not secret
    found: list[CallAsked] = []
    open_calls = _open_calls(bar)
    for number in range(COUNT[kind]):
        many = DRINKS[kind][number % len(DRINKS[kind])]
        if many == 1 and open_calls and random.random() < OPEN_SHARE:
            found.append(call_of(random.choice(open_calls), bar))
        else:
            found.append(_made(bar, many, random))
    return tuple(found)


def _made(bar: Bar, many: int, random: Random) -> CallAsked:
    """Only what is read back as what it was made of: a call with two meanings is nobody's fault."""
    made = calls.generate(bar.book, random, bar.mix, many)
    for _try in range(_TRIES):
        heard = calls.read(made.text, bar.book)
        if heard.drinks == made.drinks and heard.ask == made.ask and not heard.unplaced:
            break
        made = calls.generate(bar.book, random, bar.mix, many)
    return CallAsked(made.text, tuple(_asked(made.text, made.drinks, made.ask, bar)))


def call_of(text: str, bar: Bar) -> CallAsked:
    """A call in these words, as it would be put to somebody."""
    heard = calls.read(text, bar.book)
    return CallAsked(text, tuple(_asked(text, heard.drinks, heard.ask, bar)))


def _open_calls(bar: Bar) -> list[str]:
    """Single words after which a bartender has to ask which drink, which base, or how."""
    found = []
    phrases = {e.phrase for e in bar.book.entries if e.phrase.isascii() and len(e.phrase) > 2}
    for phrase in sorted(phrases):
        heard = calls.read(phrase, bar.book)
        wants = {About.DRINK, About.BASE, About.STYLE} & {q.about for q in heard.ask}
        asks = heard.status is Status.ASK and len(heard.drinks) == 1 and not heard.unplaced
        if asks and wants and not heard.read_as:
            found.append(phrase)
    return found


def _asked(
    text: str, drinks: Sequence[CalledDrink], ask: Sequence[Question], bar: Bar
) -> Iterator[DrinkAsked]:
    for at, drink in enumerate(drinks):
        questions = [q for q in ask if q.drink == at]
        spec = drink.spec or _some_spec(questions, bar)
        yield DrinkAsked(
            name=drink.name,
            recipe=drink.recipe,
            build=_print(spec) if drink.spec else "",
            parts=tuple(_parts(spec, drink, f"{at} {text}", bar)),
            ask=tuple(dict.fromkeys(q.about for q in questions)),
        )


def _print(spec: HouseSpec) -> str:
    """The same print that a drink of the menu with this very build has."""
    prints = aspect_fingerprints(spec)
    return fingerprint([prints[aspect] for aspect in Aspect])


def _some_spec(questions: Sequence[Question], bar: Bar) -> HouseSpec:
    """Where the drink is open, the choices are those of what it may be: else an empty page would
    say that there is nothing to build yet."""
    by_slug = {d.slug: d for d in bar.drinks}
    named = [c for q in questions for c in q.choices if c in by_slug]
    if named:
        return by_slug[named[0]].spec
    with_it = [d for d in bar.drinks for q in questions for c in q.choices
               if any(p.ingredient == c for p in d.spec.parts)]  # fmt: skip
    return (with_it or bar.drinks)[0].spec


def _parts(spec: HouseSpec, called: CalledDrink, said: str, bar: Bar) -> Iterator[BuildPart]:
    held, own = contents(spec), _topics(spec, called, bar)
    near = sorted(bar.drinks, key=lambda d: (round(apart(traits(spec), d.traits), 9), d.slug))
    for aspect in Aspect:
        right = Choice(held[aspect], called.recipe or "")
        wrong = _distinct(aspect, right, _candidates(aspect, held[aspect], called, near))
        choices = sorted([right, *wrong], key=lambda c: _rank(aspect, c, said, bar.drinks))
        if wrong:
            yield BuildPart(aspect, tuple(choices), choices.index(right), own.get(aspect, ()))


def _candidates(
    aspect: Aspect, right: Content, called: CalledDrink, near: Sequence[Drink]
) -> Iterator[Choice]:
    """The other size or amount of ice first: that is what a change in a call is about."""
    for content in _variants(aspect, right):
        yield Choice(content, called.recipe or "")
    for drink in near:
        yield Choice(drink.contents[aspect], drink.slug)


def _variants(aspect: Aspect, right: Content) -> Iterator[Content]:
    if aspect is Aspect.POURS:
        many = [float(p[1]) for p in right["poured"] if p[1] and p[2] == Unit.POUR.value]
        if many:
            yield _times(right, 0.5 if max(many) > 1 else 2.0)
    if aspect is Aspect.METHOD and right["method"] == "build":
        for ice in (Ice.FULL, Ice.NONE, Ice.LIGHT):
            yield {**right, "ice": ice.value}
    if aspect is Aspect.FINISH and right["garnish"]:
        yield {**right, "garnish": []}


def _times(content: Content, factor: float) -> Content:
    def line(pour: Sequence[str]) -> list[str]:
        slug, amount, unit, ml, by = pour
        if unit != Unit.POUR.value or not amount or not ml:
            return list(pour)
        return [slug, f"{factor * float(amount):.3f}", unit, f"{factor * float(ml):.3f}", by]

    return {**content, "poured": sorted(line(p) for p in content["poured"])}


def _distinct(aspect: Aspect, right: Choice, candidates: Iterable[Choice]) -> list[Choice]:
    kept: list[Choice] = []
    for choice in candidates:
        if len(kept) == MOST - 1:
            break
        if not any(same_answer(aspect, choice.content, k.content) for k in (right, *kept)):
            kept.append(choice)
    return kept


def _rank(aspect: Aspect, choice: Choice, said: str, drinks: Sequence[Drink]) -> tuple[float, str]:
    """Glass, finish and method: what stands in the most drinks that go over the bar comes first.
    Bottles and mixers lie as they fall, otherwise in each call: most wanted or by name, the right
    one would stand at the end too often."""
    fallen = fingerprint([said, choice.content])
    if aspect in (Aspect.POURS, Aspect.MIXERS):
        return 0.0, fallen
    sold = sum(d.share for d in drinks if same_answer(aspect, d.contents[aspect], choice.content))
    return -round(sold, 9), fingerprint(choice.content)


def _topics(spec: HouseSpec, called: CalledDrink, bar: Bar) -> dict[Aspect, tuple[str, ...]]:
    """Rules that the build uses, and what it shares with the house's own build of the drink."""
    own = next((d for d in bar.drinks if d.slug == called.recipe), None)
    known = {t.fingerprint for t in own.topics} if own else set()
    found: dict[Aspect, list[str]] = {}
    for topic in topics(called.recipe or "", spec, bar.rules, bar.pantry):
        if topic.rule or topic.fingerprint in known:
            found.setdefault(topic.aspect, []).append(topic.fingerprint)
    return {aspect: tuple(prints) for aspect, prints in found.items()}
