"""When an entry's void settles what its hire sees differently, and when it leaves that open."""

from __future__ import annotations

import datetime as dt
from typing import Protocol

from django.db import models

from assessments.models.kinds import Entry
from barcourse.people.models import Membership
from barcourse.people.roles import ROLE_MAY, May

HEARS_NOBODY = [role for role, abilities in ROLE_MAY.items() if May.SEE_LOG not in abilities]


class AnyVoid(Protocol):
    """What took an entry out of the count."""

    by_id: int
    by: Membership
    reason_code: str
    at: dt.datetime


def not_settled_by_a_void(entry: str) -> models.Q:
    """Of rows that say something to what `entry` links to: those that no void has settled. Only
    one that came after the words does, by somebody who reads what waits for a manager and did not
    make the entry: nobody hushes what is said about themselves."""
    void = f"{entry}__void"
    return (
        models.Q(**{f"{void}__isnull": True})
        | models.Q(**{f"{void}__at__lt": models.F("at")})
        | models.Q(**{f"{void}__by__role__in": HEARS_NOBODY})
        | models.Q(**{f"{void}__by": models.F(f"{entry}__trainer")})
    )


def settles(void: AnyVoid, entry: Entry, said_at: dt.datetime) -> bool:
    """The same rule for one row, that was said at `said_at`."""
    somebody_else = void.by_id != entry.trainer_id
    return somebody_else and void.at >= said_at and void.by.may(May.SEE_LOG)
