"""A course as a house takes it over whose country calls a thing otherwise: lemonade is fizzy in
Britain, so that is what a shandy is made with there. One word, one meaning in a house.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import replace

from recipes.grammar.course import Course, CourseDrink
from recipes.grammar.rules import HouseRules
from recipes.grammar.spec import Part


def in_words_of(course: Course, rules: HouseRules) -> Course:
    """The same course; where the house's list of words means another ingredient by the slug of
    one, its drinks are made with that. A drink that then is built as another is one more name of
    that one."""
    known = {item.slug for item in course.ingredients}
    meant = {word: slug for word, slug in rules.slang.items() if {word, slug} <= known}
    meant = {word: slug for word, slug in meant.items() if word != slug}
    if not meant:
        return course
    made = {d.slug: _made(d, meant) for m in course.modules for d in m.drinks}
    twins = _twins(course, made)
    gone = {d.slug for same in twins.values() for d in same}
    modules = tuple(
        replace(
            m, drinks=tuple(_named(made[d.slug], twins) for d in m.drinks if d.slug not in gone)
        )
        for m in course.modules
    )
    return replace(course, modules=modules)


Twins = Mapping[str, list[CourseDrink]]


def _twins(course: Course, made: Mapping[str, CourseDrink]) -> Twins:
    """The drinks as the course has them that a drink made otherwise is now just like."""
    drinks = [d for m in course.modules for d in m.drinks]
    other = [made[d.slug] for d in drinks if made[d.slug] is not d]
    same = [d for d in drinks if made[d.slug] is d]
    return {o.slug: [d for d in same if d.spec == o.spec] for o in other}


def _made(drink: CourseDrink, meant: Mapping[str, str]) -> CourseDrink:
    parts = drink.spec.parts
    if not any(p.ingredient in meant for p in parts) or _has_both(parts, meant):
        return drink
    told = tuple(
        p.model_copy(update={"ingredient": meant.get(p.ingredient, p.ingredient)}) for p in parts
    )
    return replace(drink, spec=drink.spec.model_copy(update={"parts": told}))


def _has_both(parts: Iterable[Part], meant: Mapping[str, str]) -> bool:
    within = {p.ingredient for p in parts}
    return any(word in within and slug in within for word, slug in meant.items())


def _named(drink: CourseDrink, twins: Twins) -> CourseDrink:
    same = twins.get(drink.slug, [])
    if not same:
        return drink
    names = (n for d in same for n in (d.name, *d.aliases))
    return replace(
        drink,
        aliases=(*drink.aliases, *names),
        share=drink.share + sum(d.share for d in same),
        must_know=drink.must_know or any(d.must_know for d in same),
    )
