"""How a person came to where they stand: days, figures, what happened, plot and page."""

import datetime as dt

import numpy as np
import pytest
import time_machine

from assessments import board, past_plot
from assessments.measures.orders import LEVEL, Menu, Shown, fit, forecast, trials
from assessments.measures.orders.past import MOST, MOST_TRIALS, days_of, over_time
from assessments.measures.sales_mix import ShiftKind
from assessments.past import Past, Point, past_of
from tests.assessments.pages import address, text
from tests.factories import assessments as make
from tests.factories.assessments import NOW
from tests.factories.policies import ask_for

DAY = dt.timedelta(days=1)
TODAY = NOW + 20 * DAY
MENU = Menu(((0, 1), (1, 2)), 3)
MENU_SALES = np.array([0.5, 0.5])


def shown(day, outcome="right"):
    return Shown(0, (0, 1), day, outcome)


@pytest.mark.parametrize(
    ("first", "days"),
    [
        (100.0, [100.0]),
        (98.5, [99.0, 100.0]),
        (90.0, [float(d) for d in range(90, 101)]),
        (76.0, [float(d) for d in range(76, 101, 2)][-12:]),
        (10.0, [100.0 - 7 * n for n in range(11, -1, -1)]),
    ],
)
def test_a_week_apart_or_closer_and_never_before_the_first(first, days):
    assert days_of([shown(first)], 100.0) == days
    assert len(days) <= MOST


def test_nothing_shown_has_no_past():
    assert days_of([], 100.0) == []
    assert days_of([shown(101.0)], 100.0) == []
    assert over_time(MENU, [], MENU_SALES, [], LEVEL) == []


def test_who_has_shown_very_much_is_shown_on_fewer_days():
    assert len(days_of([shown(0.0)] * (MOST_TRIALS // 3), 100.0)) == 3
    assert len(days_of([shown(0.0)] * MOST_TRIALS, 100.0)) == 2


def test_a_day_knows_nothing_of_what_comes_after_it():
    before = [shown(1.0), shown(3.0, "wrong")]
    later = [*before, shown(9.0), shown(12.0)]
    [then, now] = over_time(MENU, later, MENU_SALES, [5.0, 12.0], LEVEL)

    alone = forecast(fit(trials(MENU, [before])), MENU, MENU_SALES, 5.0)
    whole = forecast(fit(trials(MENU, [later])), MENU, MENU_SALES, 12.0)
    assert then.right.mean == pytest.approx(alone.right.mean)
    assert then.right.low == pytest.approx(alone.right.low)
    assert now.right.mean == pytest.approx(whole.right.mean)


@pytest.fixture
def three_weeks(odalys, tamsin, nils):
    make.take_quiz(nils)
    make.sign_off(tamsin, nils, at=NOW + 8 * DAY)
    make.lemon_in_tonic(tamsin, at=NOW + 9 * DAY)
    make.sign_off(tamsin, nils, "negroni", at=NOW + 15 * DAY)
    return nils


def row_of(hire, at=TODAY):
    well = hire.venue.stations.get(slug="well")
    menu = make.menu_of(hire, at)
    return board.board(well, menu, [hire])[0], menu


def test_the_last_point_is_what_the_board_says(three_weeks):
    row, menu = row_of(three_weeks)
    found = past_of(row, menu)

    last = found.points[-1]
    assert last.at == TODAY
    assert (last.right, last.low) == pytest.approx((row.right, row.right_low), abs=1e-5)
    assert len(found.points) == 11


def test_what_happened_stands_under_its_own_day(three_weeks):
    """Also where that day has no point: they are up to a week apart."""
    found = past_of(*row_of(three_weeks))
    venue = three_weeks.venue

    happened = {d.day: (d.signed_off, d.quizzes, d.menu_changes) for d in found.days}
    assert {day: of for day, of in happened.items() if any(of)} == {
        venue.business_day(NOW): (0, 1, 0),
        venue.business_day(NOW + 8 * DAY): (1, 0, 0),
        venue.business_day(NOW + 9 * DAY): (0, 0, 1),
        venue.business_day(NOW + 15 * DAY): (1, 0, 0),
    }
    assert [d.point for d in found.days if d.point] == list(found.points)
    assert [d.day for d in found.days] == sorted(happened)
    between = [d for d in found.days if not d.point]
    assert between  # else this shows nothing
    assert all(any((d.signed_off, d.quizzes, d.menu_changes)) for d in between)


def test_a_change_of_what_ready_takes_there_stands_under_its_day(three_weeks, odalys):
    """Not one of before they began, of another station, or of other shifts than is asked for."""
    weekend = ShiftKind.WEEKEND_LATE
    ask_for(odalys, least_right=0.5, at=NOW - DAY)
    ask_for(odalys, "well", least_right=0.8, at=NOW + 9 * DAY)
    ask_for(odalys, "beer-point", least_right=0.8, at=NOW + 10 * DAY)
    ask_for(odalys, "well", weekend, least_right=0.9, at=NOW + 11 * DAY)
    venue = odalys.venue

    for shift, days in ((None, [9]), (weekend, [9, 11])):
        found = past_of(*row_of(three_weeks), shift=shift)
        assert found.policy_changes == tuple(NOW + day * DAY for day in days)
        assert {d.day for d in found.days if d.policy_changes} == {
            venue.business_day(at) for at in found.policy_changes
        }


def test_the_first_day_counts(three_weeks):
    found = past_of(*row_of(three_weeks, TODAY + dt.timedelta(hours=5)))

    assert found.quizzes == (NOW,)
    assert found.points[0].at > NOW
    assert (found.days[0].point, found.days[0].quizzes) == (found.points[0], 1)
    assert sum(d.quizzes for d in found.days) == 1
    assert all(at > NOW for at in found.menu_changes)  # the house opened with its menu before


def test_what_happened_in_the_evening_stands_beside_that_day(tamsin, nils):
    """Asked in the morning: the days gone by are told as they were when they were over."""
    evenings = [NOW + DAY + dt.timedelta(hours=5), NOW + 2 * DAY + dt.timedelta(hours=11)]
    for at, drink in zip(evenings, ("madras", "negroni"), strict=True):
        make.sign_off(tamsin, nils, drink, at=at)
    venue = nils.venue
    found = past_of(*row_of(nils, NOW + 4 * DAY - dt.timedelta(hours=5)))

    signed = {d.day: d.signed_off for d in found.days if d.signed_off and d.point}
    assert signed == {venue.business_day(at): 1 for at in evenings}


def test_what_happened_before_the_first_point_stands_before_it():
    happened = (NOW - 3 * DAY, NOW + 5 * DAY)
    points = (point(0, 0.5, 0.25, 0.75), point(10, 1.0, 0.5, 1.0))
    found = past_plot.plot(Past(points, (), happened, ()), bar=0.7)

    centres = [float(dot.split()[0]) + 4 for dot in found.quizzes.split("M")[1:]]
    wide = 304.0 - past_plot.LEFT
    assert centres == [past_plot.LEFT, pytest.approx(past_plot.LEFT + wide * 8 / 13, abs=0.1)]
    assert found.line.startswith(f"M{past_plot.LEFT + wide * 3 / 13:.1f} ")


def test_where_nothing_happened_it_begins_with_the_first_point():
    past = Past((Point(NOW, 0.5, 0.4, 0.6),), (), (), ())

    assert past.begins == NOW


def test_who_has_shown_nothing_has_no_past(odalys, nils):
    assert past_of(*row_of(nils)) is None


def point(days, right, low, high):
    return Point(NOW + days * DAY, right, low, high)


def test_the_plot_s_paths():
    found = past_plot.plot(
        Past((point(0, 0.5, 0.25, 0.75), point(10, 1.0, 0.5, 1.0)), (NOW + 5 * DAY,), (), ()),
        bar=0.7,
    )

    top, foot, left, right = past_plot.TOP, past_plot.FOOT, past_plot.LEFT, 304.0
    middle = (top + foot) / 2
    assert found.line == f"M{left} {middle}L{right} {top}"
    assert found.band.startswith(f"M{left} {foot - 0.75 * (foot - top)}L{right} {top}")
    assert found.band.endswith("Z")
    assert f"L{(left + right) / 2:.1f} 223.0" in found.signed_off
    assert (found.quizzes, found.menu_changes, found.policy_changes) == ("", "", "")


def test_a_change_of_what_ready_takes_is_a_square_in_a_row_of_its_own():
    points = (point(0, 0.5, 0.25, 0.75), point(10, 1.0, 0.5, 1.0))
    found = past_plot.plot(Past(points, (), (), (), (NOW + 5 * DAY,)), bar=0.7)

    middle = (past_plot.LEFT + 304.0) / 2
    assert found.policy_changes == f"M{middle - 5:.1f} 289.0h10v10h-10z"
    assert past_plot.HEIGHT - 18 > 294 + 5  # clear of the dates


def test_the_page_shows_the_plot_and_the_same_in_words(three_weeks, visit, odalys, tamsin):
    ask_for(odalys, "well", least_right=0.8, at=NOW + 9 * DAY)
    with time_machine.travel(TODAY, tick=False):
        page = visit(tamsin).get(address(tamsin, "hire_record", code=three_weeks.code))

    assert 'class="plot"' in page.content.decode()
    said = text(page)
    assert "Well, over time" in said
    assert "March 27, 2026" in said
    assert "March 16, 2026 one change of menu or rules what ready takes at Well was changed" in said
    lines = page.context["past_lines"]
    assert sum(line.figures is not None for line in lines) == 11
    assert said.count("not reckoned") == len(lines) - 11 > 0


def test_one_s_own_page_has_it_too_and_a_beginner_s_has_none(three_weeks, visit, odalys, nils):
    with time_machine.travel(TODAY, tick=False):
        assert "Well, over time" in text(visit(nils).get(address(nils, "my_record")))
    with time_machine.travel(NOW, tick=False):
        assert "over time" not in text(visit(nils).get(address(nils, "my_record")))
