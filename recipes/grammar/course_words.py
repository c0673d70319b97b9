"""A course as a house takes it over whose country calls a thing otherwise: lemonade is fizzy in
Britain, so that is what a shandy is made with there; a whiskey cola of the United States has
bourbon in it, a Scottish whisky in Britain. One word, one meaning in a house.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import replace

from recipes.grammar.calls.tokens import words_of
from recipes.grammar.course import Course, CourseDrink
from recipes.grammar.ingredients import Pantry
from recipes.grammar.rules import HouseRules
from recipes.grammar.spec import Part


def in_words_of(course: Course, rules: HouseRules, home: Mapping[str, str] | None = None) -> Course:
    """The same course; where the house's list of words means another ingredient by the slug of
    one, its drinks are made with that, and so are the drinks that are called by a word which means
    another thing at `home`, where the course was written. A drink that then is built as another is
    one more name of that one."""
    known = {item.slug for item in course.ingredients}
    meant = {word: slug for word, slug in rules.slang.items() if {word, slug} <= known}
    meant = {word: slug for word, slug in meant.items() if word != slug}
    at_home = course.rules.slang if home is None else home
    words = {
        word: slug
        for word, slug in rules.slang.items()
        if word not in known and slug in known and at_home.get(word, slug) != slug
    }
    if not meant and not words:
        return course
    pantry = course.pantry
    made = {
        d.slug: _called(_made(d, meant), words, pantry) for m in course.modules for d in m.drinks
    }
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


def _called(drink: CourseDrink, words: Mapping[str, str], pantry: Pantry) -> CourseDrink:
    """A drink that is called by the bare word has in it what the word means. One that an
    international list has stays as it is there, and one that says its own kind keeps it."""
    for word, slug in words.items():
        own = [p.ingredient for p in drink.spec.parts if _alike(pantry, p.ingredient, slug)]
        if len(own) != 1 or own[0] == slug:
            continue
        kind = set(words_of(pantry[own[0]].name)) - {word}
        bare = [n for n in (drink.name, *drink.aliases) if _says(n, word, kind)]
        if drink.listed or not bare:
            continue
        if kind & set(words_of(drink.name)):
            kept = tuple(n for n in drink.aliases if n not in bare)
            drink = replace(drink, aliases=kept)
        else:
            kept = tuple(n for n in drink.aliases if not kind & set(words_of(n)))
            drink = replace(_made(drink, {own[0]: slug}), aliases=kept)
    return drink


def _says(name: str, word: str, kind: set[str]) -> bool:
    said = set(words_of(name))
    return word in said and not kind & said


def _alike(pantry: Pantry, one: str, other: str) -> bool:
    return pantry[one].kind is pantry[other].kind


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
