"""Houses and people in the states that the real verbs put them in. `build` where no row is needed.

Sign-in and password of everybody made here: the name in lower case, and PASSWORD.
"""

from __future__ import annotations

import datetime as dt
from typing import Any

from barcourse.people import enrol
from barcourse.people.models import Invitation, Membership, Person, Venue
from barcourse.people.roles import Role
from tests.replay_factories import replayed

PASSWORD = "under-the-pier-at-six"
# A Thursday, 15:00 in the house's zone.
OPENED = dt.datetime(2026, 3, 5, 15, 0, tzinfo=dt.UTC)


def build_venue(**fields: Any) -> Venue:
    """A venue that is not stored, for what only reads its settings."""
    return Venue(
        **{
            "slug": "harbour-lights",
            "name": "Harbour Lights",
            "country": "us",
            "timezone": "Europe/Lisbon",
            **fields,
        }
    )


def open_house(
    name: str = "Harbour Lights",
    *,
    owner: str = "Odalys",
    at: dt.datetime = OPENED,
    country: str = "us",
    timezone: str = "Europe/Lisbon",
) -> Membership:
    """The owner of a new house. Loads the shipped course as a real opening does."""
    return enrol.open_house(
        name=name,
        owner_name=owner,
        sign_in=owner.lower(),
        password=PASSWORD,
        country=country,
        timezone=timezone,
        at=at,
    )


def invite(
    by: Membership, name: str = "Nils", role: str = Role.TRAINEE, at: dt.datetime = OPENED
) -> tuple[Invitation, str]:
    [(invitation, token)] = enrol.invite(by=by, names=[(name, role)], at=at)
    return invitation, token


@replayed
def hire(
    by: Membership, name: str = "Nils", role: str = Role.TRAINEE, at: dt.datetime = OPENED
) -> Membership:
    """Somebody who was invited and has joined."""
    _, token = invite(by, name, role, at)
    return enrol.join(token=token, sign_in=name.lower(), password=PASSWORD, at=at)


def join_as(by: Membership, person: Person, role: str = Role.TRAINEE) -> Membership:
    """Somebody with a sign-in joins one more house."""
    _, token = invite(by, person.name, role)
    return enrol.join(token=token, person=person, at=OPENED)
