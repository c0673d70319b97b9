"""What stands on the board many times over, put together here: a template takes ten times as
long."""

from collections.abc import Sequence
from functools import lru_cache
from html import escape

from django import template
from django.template import Context
from django.template.loader import render_to_string
from django.utils.safestring import SafeString
from django.utils.translation import gettext

from assessments.board import Row
from assessments.measures.readiness import Standing
from assessments.showing import Gap, VerdictShown
from assessments.templatetags.rack import rack
from assessments.wording_practical import STANDINGS
from barcourse.people.models import Membership
from barcourse.people.templatetags.house import house_url

register = template.Library()

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


@register.simple_tag(takes_context=True)
def person_and_links(context: Context, row: Row, may_say: bool) -> SafeString:
    """Who it is and what to do about them; `may_say`: whether the reader lets people stand."""
    code, station = row.hire.code, f"?station={row.station.slug}"
    record = house_url(context, "hire_record", code=code) + station
    spot = house_url(context, "spot", hire=code)
    said = (
        f'<a href="{escape(record)}">{escape(row.hire.name)}</a> '
        f'<a class="do quiet" href="{escape(spot)}">{escape(gettext("In service"))}</a>'
    )
    if may_say and row.standing is not Standing.READY:
        once = house_url(context, "once", hire=code) + station
        words = escape(gettext("For one shift"))
        said += f' <a class="do quiet" href="{escape(once)}">{words}</a>'
    return SafeString(said)


@register.simple_tag
def of_100_orders(row: Row, shown: VerdictShown) -> SafeString:
    """The rack and the figures, or that there are none."""
    if not row.trials:
        return SafeString(f'<span class="quiet">{escape(gettext("no figures yet"))}</span>')
    drawing = rack(shown.right, shown.ask, shown.wrong, row.verdict.bar, 64)
    means = gettext("%(right)s right, %(ask)s ask, %(wrong)s wrong") % {
        "right": shown.right,
        "ask": shown.ask,
        "wrong": shown.wrong,
    }
    ends = gettext("right: %(low)s to %(high)s") % {"low": shown.low, "high": shown.high}
    guess = f"<br>{escape(shown.guess)}" if shown.guess else ""
    return SafeString(
        f'<div class="row">{drawing}<span>{escape(means)}<br>'
        f'<span class="quiet">{escape(ends)}{guess}</span></span></div>'
    )


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
def gaps_in_short(gaps: Sequence[Gap]) -> SafeString:
    """The first thing that is missing, and all of it for whoever asks."""
    first = escape(gaps[0].sentence)
    if len(gaps) == 1 and not gaps[0].of:
        return SafeString(first)
    summary = f"<summary>{escape(gettext('All that is missing'))}</summary>"
    return SafeString(f'{first}<details class="more">{summary}{gap_lines(gaps)}</details>')


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
