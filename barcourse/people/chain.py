"""The chain of a house's log: each entry holds the hash of the one before.

An entry's hash is sha256 over its canonical JSON: every field but the hash itself, with the
house's code in place of its row id. The first entry's `previous` is GENESIS. Whoever keeps a
printed head (`number:hash`, it stands on certificates) can tell later whether anything up to it
was changed, by asking `check` for that head.
"""

from __future__ import annotations

import datetime as dt
import hashlib
import re
from dataclasses import dataclass

from .models import LogEntry, PersonalText, Venue
from .sealed import canonical

GENESIS = "0" * 64


@dataclass(frozen=True)
class Head:
    """The newest entry's number and hash, as printed: "12:ab34...". 0 and GENESIS at the start."""

    number: int
    hash: str

    def __str__(self) -> str:
        return f"{self.number}:{self.hash}"

    @classmethod
    def parse(cls, text: str) -> Head:
        """Raises ValueError on anything but `number:hash` with 64 hexadecimal digits."""
        number, _, digest = text.strip().partition(":")
        if not (number.isascii() and number.isdigit() and re.fullmatch(r"[0-9a-f]{64}", digest)):
            raise ValueError(f"{text!r} is no head: NUMBER:HASH, as printed on a paper.")
        return cls(int(number), digest)


def head(venue: Venue) -> Head:
    entries = LogEntry.objects.filter(venue=venue).order_by("-number")
    newest = entries.values_list("number", "hash").first()
    return Head(*newest) if newest else Head(0, GENESIS)


def hash_of(entry: LogEntry, venue_code: str) -> str:
    """`entry.number` follows `previous`, so a swapped order shows as well as a changed field."""
    body = {
        "venue": venue_code,
        "number": entry.number,
        "kind": entry.kind,
        "at": entry.at.astimezone(dt.UTC).isoformat(timespec="microseconds"),
        "by": entry.by_code,
        "subject": entry.subject_code,
        "row_table": entry.row_table,
        "row_id": entry.row_id,
        "row_digest": entry.row_digest,
        "text_code": entry.text_code,
        "text_digest": entry.text_digest,
        "facts": entry.facts,
        "previous": entry.previous,
    }
    return hashlib.sha256(canonical(body)).hexdigest()


def digest_of_text(text: PersonalText) -> str:
    return hashlib.sha256((text.salt + text.text).encode()).hexdigest()
