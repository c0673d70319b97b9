"""What happens when: things are planned in any order and happen in the order of the clock."""

from __future__ import annotations

import datetime as dt
import heapq
from collections.abc import Callable
from itertools import count

Event = Callable[[dt.datetime], None]


class Diary:
    """Events by moment; two at the same moment happen in the order in which they were planned.

    An event may plan further ones. The sealed log is numbered as entries arrive, so a house whose
    past is told in the order of the clock has a log that reads so.
    """

    def __init__(self) -> None:
        self._events: list[tuple[dt.datetime, int, Event]] = []
        self._turn = count()

    def plan(self, at: dt.datetime, event: Event) -> None:
        heapq.heappush(self._events, (at, next(self._turn), event))

    def live(self) -> None:
        while self._events:
            at, _turn, event = heapq.heappop(self._events)
            event(at)
