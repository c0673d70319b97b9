"""The sealed log of a house: written here, hashed in `chain`, checked in `log_check`."""

from __future__ import annotations

import datetime as dt
import re
import secrets
from collections.abc import Mapping, Sequence

from django.db import transaction
from django.utils import timezone

from . import wording
from .chain import GENESIS, Head, digest_of_text, hash_of, head
from .log_check import check
from .models import LogEntry, Membership, PersonalText, Venue
from .sealed import SealedModel, digest_of

__all__ = ["GENESIS", "Head", "append", "append_rows", "check", "head", "keep_text"]

# Facts are codes and whole numbers. A space in one is a sentence or a name, which must not be here.
_CODE_LIKE = re.compile(r"[!-~]{0,100}")


def append(
    *,
    venue: Venue,
    by: Membership | None,
    kind: str,
    subject: Membership | None = None,
    row: SealedModel | None = None,
    text: PersonalText | None = None,
    facts: Mapping[str, object] | None = None,
    at: dt.datetime | None = None,
) -> LogEntry:
    """Add an entry, in the transaction of what it records.

    `row` is the sealed row written in this transaction (every one needs an entry); `text` a
    PersonalText made by `keep_text`, or erased just now; `facts` what else there is to say.
    Raises ValueError for a kind without words (`wording.name_kinds`) or facts that could hold a
    name or a sentence; RuntimeError outside a transaction.
    """
    _refuse_misuse(kind, facts or {})
    entry = LogEntry(
        kind=kind,
        at=at or timezone.now(),
        by_code=by.code if by else "",
        subject_code=subject.code if subject else "",
        facts=dict(facts or {}),
        **(_of_rows([row])[0] if row else {}),
        **(_of_text(text) if text else {}),
    )
    [entry] = _link(venue, [entry])
    return entry


def append_rows(
    *,
    venue: Venue,
    by: Membership | None,
    kind: str,
    rows: Sequence[SealedModel],
    at: dt.datetime | None = None,
) -> list[LogEntry]:
    """An entry for each of many sealed rows of one table, in a handful of queries."""
    _refuse_misuse(kind, {})
    at = at or timezone.now()
    by_code = by.code if by else ""
    return _link(
        venue,
        [LogEntry(kind=kind, at=at, by_code=by_code, **of_row) for of_row in _of_rows(rows)],
    )


def keep_text(*, about: Membership, text: str) -> PersonalText:
    """Store words about somebody; give the result to `append(text=...)` in the same transaction."""
    return PersonalText.objects.create(
        venue_id=about.venue_id, about=about, text=text, salt=secrets.token_hex(16)
    )


def _link(venue: Venue, entries: list[LogEntry]) -> list[LogEntry]:
    """Hang the entries onto the chain, in their order. Those of one house queue up here."""
    Venue.objects.select_for_update(no_key=True).get(pk=venue.pk)
    last = head(venue)
    for number, entry in enumerate(entries, start=last.number + 1):
        entry.venue, entry.number, entry.previous = venue, number, last.hash
        entry.hash = hash_of(entry, venue.code)
        last = Head(number, entry.hash)
    return LogEntry.objects.bulk_create(entries, batch_size=500)


def _of_rows(rows: Sequence[SealedModel]) -> list[dict[str, str]]:
    """Digests of the rows as they are stored, which may differ from how they were built."""
    if not rows:
        return []
    stored = type(rows[0])._base_manager.in_bulk([row.pk for row in rows])
    return [
        {
            "row_table": row._meta.db_table,
            "row_id": str(row.pk),
            "row_digest": digest_of(stored[row.pk]),
        }
        for row in rows
    ]


def _of_text(text: PersonalText) -> dict[str, str]:
    return {"text_code": text.code, "text_digest": "" if text.erased_at else digest_of_text(text)}


def _refuse_misuse(kind: str, facts: Mapping[str, object]) -> None:
    if not transaction.get_connection().in_atomic_block:
        raise RuntimeError("The log is written in the transaction of what it records.")
    if kind not in wording.KINDS:
        raise ValueError(f"The log has no words for {kind!r}; give some with name_kinds().")
    if not _only_codes(dict(facts)):
        raise ValueError(f"Facts hold codes and whole numbers, no free text: {facts!r}")


def _only_codes(value: object) -> bool:
    match value:
        case None | bool() | int():
            return True
        case str():
            return bool(_CODE_LIKE.fullmatch(value))
        case dict():
            return all(
                isinstance(key, str) and _only_codes([key, item]) for key, item in value.items()
            )
        case list() | tuple():
            return all(_only_codes(item) for item in value)
        case _:
            return False
