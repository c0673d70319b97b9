"""How well everybody of a house knows everything at a moment: one query, one pass."""

from __future__ import annotations

import datetime as dt
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from assessments.measures.forgetting import recall_all
from assessments.models import Memory
from barcourse.people.models import Venue


@dataclass(frozen=True)
class Recalls:
    """A row a memory: whose it is, of which topic (its fingerprint), and its recall, 0 to 1."""

    hires: NDArray[np.int64]
    topics: list[str]
    recall: NDArray[np.float64]


def recalls(venue: Venue, at: dt.datetime) -> Recalls:
    """All topics of all people of a house."""
    rows = list(
        Memory.objects.filter(venue=venue)
        .order_by("hire_id", "topic")
        .values_list("hire_id", "topic", "stability", "last")
    )
    return Recalls(
        np.array([hire for hire, *_ in rows], dtype=np.int64),
        [topic for _, topic, *_ in rows],
        recall_all(
            np.array([stability for *_, stability, _ in rows]),
            np.array([last.timestamp() for *_, last in rows]),
            at.timestamp(),
        ),
    )
