"""No drink disappears where two are joined: whatever pair, both are in the answer, or the words of
the missing one are handed back."""

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from recipes.grammar import calls
from recipes.grammar.calls.tokens import words_of
from tests.grammar.called import book

US = "us-classic"
JOINTS = (" with a ", " and ", ", ", " plus ", " then ")
SIZES = ("", "a double ", "two ", "a tall ", "a virgin ", "three ")
DRINKS = book(US).stock.drinks
NAMES = sorted({n for d in DRINKS.values() for n in (d.name, *d.aliases)})
SPOKEN = st.builds(str.__add__, st.sampled_from(SIZES), st.sampled_from(NAMES))


def contents(drink):
    """What it is, by what is poured into it; by its name while that is open."""
    return frozenset(p.ingredient for p in drink.spec.parts) if drink.spec else drink.name


def alone(text):
    """The one drink that it is by itself; None for what isn't read whole even so."""
    reading = calls.read(text, book(US))
    return None if reading.unplaced or len(reading.drinks) != 1 else reading.drinks[0]


def joined(first, joint, second):
    plain = joint == " with a " and second.startswith(("a ", "two ", "three "))
    return first + (" with " if plain else joint) + second


def missing(first, joint, second):
    """Of two drinks that are read whole alone, those that nothing in the answer is about."""
    one, other = alone(first), alone(second)
    if one is None or other is None:
        return []
    reading = calls.read(joined(first, joint, second), book(US))
    found = [contents(d) for d in reading.drinks]
    lost = {w for said in reading.unplaced for w in words_of(said)}
    gone = [
        said
        for said, drink in ((first, one), (second, other))
        if contents(drink) not in found and not lost & set(words_of(said))
    ]
    more = second.startswith("a double ") and {c.code for d in reading.drinks for c in d.changes}
    if gone == [second] and more and "double" in more and contents(other) <= contents(one):
        return []  # a double of the spirit that is in the drink
    return gone


@pytest.mark.parametrize(
    ("first", "second"),
    [
        ("whiskey cola", "a shot of whiskey"), ("long beach iced tea", "a tequila shot"),
        ("blue lagoon", "a double shot of tequila"), ("three ciders", "three hard seltzers"),
        ("a tequila", "a white tea shot"),
    ],
)  # fmt: skip
def test_a_drink_said_with_another_one_is_its_own(first, second):
    reading = calls.read(f"{first} with {second}", book(US))

    assert missing(first, " with a ", second) == []
    assert len(reading.drinks) == 2


@given(SPOKEN, st.sampled_from(JOINTS), SPOKEN)
@settings(max_examples=500, derandomize=True)
def test_both_drinks_are_in_the_answer_or_the_missing_one_is_handed_back(first, joint, second):
    assert missing(first, joint, second) == []


def test_the_law_is_about_something():
    """Most names of the course are read whole by themselves, with most sizes."""
    whole = [alone(size + name) is not None for size in SIZES for name in NAMES]

    assert sum(whole) > len(whole) / 2
