"""House rules that nobody can mean."""

import pytest

from recipes.grammar.reasons import Reason
from recipes.grammar.rules import GarnishRule, GlassRule
from recipes.grammar.rules_nonsense import nonsense
from recipes.grammar.spec import Garnish, When
from tests.grammar import kitchen

RULES = kitchen.RULES
LIME = tuple(Garnish(item="lime-wedge", when=when) for when in (When.ALWAYS, When.ON_REQUEST))


@pytest.mark.parametrize(
    ("change", "reasons"),
    [
        ({}, ()),
        ({"tolerance": 0.5}, ()),  # the smallest pour is 1 fl oz
        ({"tolerance": 0.51}, (Reason.of("tolerance_too_large"),)),
        (
            {"garnish": (GarnishRule(key="twice", garnish=LIME),)},
            (Reason.of("garnish_twice_in_rule", ingredient="lime-wedge", key="twice"),),
        ),
        (
            {"glasses": {**RULES.glasses, "three": GlassRule(name="Pint Glass", amount=9)}},
            (Reason.of("glass_named_twice", named="Pint Glass", glass="three"),),
        ),
    ],
)  # fmt: skip
def test_what_cant_be_meant(change, reasons):
    assert nonsense(RULES.model_copy(update=change)) == reasons


def test_what_stood_like_this_before_holds_up_no_other_change():
    odd = RULES.model_copy(update={"tolerance": 0.9})

    assert nonsense(odd.model_copy(update={"currency": "$"}), odd) == ()
