"""The drinks of a house as the lines of a menu are matched against them."""

from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field
from functools import cached_property

from recipes.grammar.house_spec import HouseSpec
from recipes.grammar.ingredients import Ingredient, Kind, LiquorClass, Pantry
from recipes.grammar.menu_text import ingredient_names, key_of, words_of
from recipes.grammar.refusals import LOW_ABV
from recipes.grammar.rules import Family

_FLAVOURS = frozenset({Kind.FRUIT, Kind.JUICE, Kind.CITRUS, Kind.HERB})
_CUTS = frozenset({
    "wedge", "wheel", "slice", "twist", "juice", "leaf", "sprig", "spiral", "stalk", "half",
})  # fmt: skip
MIXERS = frozenset({Kind.SODA_MIXER, Kind.JUICE})


@dataclass(frozen=True)
class Known:
    """A drink of the house, poured or not."""

    slug: str
    name: str
    aliases: tuple[str, ...]
    spec: HouseSpec


@dataclass(frozen=True)
class Book:
    """What the lines are matched against."""

    drinks: tuple[Known, ...]
    pantry: Pantry
    slang: Mapping[str, str] = field(default_factory=dict)
    metric: bool = False  # amounts are written in millilitres here

    @cached_property
    def ingredients(self) -> dict[str, str]:
        return ingredient_names(self.pantry, self.slang)

    @cached_property
    def by_slug(self) -> dict[str, Known]:
        return {d.slug: d for d in self.drinks}

    @cached_property
    def by_key(self) -> dict[tuple[str, ...], tuple[str, ...]]:
        """Slugs by everything that drinks are called; a name beats another's other name."""
        named: dict[tuple[str, ...], dict[str, None]] = {}
        for names in ([(d.slug, (d.name,)) for d in self.drinks],
                      [(d.slug, d.aliases) for d in self.drinks]):  # fmt: skip
            taken = set(named)
            for slug, said in names:
                for key in {key_of(name) for name in said} - taken:
                    named.setdefault(key, {})[slug] = None
        return {key: tuple(slugs) for key, slugs in named.items() if key}

    @cached_property
    def spelt(self) -> dict[str, str]:
        """Slugs by names without their small words, for misspellings."""
        names = ((" ".join(words_of(n)), d.slug) for d in self.drinks for n in (d.name, *d.aliases))
        return {name: slug for name, slug in names if name}

    def core(self, slug: str) -> str:
        """A wedge of lime, its juice and lime are one flavour to a menu."""
        item = self.pantry.get(slug)
        if item is None or item.kind not in _FLAVOURS:
            return slug
        words = slug.split("-")
        return "-".join(w for w in words if w not in _CUTS) or slug

    @cached_property
    def poured(self) -> dict[str, frozenset[str]]:
        """The flavours of each drink that are poured into it."""
        return {
            d.slug: frozenset(self.core(p.ingredient) for p in d.spec.parts if self._runs(p))
            for d in self.drinks
        }

    @cached_property
    def on_it(self) -> dict[str, frozenset[str]]:
        """What else is in it or on it."""
        return {d.slug: frozenset(map(self.core, _solids(d.spec))) for d in self.drinks}

    @cached_property
    def herbs(self) -> dict[str, frozenset[str]]:
        """The herbs that are built into each drink: rum, lime and soda without mint is another."""
        return {
            d.slug: frozenset(
                self.core(p.ingredient)
                for p in d.spec.parts
                if self.pantry[p.ingredient].kind is Kind.HERB
            )
            for d in self.drinks
        }

    def _runs(self, part: object) -> bool:
        slug = getattr(part, "ingredient", "")
        return self.pantry[slug].liquor_class is not LiquorClass.SOLID

    @cached_property
    def stock_words(self) -> frozenset[str]:
        """Every word of what ingredients are called."""
        return frozenset(word for name in self.ingredients for word in name.split())

    def alone(self, base: str) -> tuple[str, ...]:
        """Drinks that are this and nothing else: its shot, neat, on the rocks."""
        return tuple(d.slug for d in self.drinks if {p.ingredient for p in d.spec.parts} == {base})

    def of_kind(self, kind: Kind) -> tuple[str, ...]:
        """Drinks that are one ingredient of this kind and nothing else."""
        return tuple(
            d.slug
            for d in self.drinks
            if len(d.spec.parts) == 1 and self.pantry[d.spec.parts[0].ingredient].kind is kind
        )

    def with_mixer(self, base: str) -> tuple[str, ...]:
        """Highballs of this and one mixer."""
        return tuple(d.slug for d in self.drinks if self._is_with_mixer(d.spec, base))

    def _is_with_mixer(self, spec: HouseSpec, base: str) -> bool:
        rest = [self.pantry[p.ingredient] for p in spec.parts if p.ingredient != base]
        plain = len(rest) == 1 and len(spec.parts) == 2 and rest[0].kind in MIXERS
        return plain and spec.family is Family.HIGHBALL


def is_base(item: Ingredient) -> bool:
    return item.abv > LOW_ABV and item.liquor_class in (LiquorClass.SPIRIT, LiquorClass.LIQUEUR)


def _solids(spec: HouseSpec) -> Iterable[str]:
    yield from (p.ingredient for p in spec.parts)
    yield from (g.item for g in spec.garnish)
    if spec.rim:
        yield from (spec.rim.item, spec.rim.wet_with)
