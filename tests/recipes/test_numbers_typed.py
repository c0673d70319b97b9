"""Numbers as people write them, with a point or a comma, and limits in plain words."""

from decimal import Decimal

import pytest
from django import forms

from recipes.forms.card import MoneyField
from recipes.forms.fields import NumberField


@pytest.mark.parametrize(
    ("typed", "meant"), [("40.5", 40.5), ("40,5", 40.5), (" 40 ", 40.0), ("0", 0.0)]
)
def test_a_number_has_a_point_or_a_comma(typed, meant):
    assert NumberField(min_value=0, max_value=96).clean(typed) == meant


@pytest.mark.parametrize(
    ("typed", "said"),
    [
        ("much", "That is no number. Write 8, 8.5 or 8,5."),
        ("1,000,5", "That is no number. Write 8, 8.5 or 8,5."),
        ("-1", "At least 0, please."),
        ("97", "At most 96, please."),
    ],
)
def test_what_is_wrong_is_said_plainly(typed, said):
    with pytest.raises(forms.ValidationError) as caught:
        NumberField(min_value=0, max_value=96).clean(typed)

    assert caught.value.messages == [said]


def test_money_too():
    assert MoneyField().clean("8,50") == Decimal("8.50")
    assert MoneyField().clean("") is None
