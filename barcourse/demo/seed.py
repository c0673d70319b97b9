"""Filling the demo house. Everybody's answers come from a seed: it is the same everywhere."""

from __future__ import annotations

import datetime as dt
from random import Random

from django.db import transaction

from barcourse.demo.bottles import fill_the_shelf
from barcourse.demo.diary import Diary
from barcourse.demo.evenings import plan_evenings
from barcourse.demo.hire import Hire
from barcourse.demo.house import (
    COUNTRY,
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
from barcourse.demo.practical import SHOWN, Hands
from barcourse.demo.prices import price_everything
from barcourse.demo.till import take_in_a_fortnight
from barcourse.people import enrol
from barcourse.people.models import Membership, Venue
from barcourse.people.roles import Role
from recipes import publish
from recipes.menu import menu_at

SALES_ARE_IN = 0.1
"""Days before today."""


def demo_house() -> Venue | None:
    return Venue.objects.filter(slug=SLUG).first()


@transaction.atomic
def seed(now: dt.datetime) -> Venue:
    """The demo house with its people and what they have shown; as it is where it exists."""
    house = demo_house()
    if house is not None:
        return house
    owner = _open(now)
    diary = Diary()
    people: dict[Role, Membership] = {}
    cast: dict[str, Membership] = {}
    plan_evenings(diary, cast, now)
    for hand in STAFF:
        diary.plan(moment(now, hand.days), lambda at, hand=hand: _come(hand, at))  # type: ignore[misc]

    def _come(hand: Hand, at: dt.datetime) -> None:
        member = _hire(owner, hand, at)
        people.setdefault(hand.role, member)
        cast[hand.sign_in] = member
        if hand.role is Role.TRAINER:
            _shorten_menu(member, at)
            fill_the_shelf(member, at)
            price_everything(member, at)
            diary.plan(
                moment(now, SALES_ARE_IN),
                lambda at: take_in_a_fortnight(people[Role.MANAGER], now, at),
            )
        if hand.role is Role.TRAINEE:
            menu = menu_at(member.venue, at)
            random = Random(hand.sign_in)  # noqa: S311 - invented, to be the same each time
            hire = Hire(hand, member, people[Role.TRAINER], menu, random)
            hire.plan(diary, now)
            if hand.sign_in in SHOWN:
                own = Random(f"hands of {hand.sign_in}")  # noqa: S311 - as above
                shown = SHOWN[hand.sign_in]
                Hands(hire, people[Role.MANAGER], shown, own).plan(diary, now)

    diary.live()
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


def _hire(owner: Membership, hand: Hand, at: dt.datetime) -> Membership:
    [(_invitation, token)] = enrol.invite(by=owner, names=[(hand.name, hand.role)], at=at)
    return enrol.join(token=token, sign_in=hand.sign_in, password=PASSWORD, at=at)


def _shorten_menu(trainer: Membership, at: dt.datetime) -> None:
    """The shipped course is longer than any one bar's menu: keep what sells most."""
    by_sales = sorted(menu_at(trainer.venue, at).items, key=lambda i: -i.drink.share)
    rest = [i for i in by_sales if not i.recipe.must_know]
    must = len(by_sales) - len(rest)
    publish.set_menu(
        by=trainer,
        standing={i.drink.slug: publish.OnMenu.OFF for i in rest[MENU - must :]},
        at=at,
    )
