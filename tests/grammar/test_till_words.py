"""Words of tills that are told in one place: money that bought no drink, and sizes."""

import pytest

from recipes.grammar.till_kinds import Kind
from recipes.grammar.till_money import is_charge, is_payment
from recipes.grammar.till_names import spoken
from recipes.grammar.till_sheet import read_till
from recipes.grammar.till_sizes import BIGGER, is_heading, is_size


@pytest.mark.parametrize(
    ("said", "pays", "charges"),
    [
        ("Cash", True, False), ("Credit card", True, False), ("- Card -", True, False),
        ("Tax", True, False), ("VAT 20%", True, False), ("Change due", True, False),
        ("Gift card", True, True), ("Vouchers", True, True), ("Tip 18%", True, True),
        ("Card tips", True, True), ("Service charge", True, True), ("Rounding", True, True),
        ("Trinkgeld", True, True), ("Propina", True, True), ("Pourboire", True, True),
        ("Cover charge", False, True), ("Corkage 75cl", False, True), ("Room hire", False, True),
        ("Staff discount", True, True), ("Discount 10%", True, True), ("10% Discount", True, True),
        ("Discount Dan", False, True), ("Card **** 1234", True, False),
        ("Any Bank XXXX-XXXX-XXXX-1234", True, False), ("•••• 0042", True, False),
        ("Card ending in 1234", True, False), ("XX Lager 1664", False, False),
        ("XX 1664", False, False),
        ("Madras x2", False, False), ("Glass deposit", False, True), ("Service", False, True),
        ("Gift card top up", False, True), ("Tip jar for Odd Jobs", False, True),
        ("Cash Cow", False, False), ("Card Sharp", False, False), ("Sin Tax", False, False),
        ("Change of Heart", False, False), ("Tipsy Tea", False, False),
        ("Madras", False, False), ("Discoverer", False, False),
    ],
)  # fmt: skip
def test_money_that_bought_no_drink(said, pays, charges):
    assert (is_payment(said), is_charge(said)) == (pays, charges)


@pytest.mark.parametrize(
    ("word", "beside", "heads"),
    [
        ("half", True, True), ("double", True, True), ("triple", True, True),
        ("tall", True, True), ("lge", True, True), ("xl", True, True), ("regular", True, True),
        ("d", True, False), ("m", True, False), ("s", True, False), ("sized", True, False),
        ("pint", False, True), ("½ pint", False, True), ("half bottle", False, True),
        ("1/2 Pt", False, True), ("Dbl Tall", False, True), ("0,5 l", False, True),
        ("glass", False, True), ("Double sold", False, True), ("175ml", False, True),
        ("total", False, False), ("price", False, False), ("madras", False, False),
        ("pink", False, False), ("w", False, False),
    ],
)  # fmt: skip
def test_sizes(word, beside, heads):
    assert (is_size(word), is_heading(word)) == (beside, heads)


@pytest.mark.parametrize("size", sorted(BIGGER))
def test_the_same_drink_in_another_glass_is_said_without_it(size):
    assert spoken("Madras", size) == spoken(f"Madras {size}") == "Madras"


def test_the_days_of_a_week_are_no_sizes():
    found = read_till("Item,M,T,W,T,F,S,S,Qty\nMadras,1,1,1,1,1,1,1,7\n")

    assert [(x.item, x.size, x.quantity) for x in found.of(Kind.SALE)] == [("Madras", "", 7)]
