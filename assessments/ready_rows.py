"""What is known of each hire, packed into a row: the board reads one small row a person, not all
that was ever answered.

A row is a copy. It is made anew where it is missing, where something was shown since, where the
menu is another; figures of a moment before it was packed are worked out from the evidence itself.
"""

from __future__ import annotations

import datetime as dt
from collections.abc import Sequence
from dataclasses import dataclass
from math import pi

import numpy as np
from django.db import models
from numpy.typing import NDArray

from assessments.facts import Shown, gather
from assessments.history import Numbered, aspects_bits, shown_by
from assessments.measures import orders
from assessments.measures.evidence import Evidence
from assessments.measures.ready_facts import Safety
from assessments.models import (
    Answer,
    CallMark,
    QuizResult,
    ReadyRow,
    SignOff,
    SpotMark,
    TakenBack,
    Void,
    WatchedBuild,
)
from barcourse.people.models import Membership
from recipes.grammar.aspects import fingerprint
from recipes.models import Module

LAYOUT = 6
"""Goes up where what is packed, or how it is worked out, changes: every row is made anew."""

SAFETIES = list(Safety)
SIGNED = 1 << 7
"""Beside the bits of changed aspects: there is a sign-off in force."""

AT_ONCE = 200
"""People: so many fit a processor's cache."""

RECKONED_AT_ONCE = 50
"""People: a year's evidence of so many fits in memory, and what is done is kept."""


def layout(drinks: int, topics: int) -> np.dtype[np.void]:
    """One row: the outlook, the trials, the sign-offs, the safety module."""
    speeds, points = len(orders.SPEEDS), orders.POINTS
    return np.dtype(
        [
            ("speeds", "<f4", speeds), ("asks", "<f4", points), ("executes", "<f4", points),
            ("spread", "<f4", points), ("reads", "<f4"), ("last", "<f4", topics),
            ("firm", "<f4", topics), ("trials", "<f4", (drinks, 3)),
            ("knows", "<u2", (points, drinks)), ("loose", "<u2", (speeds, drinks)),
            ("shown", "<u2", drinks), ("took", "<u2", topics),
            ("signed", "u1", drinks), ("safety", "u1"),
        ]
    )  # fmt: skip


FULL = 65535
WHOLE = {"knows": 1.0, "shown": 1.0, "took": 1.0, "loose": 1 / (2 * pi)}
"""What lies between 0 and this is packed into two bytes."""
PLAIN = ("speeds", "asks", "executes", "spread", "reads", "last", "firm")


@dataclass(frozen=True)
class Known:
    """Several hires on one menu, in the order asked for; a column of `rows` is an array by hire,
    then by the menu's numbers. `trials` are right, ask and wrong; `signed` holds `SIGNED` and the
    changed aspects; `safety` is a place in `SAFETIES`."""

    rows: NDArray[np.void]

    def __len__(self) -> int:
        return len(self.rows)

    @property
    def trials(self) -> NDArray[np.float32]:
        return self.rows["trials"]

    @property
    def signed(self) -> NDArray[np.uint8]:
        return self.rows["signed"]

    @property
    def safety(self) -> NDArray[np.uint8]:
        return self.rows["safety"]

    def missed(self, topics: list[int]) -> NDArray[np.bool_]:
        """By person and topic, whether they were put right about it and it may not have taken."""
        found: NDArray[np.bool_] = self.rows["took"][:, topics] < FULL
        return found

    def outlook(self, of: slice | list[int]) -> orders.Outlook:
        """Of some of them."""
        rows = self.rows[of]
        plain = {name: np.ascontiguousarray(rows[name]) for name in PLAIN}
        small = {name: rows[name] * np.float32(top / FULL) for name, top in WHOLE.items()}
        return orders.Outlook(**plain, **small)


MANY = 50
"""Hires: to name so many takes longer than to ask for all who are here (our own number)."""


def known_of(hires: Sequence[Membership], numbered: Numbered, gates: Sequence[Module]) -> Known:
    """In one query where every row holds. `gates` are the house's."""
    stamp = fingerprint([LAYOUT, numbered.print, sorted(g.pk for g in gates)])
    at, venue = numbered.menu.at, numbered.menu.venue
    rows = ReadyRow.objects.holding(stamp, at)
    many = len(hires) >= MANY
    held = rows.of_those_here(venue, venue.business_day(at)) if many else rows.of(hires)
    packed = {hire: bytes(row) for hire, row in held.values_list("hire_id", "packed")}
    old = [h for h in hires if h.pk not in packed]
    for first in range(0, len(old), RECKONED_AT_ONCE):
        packed |= _packed_anew(old[first : first + RECKONED_AT_ONCE], numbered, stamp)
    return unpack([packed[h.pk] for h in hires], numbered)


def stale(hire: int, venue: int) -> None:
    """Something was shown, or counts no longer. Called in the transaction that writes it."""
    ReadyRow.objects.bulk_create([ReadyRow(hire_id=hire, venue_id=venue)], ignore_conflicts=True)
    ReadyRow.objects.filter(hire_id=hire).update(evidence=models.F("evidence") + 1)


def _packed_anew(hires: Sequence[Membership], numbered: Numbered, stamp: str) -> dict[int, bytes]:
    """From the evidence. Whatever is shown while we reckon raises `evidence`: then what we keep
    does not hold, and the next reader reckons anew."""
    before = dict(ReadyRow.objects.of(hires).values_list("hire_id", "evidence"))
    found = reckon(hires, numbered)
    later = later_than(hires, numbered.menu.at)
    kept = [
        ReadyRow(
            hire=hire, venue_id=hire.venue_id, packed=found[hire.pk], menu=stamp,
            packed_for=before.get(hire.pk, 0), at=numbered.menu.at,
        )
        for hire in sorted(hires, key=lambda h: h.pk)  # two readers lock rows in one order
        if hire.pk not in later
    ]  # fmt: skip
    ReadyRow.objects.bulk_create(
        kept, update_conflicts=True, unique_fields=["hire"],
        update_fields=["packed", "packed_for", "menu", "at"],
    )  # fmt: skip
    return found


EVIDENCE = (WatchedBuild, Void, SignOff, SpotMark, TakenBack, QuizResult, CallMark)
"""Beside answers: what a row rests on. Each is of a hire, at a moment."""


def later_than(hires: Sequence[Membership], at: dt.datetime) -> set[int]:
    """Of whom something is on record from after that moment: what was worked out for it would be
    old news."""
    found = set(
        Answer.objects.of(*hires).filter(at__gt=at).values_list("item__quiz__hire_id", flat=True)
    )
    for kind in EVIDENCE:
        rows = kind._default_manager.filter(hire__in=hires, at__gt=at)
        found |= set(rows.values_list("hire_id", flat=True))
    return found


def reckon(hires: Sequence[Membership], numbered: Numbered) -> dict[int, bytes]:
    """Each hire's row, worked out from all that was shown until the menu's moment."""
    facts, shown = gather(numbered.menu, hires), shown_by(hires, numbered)
    menu = numbered.for_orders
    fit = orders.fit(orders.trials(menu, [shown[h.pk] for h in hires]))
    rows = _pack(orders.outlook(fit, menu), numbered)
    for row, hire in zip(rows, hires, strict=True):
        row["trials"] = _trials(facts, hire, numbered)
        row["signed"] = _signed(facts, hire, numbered)
        row["safety"] = SAFETIES.index(facts.safety[hire.pk])
    return {hire.pk: row.tobytes() for row, hire in zip(rows, hires, strict=True)}


def _pack(found: orders.Outlook, numbered: Numbered) -> NDArray[np.void]:
    rows = np.zeros(len(found.reads), dtype=_layout_of(numbered))
    for name in PLAIN:
        rows[name] = getattr(found, name)
    for name, top in WHOLE.items():
        rows[name] = np.rint(getattr(found, name) * (FULL / top))
    return rows


def _layout_of(numbered: Numbered) -> np.dtype[np.void]:
    return layout(len(numbered.drinks), len(numbered.topics))


def _trials(facts: Shown, hire: Membership, numbered: Numbered) -> NDArray[np.float64]:
    """Three a drink, of an empty menu none."""
    nothing = Evidence("", 0.0, 0.0, 0.0)
    found = [facts.evidence[hire.pk].get(d.slug, nothing) for d in numbered.drinks]
    return np.array([(t.right, t.ask, t.wrong) for t in found], dtype=float).reshape(-1, 3)


def _signed(facts: Shown, hire: Membership, numbered: Numbered) -> NDArray[np.uint8]:
    signed = np.zeros(len(numbered.drinks), dtype=np.uint8)
    for recipe, found in facts.signed[hire.pk].items():
        signed[numbered.by_recipe[recipe]] = SIGNED | aspects_bits(found.changed)
    return signed


def unpack(packed: Sequence[bytes], numbered: Numbered) -> Known:
    return Known(np.frombuffer(b"".join(packed), dtype=_layout_of(numbered)))
