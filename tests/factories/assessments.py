"""What hires have shown, through the real verbs. `NOW` is the moment at which everything happens
unless said; the house opened two days before."""

from __future__ import annotations

import datetime as dt
from collections.abc import Callable
from typing import Any

from assessments import checklist, record
from assessments.measures.marking import HelpLevel
from assessments.measures.quiz import ASK, Given, ItemAsked, ItemKind
from assessments.models import Item, Quiz, SignOff, WatchedBuild
from barcourse.people.models import Membership
from recipes.menu import Menu, menu_at
from recipes.models import Module
from tests.factories.people import OPENED
from tests.factories.recipes import change_rules
from tests.grammar import kitchen
from tests.replay_factories import replayed

NOW = OPENED + dt.timedelta(days=2)
LATER = NOW + dt.timedelta(hours=1)
GATE = "service-and-safety"
SEED = 20260307

Answering = Callable[[ItemAsked], Given]


def right(item: ItemAsked) -> Given:
    return item.right_answer


def wrong(item: ItemAsked) -> Given:
    """The first choice that isn't right; of a build everything wrong, of an order the reverse."""
    if item.kind is ItemKind.BUILD:
        return tuple(0 if part.right else 1 for part in item.parts)
    if item.kind is ItemKind.ORDER:
        return item.rights[::-1]
    if item.kind is ItemKind.SEVERAL:
        return (0,) if item.rights != (0,) else (1,)
    return 0 if item.right else 1


def ask(item: ItemAsked) -> Given:
    return ASK


def sent(item: ItemAsked, given: Given) -> dict[str, Any]:
    """The fields by which the page sends this answer."""
    if isinstance(given, int):
        return {"choice": str(given)}
    if item.kind is ItemKind.SEVERAL:
        return {"choice": [str(n) for n in given]}
    if item.kind is ItemKind.ORDER:
        return {f"place-{choice}": str(n) for n, choice in enumerate(given, start=1)}
    return {f"part-{n}": str(g) for n, g in enumerate(given)}


def menu_of(member: Membership, at: dt.datetime = NOW) -> Menu:
    return menu_at(member.venue, at)


def module_of(member: Membership, slug: str = "highballs") -> Module:
    return Module.objects.in_house(member.venue).get(slug=slug)


def start_quiz(
    hire: Membership, module: str = "highballs", *, seed: int = SEED, at: dt.datetime = NOW
) -> Quiz:
    return record.start_quiz(
        by=hire, menu=menu_of(hire, at), module=module_of(hire, module), seed=seed, at=at
    )


def asked_of(item: Item) -> ItemAsked:
    return ItemAsked.from_json(item.asked)


def is_one_choice(item: Item) -> bool:
    return isinstance(right(asked_of(item)), int)


def start_at_one_choice(hire: Membership) -> Item:
    """A quiz answered up to the first question that takes one choice: that question."""
    quiz = start_quiz(hire)
    items = list(quiz.items.order_by("position").select_related("quiz"))
    first = next(n for n, item in enumerate(items) if is_one_choice(item))
    answer(quiz, most=first)
    return items[first]


def answer(
    quiz: Quiz, answering: Answering = right, *, at: dt.datetime = NOW, most: int = 999
) -> Quiz:
    """Answer what is left of a quiz, `most` items at the most."""
    for item in quiz.items.filter(answer__isnull=True)[:most]:
        record.answer_item(by=quiz.hire, item=item, choice=answering(asked_of(item)), at=at)
    quiz.refresh_from_db()
    return quiz


@replayed
def take_quiz(
    hire: Membership,
    module: str = "highballs",
    answering: Answering = right,
    *,
    seed: int = SEED,
    at: dt.datetime = NOW,
) -> Quiz:
    return answer(start_quiz(hire, module, seed=seed, at=at), answering, at=at)


def read(hire: Membership, module: str = "highballs", at: dt.datetime = NOW) -> None:
    record.mark_read(by=hire, module=module_of(hire, module), at=at)


def turn_card(hire: Membership, slug: str, *, at: dt.datetime = NOW, **said: Any) -> None:
    menu = menu_of(hire, at)
    said = {"missed": (), **said}
    record.mark_card(by=hire, menu=menu, item=menu.by_slug[slug], at=at, **said)


@replayed
def watch(
    trainer: Membership,
    hire: Membership,
    slug: str = "madras",
    *,
    at: dt.datetime = NOW,
    **said: Any,
) -> WatchedBuild:
    """A watched build; unprompted and without a fault unless said."""
    menu = menu_of(trainer, at)
    said = {"off": (), "help_level": HelpLevel.UNPROMPTED, **said}
    return record.watch_build(
        by=trainer, hire=hire, menu=menu, item=menu.by_slug[slug], at=at, **said
    )


@replayed
def sign_off(
    trainer: Membership,
    hire: Membership,
    slug: str = "madras",
    *,
    at: dt.datetime = NOW,
    **said: Any,
) -> SignOff:
    watched = watch(trainer, hire, slug, at=at, **said)
    return record.sign_off(by=trainer, watched=watched, at=at)


def steps_of(member: Membership, slug: str) -> list[str]:
    """Keys of the checklist."""
    menu = menu_of(member)
    return [s.key for s in checklist.steps_of(menu.by_slug[slug].drink, menu.pantry)]


def lemon_in_tonic(by: Membership, at: dt.datetime = LATER) -> None:
    """New house rules: tonic takes a lemon, no longer a lime."""
    garnish = [rule.model_dump() for rule in kitchen.RULES.garnish]
    garnish[0]["garnish"] = ({"item": "lemon"},)
    change_rules(by, garnish=garnish, at=at)
