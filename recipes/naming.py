"""What drinks and ingredients are called: one name, one thing in a house, however it is spelt."""

from __future__ import annotations

import datetime as dt
from collections import defaultdict
from collections.abc import Collection, Iterable, Iterator, Mapping
from typing import Any

from django.utils.text import slugify

from barcourse.people.models import Venue
from barcourse.people.reasons import refuse
from recipes.grammar.calls import Book
from recipes.grammar.calls.owned import Claim, Claimant, Owner, Owns, named_in
from recipes.grammar.calls.owned import owner as owner_of
from recipes.grammar.course import fold
from recipes.grammar.ingredients import Kind
from recipes.grammar.rules import HouseRules
from recipes.grammar.words_owned import NamedDrink, Word, may_be_shared, owner_in
from recipes.hearing import book_of
from recipes.in_effect import holding_at, waiting
from recipes.menu import NoRules, menu_at
from recipes.models import (
    Ingredient,
    Lesson,
    Module,
    Recipe,
    Revision,
    RulesVersion,
    Scenario,
)

CODES = frozenset(
    {
        "name_taken_by_drink",
        "name_taken_by_ingredient",
        "name_taken_by_pattern",
        "name_taken_by_serving",
        "name_taken_by_slang",
        "name_is_a_call",
        "name_is_a_kind",
        "name_is_a_way",
        "name_unspeakable",
    }
)
SLUG_LENGTH = 60
Named = Recipe | Ingredient


def tidy_aliases(name: str, aliases: Iterable[str]) -> tuple[str, ...]:
    """Without blanks, without the name itself, each once."""
    met = {fold(name)}
    kept = []
    for alias in (" ".join(a.split()) for a in aliases):
        if alias and fold(alias) not in met:
            met.add(fold(alias))
            kept.append(alias)
    return tuple(kept)


def refuse_taken_names(
    venue: Venue,
    name: str,
    aliases: Iterable[str],
    *,
    at: dt.datetime,
    besides: Named | None = None,
    parts: Iterable[str] = (),
    kind: Kind | None = None,
    book: Book | None = None,
) -> None:
    """Raises `Refused` naming who owns the name already: a drink, an ingredient, the house rules
    that hold or are to come, or the call that guests already say with these words. `besides` is
    the thing that is being renamed: what it is called already it may keep, even where a shipped
    course had it twice. `parts` are the ingredients that slang may mean by this name, `kind` is
    that of an ingredient; `book` has the words of now, where the caller has made it already."""
    mine = {fold(n) for n in _names(besides)} if besides else set()
    rules, meant = _rules_of(venue, at), frozenset(parts)
    owners = {fold(n): row for row in _things(venue, at) if row != besides for n in _names(row)}
    for said, field in ((name, "name"), *((alias, "aliases") for alias in aliases)):
        if not fold(said):
            raise refuse("name_unspeakable", field, said=said)
        owner = owners.get(fold(said))
        if owner is not None and fold(said) not in mine:
            a = "drink" if isinstance(owner, Recipe) else "ingredient"
            raise refuse(f"name_taken_by_{a}", field, said=said, mine=name, owner=owner.name)
        for word in (owner_in(r, said, meant) for r in rules if fold(said) not in mine):
            if word is not None:
                _refuse_word(venue, word, said=said, mine=name, field=field)
    told = [(name, "name"), *((alias, "aliases") for alias in aliases)]
    new = [(said, field) for said, field in told if fold(said) not in mine]
    if new and (words := book or words_at(venue, at)):
        slug = besides.slug if besides else ""
        for said, field in new:
            claim = Claim.THING if kind else Claim.NAME if field == "name" else Claim.ALIAS
            found = owner_of(words, said, Claimant(claim, slug, meant, kind))
            if found is not None:
                _refuse_heard(words, found, said=said, mine=name, field=field)


def words_at(venue: Venue, at: dt.datetime) -> Book | None:
    """What the house answers to at this moment; None before it has rules."""
    try:
        return book_of(menu_at(venue, at))
    except NoRules:
        return None


def refuse_names_given_on(venue: Venue, retired: Recipe, at: dt.datetime) -> None:
    """Raises `Refused` where another has been given a name of this drink since it was retired.
    What it is poured from may have been called so all along."""
    [own] = named_drinks(venue, [retired])
    others = (row for row in _things(venue, at) if row != retired)
    owners = {fold(n): row for row in others for n in _names(row) if not _may_share(row, own)}
    for said in own.names:
        if owner := owners.get(fold(said)):
            kind = "drink" if isinstance(owner, Recipe) else "ingredient"
            told = {"said": said, "mine": retired.name, "owner": owner.name}
            raise refuse(f"name_taken_by_{kind}", **told)


def _may_share(row: Named, drink: NamedDrink) -> bool:
    return isinstance(row, Ingredient) and may_be_shared(row.slug, drink.parts)


def named_drinks(venue: Venue, of: Collection[Recipe] | None = None) -> Iterator[NamedDrink]:
    """Every drink of the house, or these alone, by what it is called, with what any of its
    revisions has in it."""
    drinks, revisions = Recipe.objects.in_house(venue), Revision.objects.in_house(venue)
    if of is not None:
        drinks, revisions = (
            drinks.filter(pk__in=[r.pk for r in of]),
            revisions.filter(recipe__in=of),
        )
    parts: dict[int, set[str]] = defaultdict(set)
    for revision in revisions:
        parts[revision.recipe_id] |= {p.ingredient for p in revision.build.parts}
    for recipe in drinks:
        yield NamedDrink(recipe.name, _names(recipe), frozenset(parts[recipe.pk]))


def parts_in(spec: Mapping[str, Any]) -> list[str]:
    """What a recipe has in it as it was typed, whether or not it can be built."""
    parts = spec.get("parts")
    found = parts if isinstance(parts, list | tuple) else ()
    return [str(p["ingredient"]) for p in found if isinstance(p, Mapping) and "ingredient" in p]


def _rules_of(venue: Venue, at: dt.datetime) -> list[HouseRules]:
    """The rules that hold, and those to come."""
    versions = list(RulesVersion.objects.in_house(venue))
    holding = holding_at(versions, at)
    rows = [*([holding] if holding else []), *waiting(versions, at)]
    return [row.house_rules for row in rows]


def _refuse_word(venue: Venue, word: Word, **told: str) -> None:
    told["owner"] = word.said
    if word.means:
        pantry = Ingredient.objects.in_house(venue).named([word.means])
        told["means"] = next((row.name for row in pantry), word.means)
    raise refuse(f"name_taken_by_{word.section}", told.pop("field"), **told)


def _refuse_heard(book: Book, found: Owner, **told: str) -> None:
    field, means = told.pop("field"), named_in(book, found)
    if found.owns is Owns.WAY:
        raise refuse("name_is_a_way", field, **told)
    if found.owns is Owns.KIND:
        raise refuse("name_is_a_kind", field, **told)
    if found.owns is Owns.CALL:
        raise refuse("name_is_a_call", field, means=means, **told)
    kind = {Owns.DRINK: "drink", Owns.THING: "ingredient", Owns.PATTERN: "pattern"}[found.owns]
    raise refuse(f"name_taken_by_{kind}", field, owner=means, **told)


def free_slug(
    model: type[Recipe | Ingredient | Lesson | Scenario | Module],
    venue: Venue,
    name: str,
    otherwise: str,
) -> str:
    """An address that nothing else of the house has: of the name, or of `otherwise` where the
    name has no letter that an address may have."""
    stem = slugify(name)[: SLUG_LENGTH - 4].strip("-_").replace("_", "-") or otherwise
    taken = set(model._default_manager.filter(venue=venue).values_list("slug", flat=True))
    return next(slug for slug in _numbered(stem) if slug not in taken)


def _numbered(stem: str) -> Iterator[str]:
    yield stem
    number = 2
    while True:
        yield f"{stem}-{number}"
        number += 1


def _things(venue: Venue, at: dt.datetime) -> Iterator[Named]:
    """A retired drink has given its names up: another may be called that now."""
    yield from (row for row in Recipe.objects.in_house(venue) if not row.is_retired(at))
    yield from Ingredient.objects.in_house(venue)


def _names(row: Named) -> tuple[str, ...]:
    return (row.name, *row.aliases)
