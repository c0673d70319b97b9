"""The checklist of a watched build: the drink's own steps, then what fails any build."""

from __future__ import annotations

from typing import Any

from assessments.measures.marking import conduct_steps
from recipes.grammar.aspects import Aspect
from recipes.grammar.drink import Drink
from recipes.grammar.ingredients import Pantry
from recipes.grammar.reasons import Reason
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
