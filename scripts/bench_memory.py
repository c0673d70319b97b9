"""What everybody's recall of everything costs, against fetching the rows alone."""

import datetime as dt
import time
from collections.abc import Callable
from statistics import median
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from barcourse.people.models import Membership

TOPICS = 30_000
"""As of a hundred people with three hundred topics each."""
TURNS = 10


def measure_recalls(owner: "Membership", report: Callable[[str, float, float], None]) -> None:
    """All of them hang on one person: the query and the pass don't look at whose they are."""
    from assessments.models import Memory
    from assessments.recalls import recalls

    now = dt.datetime.now(dt.UTC)
    Memory.objects.bulk_create(
        Memory(
            venue=owner.venue, hire=owner, topic=f"{n:032x}", stability=1 + n % 90,
            difficulty=5.0, due=now, last=now - dt.timedelta(hours=n % 900), reviews=1, lapses=0,
        )
        for n in range(TOPICS)
    )  # fmt: skip

    def fetched() -> None:
        rows = Memory.objects.filter(venue=owner.venue).order_by("hire_id", "topic")
        list(rows.values_list("hire_id", "topic", "stability", "last"))

    def known() -> None:
        recalls(owner.venue, now)

    report(f"recall of {TOPICS} topics", _seconds(fetched), _seconds(known))
    Memory.objects.filter(hire=owner).delete()


def _seconds(call: Callable[[], None]) -> float:
    taken = []
    for _ in range(TURNS):
        begin = time.perf_counter()
        call()
        taken.append(time.perf_counter() - begin)
    return median(taken)
