"""What trainers set: planned quizzes, drills, try-outs; and what hires find of it."""

from __future__ import annotations

import datetime as dt
from collections import Counter

import pytest

from assessments import record, record_quiz, record_set, tryouts
from assessments.measures import tryout
from assessments.measures.marking import RIGHT_DRINK
from assessments.measures.mixups import Seen
from assessments.measures.quiz import ASK, ItemKind
from assessments.measures.tryout_calls import CALLS_FIRST
from assessments.models import Answer, Drill, DrillFor, MadeInstead, Quiz, QuizSheet, TryOut
from assessments.reads_quiz import item_report
from assessments.views import mixups
from barcourse.people import log
from barcourse.people.reasons import Refused
from barcourse.people.templatetags.house import house_moment
from recipes.models import Scenario
from tests.assessments.pages import address, fields, text
from tests.factories import assessments as make
from tests.factories.assessments import GATE, LATER, NOW, SEED
from tests.factories.people import hire as hire_somebody

PLAN = {
    "name": "Friday", "length": 10, "scenarios": 0, "cards": 2, "mix": [], "critical": [],
    "pass_mark": 80, "minutes": 10, "retake_hours": 12,
}  # fmt: skip


@pytest.fixture
def sheet(tamsin):
    modules = [make.module_of(tamsin)]
    return record_set.save_sheet(by=tamsin, sheet=None, said=PLAN, modules=modules, at=NOW)


def start(hire, sheet, *, seed=SEED, at=NOW):
    return record_quiz.start_sheet(by=hire, menu=make.menu_of(hire), sheet=sheet, seed=seed, at=at)


def refused(code, call, *args, **kwargs):
    with pytest.raises(Refused) as raised:
        call(*args, **kwargs)
    assert raised.value.reason.code == code


def test_a_trainer_plans_a_quiz_on_a_page_and_changes_it(visit, tamsin):
    browser, path = visit(tamsin), address(tamsin, "quiz_sheet_new")
    sent = {**fields(browser.get(path)), "name": "Friday", "modules": "highballs", "length": "8"}
    answer = browser.send(path, {**sent, "critical": "Madras", "minutes": "7"})

    sheet = QuizSheet.objects.get()
    assert answer["Location"] == address(tamsin, "quiz_sheets")
    assert (sheet.length, sheet.minutes, sheet.critical) == (8, 7, ["madras"])
    assert "Friday 8 questions, 7 minutes" in text(browser.get(answer["Location"]))

    path = address(tamsin, "quiz_sheet", code=sheet.code)
    page = browser.get(path)
    assert "Madras" in page.content.decode()
    browser.send(path, {**fields(page), "length": "9"})
    sheet.refresh_from_db()
    assert sheet.length == 9


@pytest.mark.parametrize(
    ("wrong", "says"),
    [
        ({"critical": "Nothing like it"}, "No drink on the menu is called Nothing like it."),
        ({"critical": "Negroni"}, "Negroni is in none of the modules of this quiz."),
        ({"critical": "Madras\nGin tonic\nCuba libre", "length": "2"}, "there is no place for all"),
        ({"modules": []}, "This field is required."),
        ({"length": "3", "cards": "4"}, "fewer questions than the situations and cards"),
        ({"pass_mark": "0"}, "At least 1, please."),
        ({"length": "61"}, "At most 60, please."),
        ({"scenarios": "2"}, "None of these modules has a situation."),
        ({"modules": [GATE], "scenarios": "9"}, "These modules have one situation and no more."),
    ],
)
def test_a_plan_that_makes_no_sense_is_said_so(visit, tamsin, wrong, says):
    browser, path = visit(tamsin), address(tamsin, "quiz_sheet_new")
    sent = {**fields(browser.get(path)), "name": "Friday", "modules": "highballs"}

    assert says in text(browser.send(path, {**sent, **wrong}))
    assert not QuizSheet.objects.exists()


def test_two_plans_in_use_have_two_names(visit, tamsin, sheet):
    browser, path = visit(tamsin), address(tamsin, "quiz_sheet_new")
    sent = {**fields(browser.get(path)), "name": "FRIDAY", "modules": "highballs"}
    assert "Another quiz in use is called FRIDAY already." in text(browser.send(path, sent))
    assert QuizSheet.objects.count() == 1

    record_set.retire_sheet(by=tamsin, sheet=sheet, at=LATER)
    browser.send(path, {**fields(browser.get(path)), "name": "Friday", "modules": "highballs"})
    assert QuizSheet.objects.count() == 2


def two_open_it(visit, tamsin, pia, sheet):
    """The page of one plan on two screens, and what each form sends as it stands."""
    path = address(tamsin, "quiz_sheet", code=sheet.code)
    return path, *((b, fields(b.get(path))) for b in (visit(tamsin), visit(pia)))


def test_two_people_at_one_plan_change_different_things_and_both_hold(visit, tamsin, pia, sheet):
    path, (hers, sent), (theirs, also) = two_open_it(visit, tamsin, pia, sheet)
    theirs.send(path, {**also, "modules": ["highballs", "rocks"], "mix": ["whole"]})
    done = hers.send(path, {**sent, "length": "14"}, follow=True)

    sheet.refresh_from_db()
    assert (sheet.length, sheet.mix) == (14, ["whole"])
    assert [m.slug for m in sheet.modules.all()] == ["highballs", "rocks"]
    assert "Kept as somebody else saved it meanwhile: Modules: Highballs, Rocks" in text(done)


def test_what_both_changed_in_a_plan_is_asked_about_before_it_is_written(visit, tamsin, pia, sheet):
    path, (hers, sent), (theirs, also) = two_open_it(visit, tamsin, pia, sheet)
    theirs.send(path, {**also, "length": "20"})
    asked = hers.send(path, {**sent, "length": "14"})

    sheet.refresh_from_db()
    assert sheet.length == 20
    assert "Questions, as they saved it 20" in text(asked)
    assert "Nothing of yours is saved yet" in text(asked)

    hers.send(path, fields(asked))
    sheet.refresh_from_db()
    assert sheet.length == 14


def test_a_plan_taken_out_of_use_meanwhile_is_not_said_to_be_saved(visit, tamsin, pia, sheet):
    path, (hers, sent), (theirs, _) = two_open_it(visit, tamsin, pia, sheet)
    theirs.send(address(pia, "quiz_sheet_retire", code=sheet.code), {})

    assert "That quiz is out of use." in text(hers.send(path, {**sent, "length": "14"}))
    sheet.refresh_from_db()
    assert sheet.length == 10


def test_lists_of_quizzes_tell_how_many_questions_are_written(visit, tamsin, nils):
    """Two shots can't give sixty questions."""
    modules = [make.module_of(tamsin, "shots")]
    record_set.save_sheet(
        by=tamsin, sheet=None, said={**PLAN, "length": 60}, modules=modules, at=NOW
    )
    written = start(nils, QuizSheet.objects.get()).items.count()

    assert written < 60
    listed = text(visit(tamsin).get(address(tamsin, "quiz_sheets")))
    assert f"Friday {written} questions (of 60 planned: the modules give no more)" in listed
    make.answer(Quiz.objects.get())
    assert f"Friday {written} questions, 10" in text(visit(nils).get(address(nils, "modules")))


def test_two_people_side_by_side_get_different_quizzes_of_one_weight(odalys, nils, sheet):
    bo = hire_somebody(odalys, "Bo")
    mine, theirs = start(nils, sheet, seed=1), start(bo, sheet, seed=2)

    def asked(quiz):
        return [i.asked for i in quiz.items.all()]

    def shape(quiz):
        return Counter((i.kind, i.critical) for i in quiz.items.all())

    assert asked(mine) != asked(theirs)
    assert shape(mine) == shape(theirs)
    assert shape(mine)["card", True] == 2
    again = hire_somebody(odalys, "Cleo")
    assert asked(start(again, sheet, seed=1)) == asked(mine)


def test_a_quiz_keeps_the_plan_that_it_was_begun_by(tamsin, nils, sheet):
    quiz = start(nils, sheet)
    said = {**PLAN, "length": 4, "pass_mark": 50}
    record_set.save_sheet(
        by=tamsin, sheet=sheet, said=said, modules=[make.module_of(tamsin)], at=LATER
    )

    quiz.refresh_from_db()
    assert (quiz.items.count(), quiz.pass_mark) == (10, 80)


def test_a_quiz_survives_a_closed_tab_and_a_session_that_ended(visit, nils, sheet):
    browser = visit(nils)
    path = browser.send(address(nils, "sheet_start", code=sheet.code), {})["Location"]
    browser.send(path, {**fields(browser.get(path)), "choice": ASK})

    again = visit(nils)
    assert again.send(address(nils, "sheet_start", code=sheet.code), {})["Location"] == path
    said = text(again.get(path))
    assert "2 of 10" in said
    assert "10 minutes left" in said


def test_the_server_s_clock_ends_it_and_says_so_kindly(visit, nils, sheet, time_machine):
    quiz, browser = start(nils, sheet), visit(nils)
    make.answer(quiz, most=3)
    path = address(nils, "quiz", code=quiz.code)
    page = browser.get(path)
    time_machine.move_to(NOW + dt.timedelta(minutes=10, seconds=1), tick=False)

    assert "The time for this quiz was up" in text(browser.get(path))
    answer = browser.send(path, {**fields(page), "choice": ASK})

    assert answer["Location"] == address(nils, "quiz_result", code=quiz.code)
    assert "What you had answered counts" in text(browser.get(answer["Location"]))
    quiz.refresh_from_db()
    assert (quiz.result.right, quiz.result.would_ask) == (3, 7)
    assert quiz.result.at == quiz.ends_at
    assert log.check(nils.venue) == []


def test_what_time_took_is_nowhere_told_as_asked(visit, tamsin, nils, sheet):
    quiz = make.answer(start(nils, sheet), make.ask, most=1)
    make.answer(quiz, most=1)
    record_quiz.close_quiz(by=nils, quiz=quiz, at=NOW + dt.timedelta(minutes=11))

    said = text(visit(nils).get(address(nils, "quiz_result", code=quiz.code)))
    assert "8 questions have no answer: the time was up." in said
    assert "You would have asked once." in said
    assert (said.count("You said"), said.count("I'd ask")) == (1, 1)
    assert (said.count("No answer"), said.count("The time was up.")) == (8, 8)
    tally = "1 right, 1 asked, 0 wrong, 8 not answered: the time was up"
    assert tally in text(visit(nils).get(address(nils, "my_record")))
    assert tally in text(visit(tamsin).get(address(tamsin, "hire_record", code=nils.code)))
    paper = visit(tamsin).get(address(tamsin, "training_record_csv", code=nils.code))
    assert "1,1,0,not passed; 8 not answered: the time was up" in paper.content.decode()


def test_what_time_took_shows_nothing(nils, sheet):
    quiz = start(nils, sheet)
    late = NOW + dt.timedelta(minutes=11)
    item = quiz.items.first()

    refused("time_is_up", record.answer_item, by=nils, item=item, choice=ASK, at=late)
    refused("time_left", record_quiz.close_quiz, by=nils, quiz=quiz, at=NOW)
    record_quiz.close_quiz(by=nils, quiz=quiz, at=late)
    assert Answer.objects.of(nils).count() == 10
    assert not Answer.objects.of(nils).in_time().exists()


def test_another_try_waits_as_long_as_the_plan_says(nils, sheet):
    make.answer(start(nils, sheet))

    refused("retake_later", start, nils, sheet, at=NOW + dt.timedelta(hours=11))
    assert start(nils, sheet, at=NOW + dt.timedelta(hours=12)).finished_at is None


def test_before_another_try_is_allowed_the_page_says_from_when(
    visit, odalys, nils, sheet, time_machine
):
    make.answer(start(nils, sheet))
    path, begin = address(nils, "modules"), address(nils, "sheet_start", code=sheet.code)
    result = address(nils, "quiz_result", code=Quiz.objects.get().code)
    when = house_moment(NOW + dt.timedelta(hours=12), nils.venue)
    assert f"It can be taken again from {when}" in text(visit(nils).get(result))

    page = visit(nils).get(path)
    assert f"again from {when}" in text(page)
    assert begin not in page.content.decode()
    fellow = hire_somebody(odalys, "Bo")
    assert begin in visit(fellow).get(path).content.decode()

    time_machine.move_to(NOW + dt.timedelta(hours=12), tick=False)
    page = visit(nils).get(path)
    assert "again from" not in text(page)
    assert begin in page.content.decode()


def test_a_sheet_out_of_use_begins_nothing(visit, tamsin, nils, sheet):
    browser = visit(tamsin)
    browser.send(address(tamsin, "quiz_sheet_retire", code=sheet.code), {})

    sheet.refresh_from_db()
    refused("sheet_out_of_use", start, nils, sheet)
    assert "Friday" not in text(visit(nils).get(address(nils, "modules")))


def mix_up(tamsin, nils):
    """Nils builds sea breezes where bay breezes were called: once watched, once in a quiz."""
    off = (RIGHT_DRINK.key,)
    watched = make.watch(tamsin, nils, "bay-breeze", off=off)
    made = make.menu_of(nils).by_slug["sea-breeze"].recipe
    record_set.say_made_instead(by=tamsin, watched=watched, made=made, at=NOW)
    return watched


def test_a_mix_up_is_two_taps_from_a_drill_on_the_next_shift(visit, odalys, tamsin, nils):
    hire_somebody(odalys, "Bo")
    mix_up(tamsin, nils)
    browser = visit(tamsin)
    page = browser.get(address(tamsin, "mix_ups"))
    assert "Sea breeze given for Bay breeze" in text(page)
    assert "1 of 1" in text(page)

    path = address(tamsin, "mix_up", drink="bay-breeze", other="sea-breeze")
    assert path in page.content.decode()
    sent = fields(browser.get(path))
    assert sent["hires"] == [nils.code]  # who mixed them up is ticked already
    browser.send(path, sent)

    assert [t.hire for t in DrillFor.objects.all()] == [nils]
    said = text(visit(nils).get(address(nils, "next_shift")))
    assert "Tell apart: Bay breeze and Sea breeze" in said


def test_what_tells_the_two_apart_stands_beside_the_drill(visit, tamsin):
    path = address(tamsin, "mix_up", drink="bay-breeze", other="sea-breeze")
    said = text(visit(tamsin).get(path))

    assert "What tells them apart" in said
    assert "Bay breeze: cranberry juice, pineapple juice" in said
    assert "Sea breeze: cranberry juice, grapefruit juice" in said
    assert "Method" not in said  # the same in both
    alone = address(tamsin, "mix_up", drink="bay-breeze", other="bay-breeze")
    assert "What tells them apart" not in text(visit(tamsin).get(alone))


def drill_of(nils, tamsin, *, one="bay-breeze", other="sea-breeze", hires=(), at=NOW):
    menu = make.menu_of(nils)
    one, other = (menu.by_slug[slug].recipe for slug in (one, other))
    hires = hires or [nils]
    return record_set.set_drill(by=tamsin, one=one, other=other, hires=hires, at=at)


def test_a_drill_that_waits_is_told_of_and_not_set_twice(visit, odalys, tamsin, nils):
    bo = hire_somebody(odalys, "Bo")
    drill_of(nils, tamsin)
    path = address(tamsin, "mix_up", drink="sea-breeze", other="bay-breeze")
    browser = visit(tamsin)
    page = browser.get(path)

    assert "These have it already: Nils set by Tamsin" in text(page)
    assert f'value="{bo.code}"' in page.content.decode()
    assert f'value="{nils.code}"' not in page.content.decode()
    assert "They have that drill already" in text(browser.send(path, {"hires": [nils.code]}))
    said = browser.send(path, {"hires": [nils.code, bo.code]}, follow=True)
    assert "Set. It waits on the next shift of 1 person." in text(said)
    assert sorted(t.hire.name for t in DrillFor.objects.all()) == ["Bo", "Nils"]
    assert "Everybody has it" in text(browser.get(path))


def test_a_drill_that_was_done_can_be_set_anew_and_another_pair_any_time(tamsin, nils):
    drill_of(nils, tamsin)
    drill_of(nils, tamsin, other="madras")
    refused("drill_waits_already", drill_of, nils, tamsin, one="madras", other="bay-breeze")

    DrillFor.objects.update(done_at=NOW)
    drill_of(nils, tamsin, at=LATER)
    assert DrillFor.objects.to_do().count() == 1


def test_the_list_of_mix_ups_folds_and_the_map_says_that_it_is_cut(visit, tamsin, monkeypatch):
    slugs = sorted(make.menu_of(tamsin).by_slug)[:14]
    asked = [(a, b) for a in slugs for b in slugs if a != b][:40]
    seen = [Seen(0, a, b, "quiz") for a, b in asked]
    monkeypatch.setattr(mixups, "seen_lately", lambda hires, menu: seen)
    page = visit(tamsin).get(address(tamsin, "mix_ups"))
    said = text(page)

    assert '<div class="heat wide" tabindex="0"' in page.content.decode()
    assert "20 more pairs" in said
    assert "The first 30 of 40 pairs." in said
    assert "It is cut to 12 drinks a side: " in said


def test_a_cell_of_the_map_says_its_pair_and_leads_to_it(visit, tamsin, nils):
    mix_up(tamsin, nils)
    page = visit(tamsin).get(address(tamsin, "mix_ups")).content.decode()
    path = address(tamsin, "mix_up", drink="bay-breeze", other="sea-breeze")

    said = "1 of 1: Sea breeze given for Bay breeze"
    assert (
        f'<td role="cell" class="shade-1"><a href="{path}" aria-label="{said}">1</a></td>' in page
    )


def test_a_drill_asks_about_its_two_drinks_alone_and_ends_when_both_are_right(visit, tamsin, nils):
    mix_up(tamsin, nils)
    menu = make.menu_of(nils)
    one, other = (menu.by_slug[s].recipe for s in ("bay-breeze", "sea-breeze"))
    drill = record_set.set_drill(by=tamsin, one=one, other=other, hires=[nils], at=NOW)
    start_it = address(nils, "drill_start", code=drill.code)
    browser = visit(nils)
    browser.send(start_it, {})
    quiz = Quiz.objects.get()

    assert {i.recipe for i in quiz.items.all()} == {one, other}
    for item in quiz.items.filter(kind__in=["whole", "name_it"]):
        assert {"bay-breeze", "sea-breeze"} <= {c.of for c in make.asked_of(item).choices}
    make.answer(quiz, make.wrong)
    assert DrillFor.objects.get().done_at is None

    browser.send(start_it, {})
    make.answer(Quiz.objects.open().get(), at=LATER)
    assert DrillFor.objects.get().done_at == LATER
    assert "Tell apart" not in text(browser.get(address(nils, "next_shift")))


def test_which_drink_came_instead_is_said_once_by_who_watched(visit, tamsin, pia, nils):
    watched = make.watch(tamsin, nils, "bay-breeze", off=(RIGHT_DRINK.key,))
    path = address(tamsin, "made_instead", code=watched.code)
    browser = visit(tamsin)
    assert path in browser.get(address(tamsin, "build", code=watched.code)).content.decode()
    assert "Only whoever watched" in text(visit(pia).send(path, {"made": "sea-breeze"}))

    browser.send(path, {"made": "sea-breeze"})
    browser.send(path, {"made": "madras"})

    assert MadeInstead.objects.get().made.slug == "sea-breeze"
    assert "It was Sea breeze." in text(browser.get(path))
    for who, name in ((tamsin, "build"), (nils, "my_build")):
        build = visit(who).get(address(who, name, code=watched.code))
        assert "It was Sea breeze." in text(build)
        assert path not in build.content.decode()
    right = make.watch(tamsin, nils, "madras")
    assert browser.get(address(tamsin, "made_instead", code=right.code)).status_code == 404


def test_drills_need_two_drinks_and_somebody(tamsin, nils):
    one = make.menu_of(nils).by_slug["madras"].recipe
    two = make.menu_of(nils).by_slug["sea-breeze"].recipe
    drill = record_set.set_drill

    refused("drill_needs_two_drinks", drill, by=tamsin, one=one, other=one, hires=[nils], at=NOW)
    refused("drill_needs_people", drill, by=tamsin, one=one, other=two, hires=[], at=NOW)
    assert not Drill.objects.exists()


def try_out(visit, tamsin, nils, answering):
    offer = address(tamsin, "try_out", code=nils.code)
    visit(tamsin).send(offer, {})
    row = TryOut.objects.get()
    path = visit(nils).send(address(nils, "try_out_start", code=row.code), {})["Location"]
    quiz = Quiz.objects.get()
    assert path == address(nils, "quiz", code=quiz.code)
    while item := quiz.items.filter(answer__isnull=True).first():
        asked = make.asked_of(item)
        record.answer_item(by=nils, item=item, choice=answering(asked), at=NOW)
    row.refresh_from_db()
    return row


def test_a_try_out_credits_what_was_right_and_names_builds_to_watch(visit, tamsin, nils):
    row = try_out(visit, tamsin, nils, make.right)

    assert row.finished_at == NOW
    menu = make.menu_of(nils)
    found = tryout.credit(menu.drinks, tryouts.known(row.quiz))
    assert found.to_teach == ()
    assert set(found.known) >= {i.drink.slug for i in menu.must_knows()} - set(found.open)
    said = text(visit(tamsin).get(address(tamsin, "try_out", code=nils.code)))
    assert "Builds worth watching" in said
    assert "Never skipped: Service" in said
    assert "Never skipped, whatever was shown: Service" in said
    assert log.check(nils.venue) == []


def test_a_try_out_begins_with_calls_and_goes_on_with_quiz_items(visit, tamsin, nils):
    row = try_out(visit, tamsin, nils, make.right)

    asked = [make.asked_of(item) for item in row.quiz.items.order_by("position")]
    called = [item.prompt.code == "ask_call" for item in asked]
    assert any(called[:CALLS_FIRST])
    assert not any(called[CALLS_FIRST:])
    builds = [item.recipe for item in asked if item.kind is not ItemKind.AMOUNT]
    assert len(set(builds)) == len(builds)


def test_a_call_of_a_try_out_stands_on_the_page_as_a_guest_says_it(visit, tamsin, nils):
    visit(tamsin).send(address(tamsin, "try_out", code=nils.code), {})
    row = TryOut.objects.get()
    browser = visit(nils)
    path = browser.send(address(nils, "try_out_start", code=row.code), {})["Location"]

    said = text(browser.get(path))
    assert "A guest calls this. Build it: choose each part." in said
    assert "1 so far" in said
    assert make.asked_of(TryOut.objects.get().quiz.items.get()).said in said


def test_a_try_out_is_chosen_by_the_answers(visit, odalys, tamsin, nils):
    row = try_out(visit, tamsin, nils, make.wrong)

    found = tryout.credit(make.menu_of(nils).drinks, tryouts.known(row.quiz))
    assert found.known == ()
    assert found.to_teach
    said = text(visit(tamsin).get(address(tamsin, "try_out", code=nils.code)))
    assert "no must-know was all right" in said


def test_a_try_out_has_25_minutes_and_is_offered_once(visit, tamsin, nils):
    offer = address(tamsin, "try_out", code=nils.code)
    browser = visit(tamsin)
    browser.send(offer, {})
    browser.send(offer, {})
    row = TryOut.objects.get()
    quiz = record_quiz.start_try_out(
        by=nils, menu=make.menu_of(nils), try_out=row, seed=SEED, at=NOW
    )

    assert quiz.ends_at - NOW == dt.timedelta(minutes=25)
    record_quiz.close_quiz(by=nils, quiz=quiz, at=NOW + dt.timedelta(minutes=26))
    row.refresh_from_db()
    assert row.finished_at == quiz.ends_at


def test_the_report_says_what_was_picked_and_counts_a_first_try_alone(visit, odalys, tamsin, nils):
    people = [nils, *(hire_somebody(odalys, name) for name in ("Bo", "Cleo", "Dario"))]
    for number, hire in enumerate(people):
        make.take_quiz(hire, answering=make.wrong if number % 2 else make.right, seed=number)
    make.take_quiz(nils, answering=make.wrong, seed=9, at=LATER)

    found = item_report(Quiz.objects.all())
    assert found.report.people == len(people)
    assert sum(s.answers for s in found.report.items) == 12 * len(people)
    assert {s.right for s in found.report.items} <= {0, 1, 2}
    said = text(visit(tamsin).get(address(tamsin, "item_report") + "?of=highballs"))
    assert "4 people have taken it: too few" in said
    assert "Picked instead" in said
    assert "Right: 1 pour" in said  # whole builds too, whatever all choices have in common
    assert "Too few people to say whether it goes with" in said
    assert "(between" not in said
    assert "KR-20" not in said
    assert visit(tamsin).get(address(tamsin, "item_report") + "?of=nothing").status_code == 404


def test_what_the_time_cut_off_counts_nowhere_in_the_report(visit, odalys, tamsin, nils, sheet):
    late = NOW + dt.timedelta(minutes=11)
    for answered, name in ((0, "Bo"), (1, "Cleo"), (10, "Dario")):
        quiz = make.answer(start(hire_somebody(odalys, name), sheet), most=answered)
        record_quiz.close_quiz(by=quiz.hire, quiz=quiz, at=late)

    found = item_report(Quiz.objects.all())
    assert (found.report.people, found.report.compared) == (2, 1)
    assert sum(s.answers for s in found.report.items) == 11
    assert {s.difficulty for s in found.report.items} == {1.0}
    said = text(visit(tamsin).get(address(tamsin, "item_report") + f"?of={sheet.code}"))
    assert "2 people have taken it" in said
    assert "What was still open when the time was up counts nowhere" in said
    assert "people who answered all of it in time" in said


def test_a_situation_in_the_report_has_a_title_and_leads_to_where_it_is_mended(visit, tamsin, nils):
    make.take_quiz(nils, make.GATE, answering=make.wrong)
    row = Scenario.objects.in_house(nils.venue).order_by("pk")[0]
    at = {"module": make.GATE, "lesson": row.lesson.slug, "question": row.slug}
    mended, path = address(tamsin, "question_edit", **at), address(tamsin, "item_report")
    browser = visit(tamsin)

    assert f'<a href="{mended}">{row.lesson.name}</a>' in browser.get(path).content.decode()

    browser.send(mended, {**fields(browser.get(mended)), "question": "What now?"})
    said = browser.get(path).content.decode()
    assert mended not in said
    assert "A question that is asked no more" in said
