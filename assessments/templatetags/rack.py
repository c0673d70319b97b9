"""`{% rack %}` and `{% span %}`: the two drawings of what a person would get right."""

from dataclasses import dataclass, field
from functools import lru_cache
from typing import TypedDict

from django import template
from django.template.loader import render_to_string
from django.utils.html import escape
from django.utils.safestring import SafeString
from django.utils.translation import gettext

from assessments import rack as drawing
from assessments.measures.whole_orders import Orders, whole_orders

register = template.Library()


class SpanParts(TypedDict):
    """What parts/span.html needs."""

    drawing: drawing.Whisker
    title: str


@register.simple_tag
def rack(
    right: float, ask: float, wrong: float, bar: float | None = None, size: int = 92
) -> SafeString:
    """A glass rack `size` pixels wide, from shares of 100 orders; `bar` is the least right."""
    return RackWords().rack(whole_orders(right, ask, wrong), bar, size)


TITLE = "TITLE"
"""Where the words go: what is kept is the same in every language."""


@lru_cache(maxsize=500)
def _rack(orders: Orders, bar: float | None, size: int) -> str:
    """A few kilobytes each; on a board many are alike."""
    parts = {"drawing": drawing.draw(orders, bar), "title": TITLE, "size": size}
    return render_to_string("parts/rack.html", parts)


@register.inclusion_tag("parts/span.html")
def span(low: float, high: float, mid: float, bar: float | None = None) -> SpanParts:
    """An interval from `low` to `high` of 100 orders with its middle and the house's bar."""
    return {
        "drawing": drawing.whisker(low, high, mid, bar),
        "title": _span_words(low, high, mid, bar),
    }


@dataclass(frozen=True)
class RackWords:
    """What is said of a rack in the reader's language: asked for once for a whole list of them."""

    orders: str = field(
        default_factory=lambda: gettext(
            "Glass rack: of 100 orders %(right)d right, would ask on %(ask)d, %(wrong)d wrong."
        )
    )
    bar: str = field(default_factory=lambda: gettext("The house wants %(bar)d right."))

    def rack(self, orders: Orders, bar: float | None, size: int) -> SafeString:
        said = self.orders % orders._asdict()
        if bar is not None:
            said = f"{said} {self.bar % {'bar': round(bar)}}"
        return SafeString(_rack(orders, bar, size).replace(TITLE, escape(said)))


def _span_words(low: float, high: float, mid: float, bar: float | None) -> str:
    said = gettext("%(mid)d of 100, likely between %(low)d and %(high)d.") % {
        "mid": round(mid),
        "low": round(low),
        "high": round(high),
    }
    return said if bar is None else f"{said} {RackWords().bar % {'bar': round(bar)}}"
