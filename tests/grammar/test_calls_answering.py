"""A tapped choice is put into the guest's own words; everything else is heard as before."""

import pytest

from recipes.grammar import calls
from recipes.grammar.calls.answering import answered, phrases
from tests.grammar.called import book

US = book("us-classic")


def read(text):
    return calls.read(text, US)


def answer(text, about, choice):
    before = read(text)
    [asked] = [q for q in before.ask if q.about == about]
    assert choice in asked.choices
    items = {**US.pantry, **US.stock.drinks}
    name = items[choice].name if choice in items else choice
    return answered(before, asked, choice, phrases(asked, choice, name), read)


@pytest.mark.parametrize(
    ("call", "about", "choice", "said"),
    [
        ("vodka soda", "garnish", "lime-wedge", "vodka soda with lime wedge"),
        ("a double rum cola", "size", "tall", "a double rum cola tall"),
        ("tequila", "style", "neat", "tequila neat"),
        ("tequila", "style", "rocks", "tequila on the rocks"),
        ("rickey", "base", "gin", "gin rickey"),
        ("a beer", "drink", "draught-lager", "a Draught Lager"),
        ("margarita and a vodka soda, madras", "garnish", "lemon-wedge",
         "margarita and a vodka soda with lemon wedge, madras"),
    ],
)  # fmt: skip
def test_the_answer_stands_where_a_guest_would_say_it(call, about, choice, said):
    assert answer(call, about, choice) == said
    assert about not in [q.about for q in read(said).ask]


@pytest.mark.parametrize("choice", ["short", "tall"])
def test_of_two_doubles_the_other_stays_open(choice):
    said = answer_second("two double vodka cran, a double gin tonic and a madras", choice)

    after = read(said)
    assert [(q.drink, q.about) for q in after.ask] == [(0, "size")]
    assert [d.count for d in after.drinks] == [2, 1, 1]
    assert choice in [c.what for c in after.drinks[1].changes]


def answer_second(text, choice):
    before = read(text)
    asked = before.asks_about(1)[0]
    return answered(before, asked, choice, phrases(asked, choice, choice), read)


def test_what_only_the_guest_can_say_has_no_words():
    [asked] = read("tequila").ask

    assert phrases(asked, "mixer", "with a mixer") == ()


def test_a_choice_that_is_said_nowhere_is_not_forced_into_the_call():
    before = read("vodka soda")
    [asked] = before.ask

    assert answered(before, asked, "lime-wedge", ["in a thimble"], read) is None
