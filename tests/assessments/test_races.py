"""Two at the same moment, with real transactions on real connections."""

import threading
import uuid

import pytest
from django.db import connection

from assessments import record, record_entries, record_sales, record_second, showing_entries
from assessments.models import Answer, Memory, Quiz, QuizResult, SalesMix, SignOff
from assessments.record_taken_back import take_back_hand
from assessments.sales_counting import count
from barcourse.people import log
from barcourse.people.reasons import Refused
from tests.assessments.pages import address, fields
from tests.assessments.till_pages import send_file
from tests.factories import assessments as make
from tests.factories import hands
from tests.factories.assessments import NOW
from tests.factories.tills import rows

pytestmark = pytest.mark.django_db(transaction=True)


def at_once(*calls):
    """Results or exceptions of the calls, each on a thread and a connection of its own."""
    barrier, results = threading.Barrier(len(calls)), [None] * len(calls)

    def run(place, call):
        barrier.wait()
        try:
            results[place] = call()
        except Exception as error:  # noqa: BLE001  (the test looks at it)
            results[place] = error
        finally:
            connection.close()

    threads = [threading.Thread(target=run, args=pair) for pair in enumerate(calls)]
    for thread in threads:
        thread.start()
    for thread in threads:
        thread.join()
    return results


def faults(results):
    return [r for r in results if isinstance(r, Exception) and not isinstance(r, Refused)]


def test_two_thumbs_on_the_quiz_button_start_one_quiz(nils):
    results = at_once(*[lambda: make.start_quiz(nils)] * 3)

    assert faults(results) == []
    assert set(results) == {Quiz.objects.get()}


def test_one_question_answered_twice_at_once_is_answered_once(nils):
    item = make.start_at_one_choice(nils)

    results = at_once(
        *(
            lambda choice=choice: record.answer_item(by=nils, item=item, choice=choice, at=NOW)
            for choice in (0, 1)
        )
    )

    assert faults(results) == []
    assert set(results) == {Answer.objects.get(item=item)}


def test_the_last_two_questions_answered_at_once_close_the_quiz_once(nils):
    quiz = make.start_quiz(nils)
    make.answer(quiz, most=quiz.items.count() - 2)
    left = list(quiz.items.filter(answer__isnull=True).select_related("quiz"))

    results = at_once(
        *(
            lambda item=item: record.answer_item(
                by=nils, item=item, choice=make.right(make.asked_of(item)), at=NOW
            )
            for item in left
        )
    )

    assert faults(results) == []
    assert QuizResult.objects.get().right == quiz.items.count()
    assert log.check(nils.venue) == []


def test_cards_of_one_person_turned_at_once_are_all_remembered(nils):
    tonics = ("gin-tonic", "vodka-tonic", "light-gin-tonic")  # they share what they teach

    results = at_once(*(lambda slug=slug: make.turn_card(nils, slug) for slug in tonics))

    assert faults(results) == []
    drinks = make.menu_of(nils).by_slug
    topics = [t.fingerprint for slug in tonics for t in drinks[slug].drink.topics]
    reviews = {m.topic: m.reviews for m in Memory.objects.of(nils)}
    assert reviews == {topic: topics.count(topic) for topic in topics}


def test_a_build_signed_off_twice_at_once_is_signed_off_once(tamsin, nils):
    build = make.watch(tamsin, nils)

    results = at_once(*[lambda: record.sign_off(by=tamsin, watched=build, at=NOW)] * 3)

    assert faults(results) == []
    assert set(results) == {SignOff.objects.get()}
    assert log.check(tamsin.venue) == []


def test_a_sign_off_and_a_void_at_once_leave_nothing_that_proves(tamsin, pia, nils):
    build = make.watch(tamsin, nils)

    results = at_once(
        lambda: record.sign_off(by=tamsin, watched=build, at=NOW),
        lambda: record.void_build(by=pia, watched=build, reason="x", at=NOW),
    )

    assert faults(results) == []
    assert not isinstance(results[1], Exception)
    assert not SignOff.objects.all().standing(NOW).exists()
    assert log.check(tamsin.venue) == []


@pytest.mark.parametrize("kind", ["build", "spot"])
def test_an_answer_and_a_void_at_once_are_both_kept(tamsin, nils, kind):
    """In either order of the two, the trainer's void leaves the answer to the managers."""
    entry = make.watch(tamsin, nils) if kind == "build" else hands.spot(tamsin, nils)

    def void():
        if kind == "build":
            return record.void_build(by=tamsin, watched=entry, reason="x", at=NOW)
        return take_back_hand(by=tamsin, row=entry, reason="x", at=NOW)

    results = at_once(
        lambda: record_entries.answer(by=nils, entry=entry, words="x", disagrees=True, at=NOW), void
    )

    assert [r for r in results if isinstance(r, Exception)] == []
    assert len(showing_entries.disagreements(nils.venue, NOW)) == 1
    assert log.check(nils.venue) == []


def test_of_two_managers_at_once_the_second_reads_what_the_first_decided(
    odalys, marek, tamsin, nils
):
    recipe = make.watch(tamsin, nils).recipe

    results = at_once(
        *(
            lambda by=by: record_second.decide_plan(
                by=by, hire=nils, recipe=recipe, plan="show", at=NOW, seen=""
            )
            for by in (odalys, marek)
        )
    )

    assert faults(results) == []
    assert sorted(type(r).__name__ for r in results) == ["PlanDecided", "Refused"]
    assert log.check(nils.venue) == []


@pytest.mark.parametrize("step", ["look", "take"])
def test_nobody_waits_while_a_file_of_the_till_is_read(visit, marek, nils, monkeypatch, step):
    """Whatever its rows take: somebody else's answer is kept before they are added up."""
    path, browser = address(marek, "sales_take"), visit(marek)
    item = make.start_at_one_choice(nils)
    shown = send_file(browser, path, rows("Madras,3"))
    kept = []

    def answer():
        record.answer_item(by=nils, item=item, choice=0, at=NOW)
        kept.append(item)
        connection.close()

    def slowly(*args):
        other = threading.Thread(target=answer)
        other.start()
        other.join(LONGEST_WAIT)
        assert kept == [item]
        return count(*args)

    monkeypatch.setattr(record_sales, "count", slowly)
    if step == "look":
        send_file(browser, path, rows("Madras,3"))
    else:
        sent = {**fields(shown, path), "take": "1", "form_key": str(uuid.uuid4())}
        assert browser.post(path, sent).status_code == 302

    assert kept == [item]
    assert SalesMix.objects.count() == (step == "take")


LONGEST_WAIT = 10
"""Seconds; on the file of a small house an answer takes some milliseconds."""


def test_a_file_taken_in_twice_at_once_counts_once(visit, marek, pia):
    path, browser = address(marek, "sales_take"), visit(marek)
    sent = {**fields(send_file(browser, path, rows("Madras,3")), path), "take": "1"}
    sent["form_key"] = str(uuid.uuid4())

    results = at_once(*[lambda: browser.post(path, sent).status_code] * 2)

    assert results == [302, 302]
    assert SalesMix.objects.count() == 1
