"""Marking of practised calls: what was built of them, by aspect, and what was asked back.

Of a call the trade wants three things: build what was said, ask what it leaves open, and don't ask
what the call or a rule of the house has answered already. Asking too much is safe, so it counts as
asking; building on a guess where one has to ask counts as wrong, like a wrong build.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from math import prod
from typing import Any, Literal

from assessments.measures.quiz.items import BuildPart
from recipes.grammar.aspects import Aspect
from recipes.grammar.calls.reading import About

Outcome = Literal["right", "ask", "wrong"]

ASKED: Outcome = "ask"
LATER = -1
"""Chosen for an aspect: that depends on what the guest answers."""

OPENS: dict[About, frozenset[Aspect]] = {
    About.DRINK: frozenset(Aspect),
    About.BASE: frozenset({Aspect.POURS}),
    About.MIXER: frozenset({Aspect.MIXERS}),
    About.SIZE: frozenset({Aspect.GLASS}),
    About.STYLE: frozenset({Aspect.GLASS, Aspect.MIXERS, Aspect.FINISH, Aspect.METHOD}),
    About.GARNISH: frozenset({Aspect.FINISH}),
}
"""The aspects that nobody can know before a question is answered. A double has two pours whether
it is short or tall; the glass is what is open."""


@dataclass(frozen=True)
class DrinkAsked:
    """One drink of a call as it was put to somebody: what may be chosen, and what is right.

    `ask` are the questions that have to be asked. `recipe` is None for a drink that only its
    ingredients name; `build` is the print of the build as called. Each part's `topics` are
    fingerprints that a right choice is evidence for.
    """

    name: str
    recipe: str | None
    build: str
    parts: tuple[BuildPart, ...]
    ask: tuple[About, ...] = ()

    @property
    def open(self) -> frozenset[Aspect]:
        return frozenset(aspect for about in self.ask for aspect in OPENS[about])

    @property
    def ways(self) -> int:
        """How many answers there are to guess among: every choice, and what to ask or not."""
        return prod(len(part.choices) for part in self.parts) * int(2 ** len(About))

    def to_json(self) -> dict[str, Any]:
        return {
            "name": self.name,
            "recipe": self.recipe,
            "build": self.build,
            "parts": [part.to_json() for part in self.parts],
            "ask": [about.value for about in self.ask],
        }

    @classmethod
    def from_json(cls, data: Mapping[str, Any]) -> DrinkAsked:
        return cls(
            name=data["name"],
            recipe=data["recipe"],
            build=data["build"],
            parts=tuple(BuildPart.from_json(p) for p in data["parts"]),
            ask=tuple(About(a) for a in data["ask"]),
        )


@dataclass(frozen=True)
class DrinkGiven:
    """What was chosen for one drink: an index a part or `LATER`, and what was asked back."""

    parts: tuple[int, ...]
    ask: frozenset[About] = frozenset()


@dataclass(frozen=True)
class DrinkMarked:
    """`aspects` in the order of the parts. `not_asked` had to be asked, `asked_too_much` was
    answered already. `shows` is what the answer says of each topic; `mixed_up_with` is the drink
    that all the wrong choices are from, where they are two or more."""

    came: Outcome
    aspects: tuple[tuple[Aspect, Outcome], ...]
    not_asked: tuple[About, ...] = ()
    asked_too_much: tuple[About, ...] = ()
    mixed_up_with: str | None = None
    shows: Mapping[str, bool] | None = None


def mark_drink(asked: DrinkAsked, given: DrinkGiven | None) -> DrinkMarked:
    """`given` is None for "I'd ask a colleague": neither right nor wrong, and no proof of knowing.

    Raises ValueError for what is no whole answer to this drink.
    """
    if given is None:
        asked_all = tuple((part.aspect, ASKED) for part in asked.parts)
        return DrinkMarked("ask", asked_all, shows=_shows(asked, asked_all))
    _refuse_stray(asked, given)
    needed = frozenset(asked.ask)
    aspects = tuple(
        (part.aspect, _part(asked, part, choice, given))
        for part, choice in zip(asked.parts, given.parts, strict=True)
    )
    not_asked = tuple(a for a in About if a in needed - given.ask)
    too_much = tuple(a for a in About if a in given.ask - needed)
    asking: Outcome = "wrong" if not_asked else "ask" if too_much else "right"
    return DrinkMarked(
        came=_worst([asking, *(came for _, came in aspects)]),
        aspects=aspects,
        not_asked=not_asked,
        asked_too_much=too_much,
        mixed_up_with=_mixed_up_with(asked, given, aspects),
        shows=_shows(asked, aspects),
    )


def mark_call(marked: Sequence[DrinkMarked]) -> Outcome:
    """A round is right where each of its drinks is, and wrong where one of them is."""
    return _worst([m.came for m in marked])


def _worst(outcomes: Sequence[Outcome]) -> Outcome:
    if "wrong" in outcomes:
        return "wrong"
    return "ask" if "ask" in outcomes else "right"


def _refuse_stray(asked: DrinkAsked, given: DrinkGiven) -> None:
    if len(given.parts) != len(asked.parts):
        raise ValueError("one choice for each part")
    for part, choice in zip(asked.parts, given.parts, strict=True):
        if choice != LATER and not 0 <= choice < len(part.choices):
            raise ValueError(f"no such choice for {part.aspect}: {choice}")


def _part(asked: DrinkAsked, part: BuildPart, choice: int, given: DrinkGiven) -> Outcome:
    """Of what is open, leaving it open is right, and so is going by what the house does unasked,
    once the question has been asked."""
    if part.aspect in asked.open:
        opened_by = {about for about in asked.ask if part.aspect in OPENS[about]}
        return "right" if choice == LATER or opened_by <= given.ask else "wrong"
    if choice == LATER:
        return "ask"
    return "right" if choice == part.right else "wrong"


def _mixed_up_with(
    asked: DrinkAsked, given: DrinkGiven, aspects: Sequence[tuple[Aspect, Outcome]]
) -> str | None:
    wrong = [
        part.choices[choice].of
        for part, choice, (_, came) in zip(asked.parts, given.parts, aspects, strict=True)
        if came == "wrong"
    ]
    return wrong[0] or None if len(wrong) > 1 and len(set(wrong)) == 1 else None


def _shows(asked: DrinkAsked, aspects: Sequence[tuple[Aspect, Outcome]]) -> dict[str, bool]:
    """What is open shows nothing: nobody was asked for it yet."""
    return {
        topic: came == "right"
        for part, (aspect, came) in zip(asked.parts, aspects, strict=True)
        if aspect not in asked.open
        for topic in part.topics
    }
