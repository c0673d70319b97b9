"""Volumes as they are typed and as they are said."""

import pytest

from assessments.measuring import MOST, NoVolume, fine_words, measured, read_number, read_numbers
from recipes.grammar.units import US_FLOZ_ML


@pytest.mark.parametrize(
    ("said", "number"), [("1", 1.0), (" 1.02 ", 1.02), ("0,98", 0.98), (".5", 0.5), ("0", 0.0)]
)
def test_a_number_as_a_phone_types_it(said, number):
    assert read_number(said) == number


@pytest.mark.parametrize("said", ["", "one", "-1", "nan", "inf", "1.0.0", "1,000.0", f"{MOST + 1}"])
def test_what_is_no_volume(said):
    with pytest.raises(NoVolume):
        read_number(said)


def test_empty_fields_are_left_out():
    assert read_numbers(["1", "", "  ", "2"]) == [1.0, 2.0]


@pytest.mark.parametrize(
    ("ml", "country", "words"),
    [
        (US_FLOZ_ML, "us", "1 fl oz"),
        (US_FLOZ_ML / 8, "us", "0.125 fl oz"),
        (24.64, "gb", "24.6 ml"),
        (25.0, "gb", "25 ml"),
        (0.0, "us", "0 fl oz"),
    ],
)
def test_as_finely_as_a_cylinder_shows(ml, country, words):
    assert fine_words(ml, country) == words


@pytest.mark.parametrize(("ml", "words"), [(1.2, "+1.2 ml"), (-1.2, "-1.2 ml"), (0.01, "0 ml")])
def test_a_difference_says_its_sign(ml, words):
    assert fine_words(ml, "gb", signed=True) == words


def test_what_was_measured_is_kept_by_step_in_millilitres():
    typed = {"measured-pour:gin": "1,5", "measured-pour:vodka": " ", "note": "3"}

    assert measured(typed, "us") == {"pour:gin": pytest.approx(1.5 * US_FLOZ_ML)}
    assert measured(typed, "gb") == {"pour:gin": 1.5}
    with pytest.raises(NoVolume):
        measured({"measured-pour:gin": "x"}, "gb")
