"""Orders right: of what is ordered, which part somebody would build right, ask about, get wrong.

`history` turns what was shown into trials, `fit` says what they tell about the person, `outlook`
what that means for any day, `forecast` for one. `population` holds every number that is assumed.
"""

from assessments.measures.orders.fit import Fit, fit
from assessments.measures.orders.forecast import LEVEL, by_drink, forecast
from assessments.measures.orders.history import Menu, Shown, Trials, trials
from assessments.measures.orders.outlook import (
    POINTS,
    SPEEDS,
    Forecast,
    Outlook,
    Share,
    chances,
    less_wrong,
    outlook,
    recalls,
    shares,
)
from assessments.measures.orders.population import POPULATION, Population

__all__ = [
    "LEVEL",
    "POINTS",
    "POPULATION",
    "SPEEDS",
    "Fit",
    "Forecast",
    "Menu",
    "Outlook",
    "Population",
    "Share",
    "Shown",
    "Trials",
    "by_drink",
    "chances",
    "fit",
    "forecast",
    "less_wrong",
    "outlook",
    "recalls",
    "shares",
    "trials",
]
