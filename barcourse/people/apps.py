from __future__ import annotations

from typing import Any

from django.apps import AppConfig
from django.db import connections
from django.db.backends.base.base import BaseDatabaseWrapper
from django.db.backends.signals import connection_created
from django.db.models.signals import post_migrate, pre_migrate


class PeopleConfig(AppConfig):
    name = "barcourse.people"
    label = "people"
    default_auto_field = "django.db.models.BigAutoField"

    def ready(self) -> None:
        from . import checks  # noqa: F401  (registers them)
        from .limits import say_plainly
        from .side_work import begin_with_shipped
        from .signals import house_opened

        say_plainly()
        connection_created.connect(_replacing_is_deleting)
        house_opened.connect(begin_with_shipped, dispatch_uid="people.side_work")
        pre_migrate.connect(_lift_guards, sender=self)
        post_migrate.connect(_install_guards, sender=self)


def _replacing_is_deleting(connection: BaseDatabaseWrapper, **kwargs: Any) -> None:
    """Without this SQLite's INSERT OR REPLACE slips past the guards on deleting."""
    if connection.vendor == "sqlite":
        with connection.cursor() as cursor:
            cursor.execute("PRAGMA recursive_triggers = ON")


def _lift_guards(using: str, **kwargs: Any) -> None:
    """A migration may rebuild the table that a guard reads, which the database then refuses."""
    from . import guards

    guards.lift(connections[using])


def _install_guards(using: str, **kwargs: Any) -> None:
    from . import guards

    guards.install(connections[using])
