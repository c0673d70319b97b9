"""Whatever is sent: a sentence or a 404, never a traceback, and nothing is written. A form sent
again changes nothing."""

import uuid

import pytest
from django.db import transaction

from assessments.models import CardMark, WatchedBuild
from barcourse.people.models import PersonalText
from tests.assessments.pages import address, fields, send_twice, text, written
from tests.factories import assessments as make
from tests.factories.assessments import GATE

LONG = "9" * 5000
STRANGE = ["", "nowhere", "x" * 300, "\x00", "../../etc", "%00", "<script>", "²", "-1"]


@pytest.mark.parametrize("card", ["0", "5", "99", "-1", "abc", "", "1.5", "²", "٣", LONG, "\x00"])
def test_a_card_that_is_not_there(visit, nils, card):
    path = address(nils, "module_cards", module="beer")

    assert visit(nils).get(path, {"card": card}).status_code == 404


@pytest.mark.parametrize("drink", STRANGE)
def test_a_card_of_no_drink(visit, nils, drink):
    before = written()

    for path in (address(nils, "shift_cards"), address(nils, "module_cards", module="beer")):
        assert visit(nils).send(path, {"drink": drink, "build": "x"}).status_code == 404
    assert written() == before


@pytest.mark.parametrize("ms", ["", "abc", "-5", "1e3", "600001", LONG, "٣", "\x00"])
def test_a_time_that_makes_no_sense_is_no_time(visit, nils, ms):
    path, browser = address(nils, "module_cards", module="beer"), visit(nils)

    answer = browser.send(path, {**fields(browser.get(path)), "ms": ms})

    assert answer.status_code == 302
    assert CardMark.objects.get().milliseconds is None


@pytest.mark.parametrize("missed", [["nothing"], [LONG], ["\x00", "finish"]])
def test_a_part_that_there_is_none_of_marks_nothing(visit, nils, missed):
    path, browser = address(nils, "module_cards", module="beer"), visit(nils)

    answer = browser.send(path, {**fields(browser.get(path)), "missed": missed})

    assert answer.status_code == 400
    assert not CardMark.objects.exists()


def test_a_part_that_is_tapped_twice_is_missed_once(visit, nils):
    path, browser = address(nils, "module_cards", module="beer"), visit(nils)

    browser.send(path, {**fields(browser.get(path)), "missed": ["glass", "glass"]})

    assert CardMark.objects.get().missed == ["glass"]


@pytest.mark.parametrize("sent", [{"build": ""}, {"build": "0" * 32}, {"build": LONG}])
def test_a_card_without_the_build_it_showed_is_shown_again(visit, nils, sent):
    path, browser = address(nils, "module_cards", module="beer"), visit(nils)

    answer = browser.send(path, {**fields(browser.get(path)), **sent})

    assert "The house has just changed" in text(answer)
    assert not CardMark.objects.exists()


@pytest.mark.parametrize("page", ["module", "module_read", "module_cards", "quiz_start"])
def test_a_module_that_is_not_there(visit, nils, page):
    browser, path = visit(nils), address(nils, page, module="nowhere")

    answer = browser.send(path) if page in ("module_read", "quiz_start") else browser.get(path)

    assert answer.status_code == 404


def test_a_module_with_nothing_to_ask_says_so(visit, nils):
    from recipes.models import Scenario

    Scenario.objects.all().delete()
    before = written()

    answer = visit(nils).send(address(nils, "quiz_start", module=GATE))

    assert "Service and safety has nothing to ask about yet." in text(answer)
    assert written() == before


@pytest.mark.parametrize(
    "choice", [None, "", "99", "4", "-2", "-99", "abc", "1.0", "²", LONG, "\x00", "0; DROP TABLE"]
)
def test_a_choice_that_nobody_offered(visit, nils, choice):
    item, browser = make.start_at_one_choice(nils), visit(nils)
    path, before = address(nils, "quiz", code=item.quiz.code), written()
    sent = fields(browser.get(path))

    answer = browser.send(path, sent if choice is None else {**sent, "choice": choice})

    assert answer.status_code == 200
    assert "Pick one of the answers, or say that you'd ask." in text(answer)
    assert f"{item.position} of 12" in text(answer)
    assert written() == before


@pytest.mark.parametrize("item", ["", "0", "13", "abc", "-1", "²", LONG, "\x00"])
def test_a_question_that_is_not_there(visit, nils, item):
    quiz = make.start_quiz(nils)
    path, before = address(nils, "quiz", code=quiz.code), written()

    assert visit(nils).send(path, {"item": item, "choice": "0"}).status_code == 404
    assert written() == before


@pytest.mark.parametrize("drink", ["nowhere", "x" * 300])
def test_a_drink_to_watch_that_is_not_there(visit, tamsin, nils, drink):
    path = address(nils, "watch_build", hire=nils.code, drink=drink)

    assert visit(tamsin).get(path).status_code == 404
    assert visit(tamsin).send(path).status_code == 404


WRONG = {
    "seconds -1": ({"seconds": "-1"}, "At least 0, please."),
    "seconds abc": ({"seconds": "abc"}, "Enter a whole number."),
    "seconds 1.5": ({"seconds": "1.5"}, "Enter a whole number."),
    "seconds too many": ({"seconds": "3601"}, "At most 3600, please."),
    "seconds endless": ({"seconds": LONG}, "Enter a whole number."),
    "help unknown": ({"help_level": "carried"}, "Select a valid choice."),
    "help missing": ({"help_level": ""}, "Say how much help there was."),
    "made with missing": (
        {"made_with": ""},
        "Say whether it was made with stock or with water.",
    ),
    "made with unknown": ({"made_with": "gin"}, "Select a valid choice."),
    "note too long": ({"note": "x" * 5000}, "That is 5000 characters, and 500 fit."),
    "step unknown": ({"off": ["pour:absinthe"]}, "The house has just changed Madras."),
    "step endless": ({"off": [LONG]}, "The house has just changed Madras."),
    "step null": ({"off": ["\x00"]}, "The house has just changed Madras."),
    "no build": ({"build": ""}, "The house has just changed Madras."),
}


@pytest.mark.parametrize(("wrong", "sentence"), WRONG.values(), ids=WRONG)
def test_a_checklist_filled_in_wrongly_says_so_and_keeps_the_rest(
    visit, tamsin, nils, wrong, sentence
):
    browser, path = visit(tamsin), address(nils, "watch_build", hire=nils.code, drink="madras")
    typed = {"off": ["straw"], "seconds": "44", "note": "Steady.", "help_level": "prompted"}
    typed["made_with"] = "water"
    sent = {**fields(browser.get(path)), **typed, **wrong}
    before = written()

    answer = browser.send(path, sent)

    assert answer.status_code == 200
    assert sentence in text(answer)
    assert written() == before
    kept = fields(answer)
    for name in set(typed) - set(wrong):
        assert kept[name] == (typed[name] if isinstance(typed[name], list) else [typed[name]])


def test_what_nobody_can_see_is_no_part_of_a_note(visit, tamsin, nils):
    browser, path = visit(tamsin), address(nils, "watch_build", hire=nils.code, drink="madras")

    sent = {**fields(browser.get(path)), "help_level": "unprompted", "made_with": "stock"}
    browser.send(path, {**sent, "note": " Two\x07things:\r\nice\x1b[2J,\x00lime\x7f "})

    build = WatchedBuild.objects.get()
    assert PersonalText.objects.get(code=build.note_code).text == "Two things:\nice [2J, lime"


@pytest.mark.parametrize("note", ["\x00", " \x07\x08\n"])
def test_a_note_that_nobody_can_read_is_never_dropped_unsaid(visit, tamsin, nils, note):
    browser, path = visit(tamsin), address(nils, "watch_build", hire=nils.code, drink="madras")

    sent = {**fields(browser.get(path)), "help_level": "unprompted", "made_with": "stock"}
    said = browser.send(path, {**sent, "note": note})

    assert "None of that can be read." in text(said)
    assert not WatchedBuild.objects.exists()


@pytest.mark.parametrize("note", ["", " \n "])
def test_a_note_of_nothing_is_none(visit, tamsin, nils, note):
    browser, path = visit(tamsin), address(nils, "watch_build", hire=nils.code, drink="madras")

    sent = {**fields(browser.get(path)), "help_level": "unprompted", "made_with": "stock"}
    browser.send(path, {**sent, "note": note})

    assert WatchedBuild.objects.get().note_code == ""
    assert not PersonalText.objects.exists()


def test_a_note_is_words_and_no_markup(visit, tamsin, nils):
    build = make.watch(tamsin, nils, note="<script>alert(1)</script>")

    page = visit(tamsin).get(address(tamsin, "build", code=build.code)).content.decode()

    assert "<script>alert" not in page
    assert "&lt;script&gt;alert(1)&lt;/script&gt;" in page


@pytest.mark.parametrize(
    ("reason", "sentence"),
    [
        ("", "Write why it does not count."),
        (" \n ", "Write why it does not count."),
        ("x" * 5000, "That is 5000 characters, and 500 fit."),
    ],
)
def test_a_void_filled_in_wrongly_says_so(visit, tamsin, nils, reason, sentence):
    build = make.watch(tamsin, nils)
    before = written()

    answer = visit(tamsin).send(address(tamsin, "void", code=build.code), {"reason": reason})

    assert answer.status_code == 200
    assert sentence in text(answer)
    assert written() == before


# What is sent, from the page that its form stands on: every form of the room.
def choice_first(hire):
    """A quiz whose first question is answered by one choice, whatever the blueprint says."""
    for seed in range(100):
        point = transaction.savepoint()
        quiz = make.start_quiz(hire, seed=seed)
        if make.is_one_choice(quiz.items.get(position=1)):
            return quiz
        transaction.savepoint_rollback(point)
    raise AssertionError("no seed asks for a choice first")


FORMS = {
    "reading": lambda t, h: (h, "module", {"module": "beer"}, "module_read", {}),
    "a card": lambda t, h: (h, "module_cards", {"module": "beer"}, None, {"missed": ["glass"]}),
    "starting a quiz": lambda t, h: (h, "module", {"module": "beer"}, "quiz_start", {}),
    "an answer": lambda t, h: (h, "quiz", {"code": choice_first(h).code}, None, {"choice": "0"}),
    "a build": lambda t, h: (
        t, "watch_build", {"hire": h.code, "drink": "madras"}, None,
        {"note": "x", "help_level": "unprompted", "made_with": "stock"},
    ),
    "a sign-off": lambda t, h: (t, "build", {"code": make.watch(t, h).code}, "sign_off", {}),
    "a void": lambda t, h: (t, "build", {"code": make.watch(t, h).code}, "void", {"reason": "x"}),
}  # fmt: skip


def form(visit, tamsin, nils, name):
    """The browser, the address and what is sent there."""
    member, page, parts, to, typed = FORMS[name](tamsin, nils)
    browser, at = visit(member), address(member, page, **parts)
    path = address(member, to, **parts) if to else at
    return browser, path, {**fields(browser.get(at), path if to else None), **typed}


@pytest.mark.parametrize("name", FORMS)
def test_a_form_sent_again_changes_nothing(visit, tamsin, nils, name):
    browser, path, sent = form(visit, tamsin, nils, name)
    before = written()
    key = str(uuid.uuid4())

    first = browser.post(path, {"form_key": key, **sent})
    after = written()
    second = browser.post(path, {"form_key": key, **sent})

    assert (first.status_code, second.status_code) == (302, 302)
    assert second["Location"] == first["Location"]
    assert before != after == written()


@pytest.mark.parametrize("name", FORMS)
def test_the_same_key_with_another_body_is_refused(visit, tamsin, nils, name):
    browser, path, sent = form(visit, tamsin, nils, name)
    key = str(uuid.uuid4())
    browser.post(path, {"form_key": key, **sent})
    after = written()

    assert browser.post(path, {"form_key": key, **sent, "more": "1"}).status_code == 409
    assert written() == after


def test_an_answer_sent_with_another_key_is_the_first_answer(visit, nils):
    quiz, browser = choice_first(nils), visit(nils)
    path = address(nils, "quiz", code=quiz.code)
    sent = fields(browser.get(path))

    first, second = send_twice(browser, path, {**sent, "choice": "0"})
    third = browser.send(path, {**sent, "choice": "1"})

    assert {r["Location"] for r in (first, second, third)} == {path}
    assert quiz.items.get(position=1).answer.choice == 0
