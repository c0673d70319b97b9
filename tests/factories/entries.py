"""What came after entries of a record: answered and settled; one answer waits."""

from __future__ import annotations

import datetime as dt
from collections.abc import Callable
from typing import Any

from assessments import record_entries
from barcourse.people.models import Membership
from tests.factories.hands import spot


def entries_answered(
    manager: Membership, trainer: Membership, hire: Membership, drink: str,
    at: dt.datetime, words: Callable[[str], str],
) -> dict[str, Any]:  # fmt: skip
    """Of two marks in service one was answered and let stand; what the hire said to the other
    waits for a manager."""
    stands, open_one = (spot(trainer, hire, drink, at=at) for _ in range(2))
    says = words("Ines made that one.")
    heard, waits = (
        record_entries.answer(by=hire, entry=entry, words=says, disagrees=True, at=at)
        for entry in (stands, open_one)
    )
    record_entries.settle(by=manager, answer=heard, at=at)
    return {"spot": open_one, "said": waits}
