"""Filling the demo house. Everybody's answers come from a seed: it is the same everywhere."""

from __future__ import annotations

import datetime as dt
from random import Random

from django.db import transaction

from assessments import checklist, record
from assessments.measures.marking import HelpLevel
from assessments.measures.quiz import ASK, ItemAsked
from assessments.models import Quiz
from barcourse.demo.house import (
    COUNTRY,
    DAYS_OPEN,
    MENU,
    NAME,
    OWNER,
    PASSWORD,
    SLUG,
    STAFF,
    TIMEZONE,
    Hand,
    moment,
)
from barcourse.people import enrol
from barcourse.people.models import Membership, Venue
from barcourse.people.roles import Role
from recipes import publish
from recipes.grammar.aspects import Aspect
from recipes.menu import Menu, MenuDrink, menu_at
from recipes.models import Module


def demo_house() -> Venue | None:
    return Venue.objects.filter(slug=SLUG).first()


@transaction.atomic
def seed(now: dt.datetime) -> Venue:
    """The demo house with its people and what they have shown; as it is where it exists."""
    house = demo_house()
    if house is not None:
        return house
    owner = _open(now)
    people = {hand: _hire(owner, hand, now) for hand in STAFF}
    trainer = next(m for m in people.values() if m.role == Role.TRAINER)
    _shorten_menu(trainer, now)
    for hand, member in people.items():
        if member.role == Role.TRAINEE:
            _learn(hand, member, trainer, now)
    return owner.venue


def _open(now: dt.datetime) -> Membership:
    return enrol.open_house(
        name=NAME,
        owner_name=OWNER.name,
        sign_in=OWNER.sign_in,
        password=PASSWORD,
        country=COUNTRY,
        timezone=TIMEZONE,
        at=moment(now, OWNER.days),
    )


def _hire(owner: Membership, hand: Hand, now: dt.datetime) -> Membership:
    at = moment(now, hand.days)
    [(_invitation, token)] = enrol.invite(by=owner, names=[(hand.name, hand.role)], at=at)
    return enrol.join(token=token, sign_in=hand.sign_in, password=PASSWORD, at=at)


def _shorten_menu(trainer: Membership, now: dt.datetime) -> None:
    """The shipped course is longer than any one bar's menu: keep what sells most."""
    at = moment(now, DAYS_OPEN)
    by_sales = sorted(menu_at(trainer.venue, at).items, key=lambda i: -i.drink.share)
    rest = [i for i in by_sales if not i.recipe.must_know]
    must = len(by_sales) - len(rest)
    publish.set_menu(
        by=trainer,
        standing={i.drink.slug: publish.OnMenu.OFF for i in rest[MENU - must :]},
        at=at,
    )


def _learn(hand: Hand, member: Membership, trainer: Membership, now: dt.datetime) -> None:
    """Everything one hire has done, day by day, up to a few hours ago."""
    random = Random(hand.sign_in)  # noqa: S311 - invented answers, to be the same each time
    menu = menu_at(member.venue, now)
    modules = list(Module.objects.in_house(member.venue))
    for module in modules:
        drinks = menu.of_module(module)
        rounds = hand.quizzes if drinks else int(hand.safety)
        for number in range(rounds):
            at = moment(now, hand.days * (1 - (number + 1) / (rounds + 1)))
            knows = hand.knows if drinks else 1.0
            _take_quiz(member, menu, module, random, knows, at)
    _look_at_cards(member, menu, random, hand, now)
    _watch(hand, member, trainer, menu, random, now)


def _take_quiz(
    member: Membership, menu: Menu, module: Module, random: Random, knows: float, at: dt.datetime
) -> Quiz:
    quiz = record.start_quiz(
        by=member, menu=menu, module=module, seed=random.randrange(2**31), at=at
    )
    for number, item in enumerate(quiz.items.all()):
        asked = ItemAsked.from_json(item.asked)
        record.answer_item(
            by=member,
            item=item,
            choice=_answer(asked, random, knows),
            at=at + dt.timedelta(seconds=9 * number),
            milliseconds=random.randrange(2500, 9000),
        )
    return quiz


def _answer(asked: ItemAsked, random: Random, knows: float) -> int:
    """Right as often as they know it; else they would ask about half of the time."""
    if random.random() < knows:
        return asked.right
    return ASK if random.random() < 0.5 else random.randrange(len(asked.choices))


def _look_at_cards(
    member: Membership, menu: Menu, random: Random, hand: Hand, now: dt.datetime
) -> None:
    for item in menu.must_knows()[: 3 * hand.quizzes]:
        missed = [a for a in Aspect if random.random() > 0.5 + hand.knows / 2]
        at = moment(now, hand.days * random.random())
        record.mark_card(by=member, menu=menu, item=item, missed=missed, at=at)


def _watch(
    hand: Hand,
    member: Membership,
    trainer: Membership,
    menu: Menu,
    random: Random,
    now: dt.datetime,
) -> None:
    must = list(menu.must_knows())
    for number, item in enumerate(must[: round(hand.signed * len(must))]):
        at = moment(now, 0.2 + hand.days * 0.5 * (1 - number / len(must)))
        while not _watch_once(hand, member, trainer, menu, item, random, at):
            at += dt.timedelta(minutes=20)


def _watch_once(
    hand: Hand,
    member: Membership,
    trainer: Membership,
    menu: Menu,
    item: MenuDrink,
    random: Random,
    at: dt.datetime,
) -> bool:
    """One build, signed off where it passed."""
    steps = checklist.steps_of(item.drink, menu.pantry)
    slip = random.random() > hand.knows
    off = [random.choice(steps).key] if slip else []
    build = record.watch_build(
        by=trainer,
        hire=member,
        menu=menu,
        item=item,
        off=off,
        help_level=HelpLevel.UNPROMPTED,
        seconds=random.randrange(22, 70),
        at=at,
    )
    if build.passed:
        record.sign_off(by=trainer, watched=build, at=at + dt.timedelta(minutes=1))
    return build.passed
