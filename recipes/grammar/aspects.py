"""The five aspects of a drink, the topics in them, and their fingerprints.

An aspect's fingerprint is that of everything the aspect holds, so a sign-off can say which part
of a drink has changed since. A topic is what somebody knows: a rule of the house or a drink's
own part of an aspect that no rule gives. It is its content: a changed rule or recipe is a new
topic, a reverted one is the old topic again.
"""

import hashlib
import json
from collections.abc import Mapping
from dataclasses import dataclass
from enum import StrEnum
from typing import Any

from recipes.grammar.house_spec import HousePart, HouseSpec, Origin
from recipes.grammar.ingredients import Pantry
from recipes.grammar.rules import HouseRules
from recipes.grammar.spec import How, Method
from recipes.grammar.units import Unit


class Aspect(StrEnum):
    GLASS = "glass"
    POURS = "pours"
    MIXERS = "mixers"
    FINISH = "finish"
    METHOD = "method"


FIELDS: dict[str, Aspect] = {
    # Every field of a house spec stands in exactly one aspect; parts are told apart by `how`.
    "glass": Aspect.GLASS,
    "glass_ml": Aspect.GLASS,
    "ice": Aspect.METHOD,
    "ice_share": Aspect.METHOD,
    "method": Aspect.METHOD,
    "family": Aspect.METHOD,
    "rim.item": Aspect.FINISH,
    "rim.wet_with": Aspect.FINISH,
    "rim.half": Aspect.FINISH,
    "garnish.item": Aspect.FINISH,
    "garnish.when": Aspect.FINISH,
    "straw": Aspect.FINISH,
    "alcohol_free": Aspect.POURS,
    "poured.ingredient": Aspect.POURS,
    "poured.amount": Aspect.POURS,
    "poured.unit": Aspect.POURS,
    "poured.ml": Aspect.POURS,
    "poured.measured_by": Aspect.POURS,
    "poured.how": Aspect.METHOD,
    "top.ingredient": Aspect.MIXERS,
    "top.share": Aspect.MIXERS,
    "muddled.ingredient": Aspect.METHOD,
    "muddled.amount": Aspect.METHOD,
    "muddled.unit": Aspect.METHOD,
    "muddled.ml": Aspect.METHOD,
}

Content = Mapping[str, Any]


def fingerprint(content: object) -> str:
    """128 bits of SHA-256 over canonical JSON, as 32 hexadecimal digits."""
    text = json.dumps(content, sort_keys=True, separators=(",", ":"), ensure_ascii=False)
    return hashlib.sha256(text.encode()).hexdigest()[:32]


def contents(spec: HouseSpec) -> dict[Aspect, Content]:
    """Everything the house spec says, sorted into the five aspects, ready for JSON."""
    poured = [p for p in spec.parts if p.how not in (How.TOP, How.MUDDLED)]
    return {
        Aspect.GLASS: {"glass": spec.glass, "glass_ml": _number(spec.glass_ml)},
        Aspect.POURS: {
            "poured": sorted(_poured(p) for p in poured),
            "alcohol_free": spec.alcohol_free,
        },
        Aspect.MIXERS: {"top": sorted([p.ingredient, _number(p.share)] for p in spec.mixers)},
        Aspect.FINISH: _finish(spec),
        Aspect.METHOD: _method(spec, poured),
    }


def aspect_fingerprints(spec: HouseSpec) -> dict[Aspect, str]:
    return {aspect: fingerprint(content) for aspect, content in contents(spec).items()}


def changed_aspects(then: Mapping[str, str], now: HouseSpec) -> tuple[Aspect, ...]:
    """Aspects whose stored fingerprint differs from today's; a missing one counts as changed."""
    today = aspect_fingerprints(now)
    return tuple(a for a in Aspect if then.get(a.value) != today[a])


def _number(value: float | None) -> str | None:
    """Rounded to a microlitre and written as text, so that fingerprints match everywhere."""
    return None if value is None else f"{value:.3f}"


def _poured(part: HousePart) -> list[str]:
    by = part.measured_by.value if part.measured_by else ""
    amount, ml = _number(part.amount) or "", _number(part.ml) or ""
    return [part.ingredient, amount, part.unit.value, ml, by]


def _finish(spec: HouseSpec) -> Content:
    rim = [spec.rim.item, spec.rim.wet_with, spec.rim.half] if spec.rim else None
    garnish = sorted([g.item, g.when.value] for g in spec.garnish)
    # No recipe has a back, so fingerprints of the book are the same with and without the word.
    beside = {"beside": [[b.glass, *_inside(b)] for b in spec.beside]} if spec.beside else {}
    return {"rim": rim, "garnish": garnish, "straw": spec.straw, **beside}


def _inside(spec: HouseSpec) -> list[str]:
    return [p.ingredient for p in spec.parts]


def _method(spec: HouseSpec, poured: list[HousePart]) -> Content:
    muddled = [
        [p.ingredient, _number(p.amount), p.unit.value, _number(p.ml)]
        for p in spec.how(How.MUDDLED)
    ]
    return {
        "ice": spec.ice.value,
        "ice_share": _number(spec.ice_share),
        "method": spec.method.value,
        "family": spec.family.value,
        "muddled": sorted(muddled),
        "places": _places(spec, poured),
        "mixed": _mixed(spec, poured),
    }


_PLACED = (How.FIRST_IN, How.FLOAT)


def _places(spec: HouseSpec, poured: list[HousePart]) -> list[list[str]]:
    """What has a place of its own, in order: every liquid of a layered drink, else what lies under
    the ice and what floats. A place is named by its liquid."""
    if spec.method is Method.LAYER:
        return [[p.ingredient, p.how.value] for p in poured]
    return [[p.ingredient, p.how.value] for h in _PLACED for p in poured if p.how is h]


def _mixed(spec: HouseSpec, poured: list[HousePart]) -> list[str]:
    """How the rest is put in. Which liquids those are is a matter of pours, not of method."""
    if spec.method is Method.LAYER:
        return []
    return sorted({p.how.value for p in poured if p.how not in _PLACED})


@dataclass(frozen=True)
class Topic:
    """One thing to know. `rule` names a house rule, `recipe` a drink; exactly one is set."""

    aspect: Aspect
    rule: str | None
    recipe: str | None
    fingerprint: str

    @property
    def is_pour_size(self) -> bool:
        """Whether it is how much a pour is: whoever says "1 pour" has not said that."""
        return self.rule is not None and self.rule.startswith("pour:")


def topics(recipe: str, spec: HouseSpec, rules: HouseRules, pantry: Pantry) -> tuple[Topic, ...]:
    """What has to be known to build this drink: rules it uses, then its own parts."""
    return tuple(_rule_topics(spec, rules, pantry)) + tuple(_own_topics(recipe, spec))


def _rule(aspect: Aspect, key: str, content: object) -> Topic:
    return Topic(aspect, key, None, fingerprint(["rule", key, content]))


def _own(aspect: Aspect, recipe: str, content: object) -> Topic:
    return Topic(aspect, None, recipe, fingerprint(["recipe", recipe, aspect.value, content]))


def _rule_topics(spec: HouseSpec, rules: HouseRules, pantry: Pantry) -> list[Topic]:
    found = []
    family = spec.family.value
    size = _number(spec.glass_ml)
    if spec.origins.glass is Origin.RULE:
        found.append(_rule(Aspect.GLASS, f"glass:{family}", [spec.glass, size]))
    if spec.origins.ice is Origin.RULE:
        ice = [spec.ice.value, _number(spec.ice_share)]
        found.append(_rule(Aspect.METHOD, f"ice:{family}", ice))
    if _is_plain(spec):
        found.append(_rule(Aspect.METHOD, f"build:{family}", spec.method.value))
    classes = {
        pantry[p.ingredient].liquor_class for p in spec.parts if p.unit is Unit.POUR and p.amount
    }
    for name in sorted(classes):
        pour = rules.pours[name]
        content = [_number(pour.ml), pour.measured_by.value]
        found.append(_rule(Aspect.POURS, f"pour:{name.value}", content))
    if len(spec.mixers) > 1 and len({p.share for p in spec.mixers}) == 1:
        found.append(_rule(Aspect.MIXERS, "equal-mixers", True))
    if spec.origins.garnish_rule:
        key = spec.origins.garnish_rule
        garnish = sorted([g.item, g.when.value] for g in spec.garnish)
        found.append(_rule(Aspect.FINISH, f"garnish:{key}", garnish))
    if spec.origins.straw is Origin.RULE:
        found.append(_rule(Aspect.FINISH, f"straw:{family}", spec.straw))
    return found


def _own_topics(recipe: str, spec: HouseSpec) -> list[Topic]:
    """The drink's own part of each aspect; an aspect in which it says nothing has no topic."""
    own: dict[Aspect, object] = {
        Aspect.GLASS: [spec.glass] if spec.origins.glass is Origin.RECIPE else None,
        Aspect.POURS: sorted(
            [p.ingredient, _number(p.amount), p.unit.value]
            for p in spec.parts
            if p.how not in (How.TOP, How.MUDDLED)
        ),
        Aspect.MIXERS: contents(spec)[Aspect.MIXERS]["top"],
        Aspect.FINISH: _own_finish(spec),
        Aspect.METHOD: _own_method(spec),
    }
    return [_own(aspect, recipe, content) for aspect, content in own.items() if content]


def _own_finish(spec: HouseSpec) -> object:
    finish = _finish(spec)
    garnish = finish["garnish"] if spec.origins.garnish is Origin.RECIPE else None
    straw = spec.straw if spec.origins.straw is Origin.RECIPE else None
    if finish["rim"] is None and garnish is None and straw is None:
        return None
    return [finish["rim"], garnish, straw]


def _is_plain(spec: HouseSpec) -> bool:
    """Built as its whole family is: nothing muddled, shaken or put in a special place."""
    plain_method = spec.method in (Method.BUILD, Method.DRAUGHT, Method.OPEN)
    return plain_method and not spec.how(How.FLOAT, How.FIRST_IN, How.MUDDLED)


def _own_method(spec: HouseSpec) -> object:
    own_ice = spec.ice.value if spec.origins.ice is Origin.RECIPE else None
    if _is_plain(spec):
        return ["ice", own_ice] if own_ice else None
    poured = [p for p in spec.parts if p.how not in (How.TOP, How.MUDDLED)]
    method = dict(_method(spec, poured))
    del method["ice_share"]
    return {**method, "ice": own_ice}
