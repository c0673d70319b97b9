"""A back is a step of the build: a glass of its own beside the drink, and no part of it."""

from dataclasses import replace

import pytest

from recipes.grammar import calls
from recipes.grammar.aspects import aspect_fingerprints
from recipes.grammar.calls import About, Status
from recipes.grammar.calls.answering import answered, phrases
from recipes.grammar.drawing import draw
from recipes.grammar.seen import seen
from recipes.grammar.spec import Ice
from recipes.grammar.steps import build_steps
from recipes.grammar.strength import strength
from tests.grammar.called import book

US = book("us-classic")


def read(text):
    return calls.read(text, US)


def backs(drink):
    return [(b.glass, [p.ingredient for p in b.parts]) for b in drink.spec.beside]


@pytest.mark.parametrize(
    ("call", "glass", "item"),
    [
        ("whiskey neat with water back", "rocks", "water"),
        ("whiskey neat, water back", "rocks", "water"),
        ("whiskey neat with a back of water", "rocks", "water"),
        ("two whiskeys neat with a cola chaser", "rocks", "cola"),
        ("tequila shot with a lager back", "half-pint", "lager"),
        ("tequila shot with a ginger back", "rocks", "ginger-ale"),
        ("tequila shot with a gin back", "shot", "gin"),
    ],
)
def test_a_back_stands_beside_the_drink(call, glass, item):
    reading = read(call)
    [drink] = reading.drinks

    assert reading.status is Status.READY
    assert backs(drink) == [(glass, [item])]
    assert drink.spec.beside[0].ice is Ice.NONE
    assert item not in {p.ingredient for p in drink.spec.parts}


def test_it_is_a_step_before_the_drink_is_served():
    [drink] = read("whiskey neat with water back").drinks
    plain = build_steps(replace(drink.spec, beside=()), US.pantry)
    steps = build_steps(drink.spec, US.pantry)

    [more] = [s for s in steps if s not in plain]
    assert (more.key, more.does.code, more.fails) == ("back:water", "do_back", False)
    assert dict(more.does.params) == {"item": "still water", "glass": "rocks"}
    assert steps.index(more) == len(steps) - 2


def test_it_is_drawn_and_told_and_changes_nothing_else():
    [drink] = read("whiskey neat with water back").drinks
    plain = replace(drink.spec, beside=())

    [told] = [r for r in seen(drink.spec, US.pantry) if r not in seen(plain, US.pantry)]
    assert (told.code, dict(told.params)) == ("seen_back", {"glass": "rocks", "items": "water"})
    assert 'data-back="1"' in draw(drink.spec, US.pantry, title="a whiskey and a water")
    assert strength(drink.spec, US.pantry) == strength(plain, US.pantry)
    was, now = aspect_fingerprints(plain), aspect_fingerprints(drink.spec)
    assert [a.value for a in was if was[a] != now[a]] == ["finish"]


@pytest.mark.parametrize(
    ("call", "choices"),
    [
        ("whiskey neat with a back", ("water", "club-soda", "cola", "ginger-ale", "lager")),
        ("tequila shot with a beer back",
         ("lager", "light-lager", "pale-ale", "wheat-beer", "nitro-stout", "hard-seltzer")),
    ],
)  # fmt: skip
def test_what_stands_beside_it_is_asked_and_every_answer_leads_on(call, choices):
    before = read(call)
    [asked] = before.ask

    assert (asked.about, asked.choices) == (About.MIXER, choices)
    for choice in choices:
        said = phrases(asked, choice, US.pantry[choice].name)
        after = read(answered(before, asked, choice, said, read))
        assert after.status is Status.READY
        assert [items for _, items in backs(after.drinks[0])] == [[choice]]
        assert after.drinks[0].recipe == before.drinks[0].recipe


@pytest.mark.parametrize("call", ["whiskey neat with a whiskey sour back", "gin tonic, lime back"])
def test_what_is_mixed_or_cut_is_no_back(call):
    reading = read(call)

    assert reading.status is not Status.READY
    assert "back" in reading.unplaced
