"""A hire who is ready at the beer point, through the verbs that a house uses."""

from __future__ import annotations

import datetime as dt

from assessments import record
from assessments.measures.marking import HelpLevel
from assessments.measures.quiz import ItemAsked
from barcourse.people.models import Membership, Station
from barcourse.people.roles import Role
from recipes.menu import menu_at
from recipes.models import Module
from tests.factories.people import OPENED

TUESDAY = OPENED + dt.timedelta(days=5)
"""March 10, 2026, three in the afternoon in the house: the day everything was shown."""
ISSUED = OPENED + dt.timedelta(days=7)
BUILDS_EACH = 4
"""One a day, so that what was shown has had time to be forgotten."""

DRINKS = {"Draught lager", "Snakebite", "Nitro stout", "Bottled lager"}


def station(member: Membership, slug: str = "beer-point") -> Station:
    return Station.objects.get(venue=member.venue, slug=slug)


def make_ready(
    hire: Membership,
    trainer: Membership,
    at: dt.datetime = TUESDAY,
    builds_each: int = BUILDS_EACH,
) -> Membership:
    pass_the_gate(hire, at)
    for before in reversed(range(builds_each)):
        day = at - dt.timedelta(days=before)
        menu = menu_at(hire.venue, day)
        for item in menu.at_station(station(hire)):
            watched = record.watch_build(
                by=trainer, hire=hire, menu=menu, item=item, off=(),
                help_level=HelpLevel.UNPROMPTED, at=day,
            )  # fmt: skip
            if not before:
                record.sign_off(by=trainer, watched=watched, at=at)
    return hire


def pass_the_gate(hire: Membership, at: dt.datetime = TUESDAY) -> None:
    module = Module.objects.in_house(hire.venue).gates().get()
    quiz = record.start_quiz(by=hire, menu=menu_at(hire.venue, at), module=module, seed=7, at=at)
    for item in quiz.items.all():
        right = ItemAsked.from_json(item.asked).right
        record.answer_item(by=hire, item=item, choice=right, at=at)


def somebody(by: Membership, name: str, role: str = Role.TRAINEE) -> Membership:
    """A member whose name may be anything; the sign-in is plain."""
    from barcourse.people import enrol
    from tests.factories.people import PASSWORD, invite

    _, token = invite(by, name, role)
    return enrol.join(
        token=token, sign_in=f"guest{by.venue.memberships.count()}", password=PASSWORD, at=OPENED
    )
