"""Is the log of a house whole, and does it agree with the rows it speaks of? Both ways.

Each finding is a Reason; no findings means that everything up to the newest entry stands as it
was written, and everything that must be in the log is in it.
"""

from __future__ import annotations

import datetime as dt
from collections.abc import Callable, Iterator
from dataclasses import dataclass, field
from typing import Any

from django.apps import apps
from django.db import connections, router

from . import guards
from .chain import GENESIS, Head, digest_of_text, hash_of
from .models import LogEntry, Membership, Permit, PersonalText, Venue
from .reasons import Reason
from .sealed import SealedModel, digest_of

# After each of these the entry's facts say what the membership then is: role, and day left or "".
MEMBERSHIP_KINDS = frozenset({"house_opened", "joined", "role_changed", "left", "came_back"})


Check = Callable[[Venue], list[Reason]]

_OTHERS: list[Check] = []


def also(look: Check) -> None:
    """Let another room look at what its sealed rows speak of; call it from AppConfig.ready.

    Words for what it finds: `wording.name_findings`.
    """
    if look not in _OTHERS:
        _OTHERS.append(look)


@dataclass
class _Claims:
    """What the entries say about the other tables."""

    rows: dict[str, dict[str, tuple[str, int]]] = field(default_factory=dict)
    texts: dict[str, tuple[str, int]] = field(default_factory=dict)
    erased: set[str] = field(default_factory=set)
    memberships: dict[str, dict[str, object]] = field(default_factory=dict)
    permits: dict[str, tuple[str, str, str]] = field(default_factory=dict)
    settings: dict[str, object] = field(default_factory=dict)

    def take(self, entry: LogEntry) -> None:
        facts = entry.facts if isinstance(entry.facts, dict) else {}
        if entry.row_table:
            rows = self.rows.setdefault(entry.row_table, {})
            rows[entry.row_id] = (entry.row_digest, entry.number)
        if entry.text_digest:
            self.texts[entry.text_code] = (entry.text_digest, entry.number)
        elif entry.text_code:
            self.erased.add(entry.text_code)
        if entry.kind in MEMBERSHIP_KINDS:
            self.memberships[entry.subject_code] = facts
        self._take_what_the_folder_tells(entry.kind, facts, entry.subject_code)

    def _take_what_the_folder_tells(self, kind: str, facts: dict[str, Any], subject: str) -> None:
        match kind:
            case "permit_added":
                permit, kind, until = (facts.get(n, "") for n in ("permit", "kind", "until"))
                self.permits[str(permit)] = (subject, str(kind), str(until))
            case "permit_removed":
                self.permits.pop(str(facts.get("permit", "")), None)
            case "house_changed":
                changes = {f: told for f, told in facts.items() if isinstance(told, list)}
                self.settings |= {field: told[-1] for field, told in changes.items() if told}


def check(venue: Venue, head: Head | None = None) -> list[Reason]:
    """Everything found wrong, worst first: the chain, then rows, texts, people, what
    other rooms find, guards.

    `head` is one printed earlier: its entry must still be there with the same hash.
    """
    claims = _Claims()
    return [
        *_chain(venue, claims, head),
        *_rows(venue, claims),
        *_texts(venue, claims),
        *_memberships(venue, claims),
        *_permits(venue, claims),
        *_settings(venue, claims),
        *(reason for look in _OTHERS for reason in look(venue)),
        *_guards(),
    ]


def _chain(venue: Venue, claims: _Claims, head: Head | None) -> Iterator[Reason]:
    number, last = 0, GENESIS
    heads = {(0, GENESIS)}
    for entry in _entries(venue):
        if entry.number != number + 1:
            yield Reason.of("log_gap", number=number + 1, found=entry.number)
        elif entry.previous != last:
            yield Reason.of("log_link_broken", number=entry.number)
        if vars(entry)["at"] is None or hash_of(entry, venue.code) != entry.hash:
            yield Reason.of("log_entry_changed", number=entry.number)
        number, last = entry.number, entry.hash
        heads.add((number, last))
        claims.take(entry)
    if head and (head.number, head.hash) not in heads:
        yield Reason.of("log_head_missing", head=str(head))


def _entries(venue: Venue) -> Iterator[LogEntry]:
    """In their order. SQLite keeps any text as a moment: an entry whose own can't be read comes
    without one, and those after it one by one."""
    entries, last = LogEntry.objects.filter(venue=venue).order_by("number"), -1
    try:
        for entry in entries.iterator(chunk_size=2000):
            yield entry
            last = entry.number
    except ValueError:
        rest = entries.filter(number__gt=last).values_list("pk", flat=True)
        yield from map(_one_by_one, rest)


def _one_by_one(pk: int) -> LogEntry:
    try:
        return LogEntry.objects.get(pk=pk)
    except ValueError:
        entry = LogEntry.objects.defer("at").get(pk=pk)
        vars(entry)["at"] = None
        return entry


def _rows(venue: Venue, claims: _Claims) -> Iterator[Reason]:
    for model in apps.get_models():
        if issubclass(model, SealedModel) and model is not LogEntry:
            table = model._meta.db_table
            yield from _rows_of(model, venue, claims.rows.pop(table, {}))
    for table, claimed in claims.rows.items():
        yield from (_missing(table, row, number) for row, (_, number) in claimed.items())


def _rows_of(
    model: type[SealedModel], venue: Venue, claimed: dict[str, tuple[str, int]]
) -> Iterator[Reason]:
    table = model._meta.db_table
    manager: Any = model._base_manager  # every sealed model has a venue; the base class has none
    rows = manager.filter(venue=venue).order_by("pk")
    for row in rows.iterator(chunk_size=2000):
        digest, number = claimed.pop(str(row.pk), ("", 0))
        if not number:
            yield Reason.of("row_unlogged", table=table, row=str(row.pk))
        elif digest_of(row) != digest:
            yield Reason.of("row_changed", table=table, row=str(row.pk), number=number)
    yield from (_missing(table, row, number) for row, (_, number) in claimed.items())


def _missing(table: str, row: str, number: int) -> Reason:
    return Reason.of("row_missing", table=table, row=row, number=number)


def _texts(venue: Venue, claims: _Claims) -> Iterator[Reason]:
    for text in PersonalText.objects.filter(venue=venue).order_by("pk").iterator(chunk_size=2000):
        digest, number = claims.texts.pop(text.code, ("", 0))
        if not number:
            yield Reason.of("text_unlogged", text=text.code)
        elif text.erased_at is None and digest_of_text(text) != digest:
            yield Reason.of("text_changed", text=text.code, number=number)
        if (text.erased_at is not None) != (text.code in claims.erased):
            yield Reason.of("text_erased_unlogged", text=text.code)
    for code, (_, number) in claims.texts.items():
        yield Reason.of("text_missing", text=code, number=number)


def _memberships(venue: Venue, claims: _Claims) -> Iterator[Reason]:
    """Roles and days left must be what the log last said: nobody makes themselves manager."""
    for membership in Membership.objects.filter(venue=venue).order_by("pk"):
        if claims.memberships.pop(membership.code, None) != standing_facts(membership):
            yield Reason.of("membership_differs", person=membership.code)
    for code in claims.memberships:
        yield Reason.of("membership_missing", person=code)


def _permits(venue: Venue, claims: _Claims) -> Iterator[Reason]:
    """Whose they are, of what kind and until when must be what was noted: no day is moved."""
    for permit in Permit.objects.in_house(venue).kept().select_related("member").order_by("pk"):
        until = permit.valid_until.isoformat() if permit.valid_until else ""
        now = (permit.member.code, str(permit.kind), until)
        if claims.permits.pop(permit.code, None) != now:
            yield Reason.of("permit_differs", person=permit.member.code)
    for person, _kind, _until in claims.permits.values():
        yield Reason.of("permit_missing", person=person)


AGES = ("legal_age", "challenge_age")


def _settings(venue: Venue, claims: _Claims) -> Iterator[Reason]:
    """What the house set must be what the log last said; ages that it never set are those that
    every house begins with."""
    begun = {age: getattr(Venue(), age) for age in AGES}
    now = Venue.objects.get(pk=venue.pk)  # as it is kept, not as somebody holds it
    for name, wanted in (begun | claims.settings).items():
        if name in Venue.SETTINGS and getattr(now, name) != wanted:
            yield Reason.of("house_differs", setting=name)


def standing_facts(membership: Membership) -> dict[str, object]:
    """What an entry of MEMBERSHIP_KINDS says about the membership after the change."""
    left: dt.date | None = membership.left_day
    return {"role": str(membership.role), "left": left.isoformat() if left else ""}


def _guards() -> Iterator[Reason]:
    connection = connections[router.db_for_write(LogEntry)]
    for name in guards.missing_guards(connection):
        yield Reason.of("guard_missing", guard=name)
