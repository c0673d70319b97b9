"""Marking a watched build: what fails it, what is a fault, and what it counts as.

Which misses fail a build is common practice, no source. Age, serving and allergen law is local:
the house decides with its licensing authority, and these marks are for training only.
"""

from collections.abc import Sequence
from dataclasses import dataclass
from enum import StrEnum
from math import isfinite
from typing import Literal

from recipes.grammar.aspects import Aspect
from recipes.grammar.house_spec import HouseSpec
from recipes.grammar.reasons import Reason
from recipes.grammar.rules import MeasuredBy
from recipes.grammar.spec import Ice, Method
from recipes.grammar.steps import BuildStep, Stage

CODES: dict[str, tuple[str, ...]] = {
    # Every code this module gives, with the parameters that its sentence needs.
    "conduct_right_drink": (),
    "why_conduct_right_drink": (),
    "conduct_alcohol_free": (),
    "why_conduct_alcohol_free": (),
    "conduct_ice": (),
    "why_conduct_ice": (),
    "conduct_allergy": (),
    "why_conduct_allergy": (),
    "conduct_age": (),
    "why_conduct_age": (),
    "conduct_sober": (),
    "why_conduct_sober": (),
    "build_clean": (),
    "build_passed_with_faults": ("count",),
    "build_failed": ("count",),
    "shown_is_teaching": (),
    "prompted_is_asking": (),
    "pour_under": ("ml", "target_ml"),
    "pour_over": ("ml", "target_ml"),
}


class HelpLevel(StrEnum):
    """How much help there was. Only an unprompted build shows that somebody knows the drink."""

    SHOWN = "shown"
    PROMPTED = "prompted"
    UNPROMPTED = "unprompted"


CountsAs = Literal["right", "ask", "wrong"]

CONDUCT_PREFIX = "conduct:"


def _conduct(aspect: Aspect, does: Reason, why: Reason) -> BuildStep:
    key = CONDUCT_PREFIX + does.code.removeprefix("conduct_")
    return BuildStep(key, Stage.SERVE, aspect, does, why, fails=True)


RIGHT_DRINK = _conduct(
    Aspect.POURS, Reason.of("conduct_right_drink"), Reason.of("why_conduct_right_drink")
)
ALCOHOL_FREE = _conduct(
    Aspect.POURS, Reason.of("conduct_alcohol_free"), Reason.of("why_conduct_alcohol_free")
)
ICE = _conduct(Aspect.METHOD, Reason.of("conduct_ice"), Reason.of("why_conduct_ice"))
ALLERGY = _conduct(Aspect.METHOD, Reason.of("conduct_allergy"), Reason.of("why_conduct_allergy"))
AGE = _conduct(Aspect.METHOD, Reason.of("conduct_age"), Reason.of("why_conduct_age"))
SOBER = _conduct(Aspect.METHOD, Reason.of("conduct_sober"), Reason.of("why_conduct_sober"))
CONDUCT = (RIGHT_DRINK, ALCOHOL_FREE, ICE, ALLERGY, AGE, SOBER)
"""What fails any build though no step of a drink says it. Each is worded as what was done right,
so that it counts as done until somebody taps it, as steps do."""


def conduct_steps(spec: HouseSpec) -> tuple[BuildStep, ...]:
    """The conduct that this drink can break, after its own steps on the list.

    Pours, clean glass and scoop are steps already. Ice stands here only where it is used and no
    scoop step says so (shaker, mixing glass, blender). An alcohol-free drink needs no age check
    and may go to a drunk guest.
    """
    alcoholic = not spec.alcohol_free
    applies = {
        ALCOHOL_FREE: not alcoholic,
        ICE: _ice_without_scoop(spec),
        AGE: alcoholic,
        SOBER: alcoholic,
    }
    return tuple(step for step in CONDUCT if applies.get(step, True))


def _ice_without_scoop(spec: HouseSpec) -> bool:
    if spec.method is Method.BLEND:
        return True
    return spec.ice is Ice.NONE and spec.method in (Method.SHAKE, Method.STIR)


def is_conduct(step: BuildStep) -> bool:
    return step.key.startswith(CONDUCT_PREFIX)


@dataclass(frozen=True)
class BuildVerdict:
    """What came of a build: steps that failed it, steps that were faults, and why it counts so."""

    passed: bool
    failed: tuple[BuildStep, ...]
    faults: tuple[BuildStep, ...]
    reasons: tuple[Reason, ...]


def mark_build(
    steps: Sequence[BuildStep], off: frozenset[str], help_level: HelpLevel
) -> BuildVerdict:
    """The verdict on a build in which the steps named in `off` went wrong.

    One failing step fails it; faults alone never do. Raises ValueError for a key in `off` that
    is no step of this build: a stale checklist must not pass in silence.
    """
    unknown = off - {step.key for step in steps}
    if unknown:
        raise ValueError(f"not on this checklist: {', '.join(sorted(unknown))}")
    failed = tuple(s for s in steps if s.key in off and s.fails)
    faults = tuple(s for s in steps if s.key in off and not s.fails)
    reasons = (_outcome(len(failed), len(faults)), *_help(help_level, passed=not failed))
    return BuildVerdict(not failed, failed, faults, reasons)


def _outcome(failed: int, faults: int) -> Reason:
    if failed:
        return Reason.of("build_failed", count=failed)
    if faults:
        return Reason.of("build_passed_with_faults", count=faults)
    return Reason.of("build_clean")


def _help(help_level: HelpLevel, *, passed: bool) -> tuple[Reason, ...]:
    if help_level is HelpLevel.SHOWN:
        return (Reason.of("shown_is_teaching"),)
    if help_level is HelpLevel.PROMPTED and passed:
        return (Reason.of("prompted_is_asking"),)
    return ()


def counts_as(verdict: BuildVerdict, help_level: HelpLevel) -> CountsAs | None:
    """What the build says about an order over the bar; None: shown is teaching, no evidence.

    A prompted pass counts as asking: with nobody to prompt, this person would have asked.
    """
    return counts_as_passed(verdict.passed, help_level)


def counts_as_passed(passed: bool, help_level: HelpLevel) -> CountsAs | None:
    """The same from a stored build, of which only the outcome is at hand."""
    if help_level is HelpLevel.SHOWN:
        return None
    if not passed:
        return "wrong"
    return "right" if help_level is HelpLevel.UNPROMPTED else "ask"


ROUNDING_ML = 1e-6
"""Conversion between units leaves hairs like this; no cylinder shows them."""


def pour_off(
    target_ml: float, measured_ml: float, tolerance_ml: float, measured_by: MeasuredBy
) -> Reason | None:
    """Why a pour is off, or None where it is within tolerance.

    A stamped measure is never under: only its upper side has a tolerance. Every other way of
    measuring may be off by the tolerance on either side. Raises ValueError for volumes that no
    pour can have.
    """
    _refuse_impossible(target_ml, measured_ml, tolerance_ml)
    under = 0.0 if measured_by is MeasuredBy.STAMPED else tolerance_ml
    said = {"ml": round(measured_ml, 1), "target_ml": round(target_ml, 1)}
    if measured_ml < target_ml - under - ROUNDING_ML:
        return Reason.of("pour_under", **said)
    if measured_ml > target_ml + tolerance_ml + ROUNDING_ML:
        return Reason.of("pour_over", **said)
    return None


def _refuse_impossible(target_ml: float, measured_ml: float, tolerance_ml: float) -> None:
    if not (isfinite(target_ml) and isfinite(measured_ml) and isfinite(tolerance_ml)):
        raise ValueError("a pour is a finite volume")
    if target_ml <= 0 or measured_ml < 0 or tolerance_ml < 0:
        raise ValueError("a pour's target is above 0; what was poured and the tolerance not below")
