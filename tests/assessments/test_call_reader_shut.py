"""While a hire is asked, the call reader doesn't answer for them."""

import datetime as dt
from urllib.parse import urlencode

import pytest

from assessments.measures.call_writing import CallKind
from assessments.models.calls import RUSH_LASTS
from recipes.call_reader_shut import in_the_middle
from tests.assessments.pages import address, text
from tests.factories import assessments as shown
from tests.factories import calls as make
from tests.factories.assessments import NOW

pytestmark = pytest.mark.django_db
SHUT = "You are in the middle of"
CALL = "two gin tonics no ice"


def read(browser, who, **said):
    query = urlencode({"call": CALL, **said})
    return text(browser.get(f"{address(who, 'calls')}?{query}"))


@pytest.mark.parametrize("kind", CallKind)
def test_while_calls_lie_open_it_says_where_it_goes_on(visit, nils, kind):
    run = make.start(nils, NOW, kind)
    browser = visit(nils)

    answer = browser.get(f"{address(nils, 'calls')}?{urlencode({'call': CALL})}")

    assert "You are in the middle of call practice: it goes on there." in text(answer)
    assert address(nils, "call_run", code=run.code) in answer.content.decode()
    for said in ({}, {"drink": "0", "about": "base", "choice": "vodka"}):
        page = read(browser, nils, **said)
        assert SHUT in page
        assert "Ready to build" not in page
    sent = browser.send(address(nils, "calls"), {"call": CALL})
    assert SHUT in text(sent)
    assert "Ready to build" not in text(sent)


def test_what_comes_while_somebody_types_is_the_same_answer(visit, nils):
    """The page takes `#heard` out of it, so that must be there."""
    make.start(nils, NOW)

    page = visit(nils).get(f"{address(nils, 'calls')}?{urlencode({'call': CALL})}")

    assert page.content.decode().count('id="heard"') == 1


def test_a_quiz_shuts_it_too(visit, nils):
    quiz = shown.start_quiz(nils)

    answer = visit(nils).get(f"{address(nils, 'calls')}?{urlencode({'call': CALL})}")

    assert "You are in the middle of a quiz: it goes on there." in text(answer)
    assert address(nils, "quiz", code=quiz.code) in answer.content.decode()


def test_it_opens_once_the_run_is_finished(visit, nils):
    run = make.start(nils, NOW)
    assert SHUT in read(visit(nils), nils)
    make.build(run, NOW)

    assert "Ready to build" in read(visit(nils), nils)


def test_a_rush_whose_time_is_up_shuts_nothing(nils):
    make.start(nils, NOW, CallKind.RUSH)
    ends = NOW + RUSH_LASTS

    assert in_the_middle(nils, ends) is not None
    assert in_the_middle(nils, ends + dt.timedelta(seconds=1)) is None


def test_a_colleague_and_who_may_open_the_book_anyway_are_answered(visit, nils, tamsin):
    make.start(nils, NOW)
    make.start(tamsin, NOW)

    assert "Ready to build" in read(visit(tamsin), tamsin)


@pytest.mark.parametrize("page", [("shift_cards", {}), ("module_cards", {"module": "highballs"})])
def test_cards_are_shut_in_a_rush_and_open_after_it(visit, nils, tamsin, page):
    name, where = page
    browser = visit(nils)
    make.start(nils, NOW)
    assert SHUT not in text(browser.get(address(nils, name, **where)))
    run = make.start(nils, NOW, CallKind.RUSH)
    make.start(tamsin, NOW, CallKind.RUSH)

    shut = browser.get(address(nils, name, **where))

    assert SHUT in text(shut)
    assert address(nils, "call_run", code=run.code) in shut.content.decode()
    assert SHUT not in text(visit(tamsin).get(address(tamsin, name, **where)))
    make.build(run, NOW)
    assert SHUT not in text(browser.get(address(nils, name, **where)))


def test_lessons_stay_open(visit, nils):
    make.start(nils, NOW, CallKind.RUSH)

    page = text(visit(nils).get(address(nils, "modules")))

    assert "Highballs 17 drinks to read" in page


def test_the_way_to_it_stands_where_it_leads_somewhere(visit, nils):
    """After the last call of a run, not between them."""
    browser = visit(nils)
    run = make.start(nils, NOW)
    path, link = address(nils, "call_run", code=run.code), "Why it is this"
    first, *rest = run.calls.select_related("run")
    for call in (first, *rest):
        given = [make.wrong(d) for d in make.asked_of(call).drinks]
        make.record_calls.answer_call(by=nils, call=call, given=given, at=NOW)
        told = text(browser.get(f"{path}?told={call.position}"))
        assert (link in told) == (call == rest[-1])
    assert link in text(browser.get(address(nils, "call_result", code=run.code)))
