"""A number with its unit is a measure, never a count: the house's pour, two of them, or asked."""

from __future__ import annotations

import pytest

from recipes.grammar import calls
from recipes.grammar.calls import About, Status, What
from tests.grammar.called import book

POURS = {"us-classic": "1 oz", "great-britain": "25 ml", "ireland": "35.5 ml", "europe": "4 cl"}
DOUBLES = {"us-classic": "2 oz", "great-britain": "5 cl", "ireland": "71 ml", "europe": "80ml"}
OTHERS = {"us-classic": "1.5 oz", "great-britain": "35 ml", "ireland": "25ml", "europe": "2 cl"}
HOUSES = sorted(POURS)
SAID = ["{} gin neat", "gin neat {}", "{} of gin, neat", "a {} gin neat"]


@pytest.mark.parametrize("said", SAID)
@pytest.mark.parametrize("house", HOUSES)
def test_the_house_s_own_pour_is_what_is_poured_anyway(house, said):
    reading = calls.read(said.format(POURS[house]), book(house))

    assert (reading.status, reading.unplaced) == (Status.READY, ())
    assert reading.drinks == calls.read("gin neat", book(house)).drinks


@pytest.mark.parametrize("said", SAID)
@pytest.mark.parametrize("house", HOUSES)
def test_two_of_its_pours_are_a_double(house, said):
    [drink] = calls.read(said.format(DOUBLES[house]), book(house)).drinks
    [double] = calls.read("double gin neat", book(house)).drinks

    assert What.DOUBLE in {c.what for c in drink.changes}
    assert (drink.count, drink.spec) == (1, double.spec)


@pytest.mark.parametrize("said", SAID)
@pytest.mark.parametrize("house", HOUSES)
def test_any_other_measure_is_asked(house, said):
    reading = calls.read(said.format(OTHERS[house]), book(house))

    assert [q.about for q in reading.ask] == [About.SIZE]
    assert [d.count for d in reading.drinks] == [1]


@pytest.mark.parametrize("unit", ["cl", " cl", "ml", " oz", "oz", " fl oz", " ounces", " CL"])
@pytest.mark.parametrize("said", ["17{} of gin", "17{} gin", "gin 17{}", "GIN TONIC 17{}"])
@pytest.mark.parametrize("house", HOUSES)
def test_a_number_before_a_unit_counts_no_glasses_and_pours_no_cola(house, said, unit):
    reading = calls.read(said.format(unit), book(house))

    assert reading.status is not Status.READY
    assert [d.count for d in reading.drinks] == [1]
    assert "cola" not in {p.ingredient for d in reading.drinks for p in d.spec.parts}


@pytest.mark.parametrize(
    "said", ["25 cl lager", "a negroni 5 cl", "2 oz old fashioned", "0 ml gin"]
)
@pytest.mark.parametrize("house", HOUSES)
def test_a_measure_of_no_spirit_is_handed_back(house, said):
    reading = calls.read(said, book(house))

    assert len(reading.unplaced) == 1
    assert reading.status is not Status.READY


@pytest.mark.parametrize("house", HOUSES)
def test_cl_by_itself_is_cola_on_a_ticket(house):
    [drink] = calls.read("VOD CL", book(house)).drinks

    assert {p.ingredient for p in drink.spec.parts} == {"vodka", "cola"}


@pytest.mark.parametrize("count", ["one", "a", "2", "three", "4x"])
@pytest.mark.parametrize("house", ["us-classic", "great-britain", "europe"])
def test_a_count_before_a_spirit_and_a_mixer_s_long_name_counts_that_drink(house, count):
    many = {"one": 1, "a": 1, "2": 2, "three": 3, "4x": 4}[count]
    stock = book(house).stock
    mixers = [slug for slug, role in sorted(stock.roles.items()) if role == "mixer"]
    for mixer in mixers:
        name = book(house).pantry[mixer].name
        for joined in ("&", "and", "+"):
            reading = calls.read(f"{count} gin {joined} {name}", book(house))

            within = [{p.ingredient for p in d.spec.parts} for d in reading.drinks]
            assert (name, [d.count for d in reading.drinks]) == (name, [many])
            assert within == [{"gin", mixer}]
