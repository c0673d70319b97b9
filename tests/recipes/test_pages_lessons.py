"""Notes, lessons and questions written on screen."""

import uuid

import pytest
from django.urls import reverse

from assessments import record
from barcourse.people import log
from recipes.menu import menu_at
from recipes.models import Lesson, Module, Scenario
from tests.factories.people import OPENED
from tests.factories.recipes import DAY
from tests.recipes.pages import text, typed
from tests.recipes.test_pages_editing import beside

BOOK = "/h/harbour-lights/book/"
SAFETY = f"{BOOK}module/service-and-safety/"
ICE = f"{SAFETY}lesson/ice/"
QUESTION = f"{ICE}question/glass-in-ice/"
NOW = OPENED + DAY
KEG = {"question": "A keg?", "choices": "Alone\nTwo people", "right": "1", "why": "Backs."}


@pytest.fixture(autouse=True)
def _on_a_friday_in_march(time_machine):
    time_machine.move_to(NOW, tick=False)


def fill(browser, url, **said):
    return {**typed(browser.get(url)), "form_key": str(uuid.uuid4()), **said}


def safety(by):
    return Module.objects.in_house(by.venue).get(slug="service-and-safety")


def test_the_lessons_stand_under_their_modules(visit, tamsin):
    page = text(visit(tamsin).get(f"{BOOK}lessons/"))

    assert "Service and safety Ice is food 1 question" in page
    assert "Shots No lessons in this one yet." in page


def test_notes_are_looked_at_and_saved(visit, tamsin):
    browser, url = visit(tamsin), f"{SAFETY}notes/"
    said = fill(browser, url, notes="# Ice\n\nThe **scoop**. <script>no</script>")
    shown = browser.post(url, {**said, "look": "1"})

    page = shown.content.decode()
    assert "<h2>Ice</h2>" in page
    assert "<strong>scoop</strong>" in page
    assert "<script>no" not in page
    assert safety(tamsin).notes != said["notes"]

    answer = browser.post(url, {**fill(browser, url), **said, "save": "1"}, follow=True)

    assert "The notes are saved." in text(answer)
    assert safety(tamsin).notes == said["notes"]


def test_a_lesson_is_written_and_read_by_a_hire(visit, tamsin, nils):
    browser, url = visit(tamsin), f"{SAFETY}new-lesson/"
    said = fill(browser, url, name="Kegs", body="Two people, or the lift.", save="1")
    answer = browser.post(url, said, follow=True)

    assert answer.redirect_chain == [(f"{SAFETY}lesson/kegs/", 302)]
    there = reverse("lesson", args=["harbour-lights", "service-and-safety", "kegs"])
    assert "Two people, or the lift." in text(visit(nils).get(there))


def test_a_lesson_is_changed_and_moves(visit, tamsin):
    browser = visit(tamsin)
    url = f"{SAFETY}new-lesson/"
    browser.post(url, fill(browser, url, name="Kegs", body="Two.", save="1"))
    kegs = f"{SAFETY}lesson/kegs/"

    browser.send(f"{kegs}move/", {"way": "up"})
    assert [x.slug for x in safety(tamsin).lessons.all()] == ["kegs", "ice"]

    browser.post(kegs, fill(browser, kegs, body="The lift.", module="beer", save="1"))
    moved = Lesson.objects.get(slug="kegs", venue=tamsin.venue)
    assert (moved.module.slug, moved.body) == ("beer", "The lift.")


@pytest.mark.parametrize("said", [{"name": ""}, {"body": ""}, {"module": "cellar"}])
def test_a_lesson_without_its_parts_is_refused(visit, tamsin, said):
    browser, head = visit(tamsin), log.head(tamsin.venue)
    answer = browser.post(ICE, fill(browser, ICE, **said, save="1"))

    assert beside(answer, next(iter(said)))
    assert log.head(tamsin.venue) == head


def test_a_lesson_goes_only_when_that_is_meant(visit, tamsin):
    browser = visit(tamsin)
    url = f"{SAFETY}new-lesson/"
    browser.post(url, fill(browser, url, name="Kegs", body="Two.", save="1"))
    kegs = f"{SAFETY}lesson/kegs/remove/"

    assert browser.send(kegs, {}).status_code == 200
    assert safety(tamsin).lessons.count() == 2
    answer = browser.send(kegs, {"sure": "on"}, follow=True)
    assert "The lesson is gone." in text(answer)
    assert safety(tamsin).lessons.count() == 1


def test_the_last_question_of_a_gate_stays(visit, tamsin):
    for url in (f"{ICE}remove/", f"{QUESTION}remove/"):
        answer = visit(tamsin).send(url, {"sure": "on"})

        assert "this would leave nothing to ask about it" in text(answer)
    assert Scenario.objects.of_module(safety(tamsin)).count() == 1


def test_a_question_is_added_and_asked(visit, tamsin, nils):
    browser, url = visit(tamsin), f"{ICE}new-question/"
    answer = browser.post(url, fill(browser, url, **KEG), follow=True)

    assert "the next quiz may ask it" in text(answer)
    menu = menu_at(tamsin.venue, NOW)
    quiz = record.start_quiz(by=nils, menu=menu, module=safety(tamsin), seed=1, at=NOW)
    asked = {item.asked["scenario"] for item in quiz.items.all()}
    assert asked == {"glass-in-ice", "a-keg"}


def test_a_quiz_keeps_its_question_as_it_was_asked(visit, tamsin, nils):
    browser, url = visit(tamsin), f"{ICE}new-question/"
    menu = menu_at(tamsin.venue, NOW)
    quiz = record.start_quiz(by=nils, menu=menu, module=safety(tamsin), seed=1, at=NOW)
    browser.post(url, fill(browser, url, **KEG))
    answer = browser.send(f"{QUESTION}remove/", {"sure": "on"}, follow=True)

    assert "The question is gone." in text(answer)
    [item] = quiz.items.all()
    assert "A glass breaks beside the ice bin." in str(item.asked)
    record.answer_item(by=nils, item=item, choice=(item.asked["right"] + 1) % 3, at=NOW)
    done = visit(nils).get(reverse("quiz_result", args=["harbour-lights", quiz.code]))
    assert "A glass breaks beside the ice bin." in text(done)


WRONG = [
    ({"question": ""}, "question"),
    ({"choices": "Alone"}, "choices"),
    ({"choices": "a\nb\nc\nd\ne\nf"}, "choices"),
    ({"choices": "Alone\nalone"}, "choices"),
    ({"right": "4"}, "right"),
    ({"right": "9"}, "right"),
    ({"why": ""}, "why"),
]


@pytest.mark.parametrize(("said", "field"), WRONG)
def test_an_odd_question_is_refused_beside_its_field(visit, tamsin, said, field):
    browser, url = visit(tamsin), f"{ICE}new-question/"
    answer = browser.post(url, fill(browser, url, **{**KEG, **said}))

    assert answer.status_code == 200
    assert beside(answer, field)
    assert Scenario.objects.of_module(safety(tamsin)).count() == 1


def test_a_question_is_changed(visit, tamsin):
    browser = visit(tamsin)
    answer = browser.post(QUESTION, fill(browser, QUESTION, why="Splinters."), follow=True)

    assert "The question is saved." in text(answer)
    row = Scenario.objects.get(venue=tamsin.venue, slug="glass-in-ice")
    assert (row.why, row.right, row.critical) == ("Splinters.", 1, True)
