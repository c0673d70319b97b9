"""What was worked out from a house's rows, kept by a process until the house's log goes on.

Everything that changes a house's book, its stock, its rules or what its till sold writes an entry
into the house's log in the same transaction. So the hash of the newest entry says in one short
query whether what was read before still stands, in every process and at once; no hash comes twice.

Inside a transaction nothing is kept and nothing kept is given out: there rows may have been
written whose entry is still to come, or that will be taken back.
"""

from __future__ import annotations

from collections.abc import Callable, Hashable
from typing import Generic, TypeVar

from django.db import connection

from barcourse.people.models import LogEntry, Venue

Stamp = str
"""Another one as soon as anything about the house is. Empty: nothing may be kept."""


def in_doubt() -> bool:
    """Whether what is in the rows may yet be taken back."""
    return connection.in_atomic_block


def stamp_of(venue: Venue) -> Stamp:
    """The hash of the newest entry in the house's log; asked for once by a page that only reads."""
    if in_doubt():
        return ""
    if not venue.is_only_read:
        return _newest(venue)
    if STAMP not in venue.__dict__:
        venue.__dict__[STAMP] = _newest(venue)
    stamp: Stamp = venue.__dict__[STAMP]
    return stamp


STAMP = "_stamp"


def _newest(venue: Venue) -> Stamp:
    table = connection.ops.quote_name(LogEntry._meta.db_table)
    with connection.cursor() as cursor:  # by hand: on every page, and twice as fast
        cursor.execute(
            f"SELECT hash FROM {table} WHERE venue_id = %s ORDER BY number DESC LIMIT 1",  # noqa: S608
            [venue.pk],
        )
        row = cursor.fetchone()
    return str(row[0]) if row else ""


K = TypeVar("K", bound=Hashable)
V = TypeVar("V")


class Kept(Generic[K, V]):
    """So many values at most, the ones that were made first go first."""

    def __init__(self, most: int) -> None:
        self._most = most
        self._values: dict[K, V] = {}

    def get(self, key: K, make: Callable[[], V]) -> V:
        found = self._values.get(key)
        if found is None:
            found = make()
            while len(self._values) >= self._most:
                self._values.pop(next(iter(self._values)), None)
            self._values[key] = found
        return found
