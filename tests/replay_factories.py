"""The same as `replay.py` for a factory that a test calls at any moment.

What a verb writes follows from the rows there are, from what it is given, from the clock and from
the program. So a factory's statements are sent again only where all of that is as it was:

- the test has sent the very same statements so far, and began where the other began;
- every argument says the same, down to each field of a row and of the rows it has at hand;
- the clock stands still at the same moment, or runs in both;
- nothing of the program or its settings is patched save the course that ships and the dice.

In doubt the verb itself is called, as it is on PostgreSQL and outside a transaction.
"""

from __future__ import annotations

import datetime as dt
import functools
import hashlib
import io
import pickle
import time
from collections.abc import Callable, Iterable
from enum import Enum
from typing import Any, NamedTuple

import pytest
from django.conf import UserSettingsHolder, settings
from django.db import connection, models

from recipes import shipped
from tests.replay import Statement, comes_again, send, state_of_rows, written

PATCHED_ALWAYS = {"shipped_course", "shipped_rules", "randbelow"}
READS = ("SELECT", "PRAGMA", "SAVEPOINT", "RELEASE")
PLAIN = (str, int, float, bytes, bool, type(None), dt.date, dt.timedelta, dt.time, Enum)


class Made(NamedTuple):
    statements: list[Statement]
    row: bytes
    course: object
    """Held so that its identity, which is part of the key, is not given to something else."""


class Told(Exception):  # noqa: N818  (never leaves this file)
    """An argument cannot be told in words that are the same whenever it is the same."""


class Test:
    """What the running test has done so far."""

    def __init__(self) -> None:
        self.begin(None)

    def begin(self, patches: pytest.MonkeyPatch | None) -> None:
        self.patches, self.sent = patches, hashlib.blake2b(digest_size=16)

    def note(self, execute: Any, sql: str, params: Any, many: bool, context: Any) -> Any:
        if not sql.startswith(READS):
            self.sent.update(f"{sql}{params!r}{many}".encode())
        return execute(sql, params, many, context)

    def is_patched(self) -> bool:
        if self.patches is None or isinstance(settings._wrapped, UserSettingsHolder):
            return True
        names = {name for _, name, _ in self.patches._setattr}
        return bool(names - PATCHED_ALWAYS or self.patches._setitem)


_test = Test()
_made: dict[str, Made] = {}
_comes_again = {_test.sent.hexdigest()}
"""What tests have sent that another one can send, too; what follows after random codes cannot."""
_met: set[str] = set()


def begin(patches: pytest.MonkeyPatch) -> None:
    """A test begins. Every statement is noted from now on."""
    _test.begin(patches)
    if _test.note not in connection.execute_wrappers:
        connection.execute_wrappers.insert(0, _test.note)


def replayed(factory: Callable[..., Any]) -> Callable[..., Any]:
    """A factory that gives a row, whose statements are sent again where nothing else could come."""

    @functools.wraps(factory)
    def made(*args: Any, **kwargs: Any) -> Any:
        given = [*args, *kwargs.values()]
        key = _key(factory, given, tuple(kwargs))
        if key is None:
            return factory(*args, **kwargs)
        known = _made.get(key)
        if known is None:
            return _make(key, functools.partial(factory, *args, **kwargs), given)
        send(known.statements)
        _it_comes_again()
        return _load(known.row, given)

    return made


def _key(factory: Callable[..., Any], given: list[Any], names: tuple[str, ...]) -> str | None:
    if connection.vendor != "sqlite" or not connection.in_atomic_block or _test.is_patched():
        return None
    sent = _test.sent.hexdigest()
    if sent not in _comes_again and sent not in _met:
        _met.add(sent)
        return None
    try:
        words = _told(given)
    except Told:
        return None
    first, second = time.time_ns(), time.time_ns()
    clock = first if first == second else None
    course = id(shipped.shipped_course())
    name = f"{factory.__module__}.{factory.__qualname__}"
    return f"{name}{names}{words}{clock}{course}{sent}{state_of_rows()}"


def _make(key: str, verb: Callable[[], Any], given: list[Any]) -> Any:
    before = _told(given)
    with written() as statements:
        row = verb()
    if _told(given) == before:
        _made[key] = Made(statements, _dump(row, given), shipped.shipped_course())
        _it_comes_again()
    return row


def _it_comes_again() -> None:
    _comes_again.add(_test.sent.hexdigest())
    comes_again()


def _told(given: list[Any]) -> str:
    return repr([_word(value) for value in given]) + repr([_fields(row) for row in _rows(given)])


def _word(value: Any) -> Any:
    if isinstance(value, models.Model):
        return (value._meta.label, value.pk)
    if isinstance(value, PLAIN):
        return value
    if isinstance(value, list | tuple):
        return [_word(each) for each in value]
    if (
        callable(value)
        and getattr(value, "__closure__", value) is None
        and ("<" not in value.__qualname__)
    ):
        return (value.__module__, value.__qualname__)
    raise Told


def _rows(given: Iterable[Any]) -> list[models.Model]:
    """The rows that are given and those they have at hand, each once, always in the same order."""
    found: list[models.Model] = []
    waiting = [value for value in given if isinstance(value, models.Model)]
    while waiting:
        row = waiting.pop(0)
        if not any(row is each for each in found):
            found.append(row)
            at_hand = sorted(row._state.fields_cache.items())
            waiting += [value for _, value in at_hand if isinstance(value, models.Model)]
    return found


def _fields(row: models.Model) -> list[tuple[str, str]]:
    own = [(name, repr(value)) for name, value in row.__dict__.items() if name != "_state"]
    return [("", row._meta.label), *sorted(own), ("", repr(sorted(row._state.fields_cache)))]


def _dump(row: Any, given: list[Any]) -> bytes:
    places = {id(each): place for place, each in enumerate(_rows(given))}

    class Pickler(pickle.Pickler):
        def persistent_id(self, found: Any) -> int | None:
            return places.get(id(found))

    into = io.BytesIO()
    Pickler(into).dump(row)
    return into.getvalue()


def _load(row: bytes, given: list[Any]) -> Any:
    """The row as the verb gave it, with the arguments of now in the place of those of then."""
    rows = _rows(given)

    class Unpickler(pickle.Unpickler):
        def persistent_load(self, place: int) -> models.Model:
            return rows[place]

    return Unpickler(io.BytesIO(row)).load()
