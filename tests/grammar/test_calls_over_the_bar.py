"""Calls as the guests of one bar make them: nothing that nobody would order."""

import random
from collections import Counter
from functools import cache

import pytest

from recipes.grammar.calls import What, read
from recipes.grammar.calls.bar_talk import many
from recipes.grammar.calls.over_the_bar import Bar, call_over_the_bar
from recipes.grammar.calls.suits import CARRIED, is_one_pour_and_top, suits
from recipes.grammar.rules import Family
from recipes.grammar.spec import Ice, Method, When
from tests.grammar.called import PRESETS, book, smaller_book

HOUSES = sorted(PRESETS)
EACH = 200


@cache
def bar(house):
    return Bar(book(PRESETS[house]))


@cache
def said(house, drinks=1):
    rng = random.Random(20260308)
    return [call_over_the_bar(bar(house), rng, drinks) for _ in range(EACH // drinks)]


def called(house):
    for call in (*said(house), *said(house, 3)):
        for at, drink in enumerate(call.drinks):
            yield call, drink, [q for q in call.ask if q.drink == at]


SUITS = {
    What.DOUBLE: is_one_pour_and_top,
    What.TALL: is_one_pour_and_top,
    What.SHORT: is_one_pour_and_top,
    What.NO_ICE: lambda words, spec: spec.ice is Ice.FULL and spec.method is Method.BUILD,
    What.LIGHT_ICE: lambda words, spec: spec.ice is Ice.FULL and spec.method is Method.BUILD,
    What.NO_RIM: lambda words, spec: spec.rim is not None,
    What.NO_STRAW: lambda words, spec: spec.straw,
    What.NO_GARNISH: lambda words, spec: bool(spec.garnish),
    What.EXTRA: lambda words, spec: [g.when for g in spec.garnish] == [When.ALWAYS],
    What.WITH: lambda words, spec: bool(spec.garnish),
    What.SPLASH: lambda words, spec: [m.ingredient for m in spec.mixers] == ["club-soda"],
}
"""Every change that may come, with what the drink must be as the house serves it unasked."""


@pytest.mark.parametrize("house", HOUSES)
def test_only_what_is_sold_or_a_usual_pair_is_called_and_only_changes_that_suit_it(house):
    words = bar(house).book
    bases, mixers = bar(house).usual
    for call, drink, asks in called(house):
        if drink.recipe is None and not any(q.about.value in _WHAT for q in asks):
            poured, *topped = [p.ingredient for p in drink.spec.parts]
            assert poured in bases, call.text
            assert len(topped) == 1, call.text
            assert topped[0] in mixers, call.text
        if drink.recipe:
            spec = words.stock.drinks[drink.recipe].spec
            for change in drink.changes:
                if change.what not in CARRIED:
                    assert SUITS[change.what](words, spec), call.text


_WHAT = {"drink", "base", "style"}


@pytest.mark.parametrize("house", HOUSES)
def test_each_is_read_as_it_was_meant_without_a_guess(house):
    for call in (*said(house), *said(house, 3)):
        heard = read(call.text, bar(house).book)

        assert (heard.drinks, heard.ask) == (call.drinks, call.ask)
        assert (heard.read_as, heard.unplaced) == ((), ())


@pytest.mark.parametrize("house", HOUSES)
def test_about_a_quarter_leaves_open_what_is_wanted(house):
    """A British house asks about ice and a slice besides, where nobody said so. Of those
    that were to be open a few find nothing to leave open: of 1,200 calls of each house between 0.19
    and 0.23 were. Of so many as here a fifth is 0.20 give or take 0.085 (three standard
    deviations of a share), a quarter 0.25 give or take 0.09."""
    opened = sum(bool(call.ask) for call in said(house))

    assert 0.115 * EACH < opened < 0.36 * EACH


def test_a_round_has_so_many_different_drinks():
    for call in said("us", 3):
        assert len(call.drinks) == 3
        named = Counter(d.recipe for d in call.drinks if d.recipe)
        assert max(named.values(), default=1) == 1


def test_what_sells_is_what_is_called():
    rng = random.Random(1)
    mixed = Bar(bar("us").book, {"madras": 2.0, "gin-and-tonic": 1.0})
    drawn = Counter(
        d.recipe
        for _ in range(300)
        for d in call_over_the_bar(mixed, rng).drinks
        if d.recipe in ("madras", "gin-and-tonic")
    )

    assert set(mixed.sold) == {"madras", "gin-and-tonic"}
    assert 1.5 < drawn["madras"] / drawn["gin-and-tonic"] < 2.7


def test_same_seed_same_calls_and_hardly_one_twice():
    def some(seed):
        rng = random.Random(seed)
        return [call_over_the_bar(bar("us"), rng).text for _ in range(60)]

    assert some(7) == some(7) != some(8)
    assert len(set(some(7))) > 48


def test_no_salt_only_where_there_is_salt_and_no_ice_only_over_ice():
    words = bar("us").book

    def offered(slug):
        return {s.said for s in suits(words, slug, bar("us").usual[1])}

    assert "no salt" in offered("margarita")
    assert "no ice" in offered("gin-and-tonic")
    assert not {"no salt", "no ice"} & offered("draught-lager")
    assert offered("negroni") == offered("whiskey-shot") == set()
    assert "no ice" not in offered("tequila-sunrise")
    assert "double" not in offered("margarita")


def test_words_that_leave_it_open_name_drinks_that_are_sold():
    words = bar("us").open_words

    assert {"vodka", "beer", "martini", "breeze", "rickey"} <= set(words)
    assert not {"cake", "drop", "long", "glass", "bottle", "straight"} & set(words)
    assert all(
        words.stock.drinks[s].spec.family is not Family.SHOT
        for words in (bar("us").book,)
        for entry in words.entries
        if entry.phrase in bar("us").open_words
        for s in entry.recipes
    )


def test_a_house_that_sells_next_to_nothing_still_calls_it():
    every = set(book("us-classic").stock.drinks)
    one = Bar(smaller_book("us-classic", *sorted(every - {"bloody-mary"})))

    rng = random.Random(1)
    named = {call_over_the_bar(one, rng).drinks[0].recipe for _ in range(20)}

    assert named == {"bloody-mary", None}  # "a vodka, please"


@pytest.mark.parametrize(
    ("one", "two"),
    [
        ("glass of red wine", "glasses of red wine"),
        ("whiskey on the rocks", "whiskeys on the rocks"),
        ("vodka tonic", "vodka tonics"),
        ("bloody mary", "bloody marys"),
        ("whisky", "whiskies"),
        ("vodka energy", "vodka energy"),
        ("horse's neck", "horse's necks"),
    ],
)
def test_two_of_them_are_said_as_one_says_it(one, two):
    assert many(one) == two
