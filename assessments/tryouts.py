"""Try-outs: calls first, then quiz items, the next one by what was answered; and what they show."""

from __future__ import annotations

import datetime as dt
from random import Random

from assessments import quiz_steps
from assessments.measures import tryout
from assessments.measures.quiz import ItemAsked, ItemKind, shows
from assessments.measures.quiz.blueprint import Line, Slot, is_critical
from assessments.measures.quiz.choices import can_ask, neighbours
from assessments.measures.quiz.one import drink_item
from assessments.measures.quiz.parts_of_it import sizes_asked
from assessments.measures.tryout_calls import CALLS_FIRST, called
from assessments.models import Answer, Quiz
from assessments.models.quiz import AnswerQuerySet
from assessments.record_calls import bar_of
from assessments.sales import as_sold
from barcourse.people.models import Membership
from recipes.grammar.drink import Drink
from recipes.menu import Menu, menu_at

WAYS = (ItemKind.BUILD, ItemKind.WHOLE, ItemKind.NAME_IT)
"""How all of a drink is asked. A build shows each topic by itself, so it comes first as a call; the
quiz items after the calls take turns by chance."""


def begin(by: Membership, menu: Menu, name: str, seed: int, at: dt.datetime) -> Quiz:
    """A quiz without a question yet, unsaved."""
    return Quiz(
        venue=by.venue, hire=by, name=name, rules_version=menu.rules_version, seed=seed,
        plan={"try_out": True}, pass_mark=by.venue.pass_mark, started_at=at,
        ends_at=at + dt.timedelta(minutes=tryout.MINUTES),
    )  # fmt: skip


def is_try_out(quiz: Quiz) -> bool:
    return bool(quiz.plan.get("try_out"))


def go_on(quiz: Quiz, at: dt.datetime) -> bool:
    """Whether a try-out has one more question, which is then written."""
    if not is_try_out(quiz):
        return False
    menu = as_sold(menu_at(quiz.venue, at))
    kinds = list(quiz.items.values_list("kind", "recipe__slug"))
    position, shown = len(kinds) + 1, known(quiz)
    random = Random(f"{quiz.seed} {position}")  # noqa: S311 - repeatable, not secret
    calls_done = position > CALLS_FIRST
    asked = [slug for kind, slug in kinds if kind != ItemKind.AMOUNT]
    question = (calls_done and _pour_size(menu, shown, random)) or (
        _next(menu, shown, asked, position, random) or _pour_size(menu, shown, random)
    )
    if question:
        quiz_steps.item_row(quiz, position, question, menu).save()
    return bool(question)


def _next(
    menu: Menu, shown: tryout.Known, asked: list[str], position: int, random: Random
) -> ItemAsked | None:
    drinks = list(menu.drinks)
    while drink := tryout.next_drink(drinks, shown, asked, random):
        if question := _question(drink, menu, shown, position, random):
            return question
        drinks.remove(drink)
    return None


def _pour_size(menu: Menu, shown: tryout.Known, random: Random) -> ItemAsked | None:
    """How much a house pour is, of a kind that nobody has been asked about yet."""
    found = tryout.next_pour(menu.drinks, shown, lambda drink: sizes_asked(drink, menu.pantry))
    if found is None:
        return None
    drink, size = found
    slot = Slot(ItemKind.AMOUNT, None, is_critical(drink))
    return drink_item(drink, slot, neighbours(drink, menu.drinks), None, random, size)


def known(quiz: Quiz) -> dict[str, bool]:
    """What the answers so far showed of each topic; what time took away shows nothing."""
    return _shown_by(Answer.objects.filter(item__quiz=quiz))


def shown_modules(hire: Membership, menu: Menu) -> frozenset[str]:
    """Slugs of the modules that somebody's try-outs which are over have shown; of a topic asked in
    two of them the later answer counts."""
    shown = _shown_by(Answer.objects.of(hire).in_try_outs())
    return tryout.shown_modules(menu.drinks, shown, hire.venue.pass_mark) if shown else frozenset()


def _shown_by(answers: AnswerQuerySet) -> dict[str, bool]:
    found: dict[str, bool] = {}
    rows = answers.in_time().select_related("item")
    for row in rows.order_by("item__quiz_id", "item__position"):
        found |= shows(ItemAsked.from_json(row.item.asked), row.given)
    return found


def _question(
    drink: Drink, menu: Menu, shown: tryout.Known, position: int, random: Random
) -> ItemAsked | None:
    """A call, later a quiz item; none where nothing about the drink can be asked."""
    near, is_call = neighbours(drink, menu.drinks), position <= CALLS_FIRST
    lines = _ways() if is_call else _lines(drink, shown, random)
    line = next((x for x in lines if can_ask(drink, *x, near)), None)
    if line is None:
        return None
    slot = Slot(*line, is_critical(drink))
    item = drink_item(drink, slot, near, None, random)
    if is_call and slot.kind is ItemKind.BUILD:
        return called(item, drink, bar_of(menu), random)
    return item


def _lines(drink: Drink, shown: tryout.Known, random: Random) -> list[Line]:
    """The one aspect alone that other answers have left open, else all of the drink."""
    still = tryout.open_aspects(drink, shown)
    alone: list[Line] = [(ItemKind.ASPECT, a) for a in still] if len(still) == 1 else []
    return alone + random.sample(_ways(), len(WAYS))


def _ways() -> list[Line]:
    return [(kind, None) for kind in WAYS]
