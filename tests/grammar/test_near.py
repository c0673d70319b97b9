"""What a misspelt name may have meant."""

import pytest

from recipes.grammar.near import near

NAMES = {
    n: n.replace(" ", "-")
    for n in (
        "vodka", "gin", "rum", "lime juice", "lemon juice", "cranberry juice", "ginger beer",
        "blackberry liqueur", "madras", "sea breeze", "bay breeze", "dark porter", "dark sorter",
    )
}  # fmt: skip


@pytest.mark.parametrize(
    ("said", "meant"),
    [
        ("lime juce", ("lime-juice",)),
        ("Lime Juice", ("lime-juice",)),
        ("cranbery juice", ("cranberry-juice",)),
        ("cranebrry juice", ("cranberry-juice",)),
        ("gingerbeer", ("ginger-beer",)),
        ("vodak", ("vodka",)),
        ("sea breeeze", ("sea-breeze",)),
        # Three letters forgive nothing: a rum is no rye, a gin no gum.
        ("ram", ()),
        ("gum", ()),
        # Another thing is no misspelling, however much of it is spelt alike.
        ("blackcurrant liqueur", ()),
        ("limes juice of", ()),
        ("juice", ()),
        ("", ()),
        # Equally near to two: both are named, nothing is chosen.
        ("dark morter", ("dark-porter", "dark-sorter")),
    ],
)
def test_a_slip_of_the_hand_is_found_and_nothing_else(said, meant):
    assert near(said, NAMES) == meant


def test_the_nearer_one_is_meant_where_two_are_near():
    names = {"orange bitters": "a", "orangey bitterss": "b"}

    assert near("orange biters", names) == ("a",)


def test_two_names_for_one_thing_are_no_tie():
    assert near("cavas", {"cava": "sparkling", "cavab": "sparkling"}) == ("sparkling",)
