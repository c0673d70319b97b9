"""From what is known of people to shares of orders at a moment."""

from assessments.measures.orders.fit import Fit
from assessments.measures.orders.history import Menu
from assessments.measures.orders.outlook import Forecast, chances, outlook, shares
from assessments.measures.orders.population import Array, Reals

LEVEL = 0.9
"""Nine times in ten the expected share lies in the interval, if the model holds."""


def forecast(known: Fit, menu: Menu, sales: Array, day: float, level: float = LEVEL) -> Forecast:
    """See `shares`."""
    return shares(outlook(known, menu), menu, sales, day, level)


def by_drink(known: Fit, menu: Menu, day: float) -> tuple[Reals, Reals]:
    """See `chances`."""
    return chances(outlook(known, menu), menu, day)
