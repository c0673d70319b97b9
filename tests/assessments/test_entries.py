"""Every entry of a record has a page: its hire reads and answers it, a manager settles."""

import pytest

from assessments import record_entries, record_taken_back, showing_entries
from assessments.models import Answered
from barcourse.people import log
from barcourse.people.models import LogEntry
from barcourse.people.reasons import Refused
from tests.assessments.pages import address, fields, text
from tests.factories import assessments as make
from tests.factories import hands
from tests.factories.assessments import LATER, NOW
from tests.factories.people import hire as hire_somebody

ENTRIES = {
    "spot": hands.spot,
    "pours": hands.pour,
    "pace": hands.pace,
    "round": lambda trainer, hire: hands.make_round(trainer, hire, "madras", "gin-tonic"),
    "build": make.watch,
}
kinds = pytest.mark.parametrize("kind", ENTRIES)


def say(hire, entry, words="That was Pia's drink.", *, disagrees=True, at=NOW):
    return record_entries.answer(by=hire, entry=entry, words=words, disagrees=disagrees, at=at)


def refused(call, *args, **kwargs):
    with pytest.raises(Refused) as raised:
        call(*args, **kwargs)
    return raised.value.reason.code


@kinds
def test_a_hire_answers_as_often_as_there_is_something_to_say(visit, tamsin, nils, kind):
    entry, browser = ENTRIES[kind](tamsin, nils), visit(nils)
    path = address(nils, "entry", code=entry.code)
    for words, differs in (("I was alone at the bar.", ""), ("And the jigger leaks.", "on")):
        page = browser.get(path)
        sent = {**fields(page, address(nils, "entry_answer", code=entry.code)), "words": words}
        browser.send(address(nils, "entry_answer", code=entry.code), {**sent, "disagrees": differs})

    shown = text(browser.get(path))
    assert "“I was alone at the bar.”" in shown
    assert "“And the jigger leaks.”" in shown
    assert "A manager looks at it." in shown
    assert [a.disagrees for a in Answered.objects.about(kind, entry)] == [False, True]
    assert log.check(tamsin.venue) == []


def test_a_refused_answer_keeps_its_tick(visit, tamsin, nils):
    spot = hands.spot(tamsin, nils)
    browser, path = visit(nils), address(nils, "entry_answer", code=spot.code)
    page = browser.send(path, {"words": "  ", "disagrees": "on"})

    assert page.status_code == 200
    assert fields(page, path)["disagrees"] == ["on"]
    assert not Answered.objects.exists()


@kinds
def test_a_disagreement_waits_for_a_manager_until_it_is_settled(visit, marek, tamsin, nils, kind):
    said = say(nils, ENTRIES[kind](tamsin, nils))
    browser, path = visit(marek), address(marek, "to_look_at")
    assert "That was Pia's drink." in text(browser.get(path))

    browser.send(address(marek, "entry_stands", code=said.code), {})

    assert "That was Pia's drink." not in text(browser.get(path))
    shown = text(visit(nils).get(address(nils, "entry", code=said.entry.code)))
    assert "Marek has heard both: it stands." in shown
    assert log.check(marek.venue) == []


@pytest.mark.parametrize("kind", [kind for kind in ENTRIES if kind != "build"])
def test_taking_the_entry_back_settles_it_too(marek, tamsin, nils, kind):
    entry = ENTRIES[kind](tamsin, nils)
    say(nils, entry)
    assert len(showing_entries.disagreements(marek.venue, LATER)) == 1

    record_taken_back.take_back_hand(by=marek, row=entry, reason="Not his.", at=LATER)

    assert showing_entries.disagreements(marek.venue, LATER) == []


def test_an_agreement_waits_for_nobody(marek, tamsin, nils):
    say(nils, hands.spot(tamsin, nils), disagrees=False)

    assert showing_entries.disagreements(marek.venue, LATER) == []


def test_what_is_refused(marek, tamsin, pia, nils, ravna):
    spot = hands.spot(tamsin, nils)
    said = say(nils, spot)
    record_entries.settle(by=marek, answer=said, at=LATER)

    assert refused(say, pia, spot) == "not_your_record"
    assert refused(say, nils, spot, " ") == "answer_needs_words"
    assert refused(record_entries.settle, by=marek, answer=said, at=LATER) == "settled_already"
    settle = record_entries.settle
    assert refused(settle, by=tamsin, answer=say(nils, spot), at=LATER) == "somebody_else_settles"
    assert refused(settle, by=ravna, answer=said, at=LATER) == "other_house"


def test_words_are_erased_by_whoever_wrote_them_and_more_can_be_said(visit, tamsin, pia, nils):
    spot = hands.spot(tamsin, nils)
    said = say(nils, spot, "Pia has hay fever.")
    sent = {"words": said.text_code}
    path = address(nils, "entry_erase", code=spot.code)
    visit(pia).send(path, sent)
    assert "hay fever" in text(visit(nils).get(address(nils, "entry", code=spot.code)))

    visit(nils).send(path, sent)

    shown = text(visit(nils).get(address(nils, "entry", code=spot.code)))
    assert "hay fever" not in shown
    assert "words erased" in shown
    assert "Say more" in shown
    assert LogEntry.objects.filter(venue=tamsin.venue, kind="text_erased").count() == 1
    assert log.check(tamsin.venue) == []


def test_the_page_of_an_entry_is_for_its_hire_and_for_trainers(visit, odalys, tamsin, nils, ravna):
    spot, bo = hands.spot(tamsin, nils, at=NOW), hire_somebody(odalys, "Bo")
    path = address(nils, "entry", code=spot.code)

    assert visit(nils).get(path).status_code == 200
    assert visit(tamsin).get(path).status_code == 200
    assert visit(bo).get(path).status_code == 404
    assert visit(bo).send(f"{path}answer/", {"words": "Me too."}).status_code == 404
    assert visit(ravna).get(path).status_code == 404
    assert visit(nils).get(address(nils, "entry", code="nothing")).status_code == 404
