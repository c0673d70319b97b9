"""Why a drink is built as it is: which rule of the house filled what nobody said."""

from __future__ import annotations

from collections.abc import Iterator

from recipes.grammar.calls.vocabulary import Book
from recipes.grammar.house_spec import HouseSpec, Origin
from recipes.grammar.reasons import Reason
from recipes.grammar.spec import How
from recipes.grammar.units import Unit

CODES = frozenset({
    "call_name", "call_alias", "call_part", "call_slang", "call_slang_drink", "call_kind",
    "call_ingredient", "call_contents", "call_pattern", "call_open", "call_other_base",
    "call_serving", "call_double", "call_tall", "call_style", "call_virgin", "call_guest_garnish",
    "call_rule_glass", "call_rule_ice", "call_rule_pour", "call_rule_garnish", "call_no_rule",
})  # fmt: skip


def rule_reasons(book: Book, spec: HouseSpec, guest: bool) -> Iterator[Reason]:
    pours = {p.ml for p in spec.parts if p.how is How.MEASURED and p.unit is Unit.POUR and p.ml}
    if pours:
        per = [p for p in spec.parts if p.unit is Unit.POUR and p.ml and p.amount]
        yield Reason.of("call_rule_pour", ml=round((per[0].ml or 0) / (per[0].amount or 1), 2))
    if spec.origins.glass is Origin.RULE:
        yield Reason.of("call_rule_glass", glass=spec.glass)
    if spec.origins.ice is Origin.RULE:
        yield Reason.of("call_rule_ice", ice=spec.ice.value)
    if guest:
        yield Reason.of("call_guest_garnish")
    elif spec.origins.garnish is Origin.RULE:
        if spec.origins.garnish_rule:
            yield Reason.of("call_rule_garnish", rule=spec.origins.garnish_rule)
        else:
            yield Reason.of("call_no_rule")
