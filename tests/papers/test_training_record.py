"""The training record on paper keeps to what its reader may see, and carries both sides."""

import csv
import datetime as dt
import io

import pytest
import time_machine

from assessments import record, record_entries, record_second
from assessments.record_taken_back import take_back_hand
from barcourse.papers import training_record
from barcourse.people import enrol
from barcourse.people.models import PersonalText
from recipes.menu import menu_at
from tests.assessments.pages import address
from tests.factories import assessments as make
from tests.factories import hands
from tests.factories.assessments import LATER, NOW
from tests.papers.sheets import text_of

WAITS = "kept back from you: waits for your own second look"
EARLIER = NOW - dt.timedelta(days=1)


def facts(hire, reader, at=LATER):
    return training_record.facts_of(hire, menu_at(hire.venue, at), reader=reader)


def answer(hire, entry, words="The bin was empty.", *, disagrees=True):
    return record_entries.answer(
        by=hire, entry=entry, words=words, disagrees=disagrees, at=LATER
    )  # fmt: skip


@pytest.mark.parametrize("off", [(), ("conduct:right_drink",)])
def test_what_waits_for_a_second_look_is_told_on_no_paper(visit, tamsin, pia, nils, off):
    watched = make.watch(tamsin, nils, off=off)
    record_second.answer_record(
        by=nils, watched=watched, words="The bin was empty.", disagrees=True, at=LATER
    )
    told = "not passed" if off else "passed"
    kept = {who: facts(nils, who) for who in (tamsin, pia, nils)}

    assert {who: found.watched[0].came for who, found in kept.items()} == {
        tamsin: told, pia: WAITS, nils: told,
    }  # fmt: skip
    assert [len(found.said) for found in kept.values()] == [1, 0, 1]
    with time_machine.travel(LATER, tick=False):
        for page in ("training_record_csv", "training_record_pdf"):
            sent = visit(pia).get(address(pia, page, code=nils.code))
            said = text_of(sent.content) if page.endswith("pdf") else sent.content.decode()
            assert WAITS in said
            assert "The bin was empty." not in said
        visit(pia).send(address(pia, "mark_too", code=watched.code), {})
        sent = visit(pia).get(address(pia, "training_record_csv", code=nils.code))
    assert WAITS not in sent.content.decode()
    assert "The bin was empty." in sent.content.decode()


def copies(visit, reader, hire):
    """The words of what a reader prints and of the sheet, each on one line."""
    browser = visit(reader)
    sent = [
        browser.get(address(reader, page, code=hire.code)).content
        for page in ("training_record_pdf", "training_record_csv")
    ]
    return [" ".join(said.split()) for said in (text_of(sent[0]), sent[1].decode())]


def test_a_copy_from_which_something_is_kept_says_so_at_its_head(visit, tamsin, marek, nils):
    with time_machine.travel(LATER, tick=False):
        make.watch(tamsin, nils, off=("conduct:right_drink",))
        one = copies(visit, marek, nils)
        make.watch(tamsin, nils)
        two = copies(visit, marek, nils)
        has_them = [*copies(visit, tamsin, nils), *copies(visit, nils, nils)]

    head = "kept back from you until you have given marks of your own or the day is over"
    for said in one:
        assert f"1 result is {head}, 12 hours after the build; the copy of Tamsin" in said
        assert said.index(head) < said.index("Madras")
        assert said.count(WAITS) == 1
    for said in two:
        assert f"2 results are {head}, 12 hours after each build; the copy of Tamsin" in said
        assert "(who watched) has them" in said
        assert said.count(WAITS) == 2
        assert "failed on" not in said
    for said in has_them:
        assert "kept back" not in said
        assert "failed on" in said


def test_it_carries_what_the_hire_said_and_what_a_manager_settled(marek, tamsin, nils):
    watched = make.watch(tamsin, nils, at=EARLIER)
    reply = record_second.answer_record(
        by=nils, watched=watched, words="It was the other glass.", disagrees=True, at=LATER
    )
    record_second.let_stand(by=marek, reply=reply, at=LATER)
    pours, spot = hands.pour(tamsin, nils, at=EARLIER), hands.spot(tamsin, nils, at=EARLIER)
    answer(nils, pours, "The spout was new.", disagrees=False)
    answer(nils, hands.pace(tamsin, nils, at=EARLIER), "The till hung.")
    answer(nils, spot, "That was Pia's.")
    take_back_hand(by=marek, row=spot, reason="He is right.", at=LATER)

    found = facts(nils, nils)

    assert [(s.about, s.words, s.became) for s in found.said] == [
        ("Madras", "It was the other glass.", "Marek has heard both: it stands."),
        ("Pour check: gin", "The spout was new.", ""),
        ("Pace: Well", "The till hung.", "They see it differently. A manager looks at it."),
        ("Madras", "That was Pia's.", "Taken back by Marek."),
    ]
    assert {s.entry_day for s in found.said} == {nils.venue.business_day(EARLIER)}
    on_paper = text_of(training_record.record_pdf(found))
    in_sheet = training_record.record_csv(found)
    assert "What Nils said to it" in on_paper
    for said in found.said:
        assert said.words in on_paper
        assert f"“{said.words}” {said.became}".strip() in in_sheet


def test_it_says_on_which_step_a_build_failed_and_what_it_was_made_with(tamsin, nils):
    make.watch(tamsin, nils, off=("conduct:right_drink",), made_with="water", at=EARLIER)

    found = facts(nils, nils)
    [built] = found.watched

    assert built.came == "not passed"
    assert len(built.slips) == 1
    assert built.slips[0].startswith("failed on: ")
    _head, _whose, row, *_ = csv_rows(found)
    assert row[-2:] == ["water", built.slips[0]]
    said = text_of(training_record.record_pdf(found))
    assert built.slips[0] in said
    assert "rev. 1, water" in said


def test_what_waits_for_a_second_look_tells_no_step_and_no_sign_off(tamsin, pia, nils):
    watched = make.watch(tamsin, nils, off=("conduct:right_drink",))
    record_second.answer_record(
        by=nils, watched=watched, words="It was the other.", disagrees=True, at=LATER
    )

    [built] = facts(nils, pia).watched

    assert (built.slips, built.is_signed, built.void) == ((), False, None)


def test_what_was_voided_stays_marked_with_who_and_why(marek, tamsin, nils):
    watched = make.watch(tamsin, nils, at=EARLIER)
    record.sign_off(by=tamsin, watched=watched, at=EARLIER)
    record.void_build(by=marek, watched=watched, reason="Wrong glass in the end.", at=LATER)

    found = facts(nils, nils)
    [built] = found.watched

    assert (built.came, built.void.by) == ("signed off", "Marek")
    assert dict(found.glance)["Builds watched"] == "0"
    assert dict(found.glance)["of them signed off"] == "0"
    said, [row] = text_of(training_record.record_pdf(found)), csv_rows(found)[2:-1]
    for words in ("no longer counts: voided by Marek on", "Wrong glass in the end.", "signed off"):
        assert words in said
        assert words in row[10]


def csv_rows(found):
    text = training_record.record_csv(found).removeprefix("\ufeff")
    return list(csv.reader(io.StringIO(text)))


def test_words_that_were_erased_stand_on_no_paper(odalys, tamsin, nils):
    row = answer(nils, make.watch(tamsin, nils, at=EARLIER), "I have hay fever.")
    text = PersonalText.objects.get(code=row.text_code)
    enrol.erase_text(by=odalys, text=text, at=LATER)

    [said] = facts(nils, nils).said

    assert said.words == "words erased"


def test_all_answers_are_read_in_as_many_queries_as_one(
    tamsin, nils, django_assert_max_num_queries
):
    for made in (hands.spot, hands.pour, hands.pace, make.watch, make.watch, hands.spot):
        answer(nils, made(tamsin, nils))

    with django_assert_max_num_queries(3):
        assert [s.became for s in training_record.said_by(nils)]
