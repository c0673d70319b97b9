"""Quiz items, checklists and verdicts as the words that a page or a paper shows."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

from django.utils.translation import gettext as _

from assessments import wording
from assessments.checklist import step_from
from assessments.measures.marking import is_conduct
from assessments.measures.quiz import ASK, Choice, ItemAsked, ItemKind
from assessments.measures.readiness import Verdict
from assessments.models import WatchedBuild
from assessments.rack import whole_orders
from recipes import wording as recipe_wording
from recipes.grammar.aspects import Aspect, Content
from recipes.grammar.steps import BuildStep
from recipes.menu import Menu

Lines = list[tuple[str, list[str]]]


@dataclass(frozen=True)
class House:
    """The names a sentence needs."""

    names: dict[str, str]
    glass_names: dict[str, str]
    country: str

    @classmethod
    def of(cls, menu: Menu) -> House:
        return cls(menu.names, menu.glass_names, menu.venue.country)

    def aspect(self, aspect: Aspect, content: Content) -> list[str]:
        return recipe_wording.aspect_words(
            aspect, content, self.names, self.glass_names, self.country
        )

    def build(self, content: Content) -> Lines:
        """All five aspects of a stored build, each with its label."""
        return [(recipe_wording.label(a), self.aspect(a, content[a.value])) for a in Aspect]

    def step(self, step: BuildStep) -> tuple[str, str]:
        """What to do and why."""
        if is_conduct(step):
            return wording.word(step.does), wording.word(step.why)
        return recipe_wording.step_words(step, glass_names=self.glass_names, country=self.country)


@dataclass(frozen=True)
class ChoiceShown:
    value: int
    text: str
    lines: Lines
    is_right: bool
    is_given: bool


@dataclass(frozen=True)
class ItemShown:
    """One item in words. `shown` is the build that a name-it item asks the name of."""

    prompt: str
    choices: list[ChoiceShown]
    shown: Lines
    critical: bool
    given: int | None
    why: str

    @property
    def asked(self) -> bool:
        return self.given == ASK

    @property
    def is_right(self) -> bool:
        return any(c.is_right and c.is_given for c in self.choices)


def show_item(item: ItemAsked, house: House, given: int | None = None) -> ItemShown:
    choices = [
        _choice(n, c, item, house, n == item.right, n == given) for n, c in enumerate(item.choices)
    ]
    return ItemShown(
        prompt=wording.word(item.prompt),
        choices=choices,
        shown=house.build(item.shown) if item.shown else [],
        critical=item.critical,
        given=given,
        why=wording.word(item.why) if item.why else "",
    )


def _choice(
    value: int, choice: Choice, item: ItemAsked, house: House, is_right: bool, is_given: bool
) -> ChoiceShown:
    content: Any = choice.content
    text, lines = "", []
    if item.kind is ItemKind.WHOLE:
        lines = house.build(content)
    elif item.aspect is not None:
        text = _list(house.aspect(item.aspect, content))
    else:
        text = content.get("name") or content["text"]
    return ChoiceShown(value, text, lines, is_right, is_given)


def _list(lines: list[str]) -> str:
    return _(", ").join(lines)


def part_label(part: str) -> str:
    """What a result by aspect is counted under."""
    if part in set(Aspect):
        return recipe_wording.label(Aspect(part))
    return {
        ItemKind.WHOLE.value: _("The whole build"),
        ItemKind.NAME_IT.value: _("Naming a build"),
        ItemKind.SCENARIO.value: _("What to do"),
    }[part]


@dataclass(frozen=True)
class StepShown:
    key: str
    does: str
    why: str
    fails: bool
    off: bool


def show_steps(steps: tuple[BuildStep, ...], house: House, off: frozenset[str]) -> list[StepShown]:
    found = []
    for step in steps:
        does, why = house.step(step)
        found.append(StepShown(step.key, does, why, step.fails, step.key in off))
    return found


def show_stored_steps(build: WatchedBuild, house: House) -> list[StepShown]:
    """The checklist as it stood when the build was watched."""
    steps = tuple(step_from(s) for s in build.steps)
    return show_steps(steps, house, frozenset(build.off))


@dataclass(frozen=True)
class VerdictShown:
    """A verdict in whole orders of a hundred, with its reasons in words."""

    verdict: Verdict
    right: int
    ask: int
    wrong: int
    low: int
    high: int
    missing: list[str]
    next: list[str]


def show_verdict(verdict: Verdict) -> VerdictShown:
    shares = (100 * verdict.right, 100 * verdict.ask, 100 * verdict.wrong)
    right, ask, wrong = whole_orders(*shares)
    return VerdictShown(
        verdict=verdict,
        right=right,
        ask=ask,
        wrong=wrong,
        low=round(100 * verdict.right_low),
        high=round(100 * verdict.right_high),
        missing=[wording.word(r) for r in verdict.missing],
        next=[wording.word(r) for r in verdict.next],
    )
