"""The steps in which a course is written into an empty house. Only `publish.load_course` calls
them, inside its transaction."""

from __future__ import annotations

import datetime as dt
from collections.abc import Mapping

from barcourse.people.models import Membership, Station, Venue
from recipes.grammar.coursefile import Course, CourseModule
from recipes.models import (
    Ingredient,
    Lesson,
    Module,
    ModuleAtStation,
    Recipe,
    Revision,
    Scenario,
)


def stock(venue: Venue, course: Course) -> None:
    """Its ingredients. What it says of allergens nobody of this house has checked yet."""
    Ingredient.objects.bulk_create(
        Ingredient(venue=venue, **item.model_dump(mode="json")) for item in course.ingredients
    )


def write_modules(venue: Venue, course: Course) -> dict[str, Recipe]:
    """Modules with their lessons, stations and drinks; the drinks by slug."""
    stations = {s.slug: s for s in Station.objects.filter(venue=venue)}
    recipes: list[Recipe] = []
    for module in course.modules:
        row = Module.objects.create(
            venue=venue, slug=module.slug, name=module.name, position=module.position,
            alcohol=module.alcohol, is_gate=module.gate, notes=module.notes,
        )  # fmt: skip
        _at_stations(row, module, stations)
        _write_lessons(row, module)
        recipes += _recipes(row, module)
    return {r.slug: r for r in Recipe.objects.bulk_create(recipes)}


def first_revisions(
    by: Membership, course: Course, recipes: Mapping[str, Recipe], at: dt.datetime
) -> list[Revision]:
    """Revision 1 of every drink, not yet saved."""
    return [
        Revision(
            venue=by.venue, recipe=recipes[drink.slug], number=1,
            spec=drink.spec.model_dump(mode="json"),
            takes_effect_at=at, published_at=at, published_by=by,
        )
        for module in course.modules
        for drink in module.drinks
    ]  # fmt: skip


def _at_stations(row: Module, module: CourseModule, stations: Mapping[str, Station]) -> None:
    """A house without such a station simply doesn't serve the module there."""
    here = [stations[slug] for slug in module.stations if slug in stations]
    ModuleAtStation.objects.bulk_create(
        ModuleAtStation(venue=row.venue, module=row, station=station) for station in here
    )


def _write_lessons(row: Module, module: CourseModule) -> None:
    for position, lesson in enumerate(module.lessons, start=1):
        page = Lesson.objects.create(
            venue=row.venue, module=row, slug=lesson.slug, name=lesson.name, position=position,
            body=lesson.body,
        )  # fmt: skip
        Scenario.objects.bulk_create(
            Scenario(
                venue=row.venue, lesson=page, slug=s.slug, question=s.question,
                choices=list(s.choices), right=s.right, critical=s.critical, why=s.why,
            )
            for s in lesson.scenarios
        )  # fmt: skip


def _recipes(row: Module, module: CourseModule) -> list[Recipe]:
    return [
        Recipe(
            venue=row.venue, module=row, slug=drink.slug, name=drink.name,
            aliases=list(drink.aliases), position=position, must_know=drink.must_know,
            share=drink.share, listed=drink.listed.model_dump() if drink.listed else None,
        )
        for position, drink in enumerate(module.drinks, start=1)
    ]  # fmt: skip
