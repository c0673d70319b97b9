"""The price list: every bottle on one page, saved at once, nobody's figure lost."""

from decimal import Decimal

import pytest

from barcourse.people import log
from recipes.models import Ingredient
from recipes.publish_prices import Priced, set_prices
from tests.factories.people import OPENED
from tests.factories.recipes import DAY
from tests.recipes.pages import text, typed

PRICES = "/h/harbour-lights/book/prices/"
NOW = OPENED + DAY


@pytest.fixture(autouse=True)
def _on_a_friday_in_march(time_machine):
    time_machine.move_to(NOW, tick=False)


def bottle(by, slug: str) -> tuple[float | None, Decimal | None]:
    row = Ingredient.objects.in_house(by.venue).get(slug=slug)
    return row.bottle_ml, row.bottle_price


def save(browser, **said: str):
    return browser.post(PRICES, {**typed(browser.get(PRICES), "prices"), **said}, follow=True)


def test_many_bottles_are_saved_at_once(visit, tamsin):
    browser = visit(tamsin)
    said = {"ml-vodka": "700", "price-vodka": "14,90", "ml-gin": "1000 ml", "price-gin": "1,200"}

    answer = save(browser, **said)

    assert "Saved: 2 bottles changed." in text(answer)
    assert bottle(tamsin, "vodka") == (700, Decimal("14.90"))
    assert bottle(tamsin, "gin") == (1000, Decimal(1200))
    assert bottle(tamsin, "cola") == (None, None)
    assert log.check(tamsin.venue) == []
    assert tamsin.venue.log_entries.order_by("number").last().kind == "prices_set"


def test_saved_as_it_stands_nothing_changes(visit, tamsin):
    browser = visit(tamsin)
    save(browser, **{"ml-vodka": "700", "price-vodka": "14.9"})
    head = log.head(tamsin.venue).number

    answer = save(browser)

    assert "Saved: 0 bottles changed." in text(answer)
    assert log.head(tamsin.venue).number == head


def test_a_figure_is_taken_away_again(visit, tamsin):
    browser = visit(tamsin)
    save(browser, **{"ml-vodka": "700", "price-vodka": "14.9"})
    save(browser, **{"price-vodka": ""})

    assert bottle(tamsin, "vodka") == (700, None)


def test_what_somebody_else_saved_meanwhile_stays(visit, tamsin, pia):
    browser = visit(tamsin)
    form = typed(browser.get(PRICES), "prices")
    set_prices(by=pia, prices={"gin": Priced(700, Decimal(20))}, at=NOW)

    browser.post(PRICES, {**form, "ml-vodka": "700"})

    assert bottle(tamsin, "gin") == (700, Decimal(20))
    assert bottle(tamsin, "vodka") == (700, None)


@pytest.mark.parametrize(
    ("field", "said", "says"),
    [
        ("ml-vodka", "big", "“big” is no size."),
        ("ml-vodka", "0", "“0” is no size."),
        ("ml-vodka", "-700", "“-700” is no size."),
        ("ml-vodka", "1e9", "“1e9” is no size."),
        ("price-vodka", "dear", "“dear” is no price."),
        ("price-vodka", "-1", "“-1” is no price."),
    ],
)
def test_what_is_no_figure_says_so_and_nothing_is_saved(visit, tamsin, field, said, says):
    browser = visit(tamsin)
    answer = save(browser, **{"ml-gin": "700", field: said})

    assert says in text(answer)
    assert typed(answer, "prices")[field] == said
    assert bottle(tamsin, "gin") == (None, None)


def test_whatever_is_counted_has_no_line(visit, tamsin):
    form = typed(visit(tamsin).get(PRICES), "prices")

    assert "ml-vodka" in form
    assert "ml-lime-wedge" not in form


def test_a_slug_of_no_bottle_is_an_error_of_the_program(tamsin):
    with pytest.raises(KeyError):
        set_prices(by=tamsin, prices={"moonwater": Priced(1, None)}, at=NOW)
