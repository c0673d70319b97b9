"""From DATABASE_URL to Django's connection settings."""

from pathlib import Path
from typing import Any

import dj_database_url

from barcourse import sqlite

SQLITE = "django.db.backends.sqlite3"


def connection(url: str, *, default_file: Path) -> dict[str, Any]:
    """Settings of the database that `url` names, or of a SQLite file when it names none.

    Connections stay open between requests: opening one costs a quarter of a page.
    """
    settings: dict[str, Any] = (
        dict(dj_database_url.parse(url)) if url else {"ENGINE": SQLITE, "NAME": default_file}
    )
    settings["CONN_MAX_AGE"] = None
    if settings["ENGINE"] == SQLITE:
        settings["OPTIONS"] = sqlite.options()
    else:
        settings["CONN_HEALTH_CHECKS"] = True
    return settings
