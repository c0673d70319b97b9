"""One rule that the database keeps by itself; `guards_sqlite` and `guards_postgresql` word it."""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True)
class Guard:
    """Refuses with `message` when `condition`, SQL over the row NEW (and OLD), is true.

    `on` names the events; an empty condition refuses always.
    """

    name: str
    table: str
    on: tuple[str, ...]
    message: str
    condition: str = ""
