"""The practical on phones, from the first build to the inspection folder: a trainer, a hire and a
manager, each tapping what they would tap."""

from __future__ import annotations

import io
import re

import pypdf
import pytest
from playwright.sync_api import Page, expect

from assessments.models import Answered, Reply, SignOff, SpotMark, Void, WatchedRound
from barcourse.people import log
from barcourse.people.models import Membership, Refusal
from tests.browser.acting import go, help_was, press
from tests.browser.conftest import Visit
from tests.browser.signing_in import at_once
from tests.factories.people import hire

POURS = ("1.02", "0.97", "1.0", "1.05", "1.01")


@pytest.mark.parametrize("size", ["phone"])
def test_the_practical_from_build_to_folder(
    open_browser, odalys: Membership, marek: Membership, tamsin: Membership, nils: Membership,
    size: str,
):  # fmt: skip
    hire(odalys, "Bo")
    trainer, learner, manager = (open_browser(size) for _ in range(3))
    for visit, member in ((trainer, tamsin), (learner, nils), (manager, marek)):
        at_once(visit, member)

    _prove_a_build(trainer)
    _fail_a_measured_pour(trainer, nils)
    _mark_in_service(trainer)
    _take_a_mark_back(trainer)
    _watch_two_of_one_drink(trainer, nils)
    _watch_two_hires(trainer)
    _check_pours_and_pace(trainer, nils)
    _do_side_work_and_refuse(learner)
    _answer(learner)
    _answer_a_mark(learner)
    _settle_the_mark(manager)
    _hear_both(manager)
    _hand_out_papers(manager, nils)

    assert log.check(odalys.venue) == []


def _prove_a_build(visit: Visit) -> None:
    """Wrong tap, undone, put on record once more, signed off."""
    go(visit, "Watch")
    link = visit.page.get_by_role("link", name=re.compile("^Prove next")).last
    press(visit, link.inner_text())
    visit.page.locator(".step").first.click()
    help_was(visit.page, "unprompted")
    press(visit, "Put on record")
    press(visit, "Undo: tapped wrong")
    visit.page.locator(".step").first.click()
    press(visit, "Put on record")
    press(visit, "Sign off")
    expect(visit.page.get_by_text("Signed off:", exact=False)).to_be_visible()
    assert (Void.objects.count(), SignOff.objects.count()) == (1, 1)


def _fail_a_measured_pour(visit: Visit, nils: Membership) -> None:
    page = visit.page
    page.goto(f"/h/harbour-lights/watch/{nils.code}/gin-and-tonic/")
    page.get_by_text("A pour was measured").click()
    page.get_by_role("textbox", name=re.compile("gin")).fill("1.5")
    help_was(page, "unprompted")
    press(visit, "Put on record")
    expect(page.get_by_text("1.5 fl oz measured, 1 fl oz wanted")).to_be_visible()
    expect(page.get_by_text("Not passed.")).to_be_visible()


def _mark_in_service(visit: Visit) -> None:
    """Three taps from the board."""
    go(visit, "Who is ready")
    visit.page.get_by_role("link", name="In service").last.click()
    visit.page.get_by_role("link", name="Gin and Tonic", exact=True).first.click()
    visit.page.get_by_role("button", name="Right").first.click()
    expect(visit.page.get_by_text("On record: Gin and Tonic by Nils, right.")).to_be_visible()
    assert SpotMark.objects.get().came == "right"


def _take_a_mark_back(visit: Visit) -> None:
    """A slip of the thumb: the message of the mark leads to where it is taken back."""
    page = visit.page
    page.get_by_role("link", name="Gin and Tonic", exact=True).first.click()
    page.get_by_role("button", name="Wrong").first.click()
    press(visit, "Take it back")
    page.get_by_label("Why does it not count?").fill("Tapped the wrong one.")
    press(visit, "Take it back")
    expect(page.get_by_text("It stays on record and no longer counts.")).to_be_visible()
    [kept] = SpotMark.objects.not_void()
    assert kept.came == "right"


def _watch_two_of_one_drink(visit: Visit, nils: Membership) -> None:
    page = visit.page
    page.goto(f"/h/harbour-lights/watch/round/{nils.code}/?d=gin-and-tonic&d=gin-and-tonic")
    for step in ("Line up the glasses", "Pick up gin", "Ice, all"):
        page.get_by_role("button", name=step).click()
    help_was(page, "unprompted")
    press(visit, "Put on record")
    expect(page.get_by_text("Late: “Ice, all glasses at once”.")).to_be_visible()
    assert len(WatchedRound.objects.get().builds) == 2


def _watch_two_hires(visit: Visit) -> None:
    page = visit.page
    page.goto("/h/harbour-lights/watch/together/")
    press(visit, "Watch both")
    page.get_by_role("button", name="Start").last.click()
    help_was(page, "prompted")
    help_was(page, "unprompted", 1)
    press(visit, "Put both on record")
    page.get_by_label("It is so").check()  # the clock was stopped at once
    press(visit, "Put both on record")
    expect(page.get_by_text("Just put on record")).to_be_visible()


def _check_pours_and_pace(visit: Visit, nils: Membership) -> None:
    page = visit.page
    page.goto(f"/h/harbour-lights/watch/pours/{nils.code}/")
    page.get_by_label("Poured from").select_option("gin")
    for number, pour in enumerate(POURS, start=1):
        page.get_by_label(f"Pour {number}", exact=True).fill(pour)
    page.get_by_text("water", exact=True).click()
    press(visit, "Put on record")
    expect(page.get_by_text("Passed: all 5 within tolerance.", exact=False)).to_be_visible()
    page.goto(f"/h/harbour-lights/watch/pace/{nils.code}/?seed=7&orders=5")
    page.get_by_role("button", name="Start").click()
    page.get_by_label("A pour off").fill("1")
    page.wait_for_timeout(1100)
    press(visit, "Put on record")
    page.get_by_label("It is so").check()  # nobody is that fast
    press(visit, "Put on record")
    expect(page.get_by_text("drinks an hour, likely")).to_be_visible()


def _do_side_work_and_refuse(visit: Visit) -> None:
    """A refusal takes three taps: where it is noted, the reason, and "Note it"."""
    page = visit.page
    go(visit, "Next shift")
    press(visit, "Side work")
    page.get_by_role("checkbox").first.check()
    press(visit, "Sign what is ticked")
    expect(page.get_by_text("Signed, with the time and your name.")).to_be_visible()
    page.get_by_role("link", name="Refusals").click()
    page.get_by_label("no valid proof of age").check()
    page.get_by_role("button", name="Note it").click()
    expect(page.get_by_text("Noted as of ")).to_be_visible()
    assert Refusal.objects.count() == 1


def _answer(visit: Visit) -> None:
    """What a trainer put on record stands in the hire's own at once."""
    page = visit.page
    go(visit, "My record")
    expect(page.get_by_text("2 drinks marked in service")).to_be_visible()
    failed = page.get_by_role("listitem").filter(has_text="not passed")
    failed.get_by_role("link", name="Gin and Tonic").first.click()
    page.get_by_label("In a few words").fill("The jigger was the other one.")
    page.get_by_label("I see it differently", exact=False).check()
    press(visit, "Say it")
    expect(page.get_by_text("A manager looks at it.", exact=False)).to_be_visible()


def _answer_a_mark(visit: Visit) -> None:
    """The one that stands; the one taken back says so."""
    page = visit.page
    go(visit, "My record")
    page.get_by_text("2 drinks marked in service").click()
    marks = page.get_by_role("listitem").filter(has_text="Tamsin")
    expect(marks.filter(has_text="taken back")).to_have_count(1)
    standing = marks.filter(has_text=re.compile(r"right$")).first
    standing.get_by_role("link", name="Gin and Tonic").click()
    expect(page.get_by_text("In service: right")).to_be_visible()
    page.get_by_label("In a few words").fill("It was a double.")
    page.get_by_label("I see it differently", exact=False).check()
    press(visit, "Say it")
    expect(page.get_by_text("Said. A manager will look at it.")).to_be_visible()


def _settle_the_mark(visit: Visit) -> None:
    page = visit.page
    go(visit, "Who is ready")
    press(visit, "To look at")
    row = page.get_by_role("listitem").filter(has_text="It was a double.")
    row.get_by_role("button", name=re.compile("^Let it stand")).click()
    expect(page.get_by_text("It stands, and the log says that you decided it.")).to_be_visible()
    expect(page.get_by_text("It was a double.")).to_have_count(0)
    assert Answered.objects.get().settled.by.name == "Marek"


def _hear_both(visit: Visit) -> None:
    """The manager reads the answer, lets the build stand, and erases the words."""
    page = visit.page
    go(visit, "Who is ready")
    press(visit, "To look at")
    expect(page.get_by_text("The jigger was the other one.")).to_be_visible()
    build = page.get_by_role("link", name="Gin and Tonic").first.get_attribute("href") or ""
    page.get_by_role("button", name=re.compile("^Let it stand")).click()
    expect(page.get_by_text("It stands, and the log says that you decided it.")).to_be_visible()
    page.goto(build)
    page.get_by_role("button", name=re.compile("^Show the marks")).click()
    press(visit, "Erase these words")
    expect(page.get_by_text("words erased")).to_be_visible()
    assert Reply.objects.get().disagrees


def _hand_out_papers(visit: Visit, nils: Membership) -> None:
    page = visit.page
    go(visit, "Papers")
    folder = _download(page, "Inspection folder (PDF)")
    assert "no valid proof of age" in _words(folder)
    assert b"no valid proof of age" in _download(page, "The same as CSV")
    page.goto(f"/h/harbour-lights/hires/{nils.code}/")
    record = _words(_download(page, "Training record (PDF)"))
    assert all(words in record for words in ("Gin and Tonic", "pour check", "pace check"))
    assert b"Gin and Tonic" in _download(page, "Training record (CSV)")


def _download(page: Page, name: str) -> bytes:
    with page.expect_download() as got:
        page.get_by_role("link", name=name).click()
    return got.value.path().read_bytes()


def _words(pdf: bytes) -> str:
    sheets = pypdf.PdfReader(io.BytesIO(pdf)).pages
    return " ".join(" ".join(sheet.extract_text() for sheet in sheets).split())
