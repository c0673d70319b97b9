"""What a server asks before it takes its first request (see `wsgi.py`)."""

from __future__ import annotations

from django.core import checks
from django.core.exceptions import ImproperlyConfigured
from django.db import DEFAULT_DB_ALIAS


def refuse_unsafe_start() -> None:
    """Raises ImproperlyConfigured with what is wrong: a page without a rule, a guard not in force.

    The management commands run these checks by themselves; a server started bare does not.
    """
    found = checks.run_checks(
        tags=[checks.Tags.security, checks.Tags.database], databases=[DEFAULT_DB_ALIAS]
    )
    if errors := [str(message) for message in found if message.is_serious()]:
        raise ImproperlyConfigured("\n".join(errors))
