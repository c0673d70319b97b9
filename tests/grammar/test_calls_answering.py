"""A tapped choice is put into the guest's own words; everything else is heard as before."""

from random import Random

import pytest

from recipes.grammar import calls
from recipes.grammar.calls import Status, What
from recipes.grammar.calls.answering import answered, phrases
from tests.grammar.called import PRESETS, book, table

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
        ("two small glasses of red wine", "size", "single", "two glasses of red wine"),
        ("half carafe of red", "size", "single", "glass of red"),
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


def test_with_a_mixer_leads_on_to_which_one():
    said = answer("a beer and a tequila", "style", "mixer")

    assert said == "a beer and a tequila with a mixer"
    assert [q.about for q in read(said).asks_about(1)] == ["mixer"]


@pytest.mark.parametrize(
    ("call", "said"),
    [
        ("premium margarita", ""),
        ("two margaritas and a premium gin", "two margaritas"),
        ("a beer and a premium margarita, gin tonic", "a beer, gin tonic"),
        ("premium margarita and a vodka soda", "a vodka soda"),
        ("a premium margarita and two madras please", "two madras please"),
    ],
)
def test_something_else_takes_the_drink_out_of_the_call(call, said):
    before = read(call)
    [asked] = [q for q in before.ask if "none" in q.choices]

    assert answered(before, asked, "none", phrases(asked, "none", "something else"), read) == said


@pytest.mark.parametrize(
    ("choice", "said"),
    [("white-rum", "a white rum and cola"), ("dark-rum", "a dark rum and cola")],
)
def test_of_two_things_the_other_one_is_no_longer_said(choice, said):
    assert answer("a white or dark rum and cola", "base", choice) in (
        said, said.replace(" and", ""),
    )  # fmt: skip


def test_a_choice_that_is_said_nowhere_is_not_forced_into_the_call():
    before = read("vodka soda")
    [asked] = before.ask

    assert answered(before, asked, "lime-wedge", ["in a thimble"], read) is None


SIZED = {What.DOUBLE, What.TRIPLE}
OPEN = (
    "double manhattan", "two double manhattans and a beer", "triple margarita", "virgin breeze",
    "double martini", "extra dry martini", "two virgin sunsets",
    "tequila orange grenadine double tall", "double vodka soda no ice", "mojito no lime light ice",
    "daiquiri no lime and a double gin tonic", "tall vodka soda", "a pint", "straight up vodka",
    "whiskey no ice", "double whiskey", "three beers, one in a bottle",
)  # fmt: skip
MOST_CHOICES = 4


def asked_calls(house):
    words, random = book(PRESETS[house]), Random(20260308)
    made = [calls.generate(words, random).text for _ in range(40)]
    said = [c["call"] for c in table() if c["house"] == house]
    for text in (*said, *OPEN, *made):
        reading = calls.read(text, words)
        for question in reading.ask:
            for choice in question.choices[:MOST_CHOICES]:
                yield reading, question, choice


@pytest.mark.parametrize("house", PRESETS)
def test_every_choice_answers_its_question_and_keeps_all_else(house):
    words, tried = book(PRESETS[house]), 0
    items = {**words.pantry, **words.stock.drinks}
    for before, question, choice in asked_calls(house):
        name = items[choice].name if choice in items else choice
        said = phrases(question, choice, name)
        if not said:
            continue
        text = answered(before, question, choice, said, lambda call: calls.read(call, words))
        assert text is not None, (before.heard, question, choice)

        tried += 1
        if choice == "none" and question.about != "garnish":
            left = calls.read(text, words)
            assert len(left.drinks) == len(before.drinks) - 1
            continue
        after, at = calls.read(text, words), question.drink
        drink, was = after.drinks[at], before.drinks[at]
        many = {"two": 2, "three": 3}.get(choice, 1)
        lost = {c.what for c in was.changes} - {c.what for c in drink.changes}
        assert question.about not in {q.about for q in after.asks_about(at)}
        assert drink.count == was.count * many
        assert not lost & {What.DIRTY, What.DRY, What.EXTRA_DRY, What.TALL, What.SHORT, What.NO_ICE}
        assert not lost & SIZED or (
            question.about == "size" and choice in ("single", "two", "three")
        )
        assert len(after.drinks) == len(before.drinks)
        if What.VIRGIN in {c.what for c in was.changes}:
            assert drink.spec.alcohol_free
        if was.recipe and question.about in ("size", "garnish"):
            assert drink.recipe == was.recipe
    assert tried > 60


@pytest.mark.parametrize(
    ("call", "choice", "said"),
    [
        ("double manhattan", "single", "manhattan"),
        ("double manhattan", "two", "two manhattan"),
        ("two double manhattans", "two", "four manhattans"),
        ("triple margarita", "three", "three margarita"),
        ("double old fashioned", "two", "two old fashioned"),
    ],
)
def test_of_a_mixed_drink_a_double_is_one_or_two(call, choice, said):
    assert answer(call, "size", choice) == said
    assert read(said).status is Status.READY


def test_what_no_drink_of_the_choices_can_be_is_handed_back_at_once():
    reading = read("a double beer")

    assert (reading.unplaced, [q.about for q in reading.ask]) == (("double",), ["drink"])
