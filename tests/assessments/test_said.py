"""What a hire has said to their record, in a word, in the lists of hire and trainers."""

import datetime as dt

import pytest

from assessments import record, record_entries, record_second
from assessments.record_taken_back import take_back_hand
from assessments.said import in_a_word, said_by
from tests.assessments.pages import address, text
from tests.factories import assessments as make
from tests.factories import hands
from tests.factories.assessments import LATER, NOW

EARLIER = NOW - dt.timedelta(days=1)
WAITS, STANDS = "seen differently, a manager looks at it", "seen differently, it stands"
ENTRIES = {
    "spot": hands.spot,
    "pours": hands.pour,
    "pace": hands.pace,
    "round": lambda trainer, hire, at: hands.make_round(
        trainer, hire, "madras", "gin-tonic", at=at
    ),
    "build": make.watch,
}
kinds = pytest.mark.parametrize("kind", sorted(ENTRIES))


def say(hire, entry, *, disagrees=True, at=NOW):
    return record_entries.answer(
        by=hire, entry=entry, words="It was dark.", disagrees=disagrees, at=at
    )


def words(hire):
    return in_a_word(said_by(hire))


@kinds
def test_each_kind_says_it_in_both_lists(visit, marek, tamsin, nils, kind):
    entry = ENTRIES[kind](tamsin, nils, at=EARLIER)
    pages = [(nils, address(nils, "my_record")),
             (marek, address(marek, "hire_record", code=nils.code))]  # fmt: skip
    said = say(nils, entry)
    assert [text(visit(who).get(page)).count(WAITS) for who, page in pages] == [1, 1]

    record_entries.settle(by=marek, answer=said, at=NOW)

    assert [text(visit(who).get(page)).count(STANDS) for who, page in pages] == [1, 1]


def test_what_is_said_last_and_still_waits_comes_first(marek, tamsin, nils):
    entry = hands.spot(tamsin, nils, at=EARLIER)
    assert words(nils) == {}
    say(nils, entry, disagrees=False)
    assert words(nils) == {entry.code: "answered"}
    record_entries.settle(by=marek, answer=say(nils, entry), at=NOW)
    assert words(nils) == {entry.code: STANDS}
    say(nils, entry)
    assert words(nils) == {entry.code: WAITS}

    take_back_hand(by=marek, row=entry, reason="He is right.", at=LATER)

    assert words(nils) == {entry.code: STANDS}


def test_the_first_answer_to_a_build_counts_as_well(marek, tamsin, nils):
    build, other = make.watch(tamsin, nils, at=EARLIER), make.watch(tamsin, nils, at=EARLIER)
    reply = record_second.answer_record(
        by=nils, watched=build, words="It was dark.", disagrees=True, at=NOW
    )
    assert words(nils) == {build.code: WAITS}
    record_second.let_stand(by=marek, reply=reply, at=NOW)
    say(nils, other)
    record.void_build(by=marek, watched=other, reason="He is right.", at=NOW)

    assert words(nils) == {build.code: STANDS, other.code: "seen differently"}


def test_of_what_waits_for_a_second_look_no_list_says_it(visit, tamsin, pia, nils):
    build = make.watch(tamsin, nils)
    say(nils, build)
    page = address(pia, "hire_record", code=nils.code)

    assert WAITS not in text(visit(pia).get(page))
    assert WAITS in text(visit(tamsin).get(page))
