"""Whom the report on questions can compare: all who took a plan, whatever was drawn for each."""

from __future__ import annotations

from assessments import record_quiz, record_set
from assessments.measures.itemstats import FEWEST
from assessments.models import Quiz
from assessments.reads_quiz import item_report
from recipes.models import Lesson
from recipes.publish_lessons import Question, add_question
from tests.factories import assessments as make
from tests.factories.assessments import NOW
from tests.factories.people import hire

PLAN = {
    "name": "Friday", "length": 10, "scenarios": 3, "cards": 1, "mix": [], "critical": [],
    "pass_mark": 80, "minutes": 0, "retake_hours": 12,
}  # fmt: skip


def test_people_of_a_plan_are_compared_whatever_situations_were_drawn(odalys, tamsin):
    for lesson in Lesson.objects.filter(venue=tamsin.venue):
        for number in range(8):
            question = Question(f"{lesson.name} {number}?", ("Stop", "Go on"), 0, "It hurts.")
            add_question(by=tamsin, lesson=lesson, question=question, at=NOW)
    modules = [make.module_of(tamsin), make.module_of(tamsin, make.GATE)]
    sheet = record_set.save_sheet(by=tamsin, sheet=None, said=PLAN, modules=modules, at=NOW)
    drawn = set()
    for number in range(FEWEST):
        who = hire(odalys, f"Hire-{number}")
        quiz = record_quiz.start_sheet(
            by=who, menu=make.menu_of(who), sheet=sheet, seed=number, at=NOW
        )
        asked = [make.asked_of(item) for item in quiz.items.all()]
        drawn.add(frozenset(item.scenario for item in asked if item.scenario))
        make.answer(quiz, answering=make.wrong if number % 3 else make.right)

    found = item_report(Quiz.objects.all()).report
    assert len(drawn) > 1
    assert (found.people, found.compared, found.places) == (FEWEST, FEWEST, 10)
    assert found.reliability is not None
