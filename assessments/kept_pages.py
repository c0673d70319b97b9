"""Pages that take some working out, kept by a process until anything that they tell of changes.

The house's log knows of all that is in its book and on its record. What people do alone leaves no
entry, so it has a stamp of its own: the newest rows of what was answered and turned.
"""

from __future__ import annotations

import datetime as dt
from collections.abc import Callable, Hashable
from dataclasses import dataclass, field
from typing import Generic, TypeVar, cast

from django.db import connection
from django.utils.translation import get_language

from assessments.models import Answer, CallMark, CardMark
from barcourse.people.models import Venue
from recipes.kept import Kept, stamp_of

T = TypeVar("T")


@dataclass(frozen=True)
class KeptPage(Generic[T]):
    """What a page shows, and its markup by name as far as it was rendered already. No markup is
    kept of what may not be kept itself."""

    shown: T
    html: dict[str, str] | None = field(default_factory=dict)


MOST = 1000
_PAGES = Kept[Hashable, KeptPage[object]](most=MOST)


def kept_page(venue: Venue, *key: Hashable, make: Callable[[], T]) -> KeptPage[T]:
    """The page of this name and about this, as it stands; `make` works it out anew."""
    stamp = stamp_of(venue)
    if not stamp:
        return KeptPage(make(), None)
    found = _PAGES.get((stamp, get_language(), *key), lambda: KeptPage(make()))
    return cast("KeptPage[T]", found)  # a name is always of the same kind


def minute_of(at: dt.datetime) -> int:
    """For what also moves with the clock: within a minute nobody could tell (our own number, no
    source)."""
    return int(at.timestamp() // 60)


def answers_of(venue: Venue) -> tuple[object, ...]:
    """Another one as soon as anybody of the house has answered, called or turned a card; in one
    query."""
    newest = ", ".join(
        f'(SELECT MAX(id) FROM "{model._meta.db_table}" WHERE venue_id = %s)'  # noqa: S608
        for model in _ALONE
    )
    with connection.cursor() as cursor:
        cursor.execute(f"SELECT {newest}", [venue.pk] * len(_ALONE))
        row: tuple[object, ...] = cursor.fetchone()
    return row


_ALONE = (Answer, CallMark, CardMark)
