"""Try-outs: calls first, then quiz items, the next one by what was answered; and what they show."""

from __future__ import annotations

import datetime as dt
from random import Random

from assessments import quiz_steps
from assessments.measures import tryout
from assessments.measures.quiz import ItemAsked, ItemKind, shows
from assessments.measures.quiz.blueprint import Slot, is_critical
from assessments.measures.quiz.choices import can_ask, neighbours
from assessments.measures.quiz.one import drink_item
from assessments.measures.tryout_calls import CALLS_FIRST, called
from assessments.models import Answer, Quiz, TryOut
from assessments.record_calls import bar_of
from assessments.sales import as_sold
from barcourse.people.models import Membership
from recipes.grammar.drink import Drink
from recipes.menu import Menu, menu_at

WAYS = (ItemKind.BUILD, ItemKind.WHOLE, ItemKind.NAME_IT)
"""A build shows each topic by itself, so it comes first."""


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
    asked = list(quiz.items.values_list("recipe__slug", flat=True))
    shown, drinks = known(quiz), list(menu.drinks)
    while drink := tryout.next_drink(drinks, shown, asked):
        if question := _question(quiz, drink, menu, len(asked) + 1):
            quiz_steps.item_row(quiz, len(asked) + 1, question, menu).save()
            return True
        drinks.remove(drink)
    return False


def known(quiz: Quiz) -> dict[str, bool]:
    """What the answers so far showed of each topic; what time took away shows nothing."""
    found: dict[str, bool] = {}
    rows = Answer.objects.filter(item__quiz=quiz).in_time().select_related("item")
    for row in rows.order_by("item__position"):
        found |= shows(ItemAsked.from_json(row.item.asked), row.given)
    return found


def credit_of(row: TryOut, menu: Menu) -> tryout.Credit | None:
    """What a try-out that is over showed of today's menu; None before."""
    if row.quiz is None or row.quiz.finished_at is None:
        return None
    return tryout.credit(menu.drinks, known(row.quiz))


def _way(drink: Drink, menu: Menu) -> ItemKind | None:
    near = neighbours(drink, menu.drinks)
    return next((kind for kind in WAYS if can_ask(drink, kind, None, near)), None)


def _question(quiz: Quiz, drink: Drink, menu: Menu, position: int) -> ItemAsked | None:
    """A call, later a quiz item; none where nothing about the drink can be asked."""
    random = Random(f"{quiz.seed} {position}")  # noqa: S311 - repeatable, not secret
    if not (kind := _way(drink, menu)):
        return None
    slot = Slot(kind, None, is_critical(drink))
    item = drink_item(drink, slot, neighbours(drink, menu.drinks), menu.rules.doubles, random)
    if kind is ItemKind.BUILD and position <= CALLS_FIRST:
        return called(item, drink, bar_of(menu), random)
    return item
