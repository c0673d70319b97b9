"""Three fails running as the manager reads them: which steps, when, with whom, and where else."""

import datetime as dt

import pytest

from assessments import board, checklist, to_look_at
from assessments.measures.marking import RIGHT_DRINK, HelpLevel
from assessments.models import PlanDecided
from assessments.models.second_look import PlanChoice
from assessments.record_second import SECOND_WITHIN
from assessments.sales import as_sold_now
from assessments.showing import Naming, show_stored_steps
from assessments.stuck_shown import show_stuck
from barcourse.people.models import Station
from recipes.models import ModuleAtStation
from tests.assessments.pages import address, text
from tests.factories import assessments as make
from tests.factories.assessments import NOW
from tests.papers import ready

APART = dt.timedelta(hours=12)
RIGHT = RIGHT_DRINK.key
NOWHERE = "No other station would do yet"


def fail(hire, *tries, slug="madras", at=NOW):
    """Each a trainer and the steps that went wrong, half a day apart, the last an hour ago."""
    for ago, (trainer, off) in enumerate(reversed(tries)):
        make.watch(
            trainer, hire, slug, off=off, at=at - dt.timedelta(hours=1) - ago * APART,
            help_level=HelpLevel.PROMPTED,
        )  # fmt: skip


def shown(hire, at=NOW):
    found = to_look_at.stuck_hires(hire.venue, at)
    [one] = show_stuck(found, as_sold_now(make.menu_of(hire, at)))
    return one


def words_of(hire):
    """What each step of the drink is called, by its key."""
    [one] = to_look_at.stuck_hires(hire.venue, NOW)
    steps = show_stored_steps(one.tries[0], Naming.of(make.menu_of(hire)))
    return {step.key: step.does for step in steps}


@pytest.fixture
def fails(tamsin):
    """Steps of a madras that fail it, beside the right drink."""
    menu = make.menu_of(tamsin)
    steps = checklist.steps_of(menu.by_slug["madras"].drink, menu.pantry)
    return [step.key for step in steps if step.fails and step.key != RIGHT]


def test_each_try_says_which_steps_went_wrong(tamsin, pia, nils, fails):
    glass, pour = fails[:2]
    fail(nils, (tamsin, (RIGHT, glass)), (pia, (RIGHT,)), (tamsin, (pour, RIGHT)))

    found, does = shown(nils), words_of(nils)

    assert [(t.build.trainer, set(t.wrong)) for t in found.tries] == [
        (tamsin, {does[RIGHT], does[glass]}),
        (pia, {does[RIGHT]}),
        (tamsin, {does[RIGHT], does[pour]}),
    ]  # fmt: skip
    assert found.each_time == does[RIGHT]


def test_where_no_step_fails_each_time_none_is_named(tamsin, nils, fails):
    fail(nils, (tamsin, (fails[0],)), (tamsin, (fails[1],)), (tamsin, (RIGHT,)))

    assert shown(nils).each_time == ""


def test_the_page_says_it_all(visit, marek, tamsin, pia, nils, fails):
    fail(nils, (tamsin, (RIGHT,)), (pia, (RIGHT, fails[0])), (tamsin, (RIGHT,)))
    does = words_of(nils)

    said = text(visit(marek).get(address(marek, "to_look_at")))

    assert said.count(does[RIGHT]) == 4  # each try, and once more: each time
    assert does[fails[0]] in said
    assert f"Each time: {does[RIGHT]}." in said
    assert NOWHERE in said
    assert said.index("prompted, Tamsin") < said.index("prompted, Pia")


def test_another_station_is_named_where_they_could_stand(marek, tamsin, nils):
    """Ready at the beer point, Nils keeps failing a drink that is not poured there."""
    ready.make_ready(nils, tamsin)
    fail(nils, *[(tamsin, (RIGHT,))] * 3, at=ready.ISSUED)
    at = ready.ISSUED
    [row] = board.rows_of(nils, [ready.station(nils)], as_sold_now(make.menu_of(nils, at)))

    assert row.standing in ("ready", "second")
    assert shown(nils, at).elsewhere.startswith("Beer point: Nils ")


def test_another_station_is_decided_only_where_there_is_one(visit, marek, tamsin, nils):
    fail(nils, *[(tamsin, (RIGHT,))] * 3)
    browser, page = visit(marek), address(marek, "to_look_at")
    seen = browser.get(page).content.decode()
    sent = {"plan": "station"}
    path = address(marek, "decide_plan", hire=nils.code, drink="madras")
    refused = text(browser.send(path, sent, follow=True))

    assert 'value="station"' not in seen
    assert shown(nils).proposed is PlanChoice.SHOW
    assert "No other station would do yet: pick another plan." in refused
    assert not PlanDecided.objects.exists()


def test_where_there_is_one_it_is_among_the_plans(tamsin, nils):
    ready.make_ready(nils, tamsin)
    fail(nils, *[(tamsin, (RIGHT,))] * 5, at=ready.ISSUED)

    assert shown(nils, ready.ISSUED).proposed is PlanChoice.STATION
    assert PlanChoice.STATION in shown(nils, ready.ISSUED).plans


def test_not_where_the_drink_is_poured_as_well(tamsin, nils):
    ready.make_ready(nils, tamsin)
    at = ready.ISSUED
    highballs = make.module_of(nils)
    beer_point = Station.objects.get(venue=nils.venue, slug="beer-point")
    ModuleAtStation.objects.create(venue=nils.venue, module=highballs, station=beer_point)
    fail(nils, *[(tamsin, (RIGHT,))] * 3, at=at)

    assert "Beer point" not in shown(nils, at).elsewhere


def test_what_a_manager_reads_there_waits_for_no_second_look_of_theirs(
    visit, marek, tamsin, pia, nils
):
    fail(nils, *[(tamsin, (RIGHT,))] * 2)
    last = to_look_at.for_a_second_look(marek, NOW, SECOND_WITHIN)
    assert len(last) == 1
    make.watch(tamsin, nils, off=(RIGHT,), at=NOW)

    assert to_look_at.for_a_second_look(marek, NOW, SECOND_WITHIN) == []
    assert len(to_look_at.for_a_second_look(pia, NOW, SECOND_WITHIN)) == 2
    page = address(marek, "build", code=last[0].code)
    assert "The marks are hidden" not in text(visit(marek).get(page))
    assert "The marks are hidden" in text(visit(pia).get(page))
