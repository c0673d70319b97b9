"""Verdicts on the board: who is on it, for which station, in how many queries."""

import re

import pytest
from django.db import connection
from django.test.utils import CaptureQueriesContext

from assessments import board, board_sheet, ready_rows, record
from assessments.measures.marking import HelpLevel
from assessments.measures.readiness import Standing, judge
from assessments.measures.ready_facts import Proof
from assessments.models import ReadyRow
from assessments.views import ready
from barcourse.people import enrol, permits
from barcourse.people.roles import Role
from recipes import publish, shipped
from recipes.publish import OnMenu
from tests import replay
from tests.assessments.pages import address, text
from tests.factories import assessments as make
from tests.factories import hands
from tests.factories.assessments import LATER, NOW
from tests.factories.people import hire as hire_somebody
from tests.factories.policies import ask_for
from tests.factories.recipes import MUST_KNOW
from tests.factories.tills import rows, take_in


def station(member, slug="well"):
    return member.venue.stations.get(slug=slug)


def only_must_knows(owner):
    """A menu of four drinks that everybody must know."""

    def set_menu():
        slugs = make.menu_of(owner).by_slug
        standing = {s: OnMenu.MUST_KNOW if s in MUST_KNOW else OnMenu.OFF for s in slugs}
        publish.set_menu(by=owner, standing=standing, at=NOW)
        return owner

    replay.once("only must-knows", set_menu, shipped.shipped_course())


def prove(trainer, hire, times=12, *, off=()):
    """Watched on everything, signed off where it passed; the gate passed."""

    def watch():
        make.take_quiz(hire, make.GATE)
        for slug in MUST_KNOW:
            for _ in range(times):
                make.watch(trainer, hire, slug)
            make.sign_off(trainer, hire, slug)
        return hire

    name = f"{hire.code} proven {times} times by {trainer.code}"
    replay.once(name, watch, shipped.shipped_course())


def queries_of(call):
    with CaptureQueriesContext(connection) as caught:
        call()
    return len(caught)


def test_as_many_queries_for_twenty_hires_at_three_stations(
    odalys, tamsin, nils, django_assert_num_queries
):
    make.sign_off(tamsin, nils)
    make.take_quiz(nils)
    hires = [nils, *(hire_somebody(odalys, f"Hire{n}") for n in range(19))]
    for hire in hires[1:]:
        make.sign_off(tamsin, hire)
    menu, stations = make.menu_of(odalys, LATER), board.order_stations(odalys.venue)
    board.boards(stations, menu, hires)  # packs what is known of everybody

    with django_assert_num_queries(5):
        board.boards(stations[:1], menu, [nils])
    with django_assert_num_queries(5):
        found = board.boards(stations, menu, hires)
    assert [len(rows) for rows in found.values()] == [20, 20, 20]


def test_rows_come_in_the_order_given(odalys, tamsin, nils):
    bo = hire_somebody(odalys, "Bo")
    menu = make.menu_of(odalys)

    assert [r.hire for r in board.board(station(odalys), menu, [nils, bo])] == [nils, bo]
    assert [r.hire for r in board.board(station(odalys), menu, [bo, nils])] == [bo, nils]
    assert board.board(station(odalys), menu, []) == []


def test_the_board_of_several_stations_is_the_board_of_each(odalys, tamsin, nils):
    make.sign_off(tamsin, nils)
    menu, stations = make.menu_of(odalys, LATER), board.order_stations(odalys.venue)

    found = board.boards(stations, menu, [nils])

    for each in stations:
        assert found[each.pk] == board.board(each, menu, [nils])
        assert found[each.pk][0].verdict == board.verdict_for(nils, each, LATER)
    assert [r.station for r in board.rows_of(nils, stations, menu)] == stations


def test_a_station_asks_for_what_is_ordered_there(odalys, tamsin, nils):
    make.sign_off(tamsin, nils, "madras")
    menu = make.menu_of(odalys, LATER)

    [at_the_well] = board.board(station(odalys), menu, [nils])
    [at_the_beer] = board.board(station(odalys, "beer-point"), menu, [nils])

    assert (at_the_well.trials, at_the_beer.trials) == (1, 0)
    missing = {dict(r.params).get("drink") for r in at_the_beer.verdict.missing}
    assert "Draught lager" in missing
    assert "Gin tonic" not in missing


def test_bar_back_is_not_judged_on_orders(visit, odalys, tamsin):
    assert [s.slug for s in board.order_stations(odalys.venue)] == [
        "well", "service-bar", "beer-point",
    ]  # fmt: skip
    path = address(tamsin, "who_is_ready")
    assert visit(tamsin).get(f"{path}?station=bar-back").status_code == 404


def test_who_left_is_not_on_the_board(odalys, tamsin, nils):
    bo = hire_somebody(odalys, "Bo")
    assert board.hires_here(odalys.venue, NOW) == [bo, nils]

    enrol.mark_left(by=odalys, membership=bo, at=NOW)

    assert board.hires_here(odalys.venue, NOW) == [nils]


def test_only_trainees_are_on_the_board(odalys, marek, tamsin, nils):
    assert board.hires_here(odalys.venue, NOW) == [nils]

    enrol.change_role(by=odalys, membership=nils, role=Role.TRAINER, at=NOW)

    assert board.hires_here(odalys.venue, NOW) == []


def test_everything_proven_is_ready(odalys, tamsin, nils):
    only_must_knows(odalys)
    prove(tamsin, nils)

    verdict = board.verdict_for(nils, station(odalys), LATER)

    assert (verdict.standing, verdict.missing, verdict.next) == (Standing.READY, (), ())
    assert verdict.person == nils.code


@pytest.mark.parametrize(
    ("settings", "standing", "codes"),
    [
        ({"least_right": 0.71}, Standing.READY, []),
        ({"least_right": 1.0}, Standing.SECOND, ["right_too_low"]),
        ({"least_right": 1.0, "second_right": 1.0}, Standing.NOT_YET, ["right_below_second"]),
        ({"most_wrong": 0}, Standing.SECOND, ["wrong_too_high"]),
    ],
)
def test_the_house_s_bar_decides(odalys, tamsin, nils, settings, standing, codes):
    only_must_knows(odalys)
    prove(tamsin, nils)
    ask_for(odalys, **settings)

    verdict = board.verdict_for(nils, station(odalys), LATER)

    assert verdict.standing is standing
    assert [r.code for r in verdict.missing] == codes


def test_without_the_gate_nobody_is_ready(odalys, tamsin, nils):
    only_must_knows(odalys)
    for slug in MUST_KNOW:
        for _ in range(12):
            make.sign_off(tamsin, nils, slug)

    verdict = board.verdict_for(nils, station(odalys), LATER)

    assert verdict.standing is Standing.NOT_YET
    assert [r.code for r in verdict.missing] == ["safety_not_passed"]


GATES = {"permits": ("serving",), "pour_days": 9, "least_pace": 40, "pace_days": 9}


@pytest.mark.parametrize(
    ("bar", "said"),
    [
        ((0.5, 0.5), {}),
        ((0.85, 0.06), {"proof": Proof.FAMILIES}),
        ((0.98, 0.01), {}),
        ((0.5, 0.5), GATES),
        ((0.5, 0.5), {**GATES, "proof": Proof.FAMILIES}),
    ],
)
def test_the_whole_board_stands_as_each_verdict_says(odalys, marek, tamsin, nils, bar, said):
    """Whoever has shown all, much, something of a changed drink, nothing; with and without the
    gates."""
    only_must_knows(odalys)
    much, some, nothing = (hire_somebody(odalys, name) for name in ("Bo", "Kai", "Zoe"))
    prove(tamsin, nils)
    make.take_quiz(much, make.GATE)
    for slug in MUST_KNOW * 3:
        make.watch(tamsin, much, slug)
    make.sign_off(tamsin, some, "gin-tonic")
    make.lemon_in_tonic(tamsin, at=NOW)
    hands.pour(tamsin, nils)
    hands.pace(tamsin, nils, seconds=300)
    for hire in (nils, nothing):
        permits.add_permit(by=marek, member=hire, kind="serving", at=NOW)
    figures = {"least_right": bar[0], "most_wrong": bar[1], "second_right": 0.4}
    ask_for(odalys, **figures, **said)
    hires, menu = [nils, much, some, nothing], make.menu_of(odalys, LATER)

    for each in board.boards(board.order_stations(odalys.venue), menu, hires).values():
        for row in each:
            found = judge(row.facts)
            assert (row.standing, row.missing) == (found.standing, len(found.missing))
            told = (found.right, found.right_low, found.wrong)
            assert (row.right, row.right_low, row.wrong) == told


def test_figures_weigh_drinks_by_what_the_till_sold(odalys, marek, tamsin, nils):
    """Somebody who builds one drink alone is as good as the house sells of it."""
    for _ in range(8):
        make.watch(tamsin, nils, "negroni")

    def right():
        return board.verdict_for(nils, station(odalys), LATER).right

    take_in(marek, rows("Margarita,1000"))
    by_another = right()
    take_in(marek, rows("Negroni,100000"))

    assert by_another < right()


def test_the_same_evidence_gives_the_same_figures_every_time(odalys, tamsin, nils):
    make.sign_off(tamsin, nils)
    first = board.verdict_for(nils, station(odalys), LATER)
    ReadyRow.objects.all().delete()

    assert board.verdict_for(nils, station(odalys), LATER) == first


def test_proving_sign_offs_are_those_that_prove_in_the_order_given(odalys, tamsin, nils):
    lager = make.sign_off(tamsin, nils, "draught-lager")
    tonic = make.sign_off(tamsin, nils, "gin-tonic")
    make.sign_off(tamsin, nils, "margarita", help_level=HelpLevel.PROMPTED)
    madras = make.sign_off(tamsin, nils, "madras")
    items = make.menu_of(odalys).items

    assert board.proving_sign_offs(nils, items) == [tonic, madras, lager]
    assert board.proving_sign_offs(nils, items[::-1], at=LATER) == [lager, madras, tonic]

    make.lemon_in_tonic(tamsin, at=NOW)
    items = make.menu_of(odalys).items
    assert board.proving_sign_offs(nils, items) == [madras, lager]
    assert board.proving_sign_offs(nils, items, at=NOW - (LATER - NOW)) == []


def test_the_page_shows_ready_ones_first(visit, odalys, marek, tamsin, nils):
    bo = hire_somebody(odalys, "Bo")
    only_must_knows(odalys)
    prove(tamsin, nils)

    page = visit(marek).get(address(marek, "who_is_ready"))

    assert [row.hire for row, _ in page.context["rows"]] == [nils, bo]
    said = text(page)
    assert "Well: 1 of 2 ready" in said
    assert re.search("Nils (In service )?ready", said)
    assert re.search("Bo (In service )?(For one shift )?not yet no figures yet", said)
    assert "local law decides" in said


def test_a_long_board_comes_in_parts(visit, odalys, marek, monkeypatch):
    monkeypatch.setattr(ready, "AT_ONCE", 2)
    for name in ("Ada", "Bo", "Cy"):
        hire_somebody(odalys, name)
    path, browser = address(marek, "who_is_ready"), visit(marek)
    first, second = browser.get(path), browser.get(f"{path}?order=name&page=2")

    assert [row.hire.name for row, _ in first.context["rows"]] == ["Ada", "Bo"]
    assert "0 of 3 ready" in text(first)
    assert "1 to 2 of 3 Those after" in text(first)
    assert [row.hire.name for row, _ in second.context["rows"]] == ["Cy"]
    assert "Those before 3 to 3 of 3" in text(second)
    assert "order=name&amp;page=1" in second.content.decode()
    assert "station=beer-point&amp;page" not in second.content.decode()
    assert {browser.get(f"{path}?page={n}").status_code for n in ("0", "3", "x", "-1")} == {404}


def test_more_people_than_are_reckoned_at_once(odalys, tamsin, nils, monkeypatch):
    hires = [nils, *(hire_somebody(odalys, f"Hire{n}") for n in range(4))]
    make.sign_off(tamsin, hires[3])
    menu = make.menu_of(odalys, LATER)
    together = board.board(station(odalys), menu, hires)
    ReadyRow.objects.all().delete()
    monkeypatch.setattr(ready_rows, "RECKONED_AT_ONCE", 2)
    monkeypatch.setattr(board_sheet, "AT_ONCE", 2)

    in_parts = board.board(station(odalys), menu, hires)

    for one, other in zip(together, in_parts, strict=True):
        assert other.standing is one.standing
        assert other.right_low == pytest.approx(one.right_low, abs=1e-5)
    assert ReadyRow.objects.count() == 5


def test_each_station_has_its_page(visit, marek, nils):
    path, browser = address(marek, "who_is_ready"), visit(marek)

    assert "Well: 0 of 1 ready" in text(browser.get(path))
    assert "Beer point: 0 of 1 ready" in text(browser.get(f"{path}?station=beer-point"))
    assert browser.get(f"{path}?station=attic").status_code == 404


def test_nobody_to_judge_yet(visit, marek):
    assert "Nobody is being trained here yet." in text(
        visit(marek).get(address(marek, "who_is_ready"))
    )


def test_a_record_names_its_station(visit, marek, nils):
    path, browser = address(nils, "hire_record", code=nils.code), visit(marek)

    beer = browser.get(f"{path}?station=beer-point")
    assert [row.station.slug for row, _ in beer.context["standing"]] == ["beer-point"]
    assert {row.station.slug for row, _ in beer.context["others"]} == {"well", "service-bar"}
    assert browser.get(f"{path}?station=bar-back").status_code == 404


@pytest.mark.parametrize("page", ["next_shift", "my_record"])
def test_pages_don_t_ask_more_as_evidence_grows(
    visit, tamsin, nils, page, django_assert_num_queries
):
    browser, path = visit(nils), address(nils, page)
    browser.get(path)  # the first look of a day holds the house's record against the model
    make.sign_off(tamsin, nils, note="steady")
    make.take_quiz(nils)
    make.read(nils, "rocks")
    first = queries_of(lambda: browser.get(path))
    for slug in ("madras", "gin-tonic", "negroni"):
        signed = make.sign_off(tamsin, nils, slug, note="again")
    record.void_build(by=tamsin, watched=signed.watched, reason="x", at=NOW)
    make.take_quiz(nils, "rocks")
    make.take_quiz(nils, make.GATE)

    with django_assert_num_queries(first):
        browser.get(path)


def test_a_house_rule_wins_no_more_than_the_drinks_that_go_by_it(odalys, tamsin, nils):
    """Whoever has just shown a rule on one drink wins less by going over it."""
    bo = hire_somebody(odalys, "Bo")
    make.take_quiz(nils, make.GATE)
    for _ in range(3):
        make.watch(tamsin, nils, "gin-tonic")
    menu = make.menu_of(odalys, LATER)

    shown, nothing = (r.facts for r in board.board(station(odalys), menu, [nils, bo]))

    for facts in (shown, nothing):
        whole = sum(facts.known.won.values())
        assert facts.rules
        said = {(rule.drink, rule.says) for rule in facts.rules}
        assert {("Gin tonic", "full ice"), ("Gin tonic", "lime, always")} <= said
        assert all(0 <= rule.gain <= whole + 1e-6 and rule.drinks > 1 for rule in facts.rules)
    gains = {(r.aspect, r.drink): r.gain for r in nothing.rules}
    less = [r for r in shown.rules if r.gain < gains[r.aspect, r.drink] / 2]
    assert less
