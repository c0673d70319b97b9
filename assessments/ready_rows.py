"""What is known of each hire, packed into a row: the board reads one small row a person, not all
that was ever answered.

A row is a copy. It is made anew where it is missing, where something was shown since, where the
menu is another; figures of a moment before it was packed are worked out from the evidence itself.
"""

from __future__ import annotations

import datetime as dt
from collections.abc import Sequence
from dataclasses import dataclass
from typing import Any

import numpy as np
from django.db import models
from numpy.typing import NDArray

from assessments.facts import Shown, gather
from assessments.history import Numbered, aspects_bits, shown_by
from assessments.measures import orders
from assessments.measures.evidence import Evidence
from assessments.measures.orders.population import KINDS
from assessments.measures.ready_facts import Safety
from assessments.models import (
    Answer,
    CallMark,
    QuizResult,
    ReadyRow,
    SignOff,
    SpotMark,
    Void,
    WatchedBuild,
)
from barcourse.people.models import Membership
from recipes.grammar.aspects import fingerprint
from recipes.models import Module

LAYOUT = 1
"""Goes up where what is packed, or how it is worked out, changes: every row is made anew."""

SAFETIES = list(Safety)
SIGNED = 1 << 7
"""Beside the bits of changed aspects: there is a sign-off in force."""


@dataclass(frozen=True)
class Known:
    """One hire on one menu; arrays by the menu's numbers. `trials` are right, ask and wrong;
    `signed` holds `SIGNED` and the changed aspects."""

    fit: orders.Fit
    trials: NDArray[np.float32]
    signed: NDArray[np.uint8]
    safety: Safety


def known_of(
    hires: Sequence[Membership], numbered: Numbered, gates: Sequence[Module]
) -> dict[int, Known]:
    """By hire, in one query where every row holds. `gates` are the house's."""
    rows = {r.hire_id: r for r in ReadyRow.objects.of(hires)}
    stamp = fingerprint([LAYOUT, numbered.print, sorted(g.pk for g in gates)])
    old = [h for h in hires if not _holds(rows.get(h.pk), stamp, numbered.menu.at)]
    sizes = len(numbered.drinks), len(numbered.topics)
    packed = _packed_anew(old, rows, numbered, stamp) if old else {}
    return {
        h.pk: unpack(packed[h.pk] if h.pk in packed else bytes(rows[h.pk].packed), *sizes)
        for h in hires
    }


def _holds(row: ReadyRow | None, stamp: str, at: dt.datetime) -> bool:
    return (
        row is not None
        and row.packed_for == row.evidence
        and row.menu == stamp
        and row.at is not None
        and row.at <= at
    )


def stale(hire: int, venue: int) -> None:
    """Something was shown, or counts no longer. Called in the transaction that writes it."""
    ReadyRow.objects.bulk_create([ReadyRow(hire_id=hire, venue_id=venue)], ignore_conflicts=True)
    ReadyRow.objects.filter(hire_id=hire).update(evidence=models.F("evidence") + 1)


def _packed_anew(
    hires: Sequence[Membership], rows: dict[int, ReadyRow], numbered: Numbered, stamp: str
) -> dict[int, bytes]:
    """From the evidence. A row is kept only where nothing came between: whatever is shown while
    we reckon has raised `evidence`, and the row waits for the next reader."""
    missing = [ReadyRow(hire=h, venue_id=h.venue_id) for h in hires if h.pk not in rows]
    ReadyRow.objects.bulk_create(missing, ignore_conflicts=True)
    before = dict(ReadyRow.objects.of(hires).values_list("hire_id", "evidence"))
    found = reckon(hires, numbered)
    later = later_than(hires, numbered.menu.at)
    for hire in hires:
        if hire.pk not in later:
            ReadyRow.objects.filter(hire=hire, evidence=before[hire.pk]).update(
                packed=found[hire.pk], packed_for=before[hire.pk], menu=stamp,
                at=numbered.menu.at,
            )  # fmt: skip
    return found


EVIDENCE = (WatchedBuild, Void, SignOff, SpotMark, QuizResult, CallMark)
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
    return {h.pk: pack(_part(fit, n), facts, h, numbered) for n, h in enumerate(hires)}


PARTS = ("mean", "cov", "hold", "slope", "loose", "last", "firm")


def _part(fit: orders.Fit, person: int) -> dict[str, Any]:
    return {name: getattr(fit, name)[person] for name in PARTS}


def together(known: Sequence[Known]) -> orders.Fit:
    return orders.Fit(
        **{name: np.concatenate([getattr(k.fit, name) for k in known]) for name in PARTS}
    )


def pack(fit: dict[str, Any], facts: Shown, hire: Membership, numbered: Numbered) -> bytes:
    """Fixed places: the fit, the trials, the sign-offs, the safety module."""
    nothing = Evidence("", 0.0, 0.0, 0.0)
    trials = [facts.evidence[hire.pk].get(d.slug, nothing) for d in numbered.drinks]
    signed = np.zeros(len(numbered.drinks), dtype=np.uint8)
    for recipe, found in facts.signed[hire.pk].items():
        signed[numbered.by_recipe[recipe]] = SIGNED | aspects_bits(found.changed)
    figures = np.concatenate(
        [
            *(np.ravel(fit[name]) for name in PARTS),
            np.array([(t.right, t.ask, t.wrong) for t in trials]).ravel(),
        ]
    ).astype("<f4")
    safety = SAFETIES.index(facts.safety[hire.pk])
    return figures.tobytes() + signed.tobytes() + bytes([safety])


def unpack(packed: bytes, drinks: int, topics: int) -> Known:
    shapes = {
        "mean": (KINDS,), "cov": (KINDS, KINDS), "hold": (drinks,), "slope": (drinks, KINDS),
        "loose": (drinks,), "last": (topics,), "firm": (topics,), "trials": (drinks, 3),
    }  # fmt: skip
    figures = np.frombuffer(packed, dtype="<f4", count=-(-(len(packed) - drinks - 1) // 4))
    found, at = {}, 0
    for name, shape in shapes.items():
        size = int(np.prod(shape))
        found[name] = figures[at : at + size].reshape(1, *shape)
        at += size
    trials = found.pop("trials")[0]
    signed = np.frombuffer(packed, dtype=np.uint8, count=drinks, offset=4 * at)
    return Known(orders.Fit(**found), trials, signed, SAFETIES[packed[-1]])
