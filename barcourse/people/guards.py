"""Triggers that hold two rules in the database itself, whoever writes to it.

Sealed: rows of an `AppendOnlyModel` (every `SealedModel` is one) are neither changed nor deleted.
Same house: whatever has a venue links only to rows of that venue, and never moves to another.

They are worked out from the models, lifted before migrations (SQLite rebuilds tables, which
triggers stand in the way of) and set again after; `missing_guards` says which are not in force.
Only tests lift them otherwise.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from typing import Any

from django.apps import apps
from django.db import models, transaction
from django.db.backends.base.base import BaseDatabaseWrapper

from . import guards_postgresql, guards_sqlite
from .guard import Guard
from .sealed import AppendOnlyModel

PREFIX = "guard_"


def wanted_guards() -> list[Guard]:
    """Every guard that the models call for, in a fixed order."""
    tables = sorted(_tables(), key=lambda model: model._meta.db_table)
    return [guard for model in tables for guard in guards_of(model)]


def install(connection: BaseDatabaseWrapper) -> None:
    """Set every guard whose table exists. Safe to run again, and at no moment seen half done."""
    with transaction.atomic(using=connection.alias):
        lift(connection)
        set_up(connection, _with_a_table(connection))


def set_up(connection: BaseDatabaseWrapper, guards: Iterable[Guard]) -> None:
    with connection.cursor() as cursor:
        for guard in guards:
            for statement in _dialect(connection).create(guard):
                cursor.execute(statement)


def lift(connection: BaseDatabaseWrapper) -> None:
    """Take every guard away: before migrations, and in tests that tamper."""
    with transaction.atomic(using=connection.alias), connection.cursor() as cursor:
        for statement in _dialect(connection).lift(cursor, PREFIX):
            cursor.execute(statement)


def missing_guards(connection: BaseDatabaseWrapper) -> list[str]:
    """Names of guards that are not in force exactly as this program would set them, for every
    table that is there: before the first migration there is nothing to guard."""
    guards = _with_a_table(connection)
    with connection.cursor() as cursor:
        return list(_dialect(connection).missing(cursor, guards)) if guards else []


def _with_a_table(connection: BaseDatabaseWrapper) -> list[Guard]:
    present = set(connection.introspection.table_names())
    return [guard for guard in wanted_guards() if guard.table in present]


def _dialect(connection: BaseDatabaseWrapper) -> Any:
    return {"sqlite": guards_sqlite, "postgresql": guards_postgresql}[connection.vendor]


def _tables() -> list[type[models.Model]]:
    every = apps.get_models(include_auto_created=True)
    return [model for model in every if model._meta.managed and not model._meta.proxy]


def guards_of(model: type[models.Model]) -> Iterator[Guard]:
    table = model._meta.db_table
    if issubclass(model, AppendOnlyModel):
        yield Guard(
            name=f"{PREFIX}sealed_{table}",
            table=table,
            on=("UPDATE", "DELETE", "TRUNCATE"),
            message=f"sealed: rows of {table} are written once",
        )
    if condition := _other_house(model):
        yield Guard(
            name=f"{PREFIX}same_venue_{table}",
            table=table,
            on=("INSERT", "UPDATE"),
            message=f"same venue: {table} links across houses",
            condition=condition,
        )
    if (venue := _venue_column(model)) and not issubclass(model, AppendOnlyModel):
        yield Guard(
            name=f"{PREFIX}stays_{table}",
            table=table,
            on=("UPDATE",),
            message=f"same venue: rows of {table} stay in their house",
            condition=f'NEW."{venue}" <> OLD."{venue}"',
        )


def _other_house(model: type[models.Model]) -> str:
    """True for a row of which two ends lie in different houses; empty when that can't be.

    The row's own venue is what the links are held against; a linking table without one (many to
    many) is held against its first link.
    """
    links = [field for field in model._meta.concrete_fields if _leads_to_venue(field)]
    venue = _venue_column(model)
    if venue:
        return " OR ".join(_breaks(field, f'NEW."{venue}"') for field in links)
    if len(links) < 2:
        return ""
    first = f"(SELECT {_end(links[0])})"
    return " OR ".join(_breaks(field, first) for field in links[1:])


def _leads_to_venue(field: models.Field[Any, Any]) -> bool:
    return isinstance(field, models.ForeignKey) and bool(_venue_column(field.related_model))


def _venue_column(model: type[models.Model]) -> str:
    from .models import Venue

    for field in model._meta.concrete_fields:
        if field.name == "venue" and field.related_model is Venue:
            return str(field.column)
    return ""


def _breaks(field: Any, venue: str) -> str:
    """A link that leads nowhere breaks too: else a row could be given its parent afterwards."""
    same = f'there."{_venue_column(field.related_model)}" = {venue}'
    link = f'NEW."{field.column}"'
    return f"({link} IS NOT NULL AND NOT EXISTS (SELECT {_end(field)} AND {same}))"


def _end(field: Any) -> str:
    target = field.related_model
    return (
        f'there."{_venue_column(target)}" FROM "{target._meta.db_table}" AS there '
        f'WHERE there."{field.target_field.column}" = NEW."{field.column}"'
    )
