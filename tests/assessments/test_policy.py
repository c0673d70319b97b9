"""What ready takes in a house: which policy counts where and when, gates from the tables."""

from __future__ import annotations

import datetime as dt
from dataclasses import replace

import pytest

from assessments import board, record
from assessments.asked import Asked
from assessments.gate_facts import newest_paces
from assessments.measures.marking import ALLERGY, RIGHT_DRINK, HelpLevel
from assessments.measures.readiness import Standing
from assessments.measures.ready_facts import Proof
from assessments.measures.sales_mix import ShiftKind
from assessments.models import PolicyVersion
from assessments.policy import EVERYWHERE, book_at, changes_of, opening, scopes
from assessments.record_policy import set_policy
from assessments.tasks import task_rows
from barcourse.people import log, permits, side_work
from barcourse.people.models import SideTask
from barcourse.people.reasons import Refused
from tests.assessments.test_board import only_must_knows, prove, station
from tests.factories import assessments as make
from tests.factories import hands
from tests.factories.assessments import LATER, NOW
from tests.factories.people import hire as hire_somebody
from tests.factories.policies import ask_for
from tests.factories.recipes import DAY

LATE = ShiftKind.WEEKEND_LATE
TODAY = dt.date(2026, 3, 7)


def least(member, slug, shift=None, at=LATER):
    return round(100 * book_at(member.venue, at).of(station(member, slug), shift).least_right)


def test_until_a_house_sets_anything_what_it_opened_with_counts(odalys):
    book = book_at(odalys.venue, NOW)

    assert book.policies == {EVERYWHERE: opening(odalys.venue)}
    assert (least(odalys, "well"), least(odalys, "bar-back", LATE)) == (70, 70)


def test_the_nearest_policy_counts_as_a_whole(odalys):
    ask_for(odalys, least_right=0.71, permits=("serving",))
    ask_for(odalys, shift=LATE, least_right=0.72)
    ask_for(odalys, "well", least_right=0.73)
    ask_for(odalys, "well", LATE, least_right=0.74)

    early = ShiftKind.WEEK_EARLY
    assert [least(odalys, "well", s) for s in (None, early, LATE)] == [73, 73, 74]
    assert [least(odalys, "beer-point", s) for s in (None, early, LATE)] == [71, 71, 72]
    book = book_at(odalys.venue, LATER)
    assert book.of(station(odalys, "beer-point"), early).permits == ("serving",)
    assert book.of(station(odalys, "beer-point"), LATE).permits == ()
    assert set(book.policies) <= set(scopes(odalys.venue))


def test_a_version_counts_from_its_day_on(odalys):
    ask_for(odalys, least_right=0.75)
    ask_for(odalys, least_right=0.9, from_day=TODAY + dt.timedelta(days=2))
    begins = odalys.venue.business_day_begins(TODAY + dt.timedelta(days=2))

    assert least(odalys, "well", at=NOW - DAY) == 70
    assert least(odalys, "well", at=begins - dt.timedelta(seconds=1)) == 75
    assert least(odalys, "well", at=begins) == 90


CHANGES = {
    "nothing set": ([], {}),
    "for everybody": ([("", None, 0.8, 1)], {"well": [1], "well late": [1]}),
    "for another station": ([("beer-point", None, 0.8, 1)], {}),
    "for a kind of shift": ([("well", LATE, 0.8, 1)], {"well late": [1]}),
    "what is nearer stays": (
        [("well", None, 0.8, 1), ("", None, 0.9, 2)], {"well": [1], "well late": [1]},
    ),
    "what was so already": ([("well", None, 0.7, 1), ("well", LATE, 0.8, 2)], {"well late": [2]}),
    "twice": ([("", None, 0.8, 1), ("", None, 0.9, 2)], {"well": [1, 2], "well late": [1, 2]}),
    "yet to come": ([("", None, 0.8, 9)], {}),
}  # fmt: skip
"""Where, for which shift, what and on which day; on which days what counts there was another."""


@pytest.mark.parametrize(("set_so", "days"), CHANGES.values(), ids=CHANGES)
def test_when_what_ready_takes_at_a_station_became_another(odalys, set_so, days):
    for slug, shift, least_right, day in set_so:
        ask_for(odalys, slug, shift, least_right=least_right, at=NOW + day * DAY)

    for name, shift in {"well": None, "well late": LATE}.items():
        found = changes_of(station(odalys), shift, NOW + 5 * DAY)
        assert found == [NOW + day * DAY for day in days.get(name, [])]


def test_what_was_set_beforehand_is_a_change_on_its_day_and_so_is_taking_it_away(odalys):
    day = TODAY + dt.timedelta(days=2)
    ask_for(odalys, "well", least_right=0.8, from_day=day)
    set_policy(by=odalys, station=station(odalys), shift=None, policy=None, at=NOW + 4 * DAY)

    begins = odalys.venue.business_day_begins(day)
    assert changes_of(station(odalys), None, NOW + 5 * DAY) == [begins, NOW + 4 * DAY]


def test_changes_are_read_at_once_however_many_they_are(odalys, django_assert_max_num_queries):
    days = [NOW + n * DAY for n in range(6)]
    for n, at in enumerate(days):
        ask_for(odalys, least_right=0.6 + n / 20, at=at)
    well = station(odalys)

    with django_assert_max_num_queries(3):
        found = changes_of(well, None, NOW + 9 * DAY)

    assert found == days


def test_of_two_for_one_moment_the_later_one_counts(odalys):
    day = TODAY + dt.timedelta(days=2)
    ask_for(odalys, least_right=0.9, from_day=day)
    ask_for(odalys, least_right=0.8, from_day=day)

    assert least(odalys, "well", at=NOW + 3 * DAY) == 80


def test_a_scope_follows_the_wider_one_afterwards(odalys):
    ask_for(odalys, "well", least_right=0.9)
    follow = {"station": station(odalys), "shift": None, "policy": None}
    set_policy(by=odalys, **follow, at=NOW)

    assert least(odalys, "well") == 70
    assert [v.number for v in PolicyVersion.objects.in_house(odalys.venue).newest_first()] == [2, 1]
    with pytest.raises(Refused, match="nothing_changed"):
        set_policy(by=odalys, **follow, at=LATER)


@pytest.mark.parametrize(
    ("said", "from_day", "code"),
    [
        ({"second_right": 0.71}, None, "second_above_ready"),
        ({}, TODAY - dt.timedelta(days=1), "policy_day_is_past"),
    ],
)
def test_what_makes_no_sense_is_refused(odalys, said, from_day, code):
    before = log.head(odalys.venue)

    with pytest.raises(Refused, match=code):
        ask_for(odalys, from_day=from_day, **{"least_right": 0.7, **said})

    assert log.head(odalys.venue) == before
    assert not PolicyVersion.objects.exists()


def test_neither_the_same_twice_nor_nothing_at_all(odalys):
    ask_for(odalys, least_right=0.75)
    with pytest.raises(Refused, match="nothing_changed"):
        ask_for(odalys, least_right=0.75)
    with pytest.raises(Refused, match="policy_follows_nothing"):
        set_policy(by=odalys, station=None, shift=None, policy=None, at=LATER)


def test_what_was_looked_at_upon_an_older_version_is_refused(odalys):
    first = ask_for(odalys, least_right=0.75)
    policy = replace(opening(odalys.venue), least_right=0.8)
    said = {"by": odalys, "station": None, "shift": None, "policy": policy, "at": LATER}

    for upon in (0, first.number + 1):
        with pytest.raises(Refused, match="policy_set_meanwhile"):
            set_policy(**said, upon=upon)
    assert set_policy(**said, upon=first.number).number == first.number + 1


def test_a_station_of_another_house_is_refused(odalys, ravna):
    with pytest.raises(Refused, match="other_house"):
        set_policy(
            by=odalys, station=station(ravna), shift=None, policy=opening(odalys.venue), at=NOW
        )


def test_a_version_stands_in_the_log(odalys):
    row = ask_for(odalys, "well", LATE, least_right=0.8)
    entry = odalys.venue.log_entries.latest("number")

    assert (entry.kind, entry.row_id) == ("ready_policy_set", str(row.pk))
    assert entry.facts == {"version": 1, "station": "well", "shift": LATE, "follows": False}
    assert log.check(odalys.venue) == []


def test_it_reads_back_as_it_was_set(odalys):
    policy = replace(
        opening(odalys.venue), least_right=0.57, second_right=0.29, most_wrong=0.07,
        proof=Proof.FAMILIES, permits=("food", "serving"), pour_days=30, least_pace=55,
        pace_days=60, task_days=7,
    )  # fmt: skip
    set_policy(by=odalys, station=None, shift=None, policy=policy, at=NOW)

    assert PolicyVersion.objects.get().policy == policy


def ready(odalys, tamsin, nils):
    only_must_knows(odalys)
    prove(tamsin, nils)


def verdict(nils, shift=None, at=LATER):
    menu = make.menu_of(nils, at)
    return board.board(station(nils), menu, [nils], asked=Asked(shift))[0].verdict


def codes(nils, shift=None):
    return [r.code for r in verdict(nils, shift).missing]


def test_a_permit_holds_by_the_calendar(odalys, marek, tamsin, nils):
    ready(odalys, tamsin, nils)
    ask_for(odalys, permits=("serving",))
    assert codes(nils) == ["permit_missing"]

    held = permits.add_permit(
        by=marek, member=nils, kind="serving", valid_until=TODAY - dt.timedelta(days=1), at=NOW
    )
    assert codes(nils) == ["permit_ran_out"]
    permits.add_permit(by=marek, member=nils, kind="serving", valid_until=TODAY, at=NOW)
    assert codes(nils) == []
    assert "permit_ran_out" in [r.code for r in verdict(nils, at=LATER + DAY).missing]
    permits.remove_permit(by=marek, permit=held, at=NOW)
    assert verdict(nils).standing is Standing.READY


def test_pours_and_pace_of_this_station_open_their_gates(odalys, tamsin, nils):
    ready(odalys, tamsin, nils)
    ask_for(odalys, pour_days=1, least_pace=60, pace_days=1)
    assert codes(nils) == ["pours_not_checked", "pace_not_checked"]

    hands.pour(tamsin, nils, (1.0, 1.0, 1.5, 1.0, 1.0))
    hands.pace(tamsin, nils, seconds=3600, at=NOW)
    assert codes(nils) == ["pours_not_passed", "pace_too_low"]
    hands.pour(tamsin, nils, at=LATER)
    hands.pace(tamsin, nils, seconds=300, at=LATER)
    assert codes(nils) == []
    assert [r.code for r in verdict(nils, at=LATER + 2 * DAY).missing if "not" in r.code] == [
        "pours_not_checked", "pace_not_checked",
    ]  # fmt: skip
    menu = make.menu_of(nils, LATER)
    beer = board.board(station(nils, "beer-point"), menu, [nils])[0].verdict
    assert "pace_not_checked" in [r.code for r in beer.missing]


def test_the_newest_pace_counts_by_station(odalys, tamsin, nils):
    hands.pace(tamsin, nils, seconds=400, at=NOW)
    hands.pace(tamsin, nils, seconds=500, at=LATER)
    drinks = hands.ticket(tamsin).count

    found = newest_paces([nils], LATER)
    assert set(found) == {(nils.pk, station(nils).pk)}
    [pace] = found.values()
    assert pace.an_hour == pytest.approx(3600 * drinks / 500)
    assert newest_paces([nils], NOW)[nils.pk, station(nils).pk].an_hour > pace.an_hour
    assert newest_paces([nils], NOW - DAY) == {}


def test_families_are_proven_by_fewer_builds_than_must_knows(odalys, tamsin, nils):
    ready(odalys, tamsin, nils)
    bo = hire_somebody(odalys, "Bo")
    make.take_quiz(bo, make.GATE)
    ask_for(odalys, proof=Proof.FAMILIES)
    menu = make.menu_of(nils, LATER)
    must = [i for i in menu.at_station(station(nils)) if i.recipe.must_know]

    signed, unsigned = board.board(station(nils), menu, [nils, bo])

    assert signed.facts.gates.to_prove == ()
    left = unsigned.facts.gates.to_prove
    assert 0 < len(left) <= len(must)
    assert set(left) <= {i.drink.name for i in must}
    [reason] = [r for r in unsigned.verdict.missing if r.code == "families_not_proven"]
    assert reason.values["count"] == len(left)
    by_name = {i.drink.name: i.drink.slug for i in must}
    for name in left:
        make.sign_off(tamsin, bo, by_name[name])
    assert board.board(station(nils), menu, [bo])[0].facts.gates.to_prove == ()


def test_a_kind_of_shift_has_its_own_bar(odalys, tamsin, nils):
    ready(odalys, tamsin, nils)
    ask_for(odalys, "well", LATE, least_right=1.0)

    assert verdict(nils).standing is Standing.READY
    assert (verdict(nils, LATE).standing, verdict(nils, LATE).bar) == (Standing.SECOND, 100)


def test_as_many_queries_for_twenty_as_for_one(
    odalys, marek, tamsin, nils, django_assert_num_queries
):
    ask_for(
        odalys, permits=("serving",), pour_days=9, least_pace=9, pace_days=9, proof=Proof.FAMILIES
    )
    hires = [nils, *(hire_somebody(odalys, f"Hire{n}") for n in range(19))]
    menu, well = make.menu_of(odalys, LATER), station(odalys)
    board.board(well, menu, hires)

    with django_assert_num_queries(8):
        board.board(well, menu, [nils])
    with django_assert_num_queries(8):
        board.board(well, menu, hires)


def back(nils, at=LATER):
    return task_rows(station(nils, "bar-back"), [nils], at)[0].verdict


def test_bar_back_by_side_work_safety_and_conduct(odalys, tamsin, nils):
    assert [r.code for r in back(nils).missing] == ["safety_not_passed", "tasks_not_done"]
    make.take_quiz(nils, make.GATE)
    assert back(nils).standing is Standing.SECOND

    tasks = list(SideTask.objects.in_house(odalys.venue).kept().at(station(nils, "bar-back")))
    side_work.sign(by=nils, tasks=tasks[:-1], at=NOW)
    side_work.sign(by=tamsin, tasks=tasks[-1:], at=NOW)
    [reason] = back(nils).missing
    assert reason.values == {"count": 1, "within": 30, "tasks": tasks[-1].text}
    side_work.sign(by=nils, tasks=tasks[-1:], at=NOW)
    assert back(nils).standing is Standing.READY
    assert back(nils, NOW + 31 * DAY).standing is Standing.SECOND


@pytest.mark.parametrize(("off", "standing"), [(ALLERGY, "not_yet"), (RIGHT_DRINK, "ready")])
def test_conduct_in_a_watched_build_counts_at_the_bar_back(odalys, tamsin, nils, off, standing):
    make.take_quiz(nils, make.GATE)
    tasks = SideTask.objects.in_house(odalys.venue).kept().at(station(nils, "bar-back"))
    side_work.sign(by=nils, tasks=tasks, at=NOW)
    menu = make.menu_of(nils)
    watched = record.watch_build(
        by=tamsin, hire=nils, menu=menu, item=menu.must_knows()[0], off=(off.key,),
        help_level=HelpLevel.UNPROMPTED, at=NOW,
    )  # fmt: skip

    assert back(nils).standing == standing
    record.void_build(by=tamsin, watched=watched, reason="x", at=NOW)
    assert back(nils).standing is Standing.READY
