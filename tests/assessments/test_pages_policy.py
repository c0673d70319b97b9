"""The pages of what ready takes and of who stands for one shift."""

from __future__ import annotations

import datetime as dt

import pytest
import time_machine

from assessments.measures.sales_mix import ShiftKind
from assessments.models import Override, OverrideEnd, PolicyVersion
from assessments.policy import book_at
from assessments.record_policy import end_override, set_policy
from assessments.wording_log import once_told
from barcourse.people import log
from barcourse.people.models import SideTask
from tests.assessments.pages import address, fields, text
from tests.assessments.test_board import only_must_knows, prove, station
from tests.factories import assessments as make
from tests.factories.assessments import LATER, NOW
from tests.factories.policies import ask_for, let

TODAY = dt.date(2026, 3, 7)


@pytest.fixture(autouse=True)
def _on_that_afternoon():
    with time_machine.travel(LATER, tick=False):
        yield


def policy_page(visit, marek, query=""):
    browser, path = visit(marek), address(marek, "ready_policy") + query
    return browser, path, fields(browser.get(path))


def test_looked_at_on_today_s_people_then_saved(visit, odalys, marek, tamsin, nils):
    only_must_knows(odalys)
    prove(tamsin, nils)
    browser, path, typed = policy_page(visit, marek, "?station=well")
    asked = {**typed, "least_right": "100", "pour_days": "30"}

    looked = browser.send(path, {**asked, "look": "1"})

    said = text(looked)
    assert "One of 1 standings would be another one; ready: 1 without it, 0 with it." in said
    assert "Nils , Well ready → second" in said
    assert "No pour check in the last 30 days." in said
    assert not PolicyVersion.objects.exists()

    saved = browser.send(path, {**asked, "seen": looked.context["seen"], "save": "1"})

    assert (saved.status_code, saved["Location"]) == (302, path)
    after = text(browser.get(path))
    assert "Set for: Well, every shift." in after
    assert "Number 1, by Marek" in after
    row = PolicyVersion.objects.get()
    assert (row.station, row.shift_kind, row.by) == (station(marek), "", marek)
    assert (row.least_right, row.pour_days) == (100, 30)


def test_a_preview_says_what_would_be_missing_no_longer(visit, odalys, marek, tamsin, nils):
    only_must_knows(odalys)
    prove(tamsin, nils)
    ask_for(odalys, "well", pour_days=30)
    browser, path, typed = policy_page(visit, marek, "?station=well")

    said = text(browser.send(path, {**typed, "pour_days": "", "look": "1"}))

    assert "second → ready No longer missing: No pour check in the last 30 days." in said


def test_only_what_was_looked_at_is_saved(visit, marek, nils):
    browser, path, typed = policy_page(visit, marek)
    looked = browser.send(path, {**typed, "least_right": "80", "look": "1"})
    seen = {"seen": looked.context["seen"], "save": "1"}

    for sent in ({"least_right": "81"}, {"least_right": "80", "seen": "x"}):
        shown = browser.send(path, {**typed, **seen, **sent})
        assert shown.status_code == 200
        assert "Who would stand otherwise" in text(shown)
    assert not PolicyVersion.objects.exists()


@pytest.mark.parametrize("press", ["look", "save"])
def test_nobody_undoes_unseen_what_somebody_else_has_set(visit, odalys, marek, nils, press):
    browser, path, typed = policy_page(visit, marek, "?station=well")
    mine = {**typed, "least_right": "65"}
    looked = browser.send(path, {**mine, "look": "1"})
    ask_for(odalys, "well", least_right=0.9, pour_days=14)

    sent = {**mine, "seen": looked.context["seen"], press: "1"}
    shown = browser.send(path, sent)

    said = text(shown)
    assert "Somebody set what ready takes while you had the page open." in said
    assert "Number 1, by Odalys, for Well, every shift" in said
    assert PolicyVersion.objects.count() == 1
    kept = fields(shown)
    assert (kept["least_right"], kept["pour_days"], kept["newest"]) == (["65"], [""], ["1"])

    assert browser.send(path, {**kept, "save": "1"}).status_code == 302
    assert PolicyVersion.objects.count() == 2


def test_a_number_that_is_none_is_no_version(visit, odalys, marek, nils):
    browser, path, typed = policy_page(visit, marek)
    ask_for(odalys, "well", least_right=0.9)

    for newest in ("x", "-1", "9" * 30):
        shown = browser.send(path, {**typed, "newest": newest, "look": "1"})
        assert "Somebody set what ready takes" in text(shown)


def test_nothing_of_its_own_any_more(visit, odalys, marek, nils):
    ask_for(odalys, "well", least_right=0.9)
    browser, path, typed = policy_page(visit, marek, "?station=well")

    looked = browser.send(path, {**typed, "follow": "1"})
    again = {"follow": "1", "seen": looked.context["seen"], "newest": "1", "save": "1"}
    assert browser.send(path, again).status_code == 302

    assert book_at(marek.venue, LATER).of(station(marek)).least_right == 0.7
    assert "Nothing of its own any more." in text(browser.get(path))


def test_where_no_orders_are_taken_nothing_is_asked_about_them(visit, marek, nils):
    browser, path, typed = policy_page(visit, marek, "?station=bar-back&shift=week-late")
    assert set(typed) >= {"task_days"}
    assert not {"least_right", "least_pace", "proof"} & set(typed)
    conduct = "A rule of conduct broken in a watched build counts for as many days."
    assert conduct in text(browser.get(path))

    looked = browser.send(path, {**typed, "task_days": "7", "look": "1"})
    assert "Nobody would stand otherwise." in text(looked)
    seen = {"seen": looked.context["seen"], "save": "1"}
    browser.send(path, {**typed, "task_days": "7", **seen})

    row = PolicyVersion.objects.get()
    assert (row.task_days, row.shift_kind, row.least_right) == (7, "week-late", 70)


@pytest.mark.parametrize(
    ("typed", "said"),
    [
        ({"least_right": "101"}, "At most 100, please."),
        ({"least_right": "40"}, "Second can't ask for more than ready does."),
        ({"least_pace": "60"}, "A pace goes with the days in which it was made."),
        ({"permits": ["flying"]}, "Pick from those that stand here."),
        ({"proof": "luck"}, "Pick one of the two."),
        ({"proof": ""}, "Pick one of the two."),
        ({"least_right": ""}, "Type a whole number, such as 70."),
        ({"most_wrong": "ten"}, "Type a whole number, such as 10."),
        ({"second_right": "50.5"}, "Type a whole number, such as 50."),
        ({"task_days": ""}, "Type a whole number of days, such as 30."),
        ({"pour_days": "a month"}, "Type a whole number of days, such as 30, or leave it empty."),
        ({"from_day": "Friday"}, "Pick a day, or leave it empty: then it is from now on."),
        ({"pour_days": "0"}, "At least 1, please."),
    ],
)
def test_what_makes_no_sense_stands_beside_its_field(visit, marek, nils, typed, said):
    browser, path, shown = policy_page(visit, marek)

    assert said in text(browser.send(path, {**shown, **typed, "look": "1"}))


@pytest.mark.parametrize(
    ("day", "said"),
    [
        ("2026-03-06", "Choose today or a day to come."),
        ("2027-03-09", "Choose a day in the next year."),
        ("9999-12-31", "Choose a day in the next year."),
    ],
)
@pytest.mark.parametrize("press", ["look", "save"])
def test_a_day_that_makes_no_sense_is_refused(visit, marek, nils, day, said, press):
    browser, path, typed = policy_page(visit, marek, "?shift=weekend-late")
    asked = {**typed, "least_right": "80"}
    looked = browser.send(path, {**asked, "look": "1"})

    sent = {**asked, "from_day": day, "seen": looked.context["seen"], press: "1"}
    shown = browser.send(path, sent)

    assert said in text(shown)
    assert 'name="save"' not in shown.content.decode()
    assert not PolicyVersion.objects.exists()


def test_the_preview_says_for_which_shift_it_reckons(visit, marek, nils):
    browser, path, typed = policy_page(visit, marek, "?shift=weekend-late")
    sent = {**typed, "least_right": "80", "look": "1"}

    assert "Reckoned for Saturday, March 7, 2026, from ten in" in text(browser.send(path, sent))
    later = text(browser.send(path, {**sent, "from_day": "2026-03-09"}))
    assert "Reckoned for Friday, March 13, 2026, from ten in the evening on." in later
    browser, path, typed = policy_page(visit, marek)
    sent = {**typed, "least_right": "80", "look": "1"}
    assert "Reckoned for now." in text(browser.send(path, sent))
    later = text(browser.send(path, {**sent, "from_day": "2026-03-09"}))
    assert "Reckoned for March 9, 2026." in later


def test_of_two_for_the_same_day_the_later_counts_and_that_is_said(visit, odalys, marek, nils):
    there = TODAY + dt.timedelta(days=2)
    for least_right in (0.9, 0.8):
        ask_for(odalys, "well", least_right=least_right, from_day=there)
    ask_for(odalys, least_right=0.85, from_day=there)  # of every station
    page = visit(marek).get(address(marek, "ready_policy"))

    coming = [(v["row"].policy.least_right, v["instead"]) for v in page.context["coming"]]
    newer = page.context["coming"][1]["row"]
    assert coming == [(0.9, newer), (0.8, None), (0.85, None)]
    assert f"It won't count: number {newer.number} was set later for the same day." in text(page)


def test_what_is_yet_to_start_stands_by_itself(visit, odalys, marek, nils):
    ask_for(odalys, least_right=0.65)
    ask_for(odalys, least_right=0.75)
    ask_for(odalys, "well", least_right=0.9, from_day=TODAY + dt.timedelta(days=2))

    said = text(visit(marek).get(address(marek, "ready_policy")))

    to_come, before = said.index("Set, and yet to start"), said.index("What was set before")
    assert to_come < said.index("Starts on March 9, 2026: Well, every shift") < before
    assert said.count("Number 3, by Odalys") == 1
    assert said.index("Number 1, by Odalys") > before


def test_bars_that_contradict_each_other_are_told_before_saving(visit, marek, nils):
    browser, path, typed = policy_page(visit, marek, "?station=well")
    never = "Nobody can ever be ready so: the low end"
    assert never not in text(browser.get(path))

    looked = browser.send(path, {**typed, "least_right": "100", "look": "1"})
    assert never in text(looked)
    idle = browser.send(path, {**typed, "least_right": "90", "most_wrong": "20", "look": "1"})
    assert "With 90 of 100 right no more than 10 can be wrong" in text(idle)

    browser.send(path, {**typed, "least_right": "100", "seen": looked.context["seen"], "save": "1"})
    assert never in text(browser.get(path))


@pytest.mark.parametrize("query", ["?station=attic", "?shift=lunch"])
def test_there_is_no_such_scope(visit, marek, query):
    assert visit(marek).get(address(marek, "ready_policy") + query).status_code == 404


def test_somebody_stands_for_one_shift_and_no_longer(visit, marek, tamsin, nils):
    make.take_quiz(nils, make.GATE)
    browser = visit(marek)
    path = address(marek, "once", hire=nils.code) + "?station=well"
    shown = browser.get(path)
    assert "Your word lifts neither the safety module nor a permit" in text(shown)

    sent = {**fields(shown), "reason": "Two are ill."}
    done = browser.send(path, sent)

    board = address(marek, "who_is_ready")
    assert (done.status_code, done["Location"]) == (302, f"{board}?station=well")
    said = "For one shift : Saturday, March 7, 2026, from ten in the evening on"
    assert f"{said}. On the word of Marek: Two are ill." in text(browser.get(board))
    assert said in text(visit(nils).get(address(nils, "my_record")))
    assert "Two are ill" not in text(visit(nils).get(address(nils, "my_record")))
    assert said not in text(browser.get(f"{board}?station=beer-point"))
    assert "Somebody has said so for that shift already." in text(browser.send(path, sent))

    end = address(marek, "once_end", code=Override.objects.get().code)
    for status in (302, 302):
        assert browser.send(end).status_code == status
    assert OverrideEnd.objects.count() == 1
    assert said not in text(browser.get(board))


@pytest.mark.parametrize("slug", ["well", "beer-point", "bar-back"])
@pytest.mark.parametrize("page", ["next_shift", "my_record"])
def test_whoever_is_let_stand_reads_it_wherever_it_is(visit, marek, nils, slug, page):
    make.take_quiz(nils, make.GATE)
    browser = visit(nils)
    assert "For one shift" not in text(browser.get(address(nils, page)))
    let(marek, nils, slug)

    said = text(browser.get(address(nils, page)))
    where = "" if slug == "well" else f"{station(nils, slug).name}, "
    assert f"For one shift : {where}Saturday, March 7, 2026, from ten in the evening on" in said
    assert "Two are ill" not in said


@pytest.mark.parametrize(
    ("typed", "said"),
    [
        ({"reason": ""}, "Write why they may stand for this shift: it stands beside their name."),
        ({"reason": " \n "}, "Write why they may stand for this shift"),
        ({"day": ""}, "Pick the day on which that shift begins."),
        ({"day": "Friday"}, "Pick the day on which that shift begins."),
        ({"part": ""}, "Pick before ten or from ten on."),
        ({"part": "noon"}, "Pick before ten or from ten on."),
        ({"reason": "x" * 501}, "That is 501 characters, and 500 fit. Say it shorter."),
    ],
)
def test_a_shift_filled_in_wrongly_says_what_to_write(visit, marek, nils, typed, said):
    make.take_quiz(nils, make.GATE)
    browser, path = visit(marek), address(marek, "once", hire=nils.code) + "?station=well"
    sent = {**fields(browser.get(path)), "reason": "Two are ill.", **typed}

    answer = text(browser.send(path, sent))

    assert said in answer
    assert "This field is required" not in answer
    assert not Override.objects.exists()


def test_what_is_missing_is_that_of_the_shift_that_is_chosen(visit, odalys, marek, nils):
    make.take_quiz(nils, make.GATE)
    ask_for(odalys, "well", ShiftKind.WEEKEND_LATE, pour_days=30)
    browser = visit(marek)
    path = address(marek, "once", hire=nils.code) + "?station=well"
    shown, pours = browser.get(path), "No pour check in the last 30 days."
    assert pours in text(shown)  # it is Saturday, and the late shift stands in the form

    early = {**fields(shown), "part": "early", "reason": "Two are ill.", "look": "1"}
    looked = browser.send(path, early)
    assert pours not in text(looked)
    assert "Saturday, March 7, 2026, until ten" in text(looked)
    assert fields(looked)["reason"] == ["Two are ill."]
    assert not Override.objects.exists()


def test_another_shift_can_be_looked_at_where_the_law_bars_this_one(visit, odalys, marek, nils):
    make.take_quiz(nils, make.GATE)
    ask_for(odalys, "well", ShiftKind.WEEKEND_LATE, permits=("serving",))
    browser = visit(marek)
    path = address(marek, "once", hire=nils.code) + "?station=well"
    shown = browser.get(path)
    assert "Nobody can let them stand here yet" in text(shown)

    looked = browser.send(path, {**fields(shown), "part": "early", "look": "1"})
    assert "Nobody can let them stand here yet" not in text(looked)
    assert 'name="reason"' in looked.content.decode()


def test_a_policy_names_beforehand_whose_shift_it_ends(visit, odalys, marek, nils):
    make.take_quiz(nils, make.GATE)
    let(marek, nils)
    browser, path, typed = policy_page(visit, marek, "?station=well")

    looked = text(browser.send(path, {**typed, "permits": ["serving"], "look": "1"}))
    told = looked[looked.index("Let stand for one shift, and then no more") :]
    assert told.index("Nils , Well") < told.index("Saturday, March 7, 2026, from ten")
    assert "The house asks for a permit that isn't on record:" in told


def test_nobody_stands_without_safety_and_the_page_says_so(visit, marek, nils):
    browser, path = visit(marek), address(marek, "once", hire=nils.code)
    shown = browser.get(path)
    assert "Nobody can let them stand here yet" in text(shown)
    assert 'name="reason"' not in shown.content.decode()
    sent = {"day": "2026-03-07", "part": "late", "reason": "Two are ill."}

    assert "Nobody stands there without the safety module" in text(browser.send(path, sent))
    assert not Override.objects.exists()


def test_bar_back_has_a_board_of_its_own(visit, odalys, marek, nils):
    browser, path = visit(marek), address(marek, "ready_tasks")

    assert "Bar back: 0 of 1 ready" in text(browser.get(path))
    assert "No orders are taken here" in text(browser.get(path))
    said = text(browser.get(path))
    assert "sign for each under Side work, then go on." in said
    first = SideTask.objects.in_house(marek.venue).at(station(marek, "bar-back"))[0].text
    assert said.count(first) == 1  # with what is missing, and not with what to do too
    make.take_quiz(nils, make.GATE, at=NOW)
    let(marek, nils, "bar-back", at=LATER)
    assert "second" in text(browser.get(path))
    assert "For one shift : Saturday, March 7, 2026" in text(browser.get(path))
    assert browser.get(f"{path}?station=well").status_code == 404


def test_where_no_orders_are_taken_stands_on_one_s_record_too(visit, odalys, marek, nils):
    """As that station's own board has it, for the shift that the page is asked for."""
    make.take_quiz(nils, make.GATE, at=NOW)
    ask_for(odalys, "bar-back", ShiftKind.WEEKEND_LATE, permits=("serving",))
    pages = (
        (nils, address(nils, "my_record")),
        (marek, address(marek, "hire_record", code=nils.code)),
    )
    for reader, path in pages:
        for query, stands in (("", "second"), ("?shift=weekend-late", "not yet")):
            said = text(visit(reader).get(path + query))
            board = visit(marek).get(f"{address(marek, 'ready_tasks')}{query}")
            [(row, _once)] = board.context["rows"]
            found = said[said.index("Bar back") :]
            assert found.startswith(f"Bar back {stands} No orders are taken here")
            assert all(f"{missing} {how}" in found for missing, how in row.mends)
            assert row.mends


def test_why_somebody_stood_is_read_afterwards_and_erased(visit, odalys, marek, tamsin, nils):
    make.take_quiz(nils, make.GATE)
    row = let(marek, nils, reason="<b>Two</b> are ill.")
    path = address(marek, "hire_record", code=nils.code)
    with time_machine.travel(NOW + dt.timedelta(days=9), tick=False):
        browser = visit(odalys)
        shown = browser.get(path)
        assert "&lt;b&gt;Two&lt;/b&gt; are ill." in shown.content.decode()
        assert "Well , Saturday, March 7, 2026, from ten in the evening on" in text(shown)
        for other in (tamsin, nils):
            own = "my_record" if other is nils else "hire_record"
            said = {} if other is nils else {"code": nils.code}
            assert "are ill" not in text(visit(other).get(address(other, own, **said)))

        browser.send(address(odalys, "once_erase", code=row.code), {})

        after = text(browser.get(path))
        assert "are ill" not in after
        assert "On the word of Marek: words erased" in after
        again = browser.send(address(odalys, "once_erase", code=row.code), {}, follow=True)
        assert again.status_code == 200
    assert log.check(odalys.venue) == []


@pytest.mark.parametrize(
    ("asked", "parts", "before"),
    [
        ("", ["Beer point, every shift", "Well, every shift"], [1, 3, 4]),
        ("?station=well", [], [1, 3, 4]),
        ("?station=beer-point", [], [1]),
        ("?station=service-bar&shift=week-late", [], [1]),
        ("?shift=week-late", ["Beer point, every shift", "Well, every shift"], [1, 3, 4]),
    ],
)
def test_what_was_set_before_is_no_longer_in_force_and_of_no_other_station(
    visit, odalys, marek, asked, parts, before
):
    """Number 2 counts everywhere, 5 at the well, 6 at the beer point."""
    for number, (slug, kind) in enumerate(
        [("", None), ("", None), ("well", None), ("well", ShiftKind.WEEK_LATE), ("well", None),
         ("beer-point", None)],
    ):  # fmt: skip
        ask_for(odalys, slug, kind, least_right=(81 + number) / 100)
    set_policy(
        by=odalys, station=station(odalys), shift=ShiftKind.WEEK_LATE, policy=None, at=NOW
    )  # fmt: skip
    with time_machine.travel(LATER, tick=False):
        page = visit(marek).get(address(marek, "ready_policy") + asked)

    listed = sorted(v["row"].number for v in page.context["versions"])
    assert sorted(v["about"] for v in page.context["parts"]) == sorted(parts)
    assert [n for n in listed if n != 7] == before  # 7 says that late the well has none of its own
    assert f", by {odalys.name}, since" in text(page)


def test_the_log_says_where_and_for_which_shift(visit, marek, nils):
    make.take_quiz(nils, make.GATE)
    end_override(by=marek, override=let(marek, nils), at=NOW)
    said = text(visit(marek).get(address(marek, "log")))

    where = "Well, Saturday, March 7, 2026, from ten in the evening on"
    assert f"Marek gave their word for one shift of Nils: {where}" in said
    assert f"Marek took back the word given for one shift of Nils: {where}" in said


@pytest.mark.parametrize(
    "facts",
    [
        {"override": "4fk"},  # as it was noted once
        {"station": "well", "day": "yesterday", "shift": "week-late"},
        {"station": "well", "day": "2026-03-07", "shift": "lunch"},
    ],
)
def test_facts_that_say_nothing_of_a_shift_are_passed_over(facts):
    assert once_told({"well": "Well"}, facts) == ""


def test_a_station_that_is_gone_is_told_by_what_it_was():
    facts = {"station": "patio", "day": "2026-03-08", "shift": "week-early"}

    assert once_told({"well": "Well"}, facts) == "patio, Sunday, March 8, 2026, until ten"
