"""Marking of practised calls: what was built of them, by aspect, and what was asked back.

Of a call the trade wants three things: build what was said, ask what it leaves open, and don't ask
what the call or a rule of the house has answered already. Asking too much is safe, so it counts as
asking; building on a guess where one has to ask counts as wrong, like a wrong build.

How many were called is heard, not known: a wrong number makes a wrong call, but says nothing about
the drink (docs/decisions/0010-a-count-is-heard.md).
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from math import prod
from typing import Any, Literal

from assessments.measures.call_parts import IDENTITY, Alike, CallPart, Picked, Piece
from recipes.grammar.aspects import Aspect
from recipes.grammar.calls.reading import IDENTITY as WHICH_DRINK
from recipes.grammar.calls.reading import About

Outcome = Literal["right", "ask", "wrong"]

ASKED: Outcome = "ask"
MOST = 4
"""So many of one drink are chosen from, whatever was called: the choice gives nothing away."""
LATER = None
"""Nothing chosen for a part, since it depends on what the guest answers."""

OPENS: dict[About, frozenset[Aspect]] = {
    About.DRINK: frozenset(Aspect),
    About.BASE: frozenset({Aspect.POURS}),
    About.MIXER: frozenset({Aspect.MIXERS}),
    About.SIZE: frozenset({Aspect.GLASS}),
    About.STYLE: frozenset({Aspect.GLASS, Aspect.MIXERS, Aspect.FINISH, Aspect.METHOD}),
    About.GARNISH: frozenset({Aspect.FINISH}),
}
"""The aspects that nobody can know before a question is answered. A double has two pours whether
it is short or tall; the glass is what is open. How many is always said."""


def opened(asks: frozenset[About] | Sequence[About]) -> frozenset[Aspect]:
    return frozenset(aspect for about in asks for aspect in OPENS[about])


@dataclass(frozen=True)
class DrinkAsked:
    """One drink of a call as it was put to somebody: what may be chosen, and what is right.

    `ask` are the questions that have to be asked. `recipe` is None for a drink that only its
    ingredients name; `build` is the print of the build as called. `alike` are the drinks that these
    choices could build instead, the nearest first. `count` is how many were called, 0 in calls
    from before that was asked. While it is open which drink it is, `varies` are the parts in which
    those that it may be differ, and `may_ask` what some of them leave open besides.
    """

    name: str
    recipe: str | None
    build: str
    parts: tuple[CallPart, ...]
    ask: tuple[About, ...] = ()
    alike: tuple[Alike, ...] = ()
    count: int = 0
    varies: tuple[Piece, ...] = ()
    may_ask: tuple[About, ...] = ()

    @property
    def counts(self) -> range:
        """What there is to choose for how many."""
        return range(1, max(MOST, self.count) + 1) if self.count else range(0)

    def opened_by(self, part: CallPart) -> frozenset[About]:
        """The questions without whose answer nobody can know this part; none of them where it can
        be known."""
        varies = part.piece in self.varies
        return frozenset(
            about
            for about in self.ask
            if part.aspect in OPENS[about] or (varies and about in WHICH_DRINK)
        )

    @property
    def ways(self) -> int:
        """How many answers there are to guess among that show the drink: every choice, and what to
        ask or not, but not how many."""
        return prod(part.ways for part in self.parts) * int(2 ** len(About))

    def to_json(self) -> dict[str, Any]:
        return {
            "name": self.name,
            "recipe": self.recipe,
            "build": self.build,
            "parts": [part.to_json() for part in self.parts],
            "ask": [about.value for about in self.ask],
            "alike": [one.to_json() for one in self.alike],
            "count": self.count,
            "varies": [piece.value for piece in self.varies],
            "may_ask": [about.value for about in self.may_ask],
        }

    @classmethod
    def from_json(cls, data: Mapping[str, Any]) -> DrinkAsked:
        return cls(
            name=data["name"],
            recipe=data["recipe"],
            build=data["build"],
            parts=tuple(CallPart.from_json(p) for p in data["parts"]),
            ask=tuple(About(a) for a in data["ask"]),
            alike=tuple(Alike.from_json(one) for one in data["alike"]),
            count=data.get("count", 0),
            varies=tuple(Piece(p) for p in data.get("varies", ())),
            may_ask=tuple(About(a) for a in data.get("may_ask", ())),
        )


@dataclass(frozen=True)
class DrinkGiven:
    """What was chosen for one drink: indexes a part or `LATER`, what was asked back, and how many
    were heard, 0 where nobody asked."""

    parts: tuple[Picked | None, ...]
    ask: frozenset[About] = frozenset()
    count: int = 0


@dataclass(frozen=True)
class DrinkMarked:
    """`parts` and `aspects` in the order of the parts, `counted` how many, `asking` what was asked
    back, `built` the drink as it was asked about and built; `came` is the worst of it all.
    `not_asked` had to be asked, `asked_too_much` was answered already. `shows` is what the answer
    says of each topic; `mixed_up_with` is the drink that was built instead, if it was one of the
    menu."""

    came: Outcome
    built: Outcome
    parts: tuple[Outcome, ...]
    aspects: tuple[tuple[Aspect, Outcome], ...]
    not_asked: tuple[About, ...] = ()
    asked_too_much: tuple[About, ...] = ()
    mixed_up_with: str | None = None
    shows: Mapping[str, bool] | None = None
    counted: Outcome = "right"
    asking: Outcome = "right"


def mark_drink(asked: DrinkAsked, given: DrinkGiven | None) -> DrinkMarked:
    """`given` is None for "I'd ask a colleague": neither right nor wrong, and no proof of knowing.

    Raises ValueError for what is no whole answer to this drink.
    """
    if given is None:
        came = (ASKED,) * len(asked.parts)
        shows = _shows(asked, came)
        aspects = _by_aspect(asked, came)
        return DrinkMarked(ASKED, ASKED, came, aspects, shows=shows, counted=ASKED, asking=ASKED)
    _refuse_stray(asked, given)
    needed = frozenset(asked.ask)
    allowed = needed.union(asked.may_ask)
    came = tuple(
        _part(asked, part, picked, given)
        for part, picked in zip(asked.parts, given.parts, strict=True)
    )
    not_asked = tuple(a for a in About if a in needed - given.ask)
    too_much = tuple(a for a in About if a in given.ask - allowed)
    asking: Outcome = "wrong" if not_asked else "ask" if too_much else "right"
    counted: Outcome = "right" if asked.count in (0, given.count) else "wrong"
    built = _worst([asking, *came])
    return DrinkMarked(
        came=_worst([counted, built]),
        built=built,
        parts=came,
        aspects=_by_aspect(asked, came),
        not_asked=not_asked,
        asked_too_much=too_much,
        mixed_up_with=_mixed_up_with(asked, given, came),
        shows=_shows(asked, came),
        counted=counted,
        asking=asking,
    )


def mark_call(marked: Sequence[DrinkMarked]) -> Outcome:
    """A round is right where each of its drinks is, and wrong where one of them is."""
    return _worst([m.came for m in marked])


def _worst(outcomes: Sequence[Outcome]) -> Outcome:
    if "wrong" in outcomes:
        return "wrong"
    return "ask" if "ask" in outcomes else "right"


def _by_aspect(asked: DrinkAsked, came: Sequence[Outcome]) -> tuple[tuple[Aspect, Outcome], ...]:
    """An aspect is as good as its worst part."""
    found: dict[Aspect, list[Outcome]] = {}
    for part, outcome in zip(asked.parts, came, strict=True):
        found.setdefault(part.aspect, []).append(outcome)
    return tuple((aspect, _worst(outcomes)) for aspect, outcomes in found.items())


def left_out(asked: DrinkAsked, given: DrinkGiven) -> list[int]:
    """The parts, by number, for which nothing was chosen that could be chosen there. Something may
    be left out only where a question asked back leaves it open."""
    waits = opened(given.ask)
    missing = []
    for n, (part, picked) in enumerate(zip(asked.parts, given.parts, strict=True)):
        hangs_on = asked.opened_by(part)
        may_wait = part.aspect in waits or (hangs_on and hangs_on <= given.ask)
        if not (may_wait if picked is LATER else part.can_be(picked)):
            missing.append(n)
    return missing


def is_miscounted(asked: DrinkAsked, given: DrinkGiven) -> bool:
    """Whether nobody offered so many."""
    return bool(asked.count) and given.count not in asked.counts


def _refuse_stray(asked: DrinkAsked, given: DrinkGiven) -> None:
    if len(given.parts) != len(asked.parts):
        raise ValueError("one choice for each part")
    if is_miscounted(asked, given):
        raise ValueError(f"no such choice for how many: {given.count}")
    if missing := left_out(asked, given):
        raise ValueError(f"no such choice for {asked.parts[missing[0]].piece}")


def _part(asked: DrinkAsked, part: CallPart, picked: Picked | None, given: DrinkGiven) -> Outcome:
    """Of what is open, leaving it open is right, and so is going by what the house does unasked,
    once the question has been asked."""
    if opened_by := asked.opened_by(part):
        return "right" if opened_by <= given.ask else "wrong"
    if picked is LATER:
        return "ask"
    return "right" if picked == part.right else "wrong"


def _mixed_up_with(asked: DrinkAsked, given: DrinkGiven, came: Sequence[Outcome]) -> str | None:
    """The drink whose liquids were chosen, where these are wrong and so is nothing that this drink
    would not have wrong too. None where these are open: it may be several."""
    wrong = [n for n, outcome in enumerate(came) if outcome == "wrong"]
    decides = {n for n, part in enumerate(asked.parts) if part.piece in IDENTITY}
    if not decides & set(wrong) or any(asked.opened_by(asked.parts[n]) for n in decides):
        return None
    for other in asked.alike:
        if all(given.parts[n] == other.picks[n] for n in decides.union(wrong)):
            return other.recipe
    return None


def _shows(asked: DrinkAsked, came: Sequence[Outcome]) -> dict[str, bool]:
    """What is open shows nothing: nobody was asked for it yet."""
    found: dict[str, bool] = {}
    for part, outcome in zip(asked.parts, came, strict=True):
        if asked.opened_by(part):
            continue
        for topic in part.topics:
            found[topic] = found.get(topic, True) and outcome == "right"
    return found
