"""Numbers behind a drink count it, also before a "please"; what is no number of glasses is handed
back and never rounded. A word for several bottles of a kind asks which."""

import pytest

from recipes.grammar import calls
from recipes.grammar.calls import About, Status
from tests.grammar.called import book

US = "us-classic"


@pytest.mark.parametrize(
    ("call", "count"),
    [
        ("tonics, 3 please", 3),
        ("vodka tonics, 3 please", 3),
        ("vodka tonics 3 please", 3),
        ("vodka tonics, three, thank you", 3),
        ("vodka tonics (3) please", 3),
        ("vodka tonic x3 please", 3),
    ],
)
def test_politeness_behind_a_number_loses_nothing(call, count):
    reading = calls.read(call, book(US))

    assert reading.status is Status.READY
    assert [d.count for d in reading.drinks] == [count]


@pytest.mark.parametrize(
    ("call", "number"),
    [
        ("1.5 gin tonics", "1.5"), ("1,5 gin tonics", "1,5"), ("gin tonics 2.5", "2.5"),
        ("-1 vodka soda", "-1"), ("-2 gin tonics", "-2"), ("gin tonic \u22121", "\u22121"),
        ("0.5 gin tonic", "0.5"),
    ],
)  # fmt: skip
def test_what_is_no_number_of_glasses_is_handed_back(call, number):
    reading = calls.read(call, book(US))

    assert reading.status is not Status.READY
    assert reading.unplaced == (number,)
    assert [d.count for d in reading.drinks] == [1]


@pytest.mark.parametrize(
    ("call", "counts"),
    [
        ("gin tonic - 2 madras", [1, 2]),
        ("gin tonic, 2 madras", [1, 2]),
        ("vodka-7", [1]),
        ("1.5 oz of vodka neat", [1]),
    ],
)
def test_marks_beside_other_numbers_say_nothing(call, counts):
    reading = calls.read(call, book(US))

    assert ([d.count for d in reading.drinks], reading.unplaced) == (counts, ())


@pytest.mark.parametrize("call", ["vermouth", "vermouth on the rocks", "vermouth neat"])
def test_dry_or_sweet_is_asked_where_the_house_has_both(call):
    [asked, *_] = calls.read(call, book(US)).ask

    assert (asked.about, asked.choices) == (About.BASE, ("sweet-vermouth", "dry-vermouth"))


def test_with_gin_it_is_what_the_house_mixes_of_them():
    [asked] = calls.read("gin and vermouth", book(US)).ask
    both = calls.read("beer and cider", book(US))

    assert (asked.about, asked.choices) == (About.DRINK, ("gin-martini", "onion-martini"))
    assert len(both.drinks) == 2
