"""What a policy would change is reckoned for the first shift that it would count for."""

from __future__ import annotations

import datetime as dt
from dataclasses import replace

import pytest

from assessments.asked import Asked
from assessments.board import hires_here
from assessments.measures.readiness import Standing
from assessments.measures.sales_mix import ShiftKind
from assessments.policy import opening
from assessments.policy_preview import preview
from assessments.record_policy import set_policy
from assessments.sales import as_sold
from assessments.shifts import coming_shift
from assessments.standing import stands
from recipes.menu import menu_at
from tests.assessments.test_board import only_must_knows, prove, station
from tests.factories.assessments import LATER
from tests.factories.policies import ask_for

TODAY = dt.date(2026, 3, 7)
LATE, WEEK = ShiftKind.WEEKEND_LATE, ShiftKind.WEEK_EARLY


def day(n: int) -> dt.date:
    return TODAY + dt.timedelta(days=n)


@pytest.mark.parametrize(("shift", "days"), [(None, None), (LATE, 0), (WEEK, None), (None, 2)])
def test_it_says_what_is_there_once_the_policy_is_set(odalys, tamsin, nils, shift, days):
    only_must_knows(odalys)
    prove(tamsin, nils)
    venue, well = odalys.venue, station(odalys)
    policy = replace(opening(venue), least_right=0.9, second_right=0.2, pour_days=30)
    from_day = None if days is None else day(days)

    found = preview(venue, (well.pk, str(shift or "")), policy, LATER, from_day)

    set_policy(by=odalys, station=well, shift=shift, policy=policy, from_day=from_day, at=LATER)
    menu = as_sold(menu_at(venue, found.at), shift)
    after = list(stands([well], hires_here(venue, found.at), menu, Asked(shift)))
    assert [c.after.standing for c in found.changes] in ([], [after[0].standing])
    assert [c.after.missing for c in found.changes] in ([], [after[0].missing])
    assert found.ready[1] == sum(s.standing is Standing.READY for s in after)
    assert found.at == LATER if shift is None and not days else found.at > LATER
    if shift:
        assert found.shift == coming_shift(venue, found.at, shift)


def test_what_is_forgotten_by_then_is_reckoned(odalys, tamsin, nils):
    """Who is over the bar today and won't be in half a year stands as they will."""
    only_must_knows(odalys)
    prove(tamsin, nils)
    venue, scope = odalys.venue, (station(odalys).pk, "")
    ask_for(odalys, "well", least_right=0.6, second_right=0.1)
    stricter = replace(opening(venue), least_right=0.99, second_right=0.1)

    now = preview(venue, scope, stricter, LATER)
    later = preview(venue, scope, stricter, LATER, day(180))

    assert (now.ready, later.ready) == ((1, 0), (0, 0))


def test_what_others_have_set_for_then_counts(odalys, tamsin, nils):
    only_must_knows(odalys)
    prove(tamsin, nils)
    venue, scope = odalys.venue, (station(odalys).pk, "")
    ask_for(odalys, "well", least_right=1.0, from_day=day(1))
    milder = replace(opening(venue), least_right=0.01, most_wrong=0.9, second_right=0.0)

    assert preview(venue, scope, milder, LATER).ready == (1, 1)
    assert preview(venue, scope, milder, LATER, day(1)).ready == (0, 1)


def test_who_has_left_by_then_is_not_among_them(odalys, tamsin, nils):
    nils.left_day = day(3)
    nils.save(update_fields=["left_day"])
    policy = replace(opening(odalys.venue), least_right=0.99)

    assert preview(odalys.venue, (None, ""), policy, LATER).looked_at
    assert preview(odalys.venue, (None, ""), policy, LATER, day(9)).looked_at == 0
