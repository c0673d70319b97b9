"""What can hardly be is asked about before it is sealed."""

import pytest

from assessments import doubts
from assessments.models import PaceCheck, PourCheck, WatchedBuild
from tests.assessments.pages import fields, text
from tests.assessments.practical_pages import at
from tests.assessments.test_pages_pours import pour_on_screen

OZ = 29.5735


@pytest.mark.parametrize(
    ("ml", "target", "doubtful"),
    [
        (1.0 * OZ, 1.0 * OZ, False), (4.0 * OZ, 1.0 * OZ, False), (4.1 * OZ, 1.0 * OZ, True),
        (0.25 * OZ, 1.0 * OZ, False), (0.24 * OZ, 1.0 * OZ, True), (0.0, 25.0, True),
        (30 * OZ, 1.5 * OZ, True), (50.0, 25.0, False),
    ],
)  # fmt: skip
def test_a_pour(ml, target, doubtful):
    assert doubts.is_doubtful_pour(ml, target) is doubtful
    assert bool(doubts.of_pours([ml], target, "us")) is doubtful


@pytest.mark.parametrize(
    ("seconds", "drinks", "doubtful"),
    [(None, 1, False), (0, 1, True), (4, 1, True), (5, 1, False), (3, 26, True), (129, 26, True),
     (130, 26, False)],
)  # fmt: skip
def test_a_time(seconds, drinks, doubtful):
    assert doubts.is_doubtful_time(seconds, drinks) is doubtful
    assert bool(doubts.of_time(seconds, drinks)) is doubtful


HELP = {"help_level": "unprompted", "made_with": "stock"}


def test_each_doubt_is_said_once():
    said = doubts.in_words([*doubts.of_pours([900.0, 900.0], 30.0, "gb"), *doubts.of_time(3, 26)])
    assert said.count("900 ml where 30 ml was to be poured?") == 1
    assert "3 seconds for 26 drinks?" in said
    assert doubts.in_words([]) == ""


def _asked_then_sure(browser, path, sent, model):
    """Asked about, not written; then written with the tick that the page offers."""
    asked = browser.send(path, sent)
    assert asked.status_code == 200
    assert not model.objects.exists()
    question = asked.context["form"].doubted
    assert question in text(asked)
    browser.send(path, sent | {"sure": "of something else"})
    assert not model.objects.exists()
    assert browser.send(path, sent | {"sure": question}).status_code == 302
    assert model.objects.count() == 1


def test_a_pour_in_the_wrong_unit_is_asked_about(visit, tamsin, nils):
    browser = visit(tamsin)
    assert "30 fl oz where 1 fl oz was to be poured?" in text(
        pour_on_screen(browser, nils, *["30"] * 5)
    )
    path = at(nils, "pours")
    sent = fields(browser.get(path)) | {
        "ingredient": "gin", "made_with": "water", "unit": "floz", "pour": ["30"] * 5,
    }  # fmt: skip
    _asked_then_sure(browser, path, sent, PourCheck)


def test_a_clock_started_too_late_is_asked_about(visit, tamsin, nils):
    browser, path = visit(tamsin), at(nils, "pace") + "?station=well&orders=12&seed=3&rung_up=yes"
    _asked_then_sure(browser, path, fields(browser.get(path)) | {"seconds": "3"}, PaceCheck)


@pytest.mark.parametrize("typed", [{"seconds": "2"}, {"measured-pour:vodka": "1000"}])
def test_a_build_that_can_hardly_be_is_asked_about(visit, tamsin, nils, typed):
    browser, path = visit(tamsin), at(nils, "watch_build", drink="madras")
    _asked_then_sure(browser, path, fields(browser.get(path)) | HELP | typed, WatchedBuild)
