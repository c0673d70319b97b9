"""What is out tonight, and what that makes of the drinks.

`menu_at` stays the book: what is taught, asked, watched and proven is built by it alone. From
here comes what is served: the slip that everybody sees first, and each drink with its substitute.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, replace
from functools import cached_property

from barcourse.people.models import Venue
from recipes.grammar.drink import make_drink
from recipes.grammar.house_spec import HouseSpec
from recipes.grammar.reasons import CannotBuild, Reason
from recipes.grammar.refusals import problems
from recipes.grammar.tonight import Swaps, rules_served, spec_tonight
from recipes.kept import Kept, Stamp, stamp_of
from recipes.menu import Menu, MenuDrink
from recipes.models import OffTonight


@dataclass(frozen=True)
class OffDrink:
    """A drink of the book that can't be served tonight, with every reason."""

    item: MenuDrink
    why: tuple[Reason, ...]


@dataclass(frozen=True)
class Tonight:
    """The book's menu and what is out. `rows` are what stands, oldest first."""

    menu: Menu
    rows: tuple[OffTonight, ...]

    @cached_property
    def swaps(self) -> Swaps:
        return swaps_of(self.rows)

    @cached_property
    def outcomes(self) -> tuple[MenuDrink | OffDrink, ...]:
        """Of every drink on the menu that is touched, in the order of the menu."""
        found = ((item, self.serve(item)) for item in self.menu.items)
        return tuple(served for item, served in found if served is not item)

    @property
    def changed(self) -> tuple[MenuDrink, ...]:
        """Drinks as they are built tonight, where that isn't as the book says."""
        return tuple(x for x in self.outcomes if isinstance(x, MenuDrink))

    @property
    def off(self) -> tuple[OffDrink, ...]:
        return tuple(x for x in self.outcomes if isinstance(x, OffDrink))

    def serve(self, item: MenuDrink) -> MenuDrink | OffDrink:
        """The drink as it is served tonight; the same object where nothing of it is out."""
        if any(row.recipe_id == item.recipe.pk for row in self.rows):
            return OffDrink(item, (Reason.of("drink_out"),))
        if not self.swaps.keys() & set(ingredients_of(item.drink.spec)):
            return item
        try:
            return self._substituted(item)
        except CannotBuild as bad:
            return OffDrink(item, bad.reasons)

    def _substituted(self, item: MenuDrink) -> MenuDrink:
        written, pantry = item.revision.build, self.menu.pantry
        rules = rules_served(written, self.menu.rules, pantry, self.swaps)
        spec = spec_tonight(written, self.swaps)
        alcohol = item.recipe.module.alcohol
        if reasons := problems(spec, rules, pantry, alcohol_module=alcohol):
            raise CannotBuild(reasons)
        book = item.drink
        built = make_drink(
            slug=book.slug, name=book.name, module=book.module, spec=spec, rules=rules,
            pantry=pantry, aliases=book.aliases, must_know=book.must_know, share=book.share,
        )  # fmt: skip
        return replace(item, drink=built)


def as_served(item: MenuDrink, menu: Menu) -> MenuDrink:
    """The drink as it is poured tonight; the same object where nothing of it is out, and as the
    book has it where it is off altogether."""
    rows = standing(menu.venue)
    served = Tonight(menu, rows).serve(item) if rows else item
    return item if isinstance(served, OffDrink) else served


def standing(venue: Venue) -> tuple[OffTonight, ...]:
    """Everything that is out at this house, oldest first; one query, a short one where this
    process has asked since the house last changed."""
    stamp = stamp_of(venue)
    return _STANDING.get(stamp, lambda: _standing(venue)) if stamp else _standing(venue)


_STANDING = Kept[Stamp, tuple[OffTonight, ...]](most=100)


def _standing(venue: Venue) -> tuple[OffTonight, ...]:
    return tuple(OffTonight.objects.in_house(venue).standing().with_all())


def swaps_of(rows: Iterable[OffTonight]) -> Swaps:
    """What stands in for each bottle. A substitute that has run out too stands in for nothing:
    nobody has said that its own substitute will do here."""
    bottles = {r.ingredient.slug: r.substitute for r in rows if r.ingredient}
    return {
        slug: use.slug if use and use.slug not in bottles else None for slug, use in bottles.items()
    }


def ingredients_of(spec: HouseSpec) -> tuple[str, ...]:
    """Everything in the drink, on its rim and on its edge, in the order in which it goes in."""
    slugs = [p.ingredient for p in spec.parts] + [g.item for g in spec.garnish]
    if spec.rim:
        slugs += [spec.rim.item, spec.rim.wet_with]
    return tuple(dict.fromkeys(slugs))
