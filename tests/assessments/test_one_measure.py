"""No choice of pours gives itself away by its unit or by a word that stands with it alone."""

from __future__ import annotations

import pytest

from assessments.one_measure import in_one_measure
from recipes.grammar.aspects import Aspect
from recipes.wording import aspect_words
from tests.grammar import kitchen

POUR = ["lager", "1.000", "pour", "354.882", "jigger"]
METRIC = ["stout", "330.000", "ml", "330.000", "jigger"]
SMALL = ["gin", "1.000", "pour", "29.574", "jigger"]
DASH = ["bitters", "2.000", "dash", "1.848", ""]


def said(*pours, country="us", free=()):
    contents = [{"poured": list(p), "alcohol_free": n in free} for n, p in enumerate(pours)]
    told = in_one_measure(contents, country)
    names = {slug: slug for slug in kitchen.PANTRY}
    return [", ".join(aspect_words(Aspect.POURS, c, names, {}, country)) for c in told]


@pytest.mark.parametrize(
    ("country", "words"),
    [
        ("us", ["12 fl oz lager", "11⅛ fl oz stout", "1 fl oz gin"]),
        ("gb", ["354.9 ml lager", "330 ml stout", "29.6 ml gin"]),
    ],
)
def test_all_are_said_in_the_measure_of_the_country(country, words):
    assert said([POUR], [METRIC], [SMALL], country=country) == words


def test_what_is_in_one_measure_stays_as_the_bar_says_it():
    assert said([SMALL], [SMALL, SMALL]) == ["1 pour gin", "1 pour gin, 1 pour gin"]


def test_what_is_counted_stays_counted():
    assert said([SMALL, DASH], [METRIC])[0] == "1 fl oz gin, 2 dashes bitters"


def test_two_never_read_the_same():
    nearly = ["gin", "31.200", "ml", "31.200", "jigger"]
    assert said([SMALL], [nearly]) == ["1 pour gin", "31.2 ml gin"]


def test_alcohol_free_is_said_of_all_or_of_none():
    assert "alcohol-free" not in " ".join(said([SMALL], [SMALL], free={0}))
    assert all("alcohol-free" in words for words in said([SMALL], [SMALL], free={0, 1}))


def test_nobody_speaks_of_a_pour_of_lager():
    assert said([POUR], [POUR]) == ["12 fl oz lager", "12 fl oz lager"]
