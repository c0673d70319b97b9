"""Builds, checklists and verdicts as the words that a page or a paper shows."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from functools import cached_property
from math import ceil, floor

from django.utils.translation import gettext as _
from django.utils.translation import ngettext

from assessments import wording
from assessments.board import Row
from assessments.checklist import step_from
from assessments.measures.as_asked import AsAsked
from assessments.measures.marking import is_conduct
from assessments.measures.mending import mend
from assessments.measures.next_steps import next_told
from assessments.measures.readiness import Verdict
from assessments.measures.waits import ANYBODY, Reader, read_by
from assessments.measures.whole_orders import whole_orders
from assessments.models import WatchedBuild
from assessments.overrides import Stands
from recipes import wording as recipe_wording
from recipes.grammar.aspects import Aspect, Content
from recipes.grammar.reasons import Reason
from recipes.grammar.steps import BuildStep
from recipes.menu import Menu

Lines = list[tuple[str, list[str]]]


@dataclass(frozen=True)
class Naming:
    """The names a sentence needs."""

    names: dict[str, str]
    glass_names: dict[str, str]
    country: str

    @classmethod
    def of(cls, menu: Menu) -> Naming:
        return cls(menu.names, menu.glass_names, menu.rules.country)

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
class StepShown:
    key: str
    does: str
    why: str
    fails: bool
    off: bool
    is_conduct: bool


def show_steps(
    steps: Sequence[BuildStep], naming: Naming, off: frozenset[str] = frozenset()
) -> list[StepShown]:
    found = []
    for step in steps:
        does, why = naming.step(step)
        found.append(StepShown(step.key, does, why, step.fails, step.key in off, is_conduct(step)))
    return found


def show_stored_steps(build: WatchedBuild, naming: Naming) -> list[StepShown]:
    """The checklist as it stood when the build was watched."""
    steps = tuple(step_from(s) for s in build.steps)
    return show_steps(steps, naming, frozenset(build.off))


@dataclass(frozen=True)
class Gap:
    """Something missing and how to mend it; `of` are the drinks that it is missing on, where
    there are many."""

    sentence: str
    of: list[str]
    mend: str = ""


MANY = 3
"""From so many of a kind on, they stand under one heading."""


def show_gaps(missing: Sequence[Reason], *, is_own: bool = False) -> list[Gap]:
    """What is missing, in the order given; drinks without a sign-off don't make a wall of it.
    `is_own`: told to whoever it is missing to."""
    kinds: dict[str, list[Reason]] = {}
    for reason in missing:
        kinds.setdefault(reason.code, []).append(reason)
    return [gap for reasons in kinds.values() for gap in _gaps(reasons, is_own)]


def _gaps(reasons: list[Reason], is_own: bool) -> list[Gap]:
    heading = _heading(reasons[0].code, len(reasons)) if len(reasons) >= MANY else ""
    if not heading:
        return [Gap(wording.word(r), [], wording.word(mend(r, is_own=is_own))) for r in reasons]
    if reasons[0].code == "not_signed_off":
        how = _("Build each for a trainer, unprompted.")
        return [Gap(heading, [str(r.values["drink"]) for r in reasons], how)]
    if reasons[0].code == "sign_off_waits":
        return [Gap(heading, [wording.word(mend(r)) for r in reasons])]
    how = _("Build each once for a trainer, minding what changed.")
    return [Gap(heading, [wording.word(r) for r in reasons], how)]


def _heading(code: str, count: int) -> str:
    match code:
        case "not_signed_off":
            said = ngettext(
                "%(count)s must-know isn't signed off.",
                "%(count)s must-knows aren't signed off.",
                count,
            )
        case "sign_off_out_of_date":
            said = ngettext(
                "The house has changed %(count)s drink since it was signed off.",
                "The house has changed %(count)s drinks since they were signed off.",
                count,
            )
        case "sign_off_waits":
            said = ngettext(
                "%(count)s must-know is passed and waits for the sign-off.",
                "%(count)s must-knows are passed and wait for the sign-off.",
                count,
            )
        case _:
            return ""
    return said % {"count": count}


@dataclass(frozen=True)
class VerdictShown:
    """A verdict in whole orders of a hundred, with its reasons in words.

    The interval is rounded outwards, so that what falls short never reads as enough. `missing`
    says each reason of `told`; `gaps` says them with many of a kind under one heading; `guess`
    warns while the figures rest on hardly any drink, else it is empty; `once` are shifts on which
    they stand there all the same; `is_own`: it is told to whoever it is about. What is not looked
    at is not worded.
    """

    verdict: Verdict
    right: int
    ask: int
    wrong: int
    low: int
    high: int
    told: Sequence[Reason]
    steps: Sequence[Reason]
    once: Sequence[Stands] = ()
    is_own: bool = False

    @cached_property
    def missing(self) -> list[str]:
        return [wording.word(r) for r in self.told]

    @cached_property
    def gaps(self) -> list[Gap]:
        return show_gaps(self.told, is_own=self.is_own)

    @cached_property
    def next(self) -> Sequence[str]:
        return AsAsked(wording.word(r) for r in self.steps)

    @property
    def guess(self) -> str:
        return wording.word(self.verdict.guess) if self.verdict.guess else ""


FIGURES = {"right_too_low", "right_below_second", "wrong_too_high"}


def show_row(row: Row, reader: Reader = ANYBODY, once: Sequence[Stands] = ()) -> VerdictShown:
    """A row of the board, as this reader is told. Where nothing has been shown yet, figures that
    rest on nothing are no reason why somebody isn't ready."""
    verdict, waiting = row.verdict, row.facts.known.waiting
    told = [r for r in verdict.missing if row.trials or r.code not in FIGURES]
    steps = next_told(row.facts, verdict.next, reader)
    said = tuple(read_by(reader, waiting, told))
    return show_verdict(verdict, said, steps, once, is_own=reader.code == row.hire.code)


def show_rows(
    rows: Iterable[Row],
    once: Mapping[tuple[int, int], Sequence[Stands]],
    reader: Reader = ANYBODY,
) -> list[tuple[Row, VerdictShown]]:
    """`once` by hire and station, see `overrides.standing_once`."""
    return [
        (row, show_row(row, reader, once.get((row.hire.pk, row.station.pk), ()))) for row in rows
    ]


def show_verdict(
    verdict: Verdict,
    told: Sequence[Reason] | None = None,
    steps: Sequence[Reason] | None = None,
    once: Sequence[Stands] = (),
    *,
    is_own: bool = False,
) -> VerdictShown:
    """Without more all of its reasons and steps are told."""
    right, ask, wrong = whole_orders(100 * verdict.right, 100 * verdict.ask, 100 * verdict.wrong)
    return VerdictShown(
        verdict=verdict,
        right=right,
        ask=ask,
        wrong=wrong,
        low=floor(100 * verdict.right_low),
        high=ceil(100 * verdict.right_high),
        told=verdict.missing if told is None else told,
        steps=verdict.next if steps is None else steps,
        once=once,
        is_own=is_own,
    )
