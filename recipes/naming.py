"""What drinks and ingredients are called: one name, one thing in a house, however it is spelt."""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from django.utils.text import slugify

from barcourse.people.models import Venue
from barcourse.people.reasons import refuse
from recipes.grammar.course import fold
from recipes.models import Ingredient, Lesson, Module, Recipe, Scenario

CODES = frozenset({"name_taken_by_drink", "name_taken_by_ingredient", "name_unspeakable"})
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
    venue: Venue, name: str, aliases: Iterable[str], besides: Named | None = None
) -> None:
    """Raises `Refused` naming who owns the name already. `besides` is the thing that is being
    renamed: what it is called already it may keep, even where a shipped course had it twice."""
    mine = {fold(n) for n in _names(besides)} if besides else set()
    owners = {fold(n): row for row in _things(venue) if row != besides for n in _names(row)}
    for said, field in ((name, "name"), *((alias, "aliases") for alias in aliases)):
        if not fold(said):
            raise refuse("name_unspeakable", field, said=said)
        owner = owners.get(fold(said))
        if owner is not None and fold(said) not in mine:
            kind = "drink" if isinstance(owner, Recipe) else "ingredient"
            raise refuse(f"name_taken_by_{kind}", field, said=said, mine=name, owner=owner.name)


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


def _things(venue: Venue) -> Iterator[Named]:
    yield from Recipe.objects.in_house(venue)
    yield from Ingredient.objects.in_house(venue)


def _names(row: Named) -> tuple[str, ...]:
    return (row.name, *row.aliases)
