"""The trainer's hour as the board proposes it."""

import pytest

from assessments import board, hour
from assessments.hour import BUILD_MINUTES, WORD_MINUTES, left_out, trainers_hour
from assessments.views.ready import NAMED
from tests.assessments.pages import address, text
from tests.assessments.test_board import only_must_knows, prove, station
from tests.factories import assessments as make
from tests.factories.assessments import LATER
from tests.factories.people import hire as hire_somebody
from tests.factories.recipes import MUST_KNOW


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
    assert len(found) == 1  # Bo hasn't passed the safety module: no build mends that
    assert found[0].row.barred is False
    assert reasons(rows(odalys, nils, bo), found) == [
        (bo, "hour_no_build_mends", "next_take_safety"),
    ]  # fmt: skip

    [alone] = trainers_hour(rows(odalys, bo))
    assert reasons(rows(odalys, bo), [alone]) == []
    assert (alone.row.hire, alone.ready, alone.row.barred) == (bo, False, True)


def reasons(there, turns, most=9):
    left, more = left_out(there, turns, most)
    assert len(left) + more + len(turns) == len(there)  # nobody gets lost
    return [(one.row.hire, one.why.code, one.first and one.first.code) for one in left]


def test_who_is_ready_takes_no_time(odalys, tamsin, nils):
    only_must_knows(odalys)
    prove(tamsin, nils)

    assert trainers_hour(rows(odalys, nils)) == []
    assert reasons(rows(odalys, nils), []) == [(nils, "hour_ready_already", None)]
    assert trainers_hour([]) == []


def test_who_is_ready_takes_nobodys_place(odalys, tamsin, nils, monkeypatch):
    """However many are ready and near: the places are for those who aren't."""
    monkeypatch.setattr(hour, "MOST_HIRES", 1)
    bo = hire_somebody(odalys, "Bo")
    only_must_knows(odalys)
    prove(tamsin, nils)
    make.take_quiz(bo, make.GATE)
    there = rows(odalys, nils, bo)
    assert there[0].right_low > there[1].right_low

    assert [turn.row.hire for turn in trainers_hour(there)] == [bo]
    assert reasons(there, trainers_hour(there)) == [(nils, "hour_ready_already", None)]


@pytest.mark.parametrize("minutes", [0, 3, 4, 11])
def test_no_more_time_than_there_is(odalys, nils, minutes):
    found = trainers_hour(rows(odalys, nils), minutes)

    assert sum(t.minutes for t in found) == minutes // BUILD_MINUTES * BUILD_MINUTES


def test_the_board_shows_it(visit, marek, nils):
    said = text(visit(marek).get(address(marek, "who_is_ready")))

    assert "With 60 minutes" in said
    assert "60 min" in said
    assert "Nobody gets ready in this time. Builds don't mend what is missing first" in said
    assert "Not in this time" not in said  # nobody else is there


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
    turns = trainers_hour(barred, BUILD_MINUTES)
    assert len(turns) == 1
    [(_, why, first)] = reasons(barred, turns)
    assert (why, first) == ("hour_too_short", "next_take_safety")

    make.take_quiz(nils, make.GATE)
    make.take_quiz(bo, make.GATE)
    both = rows(odalys, nils, bo)
    [(_, why, first)] = reasons(both, trainers_hour(both, BUILD_MINUTES))
    assert (why, first) == ("hour_too_short", "next_quiz")  # they never met a drink yet


def test_the_board_names_whom_it_leaves_out(odalys, visit, marek, nils):
    bo = hire_somebody(odalys, "Bo")
    make.take_quiz(bo, make.GATE)
    page = visit(marek).get(f"{address(marek, 'who_is_ready')}?minutes=20")

    said = text(page)
    assert "Nobody gets ready in this time: first what is missing on the way there." in said
    assert "Not in this time Nils Builds don't mend what is missing first. Nearest: Take" in said
    for n in range(7):
        hire_somebody(odalys, f"Cy{n}")
    many = visit(marek).get(f"{address(marek, 'who_is_ready')}?minutes=20")
    assert len(many.context["hour"]["left"]) == NAMED
    assert "And 2 more: see the list." in text(many)


def test_minutes_and_who_is_there_are_asked_for(odalys, visit, marek, nils):
    bo = hire_somebody(odalys, "Bo")
    make.take_quiz(bo, make.GATE)
    path, browser = address(marek, "who_is_ready"), visit(marek)

    both = browser.get(f"{path}?minutes=20&order=name").context["hour"]
    assert {t.row.hire for t in both["turns"]} == {bo}
    assert (both["barred"], both["kept"]) == (False, [("order", "name")])
    only = browser.get(f"{path}?minutes=20&here={nils.code}")
    assert {t.row.hire for t in only.context["hour"]["turns"]} == {nils}
    assert sum(t.minutes for t in only.context["hour"]["turns"]) == 20
    assert f'value="{nils.code}" checked' in only.content.decode()


@pytest.mark.parametrize("query", ["minutes=61", "minutes=x", "here=nobody"])
def test_an_hour_there_is_none_of(visit, marek, nils, query):
    assert visit(marek).get(f"{address(marek, 'who_is_ready')}?{query}").status_code == 404
