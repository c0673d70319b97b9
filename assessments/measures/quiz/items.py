"""Quiz items as they are asked and stored.

An item keeps everything that its page shows, so that a review months later shows what was asked
then, not what the house pours now.
"""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from enum import StrEnum
from math import factorial, prod
from typing import Any, TypeVar

from recipes.grammar.aspects import Aspect, Content
from recipes.grammar.reasons import Reason, Value

ASK = -1
""""I'd ask": always a possible answer, never one of the choices."""

FEWEST_CHOICES = 3
CHOICES = 4

Given = int | tuple[int, ...]
"""An answer: the index of one choice, or `ASK`; several indices for kinds of `TAKES_SEVERAL`."""


class ItemKind(StrEnum):
    ASPECT = "aspect"  # one aspect of a named drink
    WHOLE = "whole"  # which build is this drink?
    NAME_IT = "name_it"  # which drink is this build?
    SCENARIO = "scenario"  # what do you do?
    SEVERAL = "several"  # which of these go in? all of them, and no other
    ORDER = "order"  # in which order?
    AMOUNT = "amount"  # how much of it?
    ASK_BACK = "ask_back"  # a guest orders: what do you ask before you build?
    BUILD = "build"  # choose glass, pours, mixers, method and finish
    CARD = "card"  # an invented identity card: serve or not?


TAKES_SEVERAL = frozenset({ItemKind.SEVERAL, ItemKind.ORDER, ItemKind.BUILD})
WHOLE_DRINK = frozenset({ItemKind.WHOLE, ItemKind.NAME_IT, ItemKind.BUILD})
"""Kinds whose answer is about all of a drink: evidence of readiness on it."""

AS_VOLUME = "volume"
"""How an amount of house pours is asked ("as" in its choices): else it would only be counted."""

T = TypeVar("T")


def sizes_unshown(kind: str, sizes: Sequence[T], said_as: str | None) -> tuple[T, ...]:
    """Of the sizes of pours that a drink takes, those that an answer of this kind says nothing of:
    "1 pour" is right whatever the house pours. How much of it is, says what one is, where a volume
    is asked for (`said_as`, the "as" of its choices) and only one size can be meant."""
    told = kind == ItemKind.AMOUNT and said_as == AS_VOLUME and len(sizes) == 1
    return () if told else tuple(sizes)


@dataclass(frozen=True)
class Scenario:
    """A written question of a service-and-safety lesson. `right` is the index of the answer,
    `subject` what it is about: intoxication, allergies, each a lesson of its own."""

    slug: str
    question: str
    choices: tuple[str, ...]
    right: int
    critical: bool
    why: str
    subject: str = ""

    def __post_init__(self) -> None:
        if len(set(self.choices)) != len(self.choices) or len(self.choices) < 2:
            raise ValueError(f"scenario {self.slug}: two different choices or more")
        if not 0 <= self.right < len(self.choices):
            raise ValueError(f"scenario {self.slug}: no choice number {self.right}")


@dataclass(frozen=True)
class Choice:
    """One answer to pick.

    `content` depends on the item's kind: an aspect's content (`aspects.contents(spec)[aspect]`),
    all five of them by aspect for a whole build, `{"name": ...}` for a drink's name,
    `{"text": ...}` for a scenario. `of` is the slug of the drink it came from; "" for scenarios.
    """

    content: Content
    of: str


@dataclass(frozen=True)
class BuildPart:
    """One of the choices that make a build: `right` is an index into its `choices`."""

    aspect: Aspect
    choices: tuple[Choice, ...]
    right: int
    topics: tuple[str, ...]

    def to_json(self) -> dict[str, Any]:
        return {
            "aspect": self.aspect.value,
            "choices": [_choice_json(c) for c in self.choices],
            "right": self.right,
            "topics": list(self.topics),
        }

    @classmethod
    def from_json(cls, data: Mapping[str, Any]) -> "BuildPart":
        return cls(
            aspect=Aspect(data["aspect"]),
            choices=tuple(Choice(c["content"], c["of"]) for c in data["choices"]),
            right=data["right"],
            topics=tuple(data["topics"]),
        )


@dataclass(frozen=True)
class ItemAsked:
    """One question as asked.

    `right` is an index into `choices`. Where several are taken, `rights` are all right ones
    (choose several) or all choices in their right order (put in order), and a build has `parts`
    instead of choices. `shown` is the build that a name-it item shows, all five aspects, or an
    identity card; `said` is what a guest calls. `topics` are fingerprints of what the answer is
    evidence for, `fingerprints` those of the drink's five aspects at that moment. `why` explains
    a scenario's answer; the review of a drink's item shows its spec instead. `unshown` are topics
    that an answer says nothing of by itself: "1 pour" was right, but how much is a pour?
    """

    kind: ItemKind
    aspect: Aspect | None
    recipe: str | None
    scenario: str | None
    prompt: Reason
    choices: tuple[Choice, ...]
    right: int
    critical: bool
    topics: tuple[str, ...]
    fingerprints: Mapping[str, str]
    shown: Content | None = None
    why: Reason | None = None
    rights: tuple[int, ...] = ()
    parts: tuple[BuildPart, ...] = ()
    said: str = ""
    unshown: tuple[str, ...] = ()

    @property
    def takes_several(self) -> bool:
        return self.kind in TAKES_SEVERAL

    @property
    def right_answer(self) -> Given:
        if self.kind is ItemKind.BUILD:
            return tuple(part.right for part in self.parts)
        return self.rights if self.takes_several else self.right

    @property
    def ways(self) -> int:
        """How many answers there are to guess among, "I'd ask" not counted."""
        if self.kind is ItemKind.BUILD:
            return prod(len(part.choices) for part in self.parts)
        if self.kind is ItemKind.ORDER:
            return factorial(len(self.choices))
        if self.kind is ItemKind.SEVERAL:
            return int(2 ** len(self.choices) - 1)
        return len(self.choices)

    @property
    def part(self) -> str:
        """What a result by aspect counts this item under."""
        return self.aspect.value if self.aspect else self.kind.value

    @property
    def is_whole_drink(self) -> bool:
        """Whether the answer counts as evidence of readiness on its drink."""
        return self.kind in WHOLE_DRINK

    def to_json(self) -> dict[str, Any]:
        return {
            "kind": self.kind.value,
            "aspect": self.aspect.value if self.aspect else None,
            "recipe": self.recipe,
            "scenario": self.scenario,
            "prompt": _reason_json(self.prompt),
            "choices": [_choice_json(c) for c in self.choices],
            "right": self.right,
            "critical": self.critical,
            "topics": list(self.topics),
            "fingerprints": dict(self.fingerprints),
            "shown": dict(self.shown) if self.shown is not None else None,
            "why": _reason_json(self.why) if self.why else None,
            "rights": list(self.rights),
            "parts": [part.to_json() for part in self.parts],
            "said": self.said,
            "unshown": list(self.unshown),
        }

    @classmethod
    def from_json(cls, data: Mapping[str, Any]) -> "ItemAsked":
        """The item that `to_json` wrote; raises KeyError or ValueError for anything else."""
        return cls(
            kind=ItemKind(data["kind"]),
            aspect=Aspect(data["aspect"]) if data["aspect"] else None,
            recipe=data["recipe"],
            scenario=data["scenario"],
            prompt=_reason_from(data["prompt"]),
            choices=tuple(Choice(c["content"], c["of"]) for c in data["choices"]),
            right=data["right"],
            critical=data["critical"],
            topics=tuple(data["topics"]),
            fingerprints=data["fingerprints"],
            shown=data["shown"],
            why=_reason_from(data["why"]) if data["why"] else None,
            rights=tuple(data.get("rights", ())),
            parts=tuple(BuildPart.from_json(p) for p in data.get("parts", ())),
            said=data.get("said", ""),
            unshown=tuple(data.get("unshown", ())),
        )


def guess_chance(item: ItemAsked) -> float:
    """The chance of a right answer by picking blindly; "I'd ask" is nobody's blind guess."""
    return 1 / item.ways


def _choice_json(choice: Choice) -> dict[str, Any]:
    return {"content": dict(choice.content), "of": choice.of}


def _reason_json(reason: Reason) -> dict[str, Any]:
    return {"code": reason.code, "params": dict(reason.params)}


def _reason_from(data: Mapping[str, Any]) -> Reason:
    params: dict[str, Value] = data["params"]
    return Reason.of(data["code"], **params)
