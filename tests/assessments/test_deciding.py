"""Nobody is asked to decide about what they made, or marked, themselves."""

import pytest
import time_machine

from assessments import deciding, record_entries, record_second
from assessments.measures.marking import RIGHT_DRINK
from barcourse.people import enrol
from tests.assessments.pages import address, text
from tests.factories import assessments as make
from tests.factories import hands
from tests.factories.assessments import LATER, NOW

STANDS, PART = "It stands", "You are part of it"


def differ_about_a_build(by, hire):
    words = {"words": "It was full.", "disagrees": True, "at": LATER}
    return record_second.answer_record(by=hire, watched=make.watch(by, hire), **words)


def differ_in_service(by, hire):
    spot = hands.spot(by, hire)
    words = {"words": "It was full.", "disagrees": True, "at": LATER}
    return record_entries.answer(by=hire, entry=spot, **words)


differs = pytest.mark.parametrize("differ", [differ_about_a_build, differ_in_service])


def seen_by(visit, reader):
    with time_machine.travel(LATER, tick=False):
        return text(visit(reader).get(address(reader, "to_look_at")))


@differs
def test_whose_mark_it_is_reads_who_else_decides(visit, odalys, marek, nils, differ):
    differ(marek, nils)

    marks, owns = seen_by(visit, marek), seen_by(visit, odalys)

    assert STANDS not in marks
    assert f"{PART}: Odalys can decide it." in marks
    assert STANDS in owns
    assert PART not in owns


@differs
def test_whom_it_is_about_reads_it_too(visit, odalys, marek, tamsin, differ):
    differ(tamsin, marek)

    assert f"{PART}: Odalys can decide it." in seen_by(visit, marek)


@differs
def test_where_nobody_else_could_it_says_what_to_do(visit, odalys, nils, differ):
    differ(odalys, nils)

    said = seen_by(visit, odalys)

    assert STANDS not in said
    assert "nobody else here may decide it" in said


def test_who_decides_is_here_and_sees_the_log(odalys, marek, tamsin, pia, nils):
    enrol.mark_left(by=odalys, membership=marek, at=NOW)

    assert [m.name for m in deciding.who_decide(nils.venue, LATER)] == ["Odalys"]


def test_nobody_is_asked_for_a_plan_of_their_own(visit, odalys, marek, tamsin):
    for _ in range(3):
        make.watch(tamsin, marek, off=(RIGHT_DRINK.key,), at=NOW)

    own, others = seen_by(visit, marek), seen_by(visit, odalys)

    assert "What comes next" not in own
    assert f"{PART}: Odalys can decide it." in own
    assert "What comes next" in others
