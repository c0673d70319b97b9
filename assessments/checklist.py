"""The checklist of a watched build: the drink's own steps, then what fails any build."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from assessments.measures.marking import conduct_steps, pour_off
from recipes.grammar.aspects import Aspect
from recipes.grammar.drink import Drink
from recipes.grammar.house_spec import HousePart, HouseSpec
from recipes.grammar.ingredients import Pantry
from recipes.grammar.reasons import Reason
from recipes.grammar.rules import MeasuredBy
from recipes.grammar.spec import How
from recipes.grammar.steps import BuildStep, Stage, build_steps

JIGGER = MeasuredBy.JIGGER
"""How a liquid is measured for which the house has no rule."""


def steps_of(drink: Drink, pantry: Pantry) -> tuple[BuildStep, ...]:
    return build_steps(drink.spec, pantry) + conduct_steps(drink.spec)


def step_json(step: BuildStep) -> dict[str, Any]:
    """A step as it is stored with a watched build, so that its page shows what was asked then."""
    return {
        "key": step.key,
        "stage": step.stage.value,
        "aspect": step.aspect.value,
        "does": [step.does.code, dict(step.does.params)],
        "why": [step.why.code, dict(step.why.params)],
        "fails": step.fails,
    }


def step_from(data: dict[str, Any]) -> BuildStep:
    return BuildStep(
        key=data["key"],
        stage=Stage(data["stage"]),
        aspect=Aspect(data["aspect"]),
        does=Reason.of(data["does"][0], **data["does"][1]),
        why=Reason.of(data["why"][0], **data["why"][1]),
        fails=data["fails"],
    )


def measurable(spec: HouseSpec) -> dict[str, HousePart]:
    """The pours that can be tipped into a cylinder, by the keys of their steps."""
    return {f"pour:{p.ingredient}": p for p in spec.how(How.MEASURED) if p.ml}


def pours_off(spec: HouseSpec, measured: Mapping[str, float], tolerance_ml: float) -> set[str]:
    """Keys of pours whose measured millilitres are outside the house's tolerance."""
    return {
        key
        for key, part in measurable(spec).items()
        if key in measured
        and pour_off(part.ml or 0.0, measured[key], tolerance_ml, part.measured_by or JIGGER)
    }
