"""What the house builds with: the roles of its ingredients, its drinks by what is in them."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable
from dataclasses import dataclass, field
from typing import Any

from recipes.grammar.calls.entries import PART, Entry
from recipes.grammar.calls.tokens import words_of
from recipes.grammar.drink import Drink
from recipes.grammar.house_spec import HousePart, HouseSpec, Origin
from recipes.grammar.ingredients import Ingredient, Kind, LiquorClass, Pantry
from recipes.grammar.refusals import LOW_ABV
from recipes.grammar.rules import Family, HouseRules
from recipes.grammar.spec import BuildSpec, Garnish, How, Ice, Part, Rim

BASE, MIXER, OTHER, FINISH = "base", "mixer", "other", "finish"
_BASES = frozenset({
    LiquorClass.SPIRIT, LiquorClass.LIQUEUR, LiquorClass.FORTIFIED, LiquorClass.WINE,
    LiquorClass.BEER,
})  # fmt: skip
_MIXERS = frozenset({Kind.SODA_MIXER, Kind.JUICE, Kind.COFFEE})
_FINISHES = frozenset({Kind.FRUIT, Kind.HERB, Kind.RIM, Kind.PANTRY})
_HOT = frozenset({"hot", "espresso"})
SHORT_POUR = frozenset({LiquorClass.SPIRIT, LiquorClass.LIQUEUR, LiquorClass.FORTIFIED})
_FLAVOURS = frozenset({Kind.FRUIT, Kind.JUICE, Kind.CITRUS, Kind.HERB})
CUTS = frozenset({
    "wedge", "wheel", "slice", "twist", "juice", "leaf", "sprig", "spiral", "stalk", "half",
})  # fmt: skip


def role_of(item: Ingredient) -> str:
    """Base, mixer (tops a drink up), finish (goes on it), or other: measured, never by itself."""
    if item.liquor_class in _BASES or item.kind is Kind.LOW_NO:
        return BASE
    if item.kind in _MIXERS and not _HOT & set(item.slug.split("-")):
        return MIXER
    if item.kind in _FINISHES and "brine" not in item.slug:
        return FINISH
    return OTHER


def core(item: Ingredient) -> str:
    """A wedge of lime, its juice and lime are one flavour to a guest."""
    if item.kind not in _FLAVOURS:
        return item.slug
    return "-".join(w for w in item.slug.split("-") if w not in CUTS) or item.slug


@dataclass(eq=False)
class Stock:
    rules: HouseRules
    pantry: Pantry
    drinks: dict[str, Drink]
    roles: dict[str, str]
    cores: dict[str, str]
    builds: dict[str, BuildSpec]
    by_set: dict[frozenset[str], tuple[str, ...]] = field(default_factory=dict)
    by_cores: dict[frozenset[str], tuple[str, ...]] = field(default_factory=dict)
    by_spec: dict[object, str] = field(default_factory=dict)
    by_style: dict[tuple[str, str], tuple[str, ...]] = field(default_factory=dict)
    classes: dict[str, LiquorClass] = field(default_factory=dict)
    short: frozenset[str] = frozenset()  # what a house pour measures
    strong: frozenset[str] = frozenset()
    spirits: tuple[str, ...] = ()
    mixers_called: dict[tuple[str, ...], str] = field(default_factory=dict)  # by words of a name
    slang: dict[str, str] = field(default_factory=dict)  # as calls are looked up

    def base_of(self, recipe: str) -> str | None:
        """What leads the drink: the first strong part of it that is poured."""
        for part in self.drinks[recipe].spec.parts:
            if self.is_strong(part.ingredient) and part.how is not How.DASH:
                return part.ingredient
        return None

    def order_of(self, slug: str) -> int:
        """A base is named first."""
        return 0 if self.roles[slug] == BASE else 1

    def is_strong(self, slug: str) -> bool:
        return slug in self.strong

    def of_class(self, slug: str, *classes: LiquorClass) -> bool:
        return self.classes[slug] in classes

    def items_with(self, word: str) -> tuple[str, ...]:
        """What is poured and has this word in its name; failing that, in another name of it."""
        poured = [i for i in self.pantry.values() if self.roles[i.slug] in (BASE, MIXER)]
        strong = [i for i in poured if i.kind is not Kind.LOW_NO]
        found = [i.slug for i in strong if word in words_of(i.name)]
        return tuple(
            found or [i.slug for i in strong if any(word in words_of(a) for a in i.aliases)]
        )

    def weigh(self, entry: Entry) -> None:
        """Settles what role an entry plays; its cost keeps a cut into fewer drinks cheaper."""
        if entry.items:
            entry.role = self.roles[entry.items[0]]
        entry.is_content = bool(
            entry.recipes or entry.pattern or (entry.items and entry.role != FINISH)
        )
        if entry.recipes:
            entry.cost = 10 if entry.recipes_by < PART else 14
        elif entry.role == BASE:
            entry.cost = 6
        elif entry.role in (MIXER, OTHER) or entry.pattern:
            entry.cost = 4
        else:
            entry.cost = 2 if entry.items else 1


def stock_of(rules: HouseRules, drinks: Iterable[Drink], pantry: Pantry) -> Stock:
    known = {d.slug: d for d in drinks}
    stock = Stock(
        rules=rules,
        pantry=pantry,
        drinks=known,
        roles={slug: role_of(item) for slug, item in pantry.items()},
        cores={slug: core(item) for slug, item in pantry.items()},
        builds={slug: as_written(d.spec) for slug, d in known.items()},
        classes={slug: item.liquor_class for slug, item in pantry.items()},
        short=frozenset(
            slug
            for slug, item in pantry.items()
            if item.liquor_class in SHORT_POUR and item.liquor_class in rules.pours
        ),
        slang={" ".join(words_of(w)): slug for w, slug in rules.slang.items() if slug in pantry},
        strong=frozenset(slug for slug, item in pantry.items() if item.abv > LOW_ABV),
    )
    for slug, item in pantry.items():
        if stock.roles[slug] == MIXER:
            for name in (item.name, *item.aliases):
                stock.mixers_called.setdefault(words_of(name), slug)
    stock.spirits = tuple(
        slug
        for slug, item in pantry.items()
        if slug in stock.short and stock.of_class(slug, LiquorClass.SPIRIT) and not item.bottle_of
    )
    sets: dict[frozenset[str], list[str]] = defaultdict(list)
    cores: dict[frozenset[str], list[str]] = defaultdict(list)
    styles: dict[tuple[str, str], list[str]] = defaultdict(list)
    for slug, drink in known.items():
        sets[frozenset(p.ingredient for p in drink.spec.parts)].append(slug)
        cores[_flavours(drink.spec, stock)].append(slug)
        stock.by_spec.setdefault(spec_key(drink.spec), slug)
        if len(drink.spec.parts) == 1 and (style := style_of(drink.spec)):
            styles[drink.spec.parts[0].ingredient, style].append(slug)
    stock.by_set = {k: tuple(v) for k, v in sets.items()}
    stock.by_cores = {k: tuple(v) for k, v in cores.items()}
    stock.by_style = {k: tuple(v) for k, v in styles.items()}
    return stock


def _flavours(spec: HouseSpec, stock: Stock) -> frozenset[str]:
    """What a guest would have to say to mean it; syrup goes unsaid."""
    return frozenset(stock.cores[p.ingredient] for p in spec.parts) - {"simple-syrup"}


def style_of(spec: HouseSpec) -> str:
    """How a spirit by itself is served; "" where it is no such drink."""
    if spec.family is Family.SHOT:
        return "shot"
    if spec.family is Family.ROCKS:
        return "rocks"
    if spec.family is Family.UP:
        return "up" if spec.method.value in ("shake", "stir") else "neat"
    return ""


def as_written(spec: HouseSpec) -> BuildSpec:
    """The recipe again from its house spec: what a rule decided is left to the rules."""

    def own(value: Any, origin: Origin) -> Any:
        return value if origin is Origin.RECIPE else None

    garnish = tuple(Garnish(item=g.item, when=g.when) for g in spec.garnish)
    rim = spec.rim
    return BuildSpec.model_construct(
        glass=own(spec.glass, spec.origins.glass),
        ice=own(spec.ice, spec.origins.ice),
        method=spec.method,
        rim=Rim(item=rim.item, wet_with=rim.wet_with, half=rim.half) if rim else None,
        parts=tuple(_part(p) for p in spec.parts),
        garnish=own(garnish, spec.origins.garnish),
        straw=own(spec.straw, spec.origins.straw),
        alcohol_free=spec.alcohol_free,
    )


def _part(part: HousePart) -> Part:
    share = part.share if part.how is How.TOP else 1.0
    return Part.model_construct(
        ingredient=part.ingredient, how=part.how, amount=part.amount, unit=part.unit, share=share
    )


def spec_key(spec: HouseSpec) -> object:
    """The same for two drinks exactly where a bartender builds them alike."""
    parts = tuple(
        (p.ingredient, p.how, round(p.ml, 1) if p.ml is not None else (p.amount, p.unit),
         round(p.share, 3))
        for p in spec.parts
    )  # fmt: skip
    told = parts if spec.sequence_is_the_drink else frozenset(parts)
    garnish = frozenset((g.item, g.when) for g in spec.garnish)
    ice = spec.ice if spec.ice is not Ice.NONE else None
    return (spec.glass, ice, spec.method, spec.rim, told, garnish, spec.straw)
