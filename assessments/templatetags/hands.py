"""`{% run_plot shown %}`: the pours of a check in their order."""

from __future__ import annotations

from typing import TypedDict

from django import template
from django.utils.translation import gettext as _

from assessments.hands import PourShown
from assessments.run_plot import RunPlot

register = template.Library()


class PlotParts(TypedDict):
    """What run_plot.html needs."""

    plot: RunPlot
    title: str


@register.inclusion_tag("assessments/run_plot.html")
def run_plot(shown: PourShown) -> PlotParts:
    values = {"n": shown.verdict.n, "hits": shown.verdict.hits}
    return {
        "plot": shown.plot,
        "title": _("%(n)s pours in their order, %(hits)s of them within tolerance.") % values,
    }
