"""Pour checks on screen."""

import datetime as dt

import pytest

from assessments.models import PourCheck
from recipes.grammar.rules import MeasuredBy
from recipes.models import Ingredient
from tests.assessments.pages import address, fields, text
from tests.assessments.practical_pages import at
from tests.factories import hands
from tests.factories.assessments import NOW
from tests.factories.recipes import change_rules
from tests.grammar import kitchen


def pour_on_screen(browser, hire, *pours, **said):
    path = at(hire, "pours")
    sent = {**fields(browser.get(path)), "ingredient": "gin", "made_with": "water"}
    return browser.send(path, sent | {"pour": list(pours)} | said)


def test_pours_are_typed_one_by_one_with_point_or_comma(visit, tamsin, nils):
    browser = visit(tamsin)

    answer = pour_on_screen(browser, nils, "1.0", "1,05", "0.96", "", "1", " 1.01 ", "")

    check = PourCheck.objects.get()
    assert answer["Location"] == address(nils, "pour_check", code=check.code)
    assert len(check.pours_ml) == 5
    said = text(browser.get(answer["Location"]))
    assert "Passed: all 5 within tolerance." in said
    share = (
        "5 of 5; by the count alone, of all pours of this hand at least 48 of 100, perhaps all: "
        "so few can't say more"
    )
    assert f"{share} (95 % sure)" in said
    assert "<title>5 pours in their order, 5 of them within tolerance.</title>" in (
        browser.get(answer["Location"]).content.decode()
    )


def test_no_bottle_stands_chosen_and_they_are_sorted_under_what_they_are(visit, tamsin, nils):
    page = visit(tamsin).get(at(nils, "pours"))

    first, *groups = page.context["form"].fields["ingredient"].choices
    assert first == ("", "which bottle?")
    assert groups[0][0] == "Spirits"
    for _name, of in groups:
        named = [name for _slug, name in of]
        assert named == sorted(named, key=str.casefold)
    answer = pour_on_screen(visit(tamsin), nils, *["1.0"] * 5, ingredient="")
    assert "Say which bottle was poured from." in text(answer)
    assert not PourCheck.objects.exists()


@pytest.mark.parametrize("pour", ["much", "-1", "nan"])
def test_what_is_no_volume_is_typed_again(visit, tamsin, nils, pour):
    answer = pour_on_screen(visit(tamsin), nils, "1.0", pour)

    assert "Type in each pour as you read it off, 0 or more." in text(answer)
    assert fields(answer)["pour"][1] == pour
    assert not PourCheck.objects.exists()


@pytest.mark.parametrize("pour", ["9999", "99999"])
def test_a_pour_that_is_too_large_is_said_to_be(visit, tamsin, nils, pour):
    answer = pour_on_screen(visit(tamsin), nils, "1.0", pour)

    assert "A pour is too large to be one" in text(answer)
    assert fields(answer)["pour"][1] == pour
    assert not PourCheck.objects.exists()


def test_no_pours_are_no_check(visit, tamsin, nils):
    assert "Type in each pour" in text(pour_on_screen(visit(tamsin), nils))
    assert not PourCheck.objects.exists()


def test_too_few_pours_are_kept_and_said_to_be_too_few(visit, tamsin, nils):
    browser = visit(tamsin)

    answer = pour_on_screen(browser, nils, "1.0", "1.1")

    said = text(browser.get(answer["Location"]))
    assert "Too few pours to say: 2 so far, the house wants 5." in said
    assert "Capability" not in said
    assert "19 of 20" not in said


def test_enough_pours_show_capability_and_where_those_to_come_lie(visit, tamsin, nils):
    browser = visit(tamsin)

    answer = pour_on_screen(browser, nils, *["1.0", "1.1"] * 3)

    said = text(browser.get(answer["Location"]))
    assert "Capability" in said
    assert "19 of 20" in said


@pytest.mark.parametrize(("written", "money"), [("", "$8.45"), ("€", "€8.45"), ("SEK", "8.45 SEK")])
def test_what_it_costs_a_week_at_the_house_s_prices(visit, tamsin, nils, written, money):
    """A tenth of an ounce over, 100 times, of a bottle of 700 ml for 20.00."""
    if written:
        change_rules(tamsin, currency=written, at=NOW)
    Ingredient.objects.filter(venue=tamsin.venue, slug="gin").update(
        bottle_ml=700, bottle_price="20.00"
    )
    browser = visit(tamsin)

    answer = pour_on_screen(browser, nils, *["1.1"] * 5, pours_a_week="100")

    said = text(browser.get(answer["Location"]))
    assert f"At 100 pours of gin a week this gives away about {money}." in said
    assert "+0.1 fl oz off" in said


def stamp(tamsin):
    pours = kitchen.RULES.model_dump()["pours"]
    stamped = {k: {**v, "measured_by": MeasuredBy.STAMPED} for k, v in pours.items()}
    change_rules(tamsin, pours=stamped, at=NOW)


def test_where_measures_are_stamped_free_pouring_is_not_allowed(visit, tamsin, nils):
    browser = visit(tamsin)
    assert "no free pouring" not in text(browser.get(at(nils, "pours")))
    stamp(tamsin)

    assert "no free pouring" in text(browser.get(at(nils, "pours")))
    answer = pour_on_screen(browser, nils, *["1.0"] * 4, "0.98")
    said = text(browser.get(answer["Location"]))
    assert "one is short, and a stamped measure is never under" in said


def test_weighed_pours_say_by_which_density(visit, tamsin, nils):
    browser = visit(tamsin)

    answer = pour_on_screen(browser, nils, *["28"] * 5, unit="g", made_with="water")
    assert "a millilitre of water taken as 0.998 g" in text(browser.get(answer["Location"]))


def test_history_tells_a_drift(visit, tamsin, nils):
    for day, ounces in enumerate((0.9, 0.95, 1.0, 1.05)):
        hands.pour(tamsin, nils, (ounces,) * 5, at=NOW + day * dt.timedelta(days=3))

    said = text(visit(tamsin).get(at(nils, "pours")))
    assert "Over 4 checks the pours creep up." in said
    assert said.count("passed") == 4


@pytest.mark.parametrize(("unit", "amount"), [("g", "28"), ("floz", "1.0")])
def test_what_was_poured_must_be_said(visit, tamsin, nils, unit, amount):
    """Left open it would be taken for water, and the bottle would be missing from the count."""
    browser = visit(tamsin)
    assert "made_with" not in fields(browser.get(at(nils, "pours")))

    answer = pour_on_screen(browser, nils, *[amount] * 5, unit=unit, made_with="")
    assert "Say what was poured" in text(answer)
    assert not PourCheck.objects.exists()

    pour_on_screen(browser, nils, *[amount] * 5, unit=unit, made_with="stock")
    assert PourCheck.objects.get().made_with == "stock"


def test_each_bottle_says_its_pour_and_measure_before_pours_are_typed(visit, tamsin, nils):
    """A house that pours spirits freely and wine by stamped measure."""
    pours = kitchen.RULES.model_dump()["pours"]
    by = {"wine": MeasuredBy.STAMPED, "spirit": MeasuredBy.FREE_POUR}
    pours = {k: {**v, "measured_by": by.get(k, v["measured_by"])} for k, v in pours.items()}
    change_rules(tamsin, pours=pours, at=NOW)

    page = visit(tamsin).get(at(nils, "pours"))
    assert dict(page.context["house"]["pours"]) == {
        "Spirits": "1 fl oz by count, free pour, give or take 0.125 fl oz",
        "Liqueurs, fortified wine": "1 fl oz by jigger, give or take 0.125 fl oz",
        "Wine": "5 fl oz by stamped measure, never under, no free pouring",
    }
    groups = dict(page.context["form"].fields["ingredient"].choices)
    choices = {slug: name for of in groups.values() if isinstance(of, list) for slug, name in of}
    wines = [name for slug, name in choices.items() if "(stamped)" in name]
    assert choices["gin"] == "gin"
    assert wines == ["red wine (stamped)", "sparkling wine (stamped)"]
    assert "Wine 5 fl oz by stamped measure, never under" in text(page)


def test_an_evening_s_checks_tell_no_drift(visit, tamsin, nils):
    for nth, ounces in enumerate((0.9, 0.95, 1.0, 1.05)):
        hands.pour(tamsin, nils, (ounces,) * 5, at=NOW - (4 - nth) * dt.timedelta(minutes=5))

    said = text(visit(tamsin).get(at(nils, "pours")))
    assert "Too short to say whether they drift" in said
    assert "a month" not in said


def test_pours_that_are_just_right_are_just_right(visit, tamsin, nils):
    browser = visit(tamsin)

    answer = pour_on_screen(browser, nils, *["29.6"] * 5, unit="ml")

    said = text(browser.get(answer["Location"]))
    assert "They all read alike" in said
    assert "not by chance" not in said
    assert "19 of 20" not in said
