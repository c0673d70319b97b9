"""What the facts of log entries tell a reader."""

from __future__ import annotations

import datetime as dt
from collections.abc import Mapping

from django.utils.translation import gettext as _

from assessments.measures.sales_mix import ShiftKind
from assessments.shifts import Shift


def once_told(stations: Mapping[str, str], facts: Mapping[str, object]) -> str:
    """Where somebody was let stand and for which shift. Empty of a word taken back before that was
    noted with it, and of facts that make no sense: whether somebody changed them is told above."""
    slug, day, kind = (str(facts.get(key, "")) for key in ("station", "day", "shift"))
    try:
        when = Shift(dt.date.fromisoformat(day), ShiftKind(kind)).when
    except ValueError:
        return ""
    return _("%(station)s, %(when)s") % {"station": stations.get(slug, slug), "when": when}


TELLERS = {"let_stand_once": once_told, "override_ended": once_told}
