"""What hands have shown, as pages show it: pour checks with their drift, paces, rounds, marks.

A round in words is in `round_words`."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from decimal import Decimal

from django.utils.translation import gettext as _
from django.utils.translation import ngettext

from assessments import run_plot
from assessments.measures.density import density_of
from assessments.measures.drift import Drift, drift
from assessments.measures.pace_check import Error, Pace, judge_pace
from assessments.measures.pours import (
    PourPolicy,
    PourTarget,
    PourVerdict,
    check_pours,
    is_within,
    week_cost,
)
from assessments.measuring import fine_words, sizes_read
from assessments.models import PaceCheck, PourCheck, SpotMark, WatchedRound
from assessments.pour_policy import in_words, policy_at, versions_of
from assessments.spans import of_hundred
from assessments.tickets import count_of
from assessments.wording import word
from assessments.wording_practical import DENSITY, ERRORS
from barcourse.people.models import Membership, Venue
from recipes.cost_sheet import bottles_of, currency_of, money_words
from recipes.grammar.rules import MeasuredBy
from recipes.menu import Menu
from recipes.models import Recipe
from recipes.wording import label


@dataclass(frozen=True)
class PourShown:
    """A pour check in words. `cost` is empty where a price or the pours a week are unknown."""

    check: PourCheck
    verdict: PourVerdict
    says: list[str]
    plot: run_plot.RunPlot
    pours: list[tuple[str, bool]]
    lines: list[tuple[str, str]]
    cost: str
    density: str
    rule: str

    @property
    def how(self) -> str:
        return label(MeasuredBy(self.check.measured_by))

    @property
    def never_under(self) -> bool:
        return aim_of(self.check).never_under


def aim_of(check: PourCheck) -> PourTarget:
    aim = PourTarget(check.target_ml, check.tolerance_ml, MeasuredBy(check.measured_by))
    return aim.read_in(check.pours_ml, *sizes_read(check.density))


def show_pours(check: PourCheck, menu: Menu, policy: PourPolicy) -> PourShown:
    """`policy` is the house's of the moment at which it was checked."""
    aim = aim_of(check)
    verdict = check_pours(check.pours_ml, aim, policy)
    country = menu.rules.country
    return PourShown(
        check=check,
        verdict=verdict,
        says=[word(r) for r in verdict.reasons],
        plot=run_plot.plot(check.pours_ml, aim),
        pours=[(fine_words(p, country), is_within(p, aim)) for p in check.pours_ml],
        lines=_figures(verdict, aim, country),
        cost=_cost(check, verdict, menu),
        density=_density(check, menu),
        rule=in_words(policy, country),
    )


def _figures(found: PourVerdict, aim: PourTarget, country: str) -> list[tuple[str, str]]:
    """What can be said, each with its label; what can't is left out, and of fewer pours than the
    house wants nothing is said of those to come."""

    def fine(ml: float, *, signed: bool = False) -> str:
        return fine_words(ml, country, signed=signed)

    low, high = aim.limits
    said = [
        (_("Target"), fine(aim.target)),
        (_("Allowed"), _("%(low)s to %(high)s") % {"low": fine(low), "high": fine(high)}),
        (_("On average"), _("%(bias)s off") % {"bias": fine(found.bias, signed=True)}),
        (_("Within tolerance"), _share(found)),
    ]
    if found.passed is None:
        return said
    if found.sd == 0:
        said.append((_("Spread"), _("all read alike")))
    elif (
        found.sd is not None
        and found.tolerance_low is not None
        and found.tolerance_high is not None
    ):
        ends = {"low": fine(max(0.0, found.tolerance_low)), "high": fine(found.tolerance_high)}
        said.append((_("Spread"), fine(found.sd)))
        said.append(
            (
                _("By average and spread 19 of 20 pours of this hand lie within, 95 % sure"),
                _("%(low)s to %(high)s") % ends,
            )
        )
    if found.cp is not None and found.cpk is not None:
        values = {"cp": f"{found.cp:.2f}", "cpk": f"{found.cpk:.2f}"}
        said.append(
            (
                _("Capability, by these"),
                _("%(cp)s; off centre %(cpk)s; 1 or more is enough") % values,
            )
        )
    return said


def _share(found: PourVerdict) -> str:
    ends = of_hundred(round(100 * found.within_low), round(100 * found.within_high))
    said = _(
        "%(hits)s of %(n)s; by the count alone, of all pours of this hand %(ends)s (95 %% sure)"
    )
    return said % {"hits": found.hits, "n": found.n, "ends": ends}


def _cost(check: PourCheck, found: PourVerdict, menu: Menu) -> str:
    slug = check.ingredient.slug if check.ingredient else ""
    bottle = bottles_of(menu.venue).get(slug)
    if not check.pours_a_week or bottle is None:
        return ""
    cost = week_cost(found.bias, check.pours_a_week, bottle)
    values = {
        "money": money_words(abs(cost), currency_of(menu)), "n": check.pours_a_week,
        "bottle": menu.names.get(slug, slug),
    }  # fmt: skip
    if abs(cost) < Decimal("0.005"):
        return ""
    if cost > 0:
        return _("At %(n)s pours of %(bottle)s a week this gives away about %(money)s.") % values
    return _("At %(n)s pours of %(bottle)s a week guests get about %(money)s too little.") % values


def _density(check: PourCheck, menu: Menu) -> str:
    if not check.weighed or check.density is None:
        return ""
    slug = check.ingredient.slug if check.ingredient else ""
    liquid = menu.pantry.get(slug) if check.made_with == "stock" else None
    values = {"n": f"{check.density:.3f}", "how": DENSITY[density_of(liquid)[1]]}
    if check.made_with == "water":
        return _("Weighed; a millilitre of water taken as %(n)s g.") % values
    return _("Weighed; a millilitre taken as %(n)s g, %(how)s.") % values


@dataclass(frozen=True)
class Series:
    """A person's checks with one measure, newest first, and whether they drift."""

    heading: str
    checks: list[PourShown]
    drift: Drift
    says: str
    slope: str


def series_of(hire: Membership, menu: Menu) -> list[Series]:
    """By way of measuring and target; the measure that was checked last comes first. What was
    taken back is no part of it."""
    rows = PourCheck.objects.of(hire).not_void().with_people().select_related("ingredient")
    found: dict[tuple[str, float], list[PourShown]] = defaultdict(list)
    for shown in _in_words(rows.newest_first(), menu):
        check = shown.check
        found[check.measured_by, round(check.target_ml, 2)].append(shown)
    return [_series(shown, menu.rules.country) for shown in found.values()]


def _in_words(rows: Iterable[PourCheck], menu: Menu) -> list[PourShown]:
    versions = versions_of(menu.venue)
    return [show_pours(row, menu, policy_at(versions, row.at)) for row in rows]


def _series(shown: Sequence[PourShown], country: str) -> Series:
    first = shown[-1].check.at
    days = [((s.check.at - first).total_seconds() / 86400, s.verdict.bias) for s in shown]
    found = drift(days)
    values = {"how": shown[0].how, "target": fine_words(shown[0].check.target_ml, country)}
    slope = ""
    if found.slope is not None and found.low is not None and found.high is not None:
        slope = _("%(slope)s a month, likely %(low)s to %(high)s") % {
            "slope": fine_words(found.slope, country, signed=True),
            "low": fine_words(found.low, country, signed=True),
            "high": fine_words(found.high, country, signed=True),
        }
    heading = _("%(target)s %(how)s") % values
    return Series(heading, list(shown), found, word(found.reason), slope)


@dataclass(frozen=True)
class PaceShown:
    check: PaceCheck
    pace: Pace
    says: list[str]
    errors: list[tuple[str, int]]

    @property
    def said(self) -> str:
        """The one sentence of it, wherever it is told."""
        n, low, high = self.pace.whole
        values = {"n": n, "low": low, "high": high}
        said = ngettext(
            "%(n)s drink an hour, likely %(low)s to %(high)s",
            "%(n)s drinks an hour, likely %(low)s to %(high)s", n,
        )  # fmt: skip
        return said % values


def show_pace(check: PaceCheck) -> PaceShown:
    errors = {Error(kind): n for kind, n in check.errors.items()}
    pace = judge_pace(count_of(check.ticket), check.seconds, errors, rung_up=check.rung_up)
    told = [(str(ERRORS[kind]), n) for kind, n in errors.items()]
    return PaceShown(check, pace, [word(r) for r in pace.reasons], told)


@dataclass(frozen=True)
class Hands:
    """Everything of this kind about one person, newest first."""

    spots: list[SpotMark]
    pours: list[PourShown]
    paces: list[PaceShown]
    rounds: list[WatchedRound]

    def __bool__(self) -> bool:
        return bool(self.spots or self.pours or self.paces or self.rounds)


def hands_of(hire: Membership, menu: Menu) -> Hands:
    spots = SpotMark.objects.of(hire).with_people().with_void().select_related("recipe")
    pours = PourCheck.objects.of(hire).with_people().with_void().select_related("ingredient")
    paces = PaceCheck.objects.of(hire).with_people().with_void().select_related("station")
    made = WatchedRound.objects.of(hire).with_people().with_void()
    return Hands(
        spots=list(spots.newest_first()),
        pours=_in_words(pours.newest_first(), menu),
        paces=[show_pace(p) for p in paces.newest_first()],
        rounds=list(made.newest_first()),
    )


def names_of(venue: Venue) -> dict[str, str]:
    """What drinks are called, on the menu or not, by slug."""
    return dict(Recipe.objects.in_house(venue).values_list("slug", "name"))
