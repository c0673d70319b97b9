"""What can't be built, with every reason at once."""

from collections.abc import Iterable, Mapping
from typing import Any

from pydantic import ValidationError

from recipes.grammar.glass_choice import default_glass
from recipes.grammar.house_spec import (
    HouseSpec,
    default_ice,
    garnish_rule,
    resolve,
    wets_rim,
)
from recipes.grammar.ingredients import LiquorClass, Pantry
from recipes.grammar.reasons import CannotBuild, Reason, Value
from recipes.grammar.rules import HouseRules
from recipes.grammar.spec import BuildSpec, How, Ice, Method
from recipes.grammar.strength import melted_ml
from recipes.grammar.units import COUNTED, Unit

LEAST_TOP_ML = 10.0
"""A top-up with less room than this can't be poured (common practice, no source)."""

MOST_TOP_ABV = 20.0
"""Percent by volume up to which a glass may be topped up with something: wine, beer, cider, sherry.
Whoever fills a glass with spirit meant a measure of it (our own choice, no source)."""

LOW_ABV = 0.5
"""Percent by volume up to which a drink counts as alcohol-free here; local law may say less."""


def read_spec(
    data: Mapping[str, Any], rules: HouseRules, pantry: Pantry, *, alcohol_module: bool = True
) -> BuildSpec:
    """A recipe from a file or a form, or `CannotBuild` with every reason.

    `alcohol_module`: the drink stands in a module of alcoholic drinks, so it must have some
    unless the recipe says that it has none.
    """
    try:
        spec = BuildSpec.model_validate(data)
    except ValidationError as bad:
        raise CannotBuild(shape_reasons(bad)) from bad
    reasons = problems(spec, rules, pantry, alcohol_module=alcohol_module)
    if reasons := (*_topped_with_spirit(spec, pantry), *reasons):
        raise CannotBuild(reasons)
    return spec


def _topped_with_spirit(spec: BuildSpec, pantry: Pantry) -> Iterable[Reason]:
    """Asked of what is written anew; a drink that the house pours so already stays as it is."""
    for part in spec.mixers:
        item = pantry.get(part.ingredient)
        if item is not None and item.abv > MOST_TOP_ABV:
            yield Reason.of("top_too_strong", ingredient=part.ingredient, abv=round(item.abv))


def shape_reasons(bad: ValidationError) -> tuple[Reason, ...]:
    """pydantic's errors as reason values; our own codes pass through, the rest name the field."""
    return tuple(_shape_reason(e) for e in bad.errors(include_url=False))


def _shape_reason(error: Any) -> Reason:
    if error["type"] in OWN_CODES:
        return Reason.of(error["type"], **error.get("ctx", {}))
    field = ".".join(str(x) for x in error["loc"]) or "spec"
    if error["type"] in _WITHOUT_VALUE:
        return Reason.of(_WITHOUT_VALUE[error["type"]], field=field)
    return Reason.of("not_readable", field=field, said=str(error.get("input"))[:80])


_WITHOUT_VALUE = {"missing": "field_missing", "extra_forbidden": "field_unknown"}

OWN_CODES = frozenset(
    {
        "top_with_amount",
        "share_not_positive",
        "amount_missing",
        "amount_not_positive",
        "dash_in_other_unit",
        "no_parts",
        "too_many_parts",
        "part_twice",
        "garnish_twice",
        "layer_over_ice",
        "layer_with_top",
        "layer_of_one",
    }
)
HOUSE_CODES = frozenset(
    {
        "not_readable",
        "field_missing",
        "field_unknown",
        "unknown_ingredient",
        "unknown_glass",
        "no_house_pour",
        "counted_liquid",
        "pour_of_solid",
        "rim_with_nothing_to_wet",
        "over_full",
        "no_room_to_top",
        "no_alcohol",
        "alcohol_in_alcohol_free",
        "top_too_strong",
    }
)
CODES = OWN_CODES | HOUSE_CODES


def problems(
    spec: BuildSpec, rules: HouseRules, pantry: Pantry, *, alcohol_module: bool = True
) -> tuple[Reason, ...]:
    """Everything that stops this recipe from being built at this house; empty when nothing does."""
    unknown = tuple(_unknown(spec, rules, pantry))
    if unknown:
        return unknown  # volumes can't be reckoned without these
    amounts = tuple(_amounts(spec, rules, pantry))
    rim = tuple(_rim(spec, rules, pantry))
    layers = tuple(_layers(spec, rules, pantry))
    if amounts or rim or layers:
        return amounts + rim + layers
    house = resolve(spec, rules, pantry)
    return tuple(_volumes(house, pantry)) + tuple(_alcohol(spec, pantry, alcohol_module))


def _unknown(spec: BuildSpec, rules: HouseRules, pantry: Pantry) -> Iterable[Reason]:
    named = [p.ingredient for p in spec.parts]
    named += [g.item for g in spec.garnish or ()]
    if spec.rim:
        named += [spec.rim.item] + ([spec.rim.wet_with] if spec.rim.wet_with else [])
    unknown = [slug for slug in dict.fromkeys(named) if slug not in pantry]
    if not unknown:
        rule = garnish_rule(spec, rules, pantry)
        ruled = [g.item for g in rule.garnish] if rule else []
        unknown = [slug for slug in ruled if slug not in pantry]
    for slug in unknown:
        yield Reason.of("unknown_ingredient", ingredient=slug)
    glass = spec.glass or default_glass(spec, rules, pantry)
    if glass not in rules.glasses:
        yield Reason.of("unknown_glass", glass=glass)


def _amounts(spec: BuildSpec, rules: HouseRules, pantry: Pantry) -> Iterable[Reason]:
    for part in spec.parts:
        item = pantry[part.ingredient]
        solid = item.liquor_class is LiquorClass.SOLID
        name: dict[str, Value] = {"ingredient": part.ingredient}
        if part.unit in COUNTED and not solid:
            yield Reason.of("counted_liquid", **name)
        elif part.unit is Unit.POUR and part.how is not How.TOP:
            if solid:
                yield Reason.of("pour_of_solid", **name)
            elif item.liquor_class not in rules.pours:
                yield Reason.of("no_house_pour", **name, liquor_class=item.liquor_class.value)


def _rim(spec: BuildSpec, rules: HouseRules, pantry: Pantry) -> Iterable[Reason]:
    if spec.rim is None:
        return
    rule = garnish_rule(spec, rules, pantry)
    written = spec.garnish if spec.garnish is not None else (rule.garnish if rule else ())
    if wets_rim(spec, written, pantry) is None:
        yield Reason.of("rim_with_nothing_to_wet", rim=spec.rim.item)


def _layers(spec: BuildSpec, rules: HouseRules, pantry: Pantry) -> Iterable[Reason]:
    """The recipe may leave ice to the house, and the house may put it in every shot."""
    by_house = spec.method is Method.LAYER and spec.ice is None
    if by_house and default_ice(spec, rules, pantry) is not Ice.NONE:
        yield Reason.of("layer_over_ice")


def _volumes(house: HouseSpec, pantry: Pantry) -> Iterable[Reason]:
    liquid = house.poured_ml + melted_ml(house, pantry)
    if liquid > house.room_ml + 0.5:
        yield Reason.of(
            "over_full", glass=house.glass, liquid_ml=round(liquid), room_ml=round(house.room_ml)
        )
    elif house.mixers and house.room_ml - liquid < LEAST_TOP_ML * len(house.mixers):
        left = max(0, round(house.room_ml - liquid))
        yield Reason.of("no_room_to_top", glass=house.glass, left_ml=left)


def _alcohol(spec: BuildSpec, pantry: Pantry, alcohol_module: bool) -> Iterable[Reason]:
    strong = [p.ingredient for p in spec.parts if pantry[p.ingredient].abv > LOW_ABV]
    if spec.alcohol_free and strong:
        yield Reason.of("alcohol_in_alcohol_free", ingredient=strong[0])
    if alcohol_module and not strong and not spec.alcohol_free:
        yield Reason.of("no_alcohol")
