"""What stands on the board many times over, put together here: a template takes ten times as
long."""

from collections.abc import Sequence
from functools import lru_cache
from html import escape as escaped

from django import template
from django.template.loader import render_to_string
from django.utils.safestring import SafeString

from assessments.measures.readiness import Standing
from assessments.showing import Gap
from assessments.wording_practical import STANDINGS
from barcourse.people.models import Membership

register = template.Library()

escape = lru_cache(maxsize=5000)(escaped)
"""Of a board's sentences and names most come many times over."""

LEVELS = {Standing.READY: "full", Standing.SECOND: "half", Standing.NOT_YET: "empty"}


@register.simple_tag
def standing(value: str) -> SafeString:
    """How somebody stands, as a shape and in words."""
    stands = Standing(value) if value in LEVELS else Standing.NOT_YET
    glass, words = _glass(LEVELS[stands]), escape(str(STANDINGS[stands]))
    return SafeString(f'<span class="standing {stands.value}">{glass}{words}</span>')


@lru_cache(maxsize=3)
def _glass(level: str) -> str:
    return render_to_string("parts/glass.html", {"level": level})


@register.simple_tag
def who_is_there(people: Sequence[tuple[Membership, bool]]) -> SafeString:
    """Each with a box, ticked where the plan reckons with them."""
    return SafeString(
        "".join(
            _choice(is_here).replace(CODE, escape(hire.code)).replace(NAME, escape(hire.name))
            for hire, is_here in people
        )
    )


CODE, NAME = "THE-CODE", "THE-NAME"


@lru_cache(maxsize=2)
def _choice(checked: bool) -> str:
    parts = {"name": "here", "value": CODE, "label": NAME, "type": "checkbox", "checked": checked}
    return render_to_string("parts/choice.html", parts).strip()


@register.simple_tag
def gap_lines(gaps: Sequence[Gap]) -> SafeString:
    """What is missing and how to mend it, a line each."""
    return SafeString(f'<ul class="lines plain">{"".join(_line(gap) for gap in gaps)}</ul>')


def _line(gap: Gap) -> str:
    said = escape(gap.sentence)
    if gap.of:
        names = "".join(f"<li>{escape(name)}</li>" for name in gap.of)
        heading = f"<summary>{said}</summary>"
        said = f'<details class="more">{heading}<ul class="plain">{names}</ul></details>'
    mend = f'<br><span class="quiet">{escape(gap.mend)}</span>' if gap.mend else ""
    return f'<li class="line"><div>{said}{mend}</div></li>'
