"""`{% board_rows %}`: the lines of the board, put together at once: see `board`."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass, field

from django import template
from django.template import Context
from django.template.loader import render_to_string
from django.utils.safestring import SafeString
from django.utils.translation import gettext as _

from assessments.board import Row
from assessments.measures.readiness import Standing
from assessments.measures.whole_orders import Orders
from assessments.showing import Gap, VerdictShown
from assessments.templatetags.board import escape, gap_lines, standing
from assessments.templatetags.rack import RackWords
from barcourse.people.templatetags.house import house_url

register = template.Library()


@register.simple_tag(takes_context=True)
def board_rows(
    context: Context, rows: Iterable[tuple[Row, VerdictShown]], may_say: bool, asks: str
) -> SafeString:
    """A line a person; `may_say`: whether the reader lets people stand; `asks` is what the pages
    that it leads to are asked for the board's shift."""
    lines = _Lines(context, may_say, asks)
    return SafeString("".join(lines.of(row, shown) for row, shown in rows))


@dataclass(frozen=True)
class _Lines:
    """What says the same on every line is worded once."""

    context: Context
    may_say: bool
    asks: str
    standing: str = field(default_factory=lambda: escape(_("Standing")))
    orders: str = field(default_factory=lambda: escape(_("Of 100 orders")))
    missing: str = field(default_factory=lambda: escape(_("What is missing")))
    way: str = field(default_factory=lambda: escape(_("Shortest way there")))
    nothing: str = field(default_factory=lambda: escape(_("nothing")))
    in_service: str = field(default_factory=lambda: escape(_("In service")))
    one_shift: str = field(default_factory=lambda: escape(_("For one shift")))
    no_figures: str = field(default_factory=lambda: escape(_("no figures yet")))
    figures: str = field(
        default_factory=lambda: escape(_("%(right)s right, %(ask)s ask, %(wrong)s wrong"))
    )
    ends: str = field(default_factory=lambda: escape(_("right: %(low)s to %(high)s")))
    stands: dict[Standing, str] = field(
        default_factory=lambda: {each: standing(each.value) for each in Standing}
    )
    rack: RackWords = field(default_factory=RackWords)
    all_missing: str = field(default_factory=lambda: escape(_("All that is missing")))

    def of(self, row: Row, shown: VerdictShown) -> str:
        step = shown.next[0] if shown.next else ""
        way = f' data-label="{self.way}"' if step else ""
        return (
            f'<tr role="row"><th role="rowheader" scope="row">{self._person(row)}'
            f"{self._once(shown)}</th>"
            f'<td role="cell" data-label="{self.standing}">{self.stands[row.standing]}</td>'
            f'<td role="cell" data-label="{self.orders}">{self._of_100(row, shown)}</td>'
            f'<td role="cell" data-label="{self.missing}">{self._gaps(shown.gaps)}</td>'
            f'<td role="cell"{way}>{escape(step)}</td></tr>'
        )

    def _person(self, row: Row) -> str:
        """Who it is and what to do about them."""
        code, station = row.hire.code, f"?station={row.station.slug}&{self.asks}"
        record = house_url(self.context, "hire_record", code=code) + station
        spot = house_url(self.context, "spot", hire=code)
        said = (
            f'<a href="{escape(record)}">{escape(row.hire.name)}</a> '
            f'<a class="do quiet" href="{escape(spot)}">{self.in_service}</a>'
        )
        if self.may_say and row.standing is not Standing.READY:
            once = house_url(self.context, "once", hire=code) + station
            said += f' <a class="do quiet" href="{escape(once)}">{self.one_shift}</a>'
        return said

    def _once(self, shown: VerdictShown) -> str:
        if not shown.once:
            return ""
        return render_to_string("assessments/once_said.html", {"once": shown.once})

    def _of_100(self, row: Row, shown: VerdictShown) -> str:
        """The rack and the figures, or that there are none."""
        if not row.trials:
            return f'<span class="quiet">{self.no_figures}</span>'
        orders = Orders(shown.right, shown.ask, shown.wrong)
        drawing = self.rack.rack(orders, row.verdict.bar, 64)
        means = self.figures % {"right": shown.right, "ask": shown.ask, "wrong": shown.wrong}
        ends = self.ends % {"low": shown.low, "high": shown.high}
        guess = f"<br>{escape(shown.guess)}" if shown.guess else ""
        return (
            f'<div class="row">{drawing}<span>{means}<br>'
            f'<span class="quiet">{ends}{guess}</span></span></div>'
        )

    def _gaps(self, gaps: Sequence[Gap]) -> str:
        """The first thing that is missing, and all of it for whoever asks."""
        if not gaps:
            return self.nothing
        first = escape(gaps[0].sentence)
        if len(gaps) == 1 and not gaps[0].of:
            return first
        summary = f"<summary>{self.all_missing}</summary>"
        return f'{first}<details class="more">{summary}{gap_lines(gaps)}</details>'
