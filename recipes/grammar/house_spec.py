"""The house spec: a recipe resolved under the house rules, and where each part of it came from."""

from dataclasses import dataclass
from enum import StrEnum
from functools import lru_cache

from recipes.grammar.glass_choice import default_glass, own_kind
from recipes.grammar.ingredients import WETS_A_RIM, Ingredient, Pantry
from recipes.grammar.rules import Family, GarnishRule, HouseRules, MeasuredBy, family
from recipes.grammar.spec import BuildSpec, Garnish, How, Ice, Method, Part, When
from recipes.grammar.units import Unit, to_ml


class Origin(StrEnum):
    """Whether the recipe says so itself or a rule of the house does."""

    RECIPE = "recipe"
    RULE = "rule"


@dataclass(frozen=True)
class HousePart:
    """One part with its amount settled.

    `amount` and `unit` are as written (what a bartender says: "1 pour"); `ml` is what that is
    here, None for top-ups and counted things. `share` is a top-up's share of the room, summing
    to 1 over a drink; 0 for everything else.
    """

    ingredient: str
    how: How
    amount: float | None
    unit: Unit
    ml: float | None
    share: float
    measured_by: MeasuredBy | None


@dataclass(frozen=True)
class HouseGarnish:
    item: str
    when: When


@dataclass(frozen=True)
class HouseRim:
    item: str
    wet_with: str
    half: bool


@dataclass(frozen=True)
class Origins:
    """Who decided what. `garnish_rule` and the like name the rule where a rule decided."""

    glass: Origin
    ice: Origin
    garnish: Origin
    straw: Origin
    garnish_rule: str | None


@dataclass(frozen=True)
class HouseSpec:
    """A drink as this house builds it. Volumes in millilitres, shares from 0 to 1.

    `beside` are the backs that a guest asked for with it: each in a glass of its own, no part of
    the drink and of its strength.
    """

    glass: str
    glass_ml: float
    ice: Ice
    ice_share: float
    method: Method
    rim: HouseRim | None
    parts: tuple[HousePart, ...]
    garnish: tuple[HouseGarnish, ...]
    straw: bool
    family: Family
    alcohol_free: bool
    origins: Origins
    beside: tuple["HouseSpec", ...] = ()

    def how(self, *hows: How) -> tuple[HousePart, ...]:
        return tuple(p for p in self.parts if p.how in hows)

    @property
    def mixers(self) -> tuple[HousePart, ...]:
        return self.how(How.TOP)

    @property
    def poured_ml(self) -> float:
        """Everything with a measured volume, floats, first-ins and dashes included."""
        return sum(p.ml or 0.0 for p in self.parts)

    @property
    def room_ml(self) -> float:
        """What the glass holds once its ice is in."""
        return self.glass_ml * (1 - self.ice_share)

    @property
    def mixer_ml(self) -> float:
        """Room for top-ups after ice and pours; 0 where nothing tops the drink."""
        return max(0.0, self.room_ml - self.poured_ml) if self.mixers else 0.0

    @property
    def sequence_is_the_drink(self) -> bool:
        return self.method is Method.LAYER or bool(self.how(How.FLOAT, How.FIRST_IN))


LIGHT_ICE = 0.5
"""Light ice is taken as half of full ice (common practice, no source)."""


def resolve(spec: BuildSpec, rules: HouseRules, pantry: Pantry) -> HouseSpec:
    """The house spec of a recipe.

    Raises KeyError for a glass, class or ingredient that the house does not have:
    `refusals.read_spec` says so first, in reasons.
    """
    kind = family(spec)
    glass = spec.glass or default_glass(spec, rules, pantry, kind)
    ice = spec.ice or default_ice(spec, rules, pantry, kind)
    rule = garnish_rule(spec, rules, pantry, kind)
    written = spec.garnish if spec.garnish is not None else (rule.garnish if rule else ())
    return HouseSpec(
        glass=glass,
        glass_ml=rules.glasses[glass].ml,
        ice=ice,
        ice_share=_ice_share(ice, spec, rules, glass),
        method=spec.method,
        rim=_rim(spec, written, pantry),
        parts=_parts(spec, rules, pantry),
        garnish=tuple(HouseGarnish(g.item, g.when) for g in written),
        straw=spec.straw if spec.straw is not None else kind in rules.straw_families,
        family=kind,
        alcohol_free=spec.alcohol_free,
        origins=_origins(spec, rule),
    )


def default_ice(
    spec: BuildSpec, rules: HouseRules, pantry: Pantry, kind: Family | None = None
) -> Ice:
    """`kind`: the family of the build, where somebody has worked it out already."""
    if spec.glass is None and own_kind(spec, pantry):
        return Ice.NONE
    return rules.default_ice.get(kind or family(spec), Ice.NONE)


def garnish_rule(
    spec: BuildSpec, rules: HouseRules, pantry: Pantry, kind: Family | None = None
) -> GarnishRule | None:
    """The first house rule that speaks of this drink; a recipe's own garnish beats them all."""
    if spec.garnish is not None:
        return None
    parts = tuple([pantry[p.ingredient] for p in spec.parts])
    kind = kind or family(spec)
    answers = {word for item in parts for word in item.answers}
    for rule in rules.garnish:
        for group in rule.needs:
            if answers.isdisjoint(group):
                break  # most rules speak of something else, and are passed over at once
        else:
            if rule.matches(parts, kind):
                return rule
    return None


def part_ml(part: Part, rules: HouseRules, ingredient: Ingredient) -> float | None:
    """Millilitres of a part under the rules; None for top-ups and counted things."""
    if part.amount is None or part.is_counted:
        return None
    if part.unit is Unit.POUR:
        return part.amount * rules.pours[ingredient.liquor_class].ml
    return to_ml(part.amount, part.unit)


def _parts(spec: BuildSpec, rules: HouseRules, pantry: Pantry) -> tuple[HousePart, ...]:
    shares = sum([p.share for p in spec.parts if p.how is How.TOP])
    found = []
    for p in spec.parts:
        item, top = pantry[p.ingredient], p.how is How.TOP
        ml, by = part_ml(p, rules, item), None if top else _measured_by(p, rules, item)
        share = p.share / shares if top else 0.0
        found.append(HousePart(p.ingredient, p.how, p.amount, p.unit, ml, share, by))
    return tuple(found)


def _measured_by(part: Part, rules: HouseRules, ingredient: Ingredient) -> MeasuredBy | None:
    if part.how not in (How.MEASURED, How.FLOAT) or part.is_counted:
        return None
    rule = rules.pours.get(ingredient.liquor_class)
    return rule.measured_by if rule else None


def _ice_share(ice: Ice, spec: BuildSpec, rules: HouseRules, glass: str) -> float:
    if ice is Ice.NONE or spec.method is Method.BLEND:
        return 0.0  # blended ice is in the drink, not beside it
    share = rules.glasses[glass].ice_share
    return share * LIGHT_ICE if ice is Ice.LIGHT else share


def wets_rim(spec: BuildSpec, garnish: tuple[Garnish, ...], pantry: Pantry) -> str | None:
    """What wets the rim: what the recipe names, else the drink's own citrus, garnish first."""
    if spec.rim is None:
        return None
    if spec.rim.wet_with:
        return spec.rim.wet_with
    own = [g.item for g in garnish] + [p.ingredient for p in spec.parts]
    return next((s for s in own if s in pantry and pantry[s].kind in WETS_A_RIM), None)


def _rim(spec: BuildSpec, garnish: tuple[Garnish, ...], pantry: Pantry) -> HouseRim | None:
    if spec.rim is None:
        return None
    wet = wets_rim(spec, garnish, pantry)
    if wet is None:
        raise KeyError(f"nothing wets the rim of {spec.rim.item}")
    return HouseRim(spec.rim.item, wet, spec.rim.half)


def _origins(spec: BuildSpec, rule: GarnishRule | None) -> Origins:
    return _whose(
        spec.glass is None, spec.ice is None, spec.garnish is None, spec.straw is None,
        rule.key if rule else None,
    )  # fmt: skip


@lru_cache(maxsize=1024)
def _whose(glass: bool, ice: bool, garnish: bool, straw: bool, rule: str | None) -> Origins:
    """`True`: the house's rules decide it. The same few come over and over, so they are kept."""
    glass_, ice_, garnish_, straw_ = (
        Origin.RULE if ruled else Origin.RECIPE for ruled in (glass, ice, garnish, straw)
    )
    return Origins(glass_, ice_, garnish_, straw_, rule)
