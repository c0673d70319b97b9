"""The house's own record as its page shows it: whole numbers of a hundred, intervals outwards."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from math import ceil, floor

import numpy as np
from django.utils.translation import gettext as _

from assessments import reliability_plot
from assessments.measures.house_miss import LEAST, Case, Miss, widened
from assessments.measures.intervals import exact_share
from assessments.measures.orders import LEVEL
from assessments.measures.own_record import Bin, Record, hold_against, too_small
from assessments.wording import word

EXAMPLE = (0.74, 0.86)
"""A span as the board may show it, to say what the house's own record makes of it."""


@dataclass(frozen=True)
class Line:
    """Of 100 builds: so many stated, so many came, which may be `low` to `high`."""

    label: str
    count: int
    stated: int
    came: int
    low: int
    high: int
    off: str = ""
    """Where what was stated lies outside the interval: on which side what came is."""


@dataclass(frozen=True)
class Span:
    low: int
    high: int


@dataclass(frozen=True)
class Whole:
    """Where there is enough to say something. `wider` is the example's span as it is drawn in this
    house, None where nothing is widened."""

    plot: reliability_plot.ReliabilityPlot
    bins: list[Line]
    kinds: list[Line]
    outcomes: list[Line]
    brier: str
    unreliable: str
    resolved: str
    uncertain: str
    example: Span
    wider: Span | None


@dataclass(frozen=True)
class RecordShown:
    says: str
    whole: Whole | None


def show_record(cases: Sequence[Case], builds: int) -> RecordShown:
    """`builds` is how many there are, whether or not they were held against anything."""
    found = hold_against(cases)
    if not isinstance(found, Record):
        return RecordShown(word(too_small(builds) if builds < LEAST else found), None)
    return RecordShown(word(found.says), _whole(found, cases))


def _whole(found: Record, cases: Sequence[Case]) -> Whole:
    return Whole(
        plot=reliability_plot.plot(found.bins),
        bins=[_of_bin(b) for b in found.bins],
        kinds=_kinds(cases),
        outcomes=_outcomes(cases),
        brier=f"{found.brier:.3f}",
        unreliable=f"{found.unreliable:.3f}",
        resolved=f"{found.resolved:.3f}",
        uncertain=f"{found.uncertain:.3f}",
        example=_span(*EXAMPLE),
        wider=_wider(found.miss) if found.miss else None,
    )


def board_says(miss: Miss) -> str:
    """Why the board's spans are wider than the evidence alone would make them; "" where they
    aren't."""
    if not miss:
        return ""
    if miss.down > miss.up:
        return _(
            "Builds in this house came right less often than the figures had said, so every span "
            "reaches further down than the evidence alone would let it."
        )
    if miss.up > miss.down:
        return _(
            "Builds in this house came right more often than the figures had said, so every span "
            "reaches further up than the evidence alone would let it."
        )
    return _(
        "People in this house differ more from their figures than chance explains, so every span "
        "is wider than the evidence alone would make it."
    )


def _wider(miss: Miss) -> Span:
    low, high = widened(np.array(EXAMPLE[:1]), np.array(EXAMPLE[1:]), miss, LEVEL)
    return _span(float(low[0]), float(high[0]))


def _span(low: float, high: float) -> Span:
    return Span(floor(100 * low + 1e-9), ceil(100 * high - 1e-9))


def _of_bin(found: Bin) -> Line:
    span, tenth = _span(found.low, found.high), min(int(10 * found.stated), 9)
    return Line(
        _("%(low)s to %(high)s") % {"low": 10 * tenth, "high": 10 * tenth + 10},
        found.count, round(100 * found.stated), round(100 * found.came), span.low, span.high,
        _off(found.stated, found.low, found.high),
    )  # fmt: skip


def _kinds(cases: Sequence[Case]) -> list[Line]:
    watched = [c for c in cases if c.chosen]
    served = [c for c in cases if not c.chosen]
    pairs = ((_("the trainer, to watch"), watched), (_("guests, in service"), served))
    return [_line(label, of, lambda c: c.right, "right") for label, of in pairs if of]


def _outcomes(cases: Sequence[Case]) -> list[Line]:
    return [
        _line(_("right"), cases, lambda c: c.right, "right"),
        _line(_("asked or mended"), cases, lambda c: c.ask, "ask"),
        _line(_("wrong"), cases, lambda c: c.wrong, "wrong"),
    ]


def _line(label: str, cases: Sequence[Case], stated: Callable[[Case], float], came: str) -> Line:
    n, hits = len(cases), sum(c.came == came for c in cases)
    low, high = exact_share(hits, n)
    span = _span(low, high)
    mean = sum(stated(c) for c in cases) / n
    off = _off(mean, low, high)
    return Line(label, n, round(100 * mean), round(100 * hits / n), span.low, span.high, off)


def _off(stated: float, low: float, high: float) -> str:
    if stated < low:
        return _("more came than chance explains")
    return _("fewer came than chance explains") if stated > high else ""
