"""A changed drink says what it was and what it is; what nobody changed is not told as changed."""

from __future__ import annotations

import datetime as dt

import pytest

from assessments import record, record_shift
from assessments.due_cards import due_cards
from assessments.measures.shift_plan import Why
from assessments.reads import cards_due, modules_of
from recipes.menu import menu_at
from tests.assessments.pages import address, text
from tests.factories import assessments as make
from tests.factories.assessments import LATER, NOW
from tests.factories.recipes import change_rules, revise
from tests.grammar import kitchen


def due(hire, at=LATER):
    """By drink: why its card is due, in its words, and what is said of the change."""
    menu = menu_at(hire.venue, at)
    starts = at + dt.timedelta(hours=8)
    record_shift.say_next_shift(by=hire, hire=hire, starts_at=starts, minutes=60, at=at)
    cards = cards_due(hire, menu, at, modules_of(hire, menu))
    told = due_cards(hire, menu, cards)
    return {c.drink: (c.why, t.why, t.changes) for c, t in zip(cards, told, strict=True)}


def bigger_pours(by):
    pours = {kind.value: rule.model_dump() for kind, rule in kitchen.RULES.pours.items()}
    pours["spirit"] |= {"amount": 33, "unit": "ml"}
    change_rules(by, pours=pours, at=LATER)


@pytest.fixture
def turned(nils):
    """Nils knows all of two tonics and a madras, and has met nothing else."""
    make.read(nils)
    for slug in ("gin-tonic", "vodka-tonic", "madras"):
        make.turn_card(nils, slug)
    return nils


def test_a_changed_garnish_says_from_what_to_what(tamsin, turned):
    make.lemon_in_tonic(tamsin)
    [(why, said, [change])] = [
        told for drink, told in due(turned).items() if drink in ("gin-tonic", "vodka-tonic")
    ]  # one of the two: a look at either serves both
    assert why is Why.CHANGED
    assert said.endswith("tonic: the finish.")
    assert "lime" in change.split("now it is")[0]
    assert "lemon" in change.split("now it is")[1]


def test_a_changed_pour_says_how_much_it_was_and_is(tamsin, turned):
    """Be it on the card of a drink that is new to somebody: one look serves all that share it."""
    bigger_pours(tamsin)
    told = due(turned)
    [change] = {said for _why, _said, changes in told.values() for said in changes}
    assert "1 fl oz" in change.split("now it is")[0]
    assert "33 ml" in change.split("now it is")[1]


def test_a_changed_recipe_says_it_too(tamsin, turned):
    revise(tamsin, "madras", glass="pint", at=LATER)
    _, said, changes = due(turned)["madras"]
    assert said == "The house has changed Madras: the glass."
    [change] = changes
    assert "pint" in change.casefold().split("now it is")[1]


def test_what_nobody_changed_is_not_told_as_changed(tamsin, nils):
    """Of a madras one question was answered: its method was never asked."""
    make.read(nils)
    quiz = make.start_quiz(nils)
    item = quiz.items.filter(recipe__isnull=False, kind="aspect").first()
    asked = make.asked_of(item)
    record.answer_item(by=nils, item=item, choice=make.right(asked), at=NOW)
    revise(tamsin, asked.recipe, glass="pint", at=LATER)

    why, said, _changes = due(nils)[asked.recipe]
    assert why is Why.CHANGED
    assert said.endswith(": the glass.")


def test_the_card_teaches_the_change_and_how_much_a_pour_is(visit, tamsin, turned, time_machine):
    back = text(visit(turned).get(address(turned, "module_cards", module="highballs")))
    assert "one pour of" in back
    bigger_pours(tamsin)
    time_machine.move_to(LATER, tick=False)

    browser = visit(turned)
    shift = text(browser.get(address(turned, "next_shift")))
    assert "now it is “one pour of spirits is 33 ml" in shift
    card = text(browser.get(address(turned, "shift_cards")))
    assert "now it is “one pour of spirits is 33 ml" in card
