"""How Barcourse opens SQLite: records survive a power cut, writers wait their turn."""

import sqlite3
from typing import Any, Literal

# Up to 3.51.2 a rare race at a checkpoint could corrupt a write-ahead log (release notes of
# SQLite 3.51.3), so older libraries keep the rollback journal.
FIRST_SAFE_WAL = (3, 51, 3)
WAIT_SECONDS = 20


def journal_mode(version: tuple[int, int, int]) -> Literal["WAL", "TRUNCATE"]:
    return "WAL" if version >= FIRST_SAFE_WAL else "TRUNCATE"


def options(version: tuple[int, int, int] = sqlite3.sqlite_version_info[:3]) -> dict[str, Any]:
    """Django's OPTIONS for a SQLite database opened by this version of the library.

    Immediate transactions, because a read that turns into a write fails at once when two clash.
    Recursive triggers, because only with them does REPLACE meet the triggers that seal rows.
    """
    pragmas = (
        f"journal_mode = {journal_mode(version)}",
        "synchronous = FULL",
        "recursive_triggers = ON",
        "foreign_keys = ON",
    )
    return {
        "transaction_mode": "IMMEDIATE",
        "timeout": WAIT_SECONDS,
        "init_command": ";".join(f"PRAGMA {pragma}" for pragma in pragmas),
    }
