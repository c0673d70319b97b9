"""What would have been said of one person on days gone by: each from what had been shown until
then, for the menu and the sales of now."""

from collections.abc import Sequence
from math import ceil, inf

from assessments.measures.orders.fit import fit
from assessments.measures.orders.history import Menu, Shown, trials
from assessments.measures.orders.outlook import Forecast, outlook, shares
from assessments.measures.orders.population import Array

MOST = 12
"""Days that are looked at; with a week between them a season of training."""
WEEK, DAY = 7.0, 1.0
MOST_TRIALS = 6_000
"""Looked at for all days together: who has shown very much is shown on fewer days."""


def days_of(shown: Sequence[Shown], today: float, begin: float = inf) -> list[float]:
    """Days to look at, the last is today: a week apart, closer where all lies closer together,
    none before the first thing that was shown, or before `begin` where that is sooner: the
    beginning of the day on which it was shown."""
    seen = [s.day for s in shown if s.day <= today]
    if not seen:
        return []
    most = max(2, min(MOST, MOST_TRIALS // len(seen)))
    span = today - min(seen)
    step = min(WEEK, max(DAY, ceil(span / most)))
    found = [today - n * step for n in range(most)]
    return sorted(day for day in found if day >= min(begin, *seen))


def over_time(
    menu: Menu, shown: Sequence[Shown], sales: Array, days: Sequence[float], level: float
) -> list[Forecast]:
    """A forecast for each day."""
    until = [[s for s in shown if s.day <= day] for day in days]
    if not days:
        return []
    known = outlook(fit(trials(menu, until)), menu)
    return [shares(known.of([n]), menu, sales, day, level) for n, day in enumerate(days)]
