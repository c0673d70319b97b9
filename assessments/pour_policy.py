"""By which rule a pour check is judged: the house's of that moment, and what another would make of
the last checks."""

from __future__ import annotations

import datetime as dt
from collections.abc import Sequence
from dataclasses import dataclass

from django.utils.translation import gettext as _

from assessments import board
from assessments.measures.pours import DEFAULT, PourPolicy, PourTarget, check_pours
from assessments.measuring import fine_words, sizes_read
from assessments.models import HousePourPolicy, PourCheck
from assessments.wording import word
from barcourse.people.models import Venue
from recipes.grammar.rules import MeasuredBy
from recipes.menu import Menu
from recipes.wording import label


def versions_of(venue: Venue) -> list[HousePourPolicy]:
    """Every version, the first one first; none where the house has set nothing."""
    return list(HousePourPolicy.objects.in_house(venue).with_people())


def policy_at(versions: Sequence[HousePourPolicy], at: dt.datetime) -> PourPolicy:
    """The rule in force at a moment: of the versions begun by then the newest, else the usual."""
    begun = [version for version in versions if version.at <= at]
    return begun[-1].policy if begun else DEFAULT


def in_words(policy: PourPolicy, country: str) -> str:
    values = {"n": policy.least_pours, "within": round(100 * policy.least_within)}
    if policy.most_bias is None:
        return _("%(n)s pours or more, %(within)s of 100 within tolerance.") % values
    return _(
        "%(n)s pours or more, %(within)s of 100 within tolerance, on average no more than "
        "%(bias)s off."
    ) % {**values, "bias": fine_words(policy.most_bias, country)}


@dataclass(frozen=True)
class Rehearsed:
    """The last check of somebody with one measure: as it was judged, and as it would be."""

    check: PourCheck
    measure: str
    was: str
    would: str
    why: str

    @property
    def changes(self) -> bool:
        return self.was != self.would


def rehearse(menu: Menu, policy: PourPolicy, tolerance_ml: float) -> list[Rehearsed]:
    """For everybody in training here, by name; of every measure the check that was made last."""
    hires = board.hires_here(menu.venue, menu.at)
    rows = PourCheck.objects.in_house(menu.venue).of(*hires).not_void()
    rows = rows.with_people().newest_first()
    last: dict[tuple[int, str, float], PourCheck] = {}
    for row in rows:
        last.setdefault((row.hire_id, row.measured_by, round(row.target_ml, 2)), row)
    found = [_rehearsed(row, policy, tolerance_ml, menu.rules.country) for row in last.values()]
    return sorted(found, key=lambda r: (r.check.hire.name.casefold(), r.check.hire_id, r.measure))


def _rehearsed(row: PourCheck, policy: PourPolicy, tolerance_ml: float, country: str) -> Rehearsed:
    by = MeasuredBy(row.measured_by)
    aim = PourTarget(row.target_ml, tolerance_ml, by)
    aim = aim.read_in(row.pours_ml, *sizes_read(row.density))
    verdict = check_pours(row.pours_ml, aim, policy)
    measure = f"{fine_words(row.target_ml, country)} {label(by)}"
    why = word(verdict.reasons[0])
    return Rehearsed(row, measure, _passed(row.passed), _passed(verdict.passed), why)


def _passed(passed: bool | None) -> str:
    if passed is None:
        return _("too few to say")
    return _("passed") if passed else _("not passed")
