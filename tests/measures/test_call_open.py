"""A call that leaves open which drink it is shows nothing but what every such drink has."""

from functools import cache

import pytest

from assessments.measures.call_build import PIECES, Build, same
from assessments.measures.call_marking import LATER, DrinkAsked, DrinkGiven, mark_drink
from assessments.measures.call_parts import IDENTITY, Piece
from assessments.measures.call_writing import CallKind, call_of, write_calls
from recipes.grammar.calls import About, over_the_bar
from recipes.grammar.calls.reading import IDENTITY as WHICH_DRINK
from tests.measures.test_call_writing import bar

PRESETS = ("us-classic", "great-britain", "europe")
FAMILIES = {
    "martini": ("gin-martini", "vodka-martini"),
    "collins": ("tom-collins", "vodka-collins"),
    "rickey": ("gin-rickey", "vodka-rickey"),
}
"""Words of the trade after which one asks for the base, with the drinks of the menu they mean."""


@cache
def left_open(preset):
    """Whatever can be called here that leaves a question of what it is, a round among them."""
    here = bar(preset)
    words = [f"a {w} please" for w in over_the_bar.Bar(here.book, here.mix).open_words]
    said = [*words, "vodka and juice", "a double collins", "a gin tonic and a martini"]
    made = [call_of(text, here) for text in said]
    made += [c for seed in range(5) for c in write_calls(CallKind.RUSH, here, seed)]
    return [(c.text, d) for c in made for d in c.drinks if WHICH_DRINK & set(d.ask)]


def chosen(drink, piece):
    [part] = [p for p in drink.parts if p.piece is piece]
    return [part.options[n] for n in part.right], part


def fits(piece, one, other):
    return len(one) == len(other) and all(any(same(piece, a, b) for b in other) for a in one)


def known(drink):
    return {part.piece for part in drink.parts if not drink.opened_by(part)}


@pytest.mark.parametrize("preset", PRESETS)
@pytest.mark.parametrize("word", FAMILIES)
def test_what_every_drink_of_that_name_has_is_right_and_what_they_differ_in_is_open(preset, word):
    here = bar(preset)
    builds = [Build(d.spec, here.pantry, d.slug) for d in here.drinks if d.slug in FAMILIES[word]]
    assert len(builds) == len(FAMILIES[word])
    [drink] = call_of(f"a {word} please", here).drinks

    for piece in PIECES:
        right, part = chosen(drink, piece)
        in_all = all(fits(piece, right, b.of(piece)) for b in builds)
        assert in_all or drink.opened_by(part), (word, piece, right)
    assert {Piece.GLASS, Piece.ICE, Piece.HOW, Piece.MIXERS} <= known(drink)


@pytest.mark.parametrize("preset", PRESETS)
def test_a_martini_is_no_gin_and_tonic(preset):
    [drink] = call_of("a martini please", bar(preset)).drinks

    assert [o["glass"] for o in chosen(drink, Piece.GLASS)[0]] == ["martini"]
    assert chosen(drink, Piece.ICE)[0] == [{"ice": "none"}]
    assert [o["method"] for o in chosen(drink, Piece.HOW)[0]] == ["stir"]
    assert chosen(drink, Piece.MIXERS)[0] == []
    assert known(drink) == {Piece.GLASS, Piece.ICE, Piece.HOW, Piece.MIXERS}


@pytest.mark.parametrize("preset", PRESETS)
def test_a_rickey_of_whatever_is_filled_up_with_soda(preset):
    """With no base yet, soda is its only liquid, and nobody pours a rickey of it."""
    [drink] = call_of("a rickey", bar(preset)).drinks

    assert chosen(drink, Piece.MIXERS)[0] == [{"ingredient": "club-soda"}]
    assert known(drink) == set(PIECES) - {Piece.POURS}


@pytest.mark.parametrize("preset", PRESETS)
def test_what_goes_in_is_open_and_a_drink_that_may_be_any_has_nothing_known(preset):
    found = left_open(preset)
    assert len({text for text, _ in found}) > 8

    for text, drink in found:
        if About.DRINK in drink.ask:
            assert known(drink) == set(), text
        identity = {p.piece for p in drink.parts if p.piece in IDENTITY and drink.opened_by(p)}
        assert identity, (text, "what goes in can't be known")


@pytest.mark.parametrize("preset", PRESETS)
def test_once_asked_whatever_is_chosen_of_what_is_open_is_right_and_shows_nothing(preset):
    for text, drink in left_open(preset):
        waits = [LATER if drink.opened_by(p) else p.right for p in drink.parts]
        any_other = [
            frozenset({len(p.options) - 1}) if drink.opened_by(p) else p.right for p in drink.parts
        ]
        ask = frozenset(drink.ask)
        for parts in (waits, any_other):
            marked = mark_drink(drink, DrinkGiven(tuple(parts), ask, drink.count))
            assert marked.came == "right", text
            open_topics = {t for p in drink.parts if drink.opened_by(p) for t in p.topics}
            told = {t for p in drink.parts if not drink.opened_by(p) for t in p.topics}
            assert not open_topics & set(marked.shows) - told


def test_a_guess_at_what_is_open_is_wrong_but_no_other_drink():
    [drink] = call_of("a martini", bar()).drinks

    for one in range(3):
        parts = [p.right for p in drink.parts]
        at = [p.piece for p in drink.parts].index(Piece.POURS)
        parts[at] = frozenset({one})
        marked = mark_drink(drink, DrinkGiven(tuple(parts), frozenset(), 1))
        assert (marked.came, marked.mixed_up_with) == ("wrong", None)


def test_olive_or_twist_may_be_asked_with_gin_or_vodka_and_need_not():
    [drink] = call_of("a martini", bar()).drinks
    parts = tuple(LATER if drink.opened_by(p) else p.right for p in drink.parts)

    for ask in ({About.BASE}, {About.BASE, About.GARNISH}):
        assert mark_drink(drink, DrinkGiven(parts, frozenset(ask), 1)).came == "right"
    too_much = mark_drink(drink, DrinkGiven(parts, frozenset({About.BASE, About.SIZE}), 1))
    assert (too_much.came, too_much.asked_too_much) == ("ask", (About.SIZE,))
    not_asked = mark_drink(
        drink, DrinkGiven(tuple(p.right for p in drink.parts), frozenset({About.GARNISH}), 1)
    )
    assert not_asked.not_asked == (About.BASE,)


def test_a_call_from_before_is_read_back_as_it_was_marked():
    [drink] = call_of("a martini", bar()).drinks
    assert DrinkAsked.from_json(drink.to_json()) == drink
    older = {k: v for k, v in drink.to_json().items() if k not in ("varies", "may_ask")}

    assert known(DrinkAsked.from_json(older)) == set(PIECES) - {Piece.POURS}
