"""How much of a glass its ice takes, from what a bartender measured.

Fill the glass with ice, fill it up with water, pour the water off and measure it: what isn't
water is ice, so the share of the ice is 1 - water / capacity.
"""

from recipes.grammar.reasons import CannotBuild, Reason
from recipes.grammar.rules import GlassRule

CODES = frozenset({"ice_without_water", "ice_not_there"})


def ice_share(capacity_ml: float, water_ml: float) -> float:
    """0 up to, not including, 1. `CannotBuild` where the water can't have been measured rightly:
    none at all, or as much as the glass holds without ice."""
    if water_ml <= 0:
        raise CannotBuild((Reason.of("ice_without_water"),))
    if water_ml >= capacity_ml:
        raise CannotBuild((Reason.of("ice_not_there", ml=water_ml, room_ml=capacity_ml),))
    return 1 - water_ml / capacity_ml


def calibrated(glass: GlassRule, water_ml: float) -> GlassRule:
    """The glass with the share of ice that was measured, to a thousandth."""
    share = round(ice_share(glass.ml, water_ml), 3)
    return glass.model_copy(update={"ice_share": min(share, 0.999), "ice_measured": True})
