"""What keeps the site from starting: a page without an access rule, a database without guards."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from typing import Any

from django.apps import AppConfig
from django.contrib.staticfiles.views import serve as serve_static_in_development
from django.core.checks import CheckMessage, Error, Tags, register
from django.db import connections
from django.urls import URLPattern, URLResolver, get_resolver
from django.views.static import serve as serve_folder

from . import guards
from .access import Rule

_DJANGOS_OWN = {serve_static_in_development, serve_folder}


def patterns(resolver: URLResolver | None = None, prefix: str = "") -> Iterator[tuple[str, Any]]:
    """Every (route, pattern) of the site, however deep."""
    for pattern in (resolver or get_resolver()).url_patterns:
        route = prefix + str(pattern.pattern)
        if isinstance(pattern, URLResolver):
            yield from patterns(pattern, route)
        elif isinstance(pattern, URLPattern):
            yield route, pattern


@register(Tags.security)
def every_page_has_a_rule(
    app_configs: Sequence[AppConfig] | None = None, **kwargs: object
) -> list[CheckMessage]:
    return [
        Error(
            f"The page at {route!r} says nobody may open it and nobody may not.",
            hint="Give its view one of anyone, signed_in, member from barcourse.people.access.",
            id="people.E001",
        )
        for route, pattern in patterns()
        if pattern.callback not in _DJANGOS_OWN and not _has_rule(pattern.callback)
    ]


@register(Tags.database)
def guards_are_in_force(
    app_configs: Sequence[AppConfig] | None = None,
    databases: Iterable[str] | None = None,
    **kwargs: object,
) -> list[CheckMessage]:
    return [
        Error(
            f"The database's guard {name!r} is not in force.",
            hint="`manage.py migrate` sets it again; `check_log` looks for what happened.",
            id="people.E002",
        )
        for alias in databases or ()
        for name in guards.missing_guards(connections[alias])
    ]


def _has_rule(view: object) -> bool:
    return isinstance(getattr(view, "access_rule", None), Rule)
