"""Who took an entry of a record out of the count, when and why."""

from __future__ import annotations

import datetime as dt
from collections.abc import Iterable
from dataclasses import dataclass

from assessments.models.heard import AnyVoid
from assessments.models.kinds import Entry
from barcourse.people.models import PersonalText


@dataclass(frozen=True)
class VoidShown:
    """No reason where its words were erased."""

    name: str
    at: dt.datetime
    reason: str


def row_of(entry: Entry) -> AnyVoid | None:
    """The void itself, if there is one."""
    return getattr(entry, "void", None)


def void_of(entry: Entry) -> VoidShown | None:
    return voids_of([entry])[0]


def voids_of(entries: Iterable[Entry]) -> list[VoidShown | None]:
    """Of each entry, in their order."""
    rows = [row_of(entry) for entry in entries]
    codes = [row.reason_code for row in rows if row]
    texts = PersonalText.objects.filter(code__in=codes, erased_at=None)
    words = dict(texts.values_list("code", "text")) if codes else {}
    return [
        VoidShown(row.by.name, row.at, words.get(row.reason_code, "")) if row else None
        for row in rows
    ]
