"""Nobody hushes a disagreement about themselves: which void settles an answer."""

import datetime as dt

import pytest
import time_machine

from assessments import record, record_entries, record_second, showing_entries, to_look_at
from assessments.record_taken_back import take_back_hand
from assessments.said import said_by
from barcourse.people import log
from tests.assessments.pages import address, text
from tests.factories import assessments as make
from tests.factories import hands
from tests.factories.assessments import LATER, NOW

THEN = LATER + dt.timedelta(hours=1)
WHY, WORDS = "Tapped wrong.", "It was the other glass."
ENTRIES = {
    "build": make.watch,
    "pace": hands.pace,
    "pours": hands.pour,
    "round": lambda trainer, hire: hands.make_round(trainer, hire, "madras", "gin-tonic"),
    "spot": hands.spot,
    "sent_back": lambda trainer, hire: hands.spot(trainer, hire, sent_back=True),
    "first_answer": make.watch,
}
kinds = pytest.mark.parametrize("kind", sorted(ENTRIES))


def differ(kind, entry, hire, *, at=LATER):
    said = {"by": hire, "words": WORDS, "disagrees": True, "at": at}
    if kind == "first_answer":
        return record_second.answer_record(watched=entry, **said)
    return record_entries.answer(entry=entry, **said)


def void(kind, entry, by, *, at=THEN):
    if kind in ("build", "first_answer"):
        return record.void_build(by=by, watched=entry, reason=WHY, at=at)
    return take_back_hand(by=by, row=entry, reason=WHY, at=at)


def waiting(venue):
    return to_look_at.disagreements(venue) + showing_entries.disagreements(venue, THEN)


def listed(visit, reader):
    with time_machine.travel(THEN, tick=False):
        return text(visit(reader).get(address(reader, "to_look_at")))


@kinds
def test_the_trainers_own_void_leaves_it_and_is_told_beside_it(visit, marek, tamsin, nils, kind):
    entry = ENTRIES[kind](tamsin, nils)
    differ(kind, entry, nils)

    void(kind, entry, tamsin)

    shown = listed(visit, marek)
    assert WORDS in shown
    assert "Taken back by Tamsin" in shown
    assert WHY in shown
    assert [said.waits for said in said_by(nils)] == [True]
    assert said_by(nils)[0].became == (
        "Taken back by Tamsin. They see it differently. A manager looks at it."
    )


@kinds
def test_a_managers_void_of_what_they_entered_leaves_it_too(visit, odalys, marek, nils, kind):
    entry = ENTRIES[kind](marek, nils)
    differ(kind, entry, nils)

    void(kind, entry, marek)

    assert len(waiting(nils.venue)) == 1
    assert "You are part of it: Odalys can decide it." in listed(visit, marek)


@kinds
def test_a_managers_void_of_anothers_entry_settles_it(marek, tamsin, nils, kind):
    entry = ENTRIES[kind](tamsin, nils)
    differ(kind, entry, nils)

    void(kind, entry, marek)

    assert waiting(nils.venue) == []
    [said] = said_by(nils)
    assert (said.waits, said.became) == (False, "Taken back by Marek.")


@pytest.mark.parametrize("kind", ["build", "first_answer"])
def test_another_trainers_void_leaves_it(tamsin, pia, nils, kind):
    entry = ENTRIES[kind](tamsin, nils)
    differ(kind, entry, nils)

    void(kind, entry, pia)

    assert len(waiting(nils.venue)) == 1


@kinds
def test_what_is_said_after_a_void_waits_for_a_manager(marek, tamsin, nils, kind):
    entry = ENTRIES[kind](tamsin, nils)
    void(kind, entry, marek, at=LATER)

    differ(kind, entry, nils, at=THEN)

    assert len(waiting(nils.venue)) == 1
    assert said_by(nils)[0].waits


@kinds
def test_a_manager_hears_both_and_it_stays_taken_back(visit, marek, tamsin, nils, kind):
    entry = ENTRIES[kind](tamsin, nils)
    said = differ(kind, entry, nils)
    void(kind, entry, tamsin)
    first = kind == "first_answer"
    page, code = ("let_stand", entry.code) if first else ("entry_stands", said.code)

    with time_machine.travel(THEN, tick=False):
        sent = visit(marek).send(address(marek, page, code=code), {}, follow=True)

    assert "It stays taken back, and the log says that you heard both." in text(sent)
    assert waiting(nils.venue) == []
    assert said_by(nils)[0].became == (
        "Taken back by Tamsin. Marek has heard both: it stays taken back."
    )
    assert log.check(nils.venue) == []


def test_what_a_manager_let_stand_and_is_voided_later_says_both(marek, tamsin, nils):
    spot = hands.spot(tamsin, nils)
    answer = differ("spot", spot, nils, at=NOW)
    record_entries.settle(by=marek, answer=answer, at=LATER)

    void("spot", spot, tamsin)

    assert said_by(nils)[0].became == "Marek has heard both: it stands. Taken back by Tamsin."
