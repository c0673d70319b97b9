"""Quizzes: the same for the same seed, answered once, closed with a sealed result."""

import pytest

from assessments import record
from assessments.measures.memory import SOON
from assessments.measures.quiz import ASK
from assessments.models import Answer, Memory, Quiz, QuizResult
from barcourse.people import enrol, log
from barcourse.people.models import LogEntry
from barcourse.people.reasons import Refused
from recipes import publish
from recipes.models import Module
from recipes.publish import OnMenu
from tests.cast import tampering
from tests.factories import assessments as make
from tests.factories.assessments import LATER, NOW, SEED
from tests.factories.people import hire as hire_somebody
from tests.factories.recipes import ROCKS, SHOTS, revise


def refused(code, call, *args, **kwargs):
    with pytest.raises(Refused) as raised:
        call(*args, **kwargs)
    assert raised.value.reason.code == code


def asked_in(quiz):
    return [item.asked for item in quiz.items.all()]


def test_the_same_seed_gives_the_same_items(odalys, nils):
    bo = hire_somebody(odalys, "Bo")

    assert asked_in(make.start_quiz(nils)) == asked_in(make.start_quiz(bo))


def test_another_seed_gives_other_items(odalys, nils):
    bo = hire_somebody(odalys, "Bo")

    assert asked_in(make.start_quiz(nils)) != asked_in(make.start_quiz(bo, seed=SEED + 1))


def test_items_are_stored_as_asked(nils):
    quiz = make.start_quiz(nils)

    menu = make.menu_of(nils)
    for item in quiz.items.select_related("recipe", "revision"):
        asked = make.asked_of(item)
        of = menu.by_slug[asked.recipe]
        assert (item.recipe, item.revision) == (of.recipe, of.revision)
        assert (item.kind, item.choices) == (asked.kind.value, asked.ways)
        assert asked.fingerprints == {a.value: f for a, f in of.drink.fingerprints.items()}
    assert [i.position for i in quiz.items.all()] == list(range(1, quiz.items.count() + 1))


def test_an_old_quiz_shows_what_was_asked_then(tamsin, nils):
    quiz = make.start_quiz(nils)
    before = asked_in(quiz)

    for slug in ("madras", "gin-tonic", "screwdriver"):
        revise(tamsin, slug, glass="rocks", at=NOW)

    assert asked_in(Quiz.objects.get(pk=quiz.pk)) == before


def test_a_quiz_left_open_goes_on_where_it_was(nils):
    quiz = make.answer(make.start_quiz(nils), most=3)

    again = make.start_quiz(nils, seed=SEED + 1, at=LATER)

    assert again == quiz
    assert again.items.filter(answer__isnull=False).count() == 3


def test_after_a_finished_quiz_comes_a_new_one(nils):
    first = make.take_quiz(nils)

    assert make.start_quiz(nils, at=LATER) != first


def test_the_first_answer_counts(nils):
    item = make.start_quiz(nils).items.filter(kind="whole").first()
    asked = make.asked_of(item)

    first = record.answer_item(by=nils, item=item, choice=make.wrong(asked), at=NOW)
    second = record.answer_item(by=nils, item=item, choice=asked.right, at=LATER)

    assert (second, Answer.objects.count()) == (first, 1)
    assert (first.choice, first.came) == (make.wrong(asked), "wrong")


@pytest.mark.parametrize(
    ("answering", "came"), [(make.right, "right"), (make.ask, "ask"), (make.wrong, "wrong")]
)
def test_what_an_answer_is_worth(nils, answering, came):
    make.take_quiz(nils, answering=answering)

    assert {a.came for a in Answer.objects.all()} == {came}


@pytest.mark.parametrize("choice", [-2, 4, 99])
def test_a_choice_that_nobody_offered_is_refused(nils, choice):
    item = make.start_quiz(nils).items.filter(kind="whole").first()

    refused("no_such_choice", record.answer_item, by=nils, item=item, choice=choice, at=NOW)


@pytest.mark.parametrize(
    ("kind", "said"),
    [("build", "half_a_build"), ("several", "nothing_ticked"), ("order", "places_missing")],
)
@pytest.mark.parametrize("given", [0, (), (0, 0), (99,)])
def test_half_an_answer_is_refused_as_it_is_answered_and_writes_nothing(nils, kind, said, given):
    item = make.start_quiz(nils).items.filter(kind=kind).first()

    refused(said, record.answer_item, by=nils, item=item, choice=given, at=NOW)
    assert Answer.objects.count() == 0


def test_what_was_chosen_of_several_is_kept(nils):
    quiz = make.take_quiz(nils)

    for item in quiz.items.filter(kind__in=["build", "several", "order"]):
        assert tuple(item.answer.said) == make.asked_of(item).right_answer == item.answer.given
    assert quiz.items.filter(kind="build").exists()


def test_nobody_answers_somebody_else_s_quiz(odalys, nils, ravna):
    item = make.start_quiz(nils).items.first()

    for other in (hire_somebody(odalys, "Bo"), ravna):
        refused("not_your_quiz", record.answer_item, by=other, item=item, choice=ASK, at=NOW)


def test_another_house_s_module_is_not_ours(nils, ravna):
    module = make.module_of(ravna)
    said = {"menu": make.menu_of(nils), "seed": SEED, "at": NOW}

    refused("other_house", record.start_quiz, by=nils, module=module, **said)
    refused("other_house", record.mark_read, by=nils, module=module, at=NOW)


def test_a_module_with_nothing_to_ask_starts_no_quiz(odalys, nils):
    off = dict.fromkeys(SHOTS, OnMenu.OFF)
    publish.set_menu(by=odalys, standing=off, at=NOW)

    refused("quiz_has_nothing_to_ask", make.start_quiz, nils, "shots")
    assert not Quiz.objects.exists()


def test_reading_twice_keeps_the_first_time(nils):
    module = make.module_of(nils)

    first = record.mark_read(by=nils, module=module, at=NOW)
    second = record.mark_read(by=nils, module=module, at=LATER)

    assert (second, second.at) == (first, NOW)


def counted(came):
    return (came.right, came.would_ask, came.wrong, came.passed)


def test_the_last_answer_closes_the_quiz(nils):
    quiz = make.start_quiz(nils, "rocks")  # nothing in it must be right
    count = quiz.items.count()

    make.answer(quiz, most=count - 1)
    assert (quiz.finished_at, QuizResult.objects.count()) == (None, 0)
    make.answer(quiz, make.ask, at=LATER)

    assert quiz.finished_at == LATER
    assert counted(quiz.result) == (count - 1, 1, 0, True)
    assert (quiz.result.hire, quiz.result.module, quiz.result.at) == (nils, quiz.module, LATER)


@pytest.mark.parametrize(("answering", "passed"), [(make.right, True), (make.ask, False)])
def test_the_gate_asks_what_must_be_right(nils, answering, passed):
    quiz = make.take_quiz(nils, make.GATE, answering)

    assert quiz.items.filter(critical=True).exists()
    assert quiz.result.passed is passed


def test_the_house_s_pass_mark_holds(odalys, nils):
    enrol.change_house(by=odalys, changes={"pass_mark": 10}, at=NOW)
    nils.venue.refresh_from_db()
    quiz = make.answer(make.start_quiz(nils, "rocks"), most=2)

    make.answer(quiz, make.wrong)

    assert (quiz.pass_mark, quiz.result.passed) == (10, True)


def test_a_result_is_sealed_and_logged_with_its_counts(nils):
    quiz = make.take_quiz(nils, answering=make.wrong)

    entry = LogEntry.objects.get(kind="quiz_finished")
    count = quiz.items.count()
    assert entry.facts == {"right": 0, "ask": 0, "wrong": count}
    assert (entry.by_code, entry.subject_code) == (nils.code, nils.code)
    assert (entry.row_table, entry.row_id) == ("assessments_quizresult", str(quiz.result.pk))
    assert log.check(nils.venue) == []


def test_a_changed_result_shows_in_the_log(nils):
    quiz = make.take_quiz(nils, answering=make.wrong)

    with tampering():
        QuizResult._base_manager.filter(pk=quiz.result.pk).update(passed=True)

    assert [r.code for r in log.check(nils.venue)] == ["row_changed"]


@pytest.mark.parametrize(
    ("answering", "is_right"), [(make.right, True), (make.ask, False), (make.wrong, False)]
)
def test_an_answer_is_a_review_of_what_it_asked_about(nils, answering, is_right):
    quiz = make.answer(make.start_quiz(nils), answering, most=1)

    topics = set(make.asked_of(quiz.items.first()).topics)
    memories = list(Memory.objects.of(nils))
    assert {m.topic for m in memories} == topics
    assert {m.due > m.last + SOON for m in memories} == {is_right}


def test_every_module_of_the_small_course_can_be_asked(nils):
    for module in Module.objects.in_house(nils.venue):
        assert make.take_quiz(nils, module.slug).result.passed, module.slug


def test_a_quiz_asks_about_its_own_module(nils):
    asked = {make.asked_of(i).recipe for i in make.start_quiz(nils, "rocks").items.all()}

    assert asked <= set(ROCKS)
