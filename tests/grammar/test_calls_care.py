"""An allergy is no order, a table no count, and so many cubes no glass full of ice: common
practice, no source."""

import pytest

from recipes.grammar import calls
from recipes.grammar.calls import Status
from tests.grammar.called import book


def read(text):
    return calls.read(text, book("us-classic"))


@pytest.mark.parametrize(
    "call",
    [
        "vodka cran, I have a nut allergy", "vodka cran, no nuts", "a beer, she's coeliac",
        "vodka cran, I'm allergic to lime", "gluten free lager", "lactose intolerant, a mudslide",
        "madras ALLERGIES", "gin and tonic, dairy free",
    ],
)  # fmt: skip
def test_nothing_is_built_for_somebody_who_speaks_of_an_allergy(call):
    reading = read(call)

    assert reading.allergy
    assert (reading.status, reading.drinks, reading.ask) == (Status.UNKNOWN, (), ())
    assert (reading.unplaced, reading.did_you_mean) == ((call,), ())


@pytest.mark.parametrize("call", ["irish coffee with grated nutmeg", "a madras", "two lagers"])
def test_a_call_of_no_allergy_is_read_as_ever(call):
    assert not read(call).allergy


@pytest.mark.parametrize(
    ("call", "count"),
    [
        ("gin tonic, table 5", 1), ("vodka cran table nine", 1), ("two gin tonics table 5", 2),
        ("gin tonic for table four", 1), ("TABLE 12 GIN TONIC", 1), ("gin tonic seat 3", 1),
        ("gin tonic #4", None), ("table 5", 0),
    ],
)  # fmt: skip
def test_a_table_counts_no_drinks(call, count):
    reading = read(call)

    assert reading.status is Status.UNKNOWN
    assert reading.unplaced
    assert count is None or reading.count == count


@pytest.mark.parametrize(
    "call",
    [
        "MARG NS", "2 MARG NS", "GIN TON NS", "extra dirty gin martini",
        "whiskey with one ice cube", "whiskey with two ice cubes", "gin tonic, an ice cube",
        "gin tonic with 3 cubes",
    ],
)  # fmt: skip
def test_what_no_house_has_a_rule_for_is_handed_back(call):
    reading = read(call)

    assert reading.status is not Status.READY
    assert reading.unplaced
    assert "full_ice" not in [c.code for d in reading.drinks for c in d.changes]


@pytest.mark.parametrize("call", ["whiskey with ice cubes", "gin tonic with ice", "gin tonic, ice"])
def test_ice_without_a_number_is_a_glass_of_it(call):
    assert read(call).unplaced == ()


@pytest.mark.parametrize("call", ["NA BEER", "an AF beer", "n/a beer"])
def test_a_till_s_short_word_for_no_alcohol_never_gives_one_with_it(call):
    [drink] = read(call).drinks

    assert drink.spec.alcohol_free


def test_a_short_word_with_another_first_letter_is_no_slip():
    reading = read("single malt")

    assert (reading.status, reading.read_as) == (Status.UNKNOWN, ())
