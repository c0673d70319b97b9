"""When the reader of calls answers nobody: while somebody is asked just that, what it says would
stand as evidence of what they know. Other rooms say when; who may open the house book is never
refused, since it holds the same."""

from __future__ import annotations

import datetime as dt
from collections.abc import Callable
from dataclasses import dataclass

from django.utils.functional import Promise

from barcourse.people.models import Membership
from barcourse.people.roles import May


@dataclass(frozen=True)
class InTheMiddle:
    """Of what, in a sentence, and the page on which it goes on."""

    says: str | Promise
    url: str


Look = Callable[[Membership, dt.datetime], InTheMiddle | None]

_OTHERS: list[Look] = []


def also(look: Look) -> None:
    """Let another room say what somebody is in the middle of; call it from AppConfig.ready."""
    if look not in _OTHERS:
        _OTHERS.append(look)


def in_the_middle(reader: Membership, at: dt.datetime) -> InTheMiddle | None:
    if reader.may(May.SEE_BOOK):
        return None
    found = (look(reader, at) for look in _OTHERS)
    return next((middle for middle in found if middle), None)
