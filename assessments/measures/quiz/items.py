"""Quiz items as they are asked and stored.

An item keeps everything that its page shows, so that a review months later shows what was asked
then, not what the house pours now.
"""

from collections.abc import Mapping
from dataclasses import dataclass
from enum import StrEnum
from typing import Any

from recipes.grammar.aspects import Aspect, Content
from recipes.grammar.reasons import Reason, Value

ASK = -1
""""I'd ask": always a possible answer, never one of the choices."""

FEWEST_CHOICES = 3
CHOICES = 4


class ItemKind(StrEnum):
    ASPECT = "aspect"  # one aspect of a named drink
    WHOLE = "whole"  # which build is this drink?
    NAME_IT = "name_it"  # which drink is this build?
    SCENARIO = "scenario"  # what do you do?


@dataclass(frozen=True)
class Scenario:
    """A written question of a service-and-safety lesson. `right` is the index of the answer."""

    slug: str
    question: str
    choices: tuple[str, ...]
    right: int
    critical: bool
    why: str

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
class ItemAsked:
    """One question as asked.

    `right` is an index into `choices`. `shown` is the build that a name-it item shows, all five
    aspects. `topics` are fingerprints of what the answer is evidence for, `fingerprints` those of
    the drink's five aspects at that moment. `why` explains a scenario's answer; the review of a
    drink's item shows its spec instead.
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

    @property
    def part(self) -> str:
        """What a result by aspect counts this item under."""
        return self.aspect.value if self.aspect else self.kind.value

    @property
    def is_whole_drink(self) -> bool:
        """Whether the answer counts as evidence of readiness on its drink."""
        return self.kind in (ItemKind.WHOLE, ItemKind.NAME_IT)

    def to_json(self) -> dict[str, Any]:
        return {
            "kind": self.kind.value,
            "aspect": self.aspect.value if self.aspect else None,
            "recipe": self.recipe,
            "scenario": self.scenario,
            "prompt": _reason_json(self.prompt),
            "choices": [{"content": dict(c.content), "of": c.of} for c in self.choices],
            "right": self.right,
            "critical": self.critical,
            "topics": list(self.topics),
            "fingerprints": dict(self.fingerprints),
            "shown": dict(self.shown) if self.shown is not None else None,
            "why": _reason_json(self.why) if self.why else None,
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
        )


def guess_chance(item: ItemAsked) -> float:
    """The chance of a right answer by picking blindly; "I'd ask" is nobody's blind guess."""
    return 1 / len(item.choices)


def _reason_json(reason: Reason) -> dict[str, Any]:
    return {"code": reason.code, "params": dict(reason.params)}


def _reason_from(data: Mapping[str, Any]) -> Reason:
    params: dict[str, Value] = data["params"]
    return Reason.of(data["code"], **params)
