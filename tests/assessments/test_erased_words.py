"""Words about a build are erased by whoever wrote them or a manager; the record stays whole."""

import pytest

from assessments import record, record_second, record_words
from assessments.models import Reply, WatchedBuild
from assessments.record_words import Words
from barcourse.people import log
from barcourse.people.models import LogEntry, PersonalText
from barcourse.people.reasons import Refused
from tests.assessments.pages import address, text
from tests.factories import assessments as make
from tests.factories.assessments import LATER
from tests.factories.people import hire as hire_somebody

SAID = {Words.NOTE: "Slow with the ice.", Words.VOID: "Wrong hire.", Words.ANSWER: "The bin."}
WROTE = {Words.NOTE: "tamsin", Words.VOID: "pia", Words.ANSWER: "nils"}


@pytest.fixture
def everybody(odalys, marek, tamsin, nils):
    """Tamsin watched and noted, Pia voided, Nils answered; Bo is a hire beside them."""
    pia, bo = hire_somebody(odalys, "Pia", "trainer"), hire_somebody(odalys, "Bo")
    return {"odalys": odalys, "marek": marek, "tamsin": tamsin, "pia": pia, "nils": nils, "bo": bo}


@pytest.fixture
def watched(everybody):
    build = make.watch(everybody["tamsin"], everybody["nils"], note=SAID[Words.NOTE])
    record_second.answer_record(
        by=everybody["nils"], watched=build, words=SAID[Words.ANSWER], disagrees=True, at=LATER
    )
    record.void_build(by=everybody["pia"], watched=build, reason=SAID[Words.VOID], at=LATER)
    return build


def erase(by, build, which):
    record_words.erase_words(by=by, watched=build, which=which, at=LATER)


@pytest.mark.parametrize("which", Words)
@pytest.mark.parametrize("who", ["odalys", "marek", "tamsin", "pia", "nils", "bo"])
def test_who_may(everybody, watched, who, which):
    may = who in ("odalys", "marek", WROTE[which])
    assert (which.value in record_words.erasable(everybody[who], watched)) is may

    if not may:
        with pytest.raises(Refused, match="only_who_wrote_erases"):
            erase(everybody[who], watched, which)
    else:
        erase(everybody[who], watched, which)

    left = set(PersonalText.objects.filter(erased_at=None).values_list("text", flat=True))
    assert (SAID[which] in left) is not may
    assert set(SAID.values()) - {SAID[which]} <= left
    assert LogEntry.objects.filter(kind="text_erased").count() == may
    assert log.check(everybody["odalys"].venue) == []


def test_marks_and_verdict_stay(everybody, watched):
    before = WatchedBuild.objects.values().get()

    for which in Words:
        erase(everybody["marek"], watched, which)

    assert WatchedBuild.objects.values().get() == before
    assert Reply.objects.get().disagrees
    assert record_words.erasable(everybody["marek"], watched) == set()


@pytest.mark.parametrize("which", Words)
def test_words_are_erased_once(everybody, watched, which):
    erase(everybody["marek"], watched, which)

    with pytest.raises(Refused, match="text_erased_already"):
        erase(everybody["marek"], watched, which)


def test_where_nothing_was_said_nothing_is_erased(marek, tamsin, nils):
    build = make.watch(tamsin, nils)

    for which in Words:
        with pytest.raises(Refused, match="no_words_there"):
            erase(marek, build, which)


def test_another_house_erases_nothing(ravna, watched):
    with pytest.raises(Refused, match="other_house"):
        erase(ravna, watched, Words.NOTE)


def test_a_hire_takes_their_answer_back_on_screen(visit, everybody, watched):
    nils = everybody["nils"]
    browser, page = visit(nils), address(nils, "my_build", code=watched.code)
    way = address(nils, "erase_answer", code=watched.code)
    before = browser.get(page)
    assert way in before.content.decode()
    assert "Slow with the ice." in text(before)

    browser.send(way, {})

    said = text(browser.get(page))
    assert SAID[Words.ANSWER] not in said
    assert "words erased" in said
    assert "Slow with the ice." in said


@pytest.mark.parametrize("which", Words)
def test_a_manager_erases_on_screen(visit, everybody, watched, which):
    marek = everybody["marek"]
    browser, page = visit(marek), address(marek, "build", code=watched.code)
    browser.send(address(marek, "see_marks", code=watched.code), {})
    way, sent = address(marek, "erase_words", code=watched.code), {"which": which.value}
    field = f'name="which" value="{which.value}"'
    assert field in browser.get(page).content.decode()

    browser.send(way, sent)

    after = browser.get(page)
    assert SAID[which] not in text(after)
    assert "words erased" in text(after)
    assert field not in after.content.decode()


def test_there_are_no_other_words(visit, everybody, watched):
    marek = everybody["marek"]
    way = address(marek, "erase_words", code=watched.code)

    assert visit(marek).send(way, {"which": "photo"}).status_code == 404


def test_somebody_elses_note_is_left_with_a_sentence(visit, everybody, watched):
    pia = everybody["pia"]
    way = address(pia, "erase_words", code=watched.code)

    answer = visit(pia).send(way, {"which": "note"}, follow=True)

    assert "Whoever wrote the words may erase them, or a manager." in answer.content.decode()
