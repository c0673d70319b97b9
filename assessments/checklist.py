"""The checklist of a watched build: the drink's own steps, then what fails any build."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from typing import Any

from assessments.measures.marking import conduct_steps, pour_off
from recipes.grammar.aspects import Aspect
from recipes.grammar.drink import Drink
from recipes.grammar.ingredients import Pantry
from recipes.grammar.reasons import Reason
from recipes.grammar.rules import MeasuredBy
from recipes.grammar.steps import BuildStep, Stage, build_steps


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


def can_be_measured(step: BuildStep) -> bool:
    """A pour with a volume: what was poured can be tipped into a cylinder."""
    return step.stage is Stage.POUR and step.key.startswith("pour:") and wanted(step) > 0


def wanted(step: BuildStep) -> float:
    """Millilitres that the step is to pour; 0 for any other step."""
    return float(dict(step.does.params).get("ml") or 0.0)


def pours_off(
    steps: Iterable[BuildStep], measured: Mapping[str, float], tolerance_ml: float
) -> set[str]:
    """Keys of pours whose measured millilitres are outside the house's tolerance."""
    found = set()
    for step in steps:
        if step.key in measured and can_be_measured(step):
            by = MeasuredBy(str(dict(step.does.params)["by"] or MeasuredBy.JIGGER))
            if pour_off(wanted(step), measured[step.key], tolerance_ml, by):
                found.add(step.key)
    return found
