"""Rows that many tests begin with, written once by the real verbs and then by their statements.

A house takes the real verb some fifty milliseconds to open, nearly all of it in turning rows into
statements. The second time these very statements are sent again. They are the same rows under the
same keys with the same codes, so a replay happens only where nothing else could come of the verb:
on SQLite, inside the transaction of a test (it will be taken back), with the counters of all keys
standing as they stood, the log ending in the same entry, and with the same course to ship.
Everywhere else the verb itself is called. `tests/replay_factories.py` does the same in the midst
of a test, where more may have happened before.
"""

from __future__ import annotations

from collections.abc import Callable, Hashable, Iterator
from contextlib import contextmanager
from typing import Any, NamedTuple

from django.db import connection, models

Statement = tuple[str, Any, bool]
BESIDE = ("venue", "person")
"""What a member whom a verb gives has at hand."""
WRITES = ("INSERT", "UPDATE", "DELETE")


class State(NamedTuple):
    """Where the counters of all keys stand, and the hash of the last entry of the log, which holds
    for all that was written before it; empty where there is none."""

    counters: tuple[tuple[str, int], ...]
    head: str


class Recorded(NamedTuple):
    statements: list[Statement]
    row: models.Model
    kept: object
    """Held so that its identity, which is part of the key, is not given to something else."""


_recorded: dict[Hashable, Recorded] = {}
_heads = {""}
"""Entries that a log of replayed rows may end in; what comes after another one differs each time,
so it is not worth keeping."""


def once(name: str, verb: Callable[[], models.Model], ships: object) -> models.Model:
    """What `verb` gives; see above for when it is called. `ships` is what it goes by besides the
    database, by identity."""
    if connection.vendor != "sqlite" or not connection.in_atomic_block:
        return verb()
    state = state_of_rows()
    known = _recorded.get((name, id(ships), state))
    if known is None:
        with written() as statements:
            row = verb()
        if state.head in _heads:
            _recorded[name, id(ships), state] = Recorded(statements, row, ships)
            comes_again()
        return row
    send(known.statements)
    rows = type(known.row)._base_manager.select_related(*BESIDE)
    return rows.get(pk=known.row.pk)


def comes_again() -> None:
    """The rows there are now come again in other tests."""
    _heads.add(state_of_rows().head)


def send(statements: list[Statement]) -> None:
    with connection.cursor() as cursor:
        for sql, params, many in statements:
            (cursor.executemany if many else cursor.execute)(sql, params)


def state_of_rows() -> State:
    with connection.cursor() as cursor:
        cursor.execute("SELECT name, seq FROM sqlite_sequence ORDER BY name")
        counters = tuple((str(name), int(seq)) for name, seq in cursor.fetchall())
        cursor.execute("SELECT hash FROM people_logentry ORDER BY id DESC LIMIT 1")
        last = cursor.fetchone()
    return State(counters, str(last[0]) if last else "")


@contextmanager
def written() -> Iterator[list[Statement]]:
    found: list[Statement] = []

    def note(execute: Any, sql: str, params: Any, many: bool, context: Any) -> Any:
        if sql.startswith(WRITES):
            found.append((sql, params, many))
        return execute(sql, params, many, context)

    with connection.execute_wrapper(note):
        yield found
