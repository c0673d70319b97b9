"""Orders right: of what is ordered, which part somebody would build right, ask about, get wrong.

`history` turns what was shown into trials, `fit` says what they tell about the person, `forecast`
what that means for a menu at a moment. `population` holds every number that is assumed.
"""

from assessments.measures.orders.fit import Fit, fit
from assessments.measures.orders.forecast import Forecast, Share, by_drink, forecast
from assessments.measures.orders.history import Menu, Shown, Trials, trials
from assessments.measures.orders.population import POPULATION, Population

__all__ = [
    "POPULATION",
    "Fit",
    "Forecast",
    "Menu",
    "Population",
    "Share",
    "Shown",
    "Trials",
    "by_drink",
    "fit",
    "forecast",
    "trials",
]
