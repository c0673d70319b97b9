"""A changed drink says what it was and what it is; what nobody changed is not told as changed."""

from __future__ import annotations

import datetime as dt

import pytest

from assessments import record, record_shift
from assessments.due_cards import due_cards
from assessments.measures.shift_plan import Why
from assessments.reads import modules_of, planned
from recipes.menu import menu_at
from tests.assessments.pages import address, text
from tests.factories import assessments as make
from tests.factories import calls
from tests.factories.assessments import LATER, NOW
from tests.factories.recipes import change_rules, revise
from tests.grammar import kitchen


def due(hire, at=LATER):
    """By drink: why its card is due, in its words, and what is said of the change."""
    menu = menu_at(hire.venue, at)
    starts = at + dt.timedelta(hours=8)
    record_shift.say_next_shift(by=hire, hire=hire, starts_at=starts, minutes=60, at=at)
    now = planned(hire, menu, at, modules_of(hire, menu))
    cards = now.plan.cards
    told = due_cards(menu, cards, now.known)
    return {c.drink: (c.why, t.why, t.rules + t.changes) for c, t in zip(cards, told, strict=True)}


HOUR = dt.timedelta(hours=1)
LIME = [rule.model_dump() for rule in kitchen.RULES.garnish]


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


def test_what_was_taken_back_says_so_to_whoever_was_taught_it_meanwhile(
    visit, tamsin, turned, time_machine
):
    """On Next shift and on the card, from what to what; the old memory alone says nothing."""
    make.lemon_in_tonic(tamsin, at=LATER)
    make.turn_card(turned, "gin-tonic", at=LATER + HOUR)
    change_rules(tamsin, garnish=LIME, at=LATER + 2 * HOUR)
    at = LATER + 3 * HOUR

    why, said, [change] = due(turned, at)["gin-tonic"]
    assert (why, said) == (Why.BACK, "Gin tonic is as it was before: the finish.")
    assert change.startswith("House rule, as before. Finish: for a while “lemon")
    assert "now again “lime" in change

    time_machine.move_to(at, tick=False)
    browser = visit(turned)
    assert change in text(browser.get(address(turned, "next_shift")))
    card = text(browser.get(address(turned, "shift_cards")))
    assert said in card
    assert change in card
    assert "Finish, changed" in card


def test_whoever_never_met_the_change_hears_nothing_of_it(tamsin, turned):
    make.lemon_in_tonic(tamsin, at=LATER)
    change_rules(tamsin, garnish=LIME, at=LATER + 2 * HOUR)

    assert "gin-tonic" not in due(turned, LATER + 3 * HOUR)


@pytest.mark.parametrize("shown", ["quiz", "build", "call", "cards"])
def test_a_change_is_told_until_it_was_shown(tamsin, turned, shown):
    """One turn of a card that they mark themselves is not enough."""
    revise(tamsin, "madras", glass="pint", at=LATER)
    once = LATER + HOUR
    make.turn_card(turned, "madras", at=once)
    assert due(turned, once + HOUR)["madras"][0] is Why.CHANGED

    match shown:
        case "cards":
            make.turn_card(turned, "madras", at=once + HOUR)
        case "build":
            make.watch(tamsin, turned, "madras", at=once + HOUR)
        case "call":
            calls.call_plain(turned, "madras", once + HOUR)
        case "quiz":
            for seed in range(6):
                make.take_quiz(turned, seed=seed, at=once + HOUR)

    assert "madras" not in due(turned, once + 2 * HOUR)


def test_a_garnish_that_is_no_more_is_told_and_can_be_missed(visit, tamsin, turned, time_machine):
    revise(tamsin, "madras", garnish=[{"item": "cherry"}], at=LATER)
    make.turn_card(turned, "madras", at=LATER + HOUR)
    revise(tamsin, "madras", garnish=None, at=LATER + 2 * HOUR)
    at = LATER + 3 * HOUR

    why, said, _changes = due(turned, at)["madras"]
    assert (why, said) == (Why.BACK, "Madras is as it was before: the finish.")
    time_machine.move_to(at, tick=False)
    card = visit(turned).get(address(turned, "shift_cards"))
    assert 'name="missed" value="finish"' in card.content.decode()


def test_a_rule_is_said_once_with_the_drinks_that_go_by_it(visit, tamsin, turned, time_machine):
    bigger_pours(tamsin)
    time_machine.move_to(LATER, tick=False)

    shift = text(visit(turned).get(address(turned, "next_shift")))

    assert shift.count("House rule. Pours: it was") == 1
    assert "It goes for" in shift
    assert " more." in shift


def test_why_nothing_is_due_stands_in_the_first_ticket(visit, tamsin, turned, time_machine):
    for item in make.menu_of(turned).of_module(make.module_of(turned)):
        make.turn_card(turned, item.drink.slug, at=LATER - HOUR)
    revise(tamsin, "madras", glass="pint", at=LATER)
    make.turn_card(turned, "madras", at=LATER)
    time_machine.move_to(LATER + dt.timedelta(minutes=1), tick=False)

    page = visit(turned).get(address(turned, "next_shift")).content.decode()

    first = page[page.index('class="ticket"') :].split("</article>")[0]
    assert "comes once more in about ten minutes" in first
    assert "drinks rest" in first
