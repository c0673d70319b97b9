"""Why a drink is built as it is: which rule of the house filled what nobody said."""

from __future__ import annotations

from collections.abc import Iterator
from functools import lru_cache

from recipes.grammar.calls.vocabulary import Book
from recipes.grammar.house_spec import HouseSpec, Origin
from recipes.grammar.reasons import Reason
from recipes.grammar.spec import How
from recipes.grammar.units import Unit

CODES = frozenset({
    "call_name", "call_alias", "call_part", "call_slang", "call_slang_drink", "call_kind",
    "call_ingredient", "call_contents", "call_pattern", "call_open", "call_step", "call_no_step",
    "call_other_base", "call_other_mixer", "call_word_outdone",
    "call_serving", "call_double", "call_tall", "call_style", "call_virgin", "call_guest_garnish",
    "call_guest_ice",
    "call_rule_glass", "call_rule_ice", "call_rule_pour", "call_rule_garnish", "call_no_rule",
})  # fmt: skip


def rule_reasons(book: Book, spec: HouseSpec, guest: bool) -> Iterator[Reason]:
    pour = next((p for p in spec.parts if p.unit is Unit.POUR and p.ml and p.amount), None)
    if pour and pour.how is How.MEASURED:
        yield _pour(round((pour.ml or 0.0) / (pour.amount or 1.0), 2))
    if spec.origins.glass is Origin.RULE:
        yield _glass(spec.glass)
    if spec.origins.ice is Origin.RULE:
        yield _ice(spec.ice.value)
    if guest:
        yield _GUEST
    elif spec.origins.garnish is Origin.RULE:
        yield _garnish(spec.origins.garnish_rule) if spec.origins.garnish_rule else _NO_RULE


# Kept, because the same few are given with every call.
_GUEST = Reason.of("call_guest_garnish")
_NO_RULE = Reason.of("call_no_rule")


@lru_cache(maxsize=200)
def _pour(ml: float) -> Reason:
    return Reason.of("call_rule_pour", ml=ml)


@lru_cache(maxsize=200)
def _glass(glass: str) -> Reason:
    return Reason.of("call_rule_glass", glass=glass)


@lru_cache(maxsize=200)
def _ice(ice: str) -> Reason:
    return Reason.of("call_rule_ice", ice=ice)


@lru_cache(maxsize=200)
def _garnish(rule: str) -> Reason:
    return Reason.of("call_rule_garnish", rule=rule)
