"""The trainer's hour as the board proposes it."""

import datetime as dt
import re
from html import unescape
from urllib.parse import parse_qs, urlsplit

import pytest

from assessments import board, hour
from assessments.hour import WORD_MINUTES, Hour
from assessments.hour_checks import Check, minutes_of
from assessments.measures.drink_facts import DrinkFact
from assessments.measures.readiness import Standing
from assessments.measures.ready_facts import Expected, Facts, Orders, ReadyPolicy, Safety
from assessments.measures.trainers_hour import BUILD_MINUTES, build_minutes
from assessments.measures.waits import ANYBODY, Waits
from assessments.views.hour import AT_ONCE, NAMED
from barcourse.people.models import Membership
from tests.assessments.pages import address, text
from tests.assessments.test_board import only_must_knows, prove, station
from tests.factories import assessments as make
from tests.factories import hands
from tests.factories.assessments import LATER
from tests.factories.people import hire as hire_somebody
from tests.factories.policies import ask_for
from tests.factories.recipes import MUST_KNOW


def trainers_hour(there, minutes=60):
    return Hour(there, minutes).turns


def rows(owner, *hires):
    return board.board(station(owner), make.menu_of(owner, LATER), list(hires))


def test_somebody_who_only_misses_a_sign_off_comes_first(odalys, tamsin, nils):
    bo = hire_somebody(odalys, "Bo")
    only_must_knows(odalys)
    make.take_quiz(nils, make.GATE)
    last, *others = MUST_KNOW
    for slug in others:
        for _ in range(12):
            make.watch(tamsin, nils, slug)
        make.sign_off(tamsin, nils, slug)
    for _ in range(12):
        make.watch(tamsin, nils, last)

    found = trainers_hour(rows(odalys, bo, nils))

    name = make.menu_of(odalys).by_slug[last].drink.name
    assert (found[0].row.hire, found[0].drinks, found[0].ready) == (nils, (), True)
    assert [(drink, waits.trainer) for drink, waits in found[0].signs] == [(name, "Tamsin")]
    assert found[0].minutes == WORD_MINUTES  # it is passed: only the word is missing
    assert found[0].row.barred is False
    [_, barred] = found  # Bo hasn't passed the safety module, and has what time is left
    assert (barred.row.hire, barred.ready, barred.row.barred) == (bo, False, True)
    [only] = trainers_hour(rows(odalys, bo, nils), WORD_MINUTES)
    assert (only.row.hire, only.signs) == (nils, found[0].signs)
    assert reasons(rows(odalys, nils, bo), WORD_MINUTES) == [
        (bo, "hour_first_mended_elsewhere", "next_take_safety"),
    ]  # fmt: skip
    assert trainers_hour(rows(odalys, bo))[0].drinks == barred.drinks


def reasons(there, minutes=60, most=9):
    """Why each has no turn, and what comes first."""
    shown = Hour(there, minutes)
    left, more = shown.left(most)
    assert len(left) + more + len(shown.turns) == len(there)  # nobody gets lost
    return [(one.row.hire, one.why.code, one.first and one.first.code) for one in left]


def told(turns):
    return [(t.row.hire, t.drinks, t.checks, t.minutes, t.ready) for t in turns]


def test_who_only_misses_checks_comes_first(odalys, tamsin, nils):
    """Fifteen minutes of orders make Nils ready; Bo has builds to show, too, for which an hour is
    too short: nobody knows whether they come right the first time."""
    bo = hire_somebody(odalys, "Bo")
    only_must_knows(odalys)
    make.take_quiz(bo, make.GATE)
    prove(tamsin, nils)
    hands.pour(tamsin, nils, at=LATER)
    ask_for(odalys, pour_days=30, least_pace=60, pace_days=30)

    there = rows(odalys, bo, nils)
    [first, second] = trainers_hour(there, 90)
    pace = (Check.PACE, 26)
    assert told([first]) == [(nils, (), (pace,), 26, True)]
    assert (second.row.hire, second.checks, second.ready) == (bo, ((Check.POURS, 5), pace), True)
    chances, names = second.row.facts.known.comes_right, make.menu_of(odalys).by_slug
    minutes = [
        build_minutes(c) for slug, c in chances.items() if names[slug].drink.name in second.drinks
    ]
    assert len(minutes) == len(second.drinks) > 0
    assert second.minutes == 5 + 26 + sum(minutes)
    [_, short] = trainers_hour(there, 60)
    assert (short.row.hire, short.ready) == (bo, False)

    hands.pour(tamsin, nils, (1.0, 1.0, 1.5, 1.0, 1.0), at=LATER)
    hands.pace(tamsin, nils, seconds=3600, at=LATER)
    assert told(trainers_hour(rows(odalys, nils))) == [
        (nils, (), ((Check.POURS, 5), pace), 31, True),
    ]  # fmt: skip
    assert told(trainers_hour(rows(odalys, nils), 30)) == [
        (nils, (), ((Check.POURS, 5),), 5, False),
    ]  # fmt: skip


def test_whoever_does_what_takes_them_there_is_ready_where_too_much_went_out_wrong(
    odalys, tamsin, nils
):
    only_must_knows(odalys)
    prove(tamsin, nils, times=1)
    at = LATER + dt.timedelta(days=14)
    [row] = board.board(station(odalys), make.menu_of(odalys, at), [nils])
    best = max(row.facts.known.won.values())
    wrong = row.verdict.wrong
    ask_for(odalys, least_right=0.05, second_right=0.01, most_wrong=round(wrong - 0.7 * best, 3))

    [turn] = trainers_hour(board.board(station(odalys), make.menu_of(odalys, at), [nils]), 600)

    assert 0.4 < row.facts.less_wrong < 0.6  # half of what a build wins would have been asked about
    assert (len(turn.drinks), turn.ready) == (2, True)
    slugs = {i.drink.name: i.drink.slug for i in make.menu_of(odalys, at).items}
    for name in turn.drinks:
        make.watch(tamsin, nils, slugs[name], at=at)
    later = make.menu_of(odalys, at + dt.timedelta(minutes=30))
    [then] = board.board(station(odalys), later, [nils])
    assert then.standing is Standing.READY


def test_whom_a_permit_alone_bars_has_no_time(odalys, tamsin, nils):
    """Builds would win orders, and none of them is missing."""
    only_must_knows(odalys)
    prove(tamsin, nils)
    ask_for(odalys, permits=("serving",))

    there = rows(odalys, nils)
    assert there[0].facts.known.won
    assert trainers_hour(there) == []
    assert reasons(there) == [(nils, "hour_nothing_to_do", "mend_permit")]

    ask_for(odalys, permits=("serving",), pour_days=30)
    assert told(trainers_hour(rows(odalys, nils))) == [
        (nils, (), ((Check.POURS, 5),), 5, False),
    ]  # fmt: skip


def test_the_places_go_to_those_who_seem_nearest(odalys, tamsin, nils, monkeypatch):
    """Whoever misses a few words is nearer than whoever misses a pace check, and that one than
    whoever misses as many builds; with whom something else comes first, after all."""
    monkeypatch.setattr(hour, "FEWEST_HIRES", 1)
    bo, cy, dee = (hire_somebody(odalys, name) for name in ("Bo", "Cy", "Dee"))
    only_must_knows(odalys)
    ask_for(odalys, least_pace=60, pace_days=30, least_right=0.1, second_right=0.05, most_wrong=0.9)
    for hire, builds in ((nils, 3), (bo, 12), (dee, 0)):
        make.take_quiz(hire, make.GATE)
        for slug in MUST_KNOW:
            for _ in range(builds):
                make.watch(tamsin, hire, slug)
            if hire == nils:
                make.sign_off(tamsin, hire, slug)
    for hire in (bo, dee):
        hands.pace(tamsin, hire, seconds=300, at=LATER)
    there = rows(odalys, cy, dee, bo, nils)
    sheet = there[0].sheet
    assert sheet.gates.unshown.tolist() == [4, 4, 4, 0]
    assert sheet.gates.unchecked.tolist() == [1, 0, 0, 1]
    assert sheet.words_wanted().tolist() == [0, 0, 4, 0]

    [turn] = trainers_hour(there, 4)
    assert (turn.row.hire, len(turn.signs), turn.minutes, turn.ready) == (bo, 4, 4, True)
    assert [hire for hire, _why, _first in reasons(there, 4)] == [nils, dee, cy]
    assert [(t.row.hire, t.ready) for t in trainers_hour(there, 30)] == [(bo, True), (nils, True)]


def test_nobody_who_gets_there_with_a_word_is_passed_over(odalys, tamsin, nils, monkeypatch):
    """However many they are: each of them has the minute that it takes."""
    monkeypatch.setattr(hour, "FEWEST_HIRES", 1)
    only_must_knows(odalys)
    ask_for(odalys, least_right=0.1, second_right=0.05, most_wrong=0.9)
    hires = [nils, *(hire_somebody(odalys, name) for name in ("Bo", "Cy", "Dee"))]
    for hire in hires:
        make.take_quiz(hire, make.GATE)
        for slug in MUST_KNOW:
            make.watch(tamsin, hire, slug)
            if slug != MUST_KNOW[0]:
                make.sign_off(tamsin, hire, slug)

    turns = trainers_hour(rows(odalys, *hires), 20)

    assert {t.row.hire for t in turns} == set(hires)
    assert all(t.ready and t.minutes == 1 for t in turns)


def test_the_page_tells_a_check_and_leads_to_it(odalys, visit, tamsin, nils):
    only_must_knows(odalys)
    prove(tamsin, nils)
    ask_for(odalys, pour_days=1, least_pace=60, pace_days=1)
    page = visit(tamsin).get(f"{address(tamsin, 'trainers_hour')}?station=well")

    said = text(page)
    assert "Nils 31 min Pour check, 5 min Pace check, 26 min then likely ready" in said
    board_said = text(visit(tamsin).get(f"{address(tamsin, 'who_is_ready')}?station=well"))
    assert "No pour check in the last day." in board_said
    assert "The newest pour check passed, in the last day." in board_said
    for link in (
        address(tamsin, "pours", hire=nils.code),
        f"{address(tamsin, 'pace', hire=nils.code)}?station=well",
    ):
        assert f'href="{link}"' in page.content.decode()
        assert visit(tamsin).get(link).status_code == 200


def test_who_is_ready_takes_no_time(odalys, tamsin, nils):
    only_must_knows(odalys)
    prove(tamsin, nils)

    assert trainers_hour(rows(odalys, nils)) == []
    assert reasons(rows(odalys, nils)) == [(nils, "hour_ready_already", None)]
    assert trainers_hour([]) == []


def test_who_is_ready_takes_nobodys_place(odalys, tamsin, nils, monkeypatch):
    """However many are ready and near: the places are for those who aren't."""
    monkeypatch.setattr(hour, "FEWEST_HIRES", 1)
    bo = hire_somebody(odalys, "Bo")
    only_must_knows(odalys)
    prove(tamsin, nils)
    make.take_quiz(bo, make.GATE)
    there = rows(odalys, nils, bo)
    assert there[0].right_low > there[1].right_low

    assert [turn.row.hire for turn in trainers_hour(there)] == [bo]
    assert reasons(there) == [(nils, "hour_ready_already", None)]


@pytest.mark.parametrize("minutes", [0, 3, 8, 11, 19])
def test_no_more_time_than_there_is(odalys, nils, minutes):
    there = rows(odalys, nils)
    shortest = min(build_minutes(c) for c in there[0].facts.known.comes_right.values())

    taken = sum(t.minutes for t in trainers_hour(there, minutes))

    assert 0 <= minutes - taken < shortest <= 2 * BUILD_MINUTES


def test_the_board_leads_to_it_and_it_back(visit, marek, nils):
    browser = visit(marek)
    board_page = browser.get(f"{address(marek, 'who_is_ready')}?station=well&shift=weekend-late")
    [there] = set(re.findall(r'href="([^"]*/ready/hour/[^"]*)"', board_page.content.decode()))
    page = browser.get(unescape(there))

    said = text(page)
    assert "Well: with 60 minutes" in said
    [turn] = page.context["turns"]
    assert f"Nils {turn.minutes} min {'; '.join(turn.drinks)}" in said
    assert "Nobody gets ready in this time. No time with a trainer mends what is" in said
    assert "Not in this time" not in said  # nobody else is there
    assert "from ten in the evening on" in said  # the same shift as the board's
    [back] = set(re.findall(r'href="([^"]*/ready/[?][^"]*)"', page.content.decode()))
    assert parse_qs(urlsplit(unescape(back)).query)["shift"] == ["weekend-late"]
    assert browser.get(unescape(back)).status_code == 200


def test_a_sign_off_that_waits_leads_to_the_build_that_it_is_of(odalys, visit, tamsin, nils):
    only_must_knows(odalys)
    ask_for(odalys, least_right=0.1, second_right=0.05, most_wrong=0.9)
    make.take_quiz(nils, make.GATE)
    for slug in MUST_KNOW:
        build = make.watch(tamsin, nils, slug)
        if slug != MUST_KNOW[-1]:
            make.sign_off(tamsin, nils, slug)
    name = make.menu_of(odalys).by_slug[MUST_KNOW[-1]].drink.name

    page = visit(tamsin).get(address(tamsin, "trainers_hour"))
    there = address(tamsin, "build", code=build.code)

    assert f"Nils 1 min Your sign-off of {name} then likely ready" in text(page)
    assert f'href="{there}"' in page.content.decode()
    assert "Sign off" in text(visit(tamsin).get(there))


def test_a_trainer_gets_there_from_where_they_watch(visit, tamsin, nils):
    browser, there = visit(tamsin), address(tamsin, "trainers_hour")

    assert f'href="{there}"' in browser.get(address(tamsin, "watch")).content.decode()
    assert "Reckoned for now, on an ordinary shift." in text(browser.get(there))


def test_without_hires_it_says_so(visit, odalys):
    said = text(visit(odalys).get(address(odalys, "trainers_hour")))

    assert "Nobody is being trained here yet." in said
    assert "Plan it" not in said


def test_what_is_missing_comes_before_what_wins_more_orders(odalys, tamsin, nils):
    """Too much is missing for twenty minutes: all of them go to must-knows without a sign-off."""
    make.take_quiz(nils, make.GATE)
    make.sign_off(tamsin, nils, MUST_KNOW[0])
    [row] = rows(odalys, nils)
    missing = {d.name for d in row.facts.drinks if d.must_know and not d.is_proven}
    assert len(missing) < len(row.facts.drinks) - 1  # other builds win orders too

    [turn] = trainers_hour([row], min(20, BUILD_MINUTES * (len(missing) - 1)))

    assert (turn.ready, turn.row.barred) == (False, False)
    assert set(turn.drinks) < missing


def test_a_time_that_is_too_short_for_all_says_so(odalys, nils):
    """Whoever needs more of it: two who miss the same, and time for one build."""
    bo = hire_somebody(odalys, "Bo")
    barred = rows(odalys, nils, bo)
    once = 2 * BUILD_MINUTES
    turns = trainers_hour(barred, once)
    assert len(turns) == 1
    [(_, why, first)] = reasons(barred, once)
    assert (why, first) == ("hour_first_mended_elsewhere", "next_take_safety")

    make.take_quiz(nils, make.GATE)
    make.take_quiz(bo, make.GATE)
    both = rows(odalys, nils, bo)
    [(_, why, first)] = reasons(both, once)
    assert (why, first) == ("hour_too_long", "next_quiz")  # they never met a drink yet


def test_the_page_names_whom_it_leaves_out(odalys, visit, marek, nils):
    bo = hire_somebody(odalys, "Bo")
    make.take_quiz(bo, make.GATE)
    page = visit(marek).get(f"{address(marek, 'trainers_hour')}?minutes=20")

    said = text(page)
    assert "Nobody gets ready in this time: first what is missing on the way there." in said
    why = "No time with a trainer mends what is missing first."
    assert f"Not in this time Nils {why} Nearest: Take" in said
    for n in range(7):
        hire_somebody(odalys, f"Cy{n}")
    many = visit(marek).get(f"{address(marek, 'trainers_hour')}?minutes=20")
    assert len(many.context["left"]) == NAMED
    assert "And 2 more: see “Who is ready”." in text(many)


def test_minutes_and_who_is_there_are_asked_for(odalys, visit, marek, nils):
    bo = hire_somebody(odalys, "Bo")
    make.take_quiz(bo, make.GATE)
    path, browser = address(marek, "trainers_hour"), visit(marek)

    both = browser.get(f"{path}?minutes=20&shift=weekend-late").context
    assert {t.row.hire for t in both["turns"]} == {bo}
    assert both["barred"] is False
    assert both["form"]["shift"].value() == "weekend-late"
    only = browser.get(f"{path}?minutes=20&here={nils.code}")
    assert {t.row.hire for t in only.context["turns"]} == {nils}
    assert 20 - 2 * BUILD_MINUTES < sum(t.minutes for t in only.context["turns"]) <= 20
    assert f'value="{nils.code}" checked' in only.content.decode()


def test_a_plan_that_was_kept_goes_on_without_who_has_left(odalys, visit, marek, nils):
    bo = hire_somebody(odalys, "Bo")
    path = f"{address(marek, 'trainers_hour')}?minutes=20&here={nils.code}&here={bo.code}"
    Membership.objects.filter(pk=bo.pk).update(left_day=bo.start_day)

    page = visit(marek).get(path)

    assert {t.row.hire for t in page.context["turns"]} == {nils}
    assert "Not being trained here any more, so the plan goes on without: Bo." in text(page)
    assert visit(marek).get(f"{path}&here=nobody").status_code == 404


@pytest.mark.parametrize(("least_pace", "minutes"), [(60, 26), (80, 20), (100, 16), (120, 13)])
def test_a_pace_check_takes_as_long_as_its_ticket_at_the_pace_that_ready_takes(least_pace, minutes):
    policy = ReadyPolicy(0.7, 0.1, 0.5, least_pace=least_pace, pace_days=9)

    assert hour.takes(policy)["pace"] == minutes
    assert minutes_of(Check.POURS, policy) == hour.takes(policy)["pours"] == 5
    assert hour.takes(ReadyPolicy(0.7, 0.1, 0.5))["pace"] == 0


def test_in_a_big_house_names_come_by_the_page_and_ticks_stay(odalys, visit, marek, nils):
    many = [hire_somebody(odalys, f"Cy{n:02}") for n in range(AT_ONCE)]
    path, browser = address(marek, "trainers_hour"), visit(marek)

    second = browser.get(f"{path}?minutes=20&here={many[0].code}&page=2")
    assert second.context["people"] == [(many[0], True), (nils, False)]
    assert f"51 to 51 of {AT_ONCE + 1}" in text(second)
    assert '<button class="do second" name="page" value="1">' in second.content.decode()
    first = browser.get(f"{path}?minutes=20&here={many[0].code}&page=1").context["people"]
    assert [hire for hire, _is_here in first] == many
    assert [hire for hire, is_here in first if is_here] == [many[0]]


@pytest.mark.parametrize(
    "query",
    [
        "minutes=61",
        "minutes=x",
        "here=nobody",
        "page=2",
        "station=none",
        "shift=x",
        "day=2999-01-01",
    ],
)
def test_an_hour_there_is_none_of(visit, marek, nils, query):
    assert visit(marek).get(f"{address(marek, 'trainers_hour')}?{query}").status_code == 404


def test_enough_builds_are_looked_at_beside_a_word_that_wins_nothing():
    """The must-know would win .30 by a build; passed already, it wins none of the .40 missing."""
    passed = Waits("b1", "Tamsin", "T", dt.date(2026, 3, 14))
    first = DrinkFact("a", "A", 0.5, True, 1, 0, 0, False, now=0.4, shown=1.0, waits=passed)
    others = [
        DrinkFact(f"d{n:02}", "D", 0.01, False, 1, 0, 0, False, now=0.1, shown=1.0)
        for n in range(50)
    ]
    orders = Orders(*(Expected(mean, mean, mean) for mean in (0.3, 0.7, 0.0)))
    policy = ReadyPolicy(least_right=0.7, most_wrong=0.1, second_right=0.5)
    facts = Facts("K7", (first, *others), orders, Safety.PASSED, "Safety", policy)

    steps = list(hour._builds(facts, ANYBODY))

    assert (steps[0].name, steps[0].gain) == ("a", 0.0)
    assert sum(step.gain for step in steps) >= facts.short - 1e-9
