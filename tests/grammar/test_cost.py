"""What a drink costs, by hand; and how many pours a bottle gives, against published yields."""

from decimal import Decimal

import pytest
from hypothesis import given
from hypothesis import strategies as st

from recipes.grammar.cost import Bottle, cost, pour_cost, pours_per_bottle
from recipes.grammar.house_spec import resolve
from recipes.grammar.spec import BuildSpec
from recipes.grammar.units import US_FLOZ_ML
from tests.grammar.kitchen import MENU, PANTRY, RULES

VODKA = Bottle(750, Decimal("15.00"))
CRANBERRY = Bottle(1000, Decimal("2.00"))
ORANGE = Bottle(1000, Decimal("3.00"))
SHELF = {"vodka": VODKA, "cranberry-juice": CRANBERRY, "orange-juice": ORANGE}


def of(slug, bottles=SHELF):
    return cost(resolve(MENU[slug], RULES, PANTRY), PANTRY, bottles)


YIELDS = [
    # Whole pours in a bottle as the trade prints them (750 ml is 25.36 US fl oz; NIST Handbook 44
    # appendix C for the ounce); metric ones follow from division.
    (750, 1 * US_FLOZ_ML, 25),
    (750, 1.25 * US_FLOZ_ML, 20),
    (750, 1.5 * US_FLOZ_ML, 16),
    (750, 2 * US_FLOZ_ML, 12),
    (700, 25, 28),
    (700, 30, 23),
    (700, 35, 20),
    (1000, 1 * US_FLOZ_ML, 33),
]


@pytest.mark.parametrize(("bottle", "pour", "pours"), YIELDS)
def test_pours_in_a_bottle_agree_with_published_yields(bottle, pour, pours):
    assert pours_per_bottle(bottle, pour) == pours


@given(st.integers(1, 60), st.floats(5, 200))
def test_a_bottle_of_so_many_pours_gives_them_all(pours, pour):
    assert pours_per_bottle(pours * pour, pour) == pours


@pytest.mark.parametrize("pour", [0, -1])
def test_a_pour_of_nothing_is_no_pour(pour):
    with pytest.raises(ValueError, match="nothing"):
        pours_per_bottle(750, pour)


def test_a_madras_by_hand():
    """1 fl oz of a bottle of 15.00 and, in the half of the glass that ice leaves (5 fl oz less the
    pour), 2 fl oz of each juice."""
    ounce = Decimal(repr(US_FLOZ_ML))
    expected = ounce * 15 / 750 + 2 * ounce * 2 / 1000 + 2 * ounce * 3 / 1000

    found = of("madras")

    assert found.total == pytest.approx(expected)
    assert round(found.total, 2) == Decimal("0.89")
    assert found.missing == found.uncounted == ()


def test_a_missing_price_leaves_no_total_and_is_named():
    found = of("madras", {"vodka": VODKA, "orange-juice": ORANGE})

    assert found.missing == ("cranberry-juice",)
    assert found.total is None
    assert Decimal("0.7") < found.known < Decimal("0.8")


def test_what_is_counted_or_lies_on_top_is_said_and_not_reckoned():
    spec = BuildSpec.model_validate(
        {
            "parts": [
                {"ingredient": "vodka", "amount": 1},
                {"ingredient": "mint", "how": "muddled", "amount": 6, "unit": "leaf"},
            ],
            "garnish": [{"item": "lime"}],
            "rim": {"item": "salt", "wet_with": "lime"},
        }
    )
    found = cost(resolve(spec, RULES, PANTRY), PANTRY, SHELF)

    assert found.uncounted == ("mint", "lime", "salt")
    assert [p.ingredient for p in found.parts] == ["vodka"]


def test_melted_ice_takes_room_from_the_mixer():
    """A shaken drink that is topped: less mixer than if it were built."""
    parts = [
        {"ingredient": "vodka", "amount": 1},
        {"ingredient": "cranberry-juice", "how": "top"},
    ]

    def mixer(method):
        spec = BuildSpec.model_validate({"parts": parts, "method": method})
        return cost(resolve(spec, RULES, PANTRY), PANTRY, SHELF).parts[1].ml

    assert mixer("shake") < mixer("build")


@pytest.mark.parametrize(
    ("spent", "price", "share"),
    [("1.80", "9.00", "0.2"), ("0", "9.00", "0"), ("10.00", "8.00", "1.25"), ("1.00", "0", None)],
)
def test_pour_cost_is_the_share_of_the_price(spent, price, share):
    found = pour_cost(Decimal(spent), Decimal(price))

    assert found == (None if share is None else Decimal(share))


@given(st.sampled_from(sorted(MENU)), st.integers(1, 100))
def test_dearer_bottles_make_dearer_drinks_in_step(slug, times):
    all_bottles = {s: Bottle(700, Decimal(7)) for s in PANTRY}
    dearer = {s: Bottle(700, Decimal(7) * times) for s in PANTRY}

    once, many = of(slug, all_bottles), of(slug, dearer)

    assert once.total is not None
    assert many.total == pytest.approx(once.total * times)
