"""A small course of the tests' own, and houses that have it: quick, and whatever ships.

Its drinks, stock and rules are those of tests.grammar.kitchen.
"""

from __future__ import annotations

import datetime as dt
from functools import cache
from typing import Any

from barcourse.people.models import Membership
from recipes import publish
from recipes.grammar.course import Course, CourseDrink, CourseModule, Lesson, Listed, Scenario
from recipes.models import Recipe, Revision, RulesVersion
from tests.factories.people import OPENED
from tests.grammar import kitchen

DAY = dt.timedelta(days=1)
ROCKS = ("margarita", "negroni", "old-fashioned", "white-russian", "daiquiri", "pina-colada")
SHOTS = ("three-layers", "tequila-shot")
BEER = ("draught-lager", "snakebite", "nitro-stout", "bottled-lager")
ALIASES = {"cape-codder": ("vodka cran",), "cuba-libre": ("rum cola with lime",)}
MUST_KNOW = ("gin-tonic", "cape-codder", "margarita", "draught-lager")
LISTED = {
    "cuba-libre": Listed(
        list="International bartenders' list",
        year=2023,
        differs="The list measures 50 ml rum and 10 ml lime juice; the house pours one and tops.",
    )
}
LESSON = Lesson(
    slug="ice",
    name="Ice is food",
    body="# Ice\n\nThe scoop, **never** the glass.",
    scenarios=(
        Scenario(
            slug="glass-in-ice",
            question="A glass breaks beside the ice bin. What now?",
            choices=("Pick out what you see", "Empty, melt, wash, refill", "Go on, carefully"),
            right=1,
            critical=True,
            why="Nobody finds every splinter.",
        ),
    ),
)


def drink(slug: str) -> CourseDrink:
    return CourseDrink(
        slug=slug,
        name=slug.replace("-", " ").capitalize(),
        aliases=ALIASES.get(slug, ()),
        must_know=slug in MUST_KNOW,
        share=2.0 if slug in MUST_KNOW else 1.0,
        spec=kitchen.MENU[slug],
        listed=LISTED.get(slug),
    )


def module(slug: str, position: int, drinks: tuple[str, ...], **said: Any) -> CourseModule:
    plain: dict[str, Any] = {"alcohol": True, "gate": False, "stations": ("well",), "lessons": ()}
    return CourseModule(
        slug=slug,
        name=slug.replace("-", " ").capitalize(),
        position=position,
        notes=f"## {slug}\n\nWhat to know of it.",
        drinks=tuple(drink(d) for d in drinks),
        **{**plain, **said},
    )


@cache
def small_course() -> Course:
    elsewhere = {*ROCKS, *SHOTS, *BEER}
    highballs = tuple(slug for slug in kitchen.MENU if slug not in elsewhere)
    return Course(
        ingredients=tuple(kitchen.PANTRY.values()),
        modules=(
            module("highballs", 1, highballs),
            module("rocks", 2, ROCKS),
            module("shots", 3, SHOTS),
            module("beer", 4, BEER, stations=("well", "beer-point")),
            module(
                "service-and-safety", 5, (), alcohol=False, gate=True,
                stations=("well", "service-bar", "beer-point", "bar-back"), lessons=(LESSON,),
            ),
        ),
        rules=kitchen.RULES,
    )  # fmt: skip


def recipe(member: Membership, slug: str) -> Recipe:
    return Recipe.objects.in_house(member.venue).select_related("module").get(slug=slug)


def revise(by: Membership, slug: str, *, at: dt.datetime = OPENED + DAY, **kwargs: Any) -> Revision:
    """Publish a revision of a drink: `revise(tamsin, "madras", glass="rocks")`; `takes_effect_at`
    may stand among the changes."""
    effect = kwargs.pop("takes_effect_at", None)
    spec = {**kitchen.MENU[slug].model_dump(mode="json"), **kwargs}
    return publish.publish_revision(
        by=by, recipe=recipe(by, slug), spec=spec, at=at, takes_effect_at=effect
    )


def change_rules(by: Membership, *, at: dt.datetime = OPENED + DAY, **kwargs: Any) -> RulesVersion:
    """Publish rules with some fields changed from the kitchen's."""
    effect = kwargs.pop("takes_effect_at", None)
    rules = kitchen.RULES.model_validate({**kitchen.RULES.model_dump(), **kwargs})
    return publish.publish_rules(by=by, rules=rules, at=at, takes_effect_at=effect)
