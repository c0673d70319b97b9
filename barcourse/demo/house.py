"""Who works in the demo house and how well. All of it is invented."""

from __future__ import annotations

import datetime as dt
from dataclasses import dataclass

from barcourse.people.roles import Role

NAME = "The Salt Lantern"
SLUG = "the-salt-lantern"
TIMEZONE = "Europe/Lisbon"
COUNTRY = "us"
PASSWORD = "three limes and a straw"  # noqa: S105 - printed by make run, on loopback only
DAYS_OPEN = 16
"""How long before today the demo house opened."""
MENU = 80
"""How many drinks it pours."""


@dataclass(frozen=True)
class Hand:
    """Somebody in the demo house. `knows` is the chance of a right answer or step, 0 to 1."""

    name: str
    sign_in: str
    role: Role
    days: int = DAYS_OPEN  # since they came
    knows: float = 0.0
    quizzes: int = 0  # per drinks module
    signed: float = 0.0  # share of the must-knows watched
    safety: bool = False


OWNER = Hand("Odile", "odile", Role.OWNER)
STAFF = (
    Hand("Marek", "marek", Role.MANAGER),
    Hand("Tamsin", "tamsin", Role.TRAINER),
    Hand("Ines", "ines", Role.TRAINEE, 14, knows=0.98, quizzes=11, signed=1.0, safety=True),
    Hand("Noor", "noor", Role.TRAINEE, 10, knows=0.86, quizzes=5, signed=0.55, safety=True),
    Hand("Tomasz", "tomasz", Role.TRAINEE, 5, knows=0.62, quizzes=2, signed=0.1),
    Hand("Wanda", "wanda", Role.TRAINEE, 1),
)


def moment(now: dt.datetime, days_ago: float) -> dt.datetime:
    return now - dt.timedelta(days=days_ago)
