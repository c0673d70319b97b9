"""Rows that are written once and never changed, and the digest by which the log knows them.

Three walls: the methods here give a clear error in our own code, the triggers of `guards.py`
refuse raw SQL, and `check_log` finds what was changed with the triggers lifted.
"""

from __future__ import annotations

import datetime as dt
import hashlib
import json
import uuid
from collections.abc import Iterable
from decimal import Decimal
from typing import Any, NoReturn, TypeVar

from django.db import models

_Row_co = TypeVar("_Row_co", bound=models.Model, covariant=True)


class SealedError(TypeError):
    """Somebody tried to change or delete a sealed row: a mistake in our code, not of a user."""

    def __init__(self, model: type[models.Model]) -> None:
        super().__init__(
            f"{model._meta.label} is sealed: written once. A correction is a row of its own."
        )


class SealedQuerySet(models.QuerySet[_Row_co]):
    """Base for the vocabulary of what is written once: `objects = MyQuerySet.as_manager()`."""

    def update(self, **kwargs: object) -> NoReturn:
        raise SealedError(self.model)

    def delete(self) -> NoReturn:
        raise SealedError(self.model)

    def bulk_update(self, *args: object, **kwargs: object) -> NoReturn:
        raise SealedError(self.model)

    def bulk_create(  # type: ignore[override]  # the rest of its options would change rows
        self, objs: Iterable[_Row_co], batch_size: int | None = None
    ) -> list[_Row_co]:
        return super().bulk_create(objs, batch_size)


class AppendOnlyModel(models.Model):
    """Insert-only, in our code and in the database; it needs no entry in the log of its own."""

    objects = SealedQuerySet.as_manager()

    class Meta:
        abstract = True

    def save(self, *args: Any, **kwargs: Any) -> None:
        if not self._state.adding:
            raise SealedError(type(self))
        super().save(*args, **{**kwargs, "force_insert": True})

    def delete(self, *args: object, **kwargs: object) -> NoReturn:
        raise SealedError(type(self))


class SealedModel(AppendOnlyModel):
    """Insert-only, and every row needs an entry in the log of its venue (`log.append(row=...)`)."""

    class Meta:
        abstract = True


def digest_of(row: models.Model) -> str:
    """sha256 over every stored field. Give it a row as read from the database, not as built:
    a number with one decimal in memory may be stored with three."""
    fields = {field.attname: _plain(field.value_from_object(row)) for field in _stored(row)}
    return hashlib.sha256(canonical({"table": row._meta.db_table, "row": fields})).hexdigest()


def canonical(value: object) -> bytes:
    """One way to write a value as bytes: JSON, keys sorted, no spaces, UTF-8."""
    return json.dumps(
        value, sort_keys=True, separators=(",", ":"), ensure_ascii=False, allow_nan=False
    ).encode()


def _stored(row: models.Model) -> list[models.Field[Any, Any]]:
    return list(row._meta.concrete_fields)


def _plain(value: object) -> object:
    """What JSON can hold, the same from both databases."""
    match value:
        case dt.datetime():
            return value.astimezone(dt.UTC).isoformat(timespec="microseconds")
        case dt.date() | dt.time() | uuid.UUID():
            return str(value)
        case dt.timedelta():
            return f"{value.days}d{value.seconds}s{value.microseconds}us"
        case Decimal():
            return format(value, "f")
        case bytes() | memoryview():
            return bytes(value).hex()
        case str():
            return str(value)
        case _:
            return value
