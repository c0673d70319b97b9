"""A recipe while a bottle is out: what stands in for what, and what can't be served.

The book's recipe is never touched; what comes out here is for tonight's service alone.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from typing import Any

from recipes.grammar.house_spec import garnish_rule
from recipes.grammar.ingredients import Pantry
from recipes.grammar.reasons import CannotBuild, Reason
from recipes.grammar.rules import HouseRules
from recipes.grammar.spec import BuildSpec, Garnish, How, Part

CODES = frozenset({"bottle_out", "drink_out", "in_it_already"})
"""Why a drink is off tonight, beside what `refusals` says of the substitute."""

Swaps = Mapping[str, str | None]
"""What is out, by slug: what stands in for it, None where nothing does."""


def spec_tonight(spec: BuildSpec, swaps: Swaps) -> BuildSpec:
    """The recipe with what stands in. The same object where nothing of it is out.

    Raises `CannotBuild` where something that is in the glass or on its rim is out with nothing to
    stand in, or where the substitute can't be written into the recipe. A garnish that is out with
    nothing to stand in is left off: the drink is served without it.
    """
    used = [p.ingredient for p in spec.parts]
    if spec.rim:
        used += [spec.rim.item, *([spec.rim.wet_with] if spec.rim.wet_with else [])]
    missing = [slug for slug in dict.fromkeys(used) if slug in swaps and swaps[slug] is None]
    if missing:
        raise CannotBuild(tuple(Reason.of("bottle_out", ingredient=slug) for slug in missing))
    if not swaps.keys() & {*used, *(g.item for g in spec.garnish or ())}:
        return spec
    return _rewritten(spec, swaps)


def rules_tonight(rules: HouseRules, swaps: Swaps) -> HouseRules:
    """The house rules with the garnish that they put on swapped or left off alike."""
    if not any(g.item in swaps for rule in rules.garnish for g in rule.garnish):
        return rules
    garnish = tuple(
        rule.model_copy(update={"garnish": _garnish(rule.garnish, swaps)}) for rule in rules.garnish
    )
    return rules.model_copy(update={"garnish": garnish})


def rules_served(spec: BuildSpec, rules: HouseRules, pantry: Pantry, swaps: Swaps) -> HouseRules:
    """The rules of tonight for one recipe of the book. It keeps the garnish that it is ordered
    with: the rule that speaks of it still does when what stands in is another thing (soda for
    tonic), and none that speaks of what stands in takes its place.
    """
    tonight, rule = rules_tonight(rules, swaps), garnish_rule(spec, rules, pantry)
    kept = [r for r in tonight.garnish if rule is not None and r.key == rule.key]
    said = tuple(
        r.model_copy(update={"needs": (), "only": False, "families": ()}) for r in kept[:1]
    )
    return tonight.model_copy(update={"garnish": said})


def _rewritten(spec: BuildSpec, swaps: Swaps) -> BuildSpec:
    said: dict[str, Any] = spec.model_dump()
    said["parts"] = _merged(
        p.model_copy(update={"ingredient": swaps.get(p.ingredient) or p.ingredient})
        for p in spec.parts
    )
    if spec.garnish is not None:
        said["garnish"] = _garnish(spec.garnish, swaps)
    if spec.rim:
        wet = spec.rim.wet_with
        item = swaps.get(spec.rim.item) or spec.rim.item
        said["rim"] = spec.rim.model_copy(
            update={"item": item, "wet_with": wet and swaps.get(wet, wet)}
        )
    return BuildSpec.model_validate(said)


def _merged(parts: Iterable[Part]) -> tuple[Part, ...]:
    """A substitute that is in the drink already: one part with both amounts. `CannotBuild` where
    they are measured differently, since then nobody has said how much there is of it."""
    found: dict[tuple[str, bool], Part] = {}
    for part in parts:
        key = (part.ingredient, part.how is How.MUDDLED)
        found[key] = _both(found[key], part) if key in found else part
    return tuple(found.values())


def _both(one: Part, other: Part) -> Part:
    if (one.how, one.unit) != (other.how, other.unit):
        raise CannotBuild((Reason.of("in_it_already", ingredient=one.ingredient),))
    if one.how is How.TOP:
        return one.model_copy(update={"share": one.share + other.share})
    return one.model_copy(update={"amount": (one.amount or 0.0) + (other.amount or 0.0)})


def _garnish(written: Iterable[Garnish], swaps: Swaps) -> tuple[Garnish, ...]:
    """Without what is out; once where the substitute is on it already."""
    found: dict[str, Garnish] = {}
    for garnish in written:
        item = swaps.get(garnish.item, garnish.item)
        if item is not None:
            found.setdefault(item, garnish.model_copy(update={"item": item}))
    return tuple(found.values())
