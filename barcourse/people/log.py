"""The sealed log of a house: written here, hashed in `chain`, checked in `log_check`."""

from __future__ import annotations

import datetime as dt
import re
import secrets
from collections.abc import Mapping

from django.db import transaction
from django.utils import timezone

from . import wording
from .chain import GENESIS, Head, digest_of_text, hash_of, head
from .log_check import check
from .models import LogEntry, Membership, PersonalText, Venue
from .sealed import SealedModel, digest_of

__all__ = ["GENESIS", "Head", "append", "check", "head", "keep_text"]

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
    Venue.objects.select_for_update().get(pk=venue.pk)  # entries of a house queue up here
    last = head(venue)
    entry = LogEntry(
        venue=venue,
        number=last.number + 1,
        kind=kind,
        at=at or timezone.now(),
        by_code=by.code if by else "",
        subject_code=subject.code if subject else "",
        facts=dict(facts or {}),
        previous=last.hash,
        **_of_row(row),
        **_of_text(text),
    )
    entry.hash = hash_of(entry, venue.code)
    entry.save()
    return entry


def keep_text(*, about: Membership, text: str) -> PersonalText:
    """Store words about somebody; give the result to `append(text=...)` in the same transaction."""
    return PersonalText.objects.create(
        venue_id=about.venue_id, about=about, text=text, salt=secrets.token_hex(16)
    )


def _of_row(row: SealedModel | None) -> dict[str, str]:
    if row is None:
        return {}
    stored = type(row)._base_manager.get(pk=row.pk)
    return {
        "row_table": row._meta.db_table,
        "row_id": str(row.pk),
        "row_digest": digest_of(stored),
    }


def _of_text(text: PersonalText | None) -> dict[str, str]:
    if text is None:
        return {}
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
