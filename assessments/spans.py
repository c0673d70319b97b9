"""How sure a share is, in plain words: its interval, of a hundred."""

from __future__ import annotations

from django.utils.translation import gettext as _

FEW = 25
"""An interval wider than so many of a hundred says little, and is told so (our own number)."""


def of_hundred(low: int, high: int) -> str:
    """ "42 to 61 of 100"; where few were seen, in words that a number doesn't hide."""
    if not 0 <= low <= high <= 100:
        raise ValueError(f"{low} to {high} is no part of a hundred")
    ends = {"low": low, "high": high}
    if high - low <= FEW:
        return _("%(low)s to %(high)s of 100") % ends
    if low == 0 and high == 100:
        return _("anything from none to all: too few to say")
    if high == 100:
        return _("at least %(low)s of 100, perhaps all: so few can't say more") % ends
    if low == 0:
        return _("at most %(high)s of 100, perhaps none: so few can't say more") % ends
    return _("anything from %(low)s to %(high)s of 100: so few can't say more") % ends
