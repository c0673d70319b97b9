"""A glass for a drink that was written down elsewhere, without one, and runs over the usual one."""

from recipes.grammar.glass_choice import default_glass, glasses_of_use, is_built_long, own_kind
from recipes.grammar.house_spec import default_ice
from recipes.grammar.ingredients import Pantry
from recipes.grammar.refusals import problems
from recipes.grammar.rules import HouseRules
from recipes.grammar.spec import BuildSpec

_TOO_SMALL = frozenset({"over_full", "no_room_to_top"})


def fitted_glass(spec: BuildSpec, rules: HouseRules, pantry: Pantry) -> str | None:
    """The smallest glass of the house for such drinks that holds this one; None where the recipe
    names its glass, the usual one will do, or none is big enough."""
    if spec.glass is not None:
        return None
    usual = _runs_over(spec, rules, pantry)
    if usual is None or not (usual or is_built_long(spec)):
        return None
    for glass in glasses_of_use(spec, rules, pantry):
        if glass == default_glass(spec, rules, pantry):
            continue
        if not problems(_in_glass(spec, glass, rules, pantry), rules, pantry, alcohol_module=False):
            return glass
    return None


def in_fitted_glass(spec: BuildSpec, rules: HouseRules, pantry: Pantry) -> BuildSpec:
    glass = fitted_glass(spec, rules, pantry)
    return spec if glass is None else _in_glass(spec, glass, rules, pantry)


def _in_glass(spec: BuildSpec, glass: str, rules: HouseRules, pantry: Pantry) -> BuildSpec:
    """Wine stays without ice where its glass is named."""
    ice = default_ice(spec, rules, pantry) if own_kind(spec, pantry) else None
    return spec.model_copy(update={"glass": glass, "ice": spec.ice or ice})


def _runs_over(spec: BuildSpec, rules: HouseRules, pantry: Pantry) -> bool | None:
    """Whether the usual glass is too small; None where something else is wrong with it."""
    codes = {r.code for r in problems(spec, rules, pantry, alcohol_module=False)}
    if codes - _TOO_SMALL:
        return None
    return bool(codes)
