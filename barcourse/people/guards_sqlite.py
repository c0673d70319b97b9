"""Guards in SQLite's words: one trigger for each event, compared by their exact text.

INSERT OR REPLACE deletes the row it replaces; its DELETE trigger runs only with
`recursive_triggers` on, which every connection of ours sets (apps.py).
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from typing import Any

from .guard import Guard


def create(guard: Guard) -> Iterator[str]:
    yield from _triggers(guard).values()


def lift(cursor: Any, prefix: str) -> list[str]:
    return [
        f'DROP TRIGGER IF EXISTS "{name}"' for name in _present(cursor) if name.startswith(prefix)
    ]


def missing(cursor: Any, guards: Sequence[Guard]) -> list[str]:
    present = _present(cursor)
    wanted = {name: sql for guard in guards for name, sql in _triggers(guard).items()}
    found = [name for name, sql in wanted.items() if present.get(name) != sql]
    cursor.execute("PRAGMA recursive_triggers")
    if not cursor.fetchone()[0]:
        found.append("recursive_triggers")
    return found


def _triggers(guard: Guard) -> dict[str, str]:
    """SQLite knows no TRUNCATE: there a DELETE without a condition does that work."""
    events = [event for event in guard.on if event != "TRUNCATE"]
    return {f"{guard.name}_{event.lower()}": _trigger(guard, event) for event in events}


def _trigger(guard: Guard, event: str) -> str:
    when = f" WHEN {guard.condition}" if guard.condition else ""
    return (
        f'CREATE TRIGGER "{guard.name}_{event.lower()}" BEFORE {event} ON "{guard.table}"'
        f" FOR EACH ROW{when} BEGIN SELECT RAISE(ABORT, '{guard.message}'); END"
    )


def _present(cursor: Any) -> dict[str, str]:
    cursor.execute("SELECT name, sql FROM sqlite_master WHERE type = 'trigger'")
    return dict(cursor.fetchall())
