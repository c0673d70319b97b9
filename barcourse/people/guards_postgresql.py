"""Guards in PostgreSQL's words: a function for each guard and one or two triggers calling it."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from typing import Any

from .guard import Guard

# pg_trigger.tgtype is a sum of these.
_ROW, _BEFORE = 1, 2
_EVENTS = {"INSERT": 4, "DELETE": 8, "UPDATE": 16, "TRUNCATE": 32}
_CHECK_VIOLATION = "23514"  # Django raises IntegrityError for it, as SQLite does

_PRESENT = """
SELECT t.tgname, c.relname, t.tgtype, t.tgenabled IN ('O', 'A'), t.tgqual IS NULL, p.prosrc
FROM pg_trigger t JOIN pg_class c ON c.oid = t.tgrelid JOIN pg_proc p ON p.oid = t.tgfoid
WHERE NOT t.tgisinternal AND c.relnamespace = current_schema()::text::regnamespace
"""


def create(guard: Guard) -> Iterator[str]:
    yield (
        f'CREATE OR REPLACE FUNCTION "{guard.name}"() RETURNS trigger LANGUAGE plpgsql'
        f" AS $guard${_body(guard)}$guard$"
    )
    for name, (events, each, _) in _triggers(guard).items():
        yield (
            f'CREATE TRIGGER "{name}" BEFORE {" OR ".join(events)} ON "{guard.table}"'
            f' FOR EACH {each} EXECUTE FUNCTION "{guard.name}"()'
        )


def lift(cursor: Any, prefix: str) -> list[str]:
    cursor.execute(
        "SELECT proname FROM pg_proc WHERE starts_with(proname, %s)"
        " AND pronamespace = current_schema()::text::regnamespace",
        [prefix],
    )
    return [f'DROP FUNCTION IF EXISTS "{name}"() CASCADE' for (name,) in cursor.fetchall()]


def missing(cursor: Any, guards: Sequence[Guard]) -> list[str]:
    cursor.execute(_PRESENT)
    present = {row[0]: tuple(row[1:]) for row in cursor.fetchall()}
    wanted = {
        name: (guard.table, kind, True, True, _body(guard))
        for guard in guards
        for name, (_, _, kind) in _triggers(guard).items()
    }
    return [name for name, as_set in wanted.items() if present.get(name) != as_set]


def _triggers(guard: Guard) -> dict[str, tuple[tuple[str, ...], str, int]]:
    """Name -> events, ROW or STATEMENT, tgtype. TRUNCATE has no rows, so it gets its own."""
    rows = tuple(event for event in guard.on if event != "TRUNCATE")
    found = {f"{guard.name}_rows": (rows, "ROW", _ROW + _BEFORE + sum(_EVENTS[e] for e in rows))}
    if "TRUNCATE" in guard.on:
        kind = _BEFORE + _EVENTS["TRUNCATE"]
        found[f"{guard.name}_truncate"] = (("TRUNCATE",), "STATEMENT", kind)
    return found


def _body(guard: Guard) -> str:
    refuse = f"RAISE EXCEPTION '{guard.message}' USING ERRCODE = '{_CHECK_VIOLATION}';"
    if not guard.condition:
        return f" BEGIN {refuse} END "
    return f" BEGIN IF {guard.condition} THEN {refuse} END IF; RETURN NEW; END "
