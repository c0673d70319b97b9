"""A changed recipe or rule puts exactly the changed part of a sign-off out of date, everywhere
that it shows, and what was shown of the old build stops counting. A reverted one counts again."""

from collections.abc import Callable
from dataclasses import dataclass

import pytest

from assessments import board
from assessments.measures.readiness import Standing
from barcourse.people.models import Membership
from tests.assessments.pages import address, text
from tests.factories import assessments as make
from tests.factories.assessments import LATER, NOW
from tests.factories.recipes import DAY, change_rules, revise
from tests.grammar import kitchen


def smaller_pour(by):
    pours = {k: v.model_dump() for k, v in kitchen.RULES.pours.items()}
    pours["spirit"]["amount"] = 0.75
    change_rules(by, pours=pours, at=NOW)


@dataclass(frozen=True)
class Change:
    """Something that the house changes about a gin and tonic: which part is out of date then, and
    how many of the four must-knows are still proven."""

    make: Callable[[Membership], object]
    part: str
    words: str
    still: int = 3


CHANGES = {
    "its glass": Change(
        lambda by: revise(by, "gin-tonic", glass="rocks", at=NOW), "glass", "the glass"
    ),
    "its garnish": Change(
        lambda by: revise(by, "gin-tonic", garnish=[{"item": "lemon"}], at=NOW),
        "finish",
        "the finish",
    ),
    "its ice": Change(
        lambda by: revise(by, "gin-tonic", ice="light", at=NOW), "method", "the method"
    ),
    "a garnish rule": Change(lambda by: make.lemon_in_tonic(by, at=NOW), "finish", "the finish"),
    "the house pour": Change(smaller_pour, "pours", "the pours", still=1),  # of the lager
}


@pytest.fixture
def proven(tamsin, nils):
    """Nils has built and answered everything that must be known, and passed the gate."""
    for slug in ("gin-tonic", "cape-codder", "margarita", "draught-lager"):
        make.sign_off(tamsin, nils, slug, at=NOW - DAY / 24)
    make.take_quiz(nils, make.GATE, at=NOW - DAY / 24)
    return nils


@pytest.mark.parametrize("change", CHANGES.values(), ids=CHANGES)
def test_the_record_says_which_part(visit, tamsin, proven, change):
    path = address(proven, "hire_record", code=proven.code)
    assert "out of date" not in text(visit(tamsin).get(path))

    change.make(tamsin)

    said = text(visit(tamsin).get(path))
    assert f"Changed since by the house: {change.part} out of date" in said
    assert f"{change.still} of 4 must-knows signed off" in said


@pytest.mark.parametrize("change", CHANGES.values(), ids=CHANGES)
def test_watch_says_which_part(visit, tamsin, proven, change):
    change.make(tamsin)

    said = text(visit(tamsin).get(address(proven, "watch_hire", hire=proven.code)))

    assert f"Gin tonic Changed since by the house: {change.part} " in said


@pytest.mark.parametrize("change", CHANGES.values(), ids=CHANGES)
def test_the_page_of_the_build_says_which_part(visit, tamsin, proven, change):
    build = proven.builds.get(recipe__slug="gin-tonic")
    change.make(tamsin)

    said = text(visit(tamsin).get(address(tamsin, "build", code=build.code)))

    assert f"Changed since by the house: {change.part}. It no longer proves that part." in said


@pytest.mark.parametrize("change", CHANGES.values(), ids=CHANGES)
def test_the_board_says_which_part_and_what_to_do(visit, tamsin, proven, change):
    change.make(tamsin)

    page = visit(tamsin).get(address(tamsin, "who_is_ready"))

    [(_, shown)] = page.context["rows"]
    assert f"Gin tonic has changed since it was signed off: {change.words}." in shown.missing
    assert f"Build Gin tonic once for the trainer: {change.words} changed." in shown.next


def well(hire, at=LATER):
    [station] = [s for s in board.order_stations(hire.venue) if s.slug == "well"]
    return board.board(station, make.menu_of(hire, at), [hire])[0]


@pytest.mark.parametrize("change", CHANGES.values(), ids=CHANGES)
def test_what_was_shown_of_the_old_build_stops_counting(tamsin, proven, change):
    before = well(proven)
    assert before.trials == 4

    change.make(tamsin)

    after = well(proven)
    assert after.trials == change.still
    assert after.verdict.right < before.verdict.right
    assert after.verdict.standing is not Standing.READY


def test_a_reverted_recipe_counts_again(tamsin, proven):
    before = well(proven)
    revise(tamsin, "gin-tonic", glass="rocks", at=NOW)
    assert well(proven) != before

    revise(tamsin, "gin-tonic", glass=None, at=NOW)

    assert well(proven) == before


def test_reverted_rules_count_again(tamsin, proven):
    before = well(proven)
    make.lemon_in_tonic(tamsin, at=NOW)
    assert well(proven) != before

    change_rules(tamsin, at=NOW)

    assert well(proven) == before


def test_signing_off_once_more_renews_it(visit, tamsin, proven):
    make.lemon_in_tonic(tamsin, at=NOW)
    make.sign_off(tamsin, proven, "gin-tonic", at=NOW)

    said = text(visit(tamsin).get(address(proven, "hire_record", code=proven.code)))
    assert "4 of 4 must-knows signed off" in said
    assert [r.code for r in well(proven).verdict.missing if "sign" in r.code] == []


def test_rules_of_next_week_are_no_change_today(visit, tamsin, proven):
    change_rules(tamsin, straw_families=(), at=NOW, takes_effect_at=NOW + 7 * DAY)

    said = text(visit(tamsin).get(address(proven, "hire_record", code=proven.code)))
    assert "Changed since by the house" not in said
    assert well(proven).trials == 4
    assert well(proven, at=NOW + 7 * DAY).trials < 4


def test_a_failed_build_is_never_out_of_date(visit, tamsin, nils):
    make.watch(tamsin, nils, "gin-tonic", off=["glass"])
    make.lemon_in_tonic(tamsin, at=NOW)

    said = text(visit(tamsin).get(address(nils, "hire_record", code=nils.code)))
    assert "not passed" in said
    assert "Changed since" not in said
