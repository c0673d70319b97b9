"""A quiz on screen, from its first question to the review."""

import pytest

from assessments.measures.quiz import ASK, ItemKind
from assessments.models import Answer, Quiz, QuizResult
from tests.assessments.pages import address, fields, text
from tests.factories import assessments as make
from tests.factories.assessments import GATE, SEED


def start(browser, hire, module="highballs"):
    """The address of a quiz begun from the module's page."""
    page, path = address(hire, "module", module=module), address(hire, "quiz_start", module=module)
    return browser.send(path, fields(browser.get(page), path))["Location"]


def answer_on_screen(browser, path, answering):
    """Answer item after item with what the page sends; the last answer of the site."""
    while (page := browser.get(path)).status_code == 200:
        sent = fields(page)
        item = Quiz.objects.get().items.get(position=sent["item"][0])
        asked = make.asked_of(item)
        response = browser.send(path, {**sent, **make.sent(asked, answering(asked))})
        assert response["Location"] == path
    return page


@pytest.mark.parametrize(
    ("answering", "says"),
    [
        (make.right, "Passed. 12 of 12 right."),
        (make.ask, "Not passed yet: 0 of 12 right. The house wants 80 in a hundred."),
        (make.wrong, "Not passed yet: 0 of 12 right. The house wants 80 in a hundred."),
    ],
)
def test_from_the_module_to_the_result(visit, nils, answering, says):
    browser = visit(nils)
    path = start(browser, nils)

    last = answer_on_screen(browser, path, answering)

    result = text(browser.get(last["Location"]))
    assert says in result
    assert QuizResult.objects.get().passed is (answering is make.right)
    assert Answer.objects.filter(milliseconds__isnull=True).count() == 0


def test_each_question_shows_its_choices_and_that_one_may_ask(visit, nils):
    quiz, browser = make.start_quiz(nils), visit(nils)
    for item in quiz.items.all():
        page = browser.get(address(nils, "quiz", code=quiz.code))
        assert f"{item.position} of {quiz.items.count()}" in text(page)
        asked, html = make.asked_of(item), page.content.decode()
        assert html.count("<select") == (asked.kind == "order") * len(asked.choices)
        assert html.count('name="part-') == sum(len(part.choices) for part in asked.parts)
        others = asked.kind in ("order", "build")
        assert html.count('name="choice"') == (1 if others else len(asked.choices) + 1)
        assert "I'd ask" in text(page)
        make.answer(quiz, make.ask, most=1)


def test_a_closed_tab_goes_on_where_it_was(visit, nils):
    browser = visit(nils)
    path = start(browser, nils)
    for _ in range(3):
        browser.send(path, {**fields(browser.get(path)), "choice": ASK})

    again = visit(nils)
    assert start(again, nils) == path
    assert "4 of 12" in text(again.get(path))
    assert "quiz begun" in text(again.get(address(nils, "module", module="highballs")))


def test_a_second_answer_to_the_same_question_changes_nothing(visit, nils):
    browser = visit(nils)
    path = start(browser, nils)
    page, asked = fields(browser.get(path)), make.asked_of(Quiz.objects.get().items.get(position=1))
    browser.send(path, {**page, **make.sent(asked, make.wrong(asked))})
    first = Answer.objects.values().get()

    answer = browser.send(path, {**page, **make.sent(asked, make.right(asked))})

    assert answer["Location"] == path
    assert Answer.objects.values().get() == first
    said = text(browser.get(path))
    assert "You had answered that one already; the first answer counts." in said


def test_whole_builds_show_what_sets_them_apart_and_once_what_does_not(visit, nils):
    quiz = make.start_quiz(nils, seed=SEED)
    browser, path = visit(nils), address(nils, "quiz", code=quiz.code)
    seen = 0
    for item in quiz.items.all():
        if item.kind == ItemKind.WHOLE:
            shown = browser.get(path).context["item"]
            assert len({tuple(c.parts) for c in shown.choices}) == item.choices
            assert not {p for c in shown.choices for p in c.parts} & set(shown.alike)
            seen += bool(shown.alike)
        make.answer(quiz, make.ask, most=1)

    assert seen


def test_what_must_be_right_says_so(visit, nils):
    quiz = make.start_quiz(nils, GATE)

    assert "must be right" in text(visit(nils).get(address(nils, "quiz", code=quiz.code)))


def test_the_review_sets_each_mistake_beside_what_is_right(visit, nils):
    quiz = make.take_quiz(nils, GATE, make.wrong)

    said = text(visit(nils).get(address(nils, "quiz_result", code=quiz.code)))
    asked = make.asked_of(quiz.items.get())
    given, right = asked.choices[make.wrong(asked)], asked.choices[asked.right]
    assert f"You said {given.content['text']} Right {right.content['text']}" in said
    assert "Nobody finds every splinter." in said
    assert "What to do 0 asked, 1 wrong 0 of 1 right" in said


def test_what_was_asked_about_is_reviewed_and_is_no_mistake(visit, nils):
    quiz = make.take_quiz(nils, GATE, make.ask)

    said = text(visit(nils).get(address(nils, "quiz_result", code=quiz.code)))
    assert "To look at again" in said
    assert "You said I'd ask Right Empty, melt, wash, refill" in said
    assert "Asking is good bartending; it is no mistake." in said
    assert "must be right first" in said


def test_what_was_right_needs_no_review(visit, nils):
    quiz = make.take_quiz(nils)

    assert "You said" not in text(visit(nils).get(address(nils, "quiz_result", code=quiz.code)))


def test_a_result_that_is_not_there_yet_leads_to_the_question(visit, nils):
    quiz = make.start_quiz(nils)

    answer = visit(nils).get(address(nils, "quiz_result", code=quiz.code))
    assert answer["Location"] == address(nils, "quiz", code=quiz.code)


def test_time_is_what_the_server_saw_pass(visit, nils, time_machine):
    browser = visit(nils)
    path = start(browser, nils)
    sent = fields(browser.get(path))
    time_machine.shift(7)

    browser.send(path, {**sent, "choice": ASK})

    assert Answer.objects.get().milliseconds == 7000


@pytest.mark.parametrize("shown", ["", "1700000000000", "x:y", "1700000000000:forged"])
def test_a_forged_time_is_no_time(visit, nils, shown):
    browser = visit(nils)
    path = start(browser, nils)

    browser.send(path, {**fields(browser.get(path)), "choice": ASK, "shown": shown})

    assert Answer.objects.get().milliseconds is None


def test_a_question_that_lay_open_too_long_says_nothing_about_speed(visit, nils, time_machine):
    browser = visit(nils)
    path = start(browser, nils)
    sent = fields(browser.get(path))
    time_machine.shift(601)

    browser.send(path, {**sent, "choice": ASK})

    assert Answer.objects.get().milliseconds is None
