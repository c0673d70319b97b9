"""Both markings of a build: who sees them, what differs, and what a hidden build doesn't tell."""

import datetime as dt

import pytest

from assessments import marked_twice, record, record_entries, record_second
from assessments.models import SecondMark
from assessments.showing import Naming
from barcourse.people import enrol
from tests.assessments.pages import address, text
from tests.factories import assessments as make
from tests.factories.assessments import NOW
from tests.factories.people import hire as hire_somebody

SOON = NOW - dt.timedelta(hours=1)


@pytest.fixture
def watched(tamsin, nils):
    """Tamsin marked the first and the second step of it down."""
    return make.watch(tamsin, nils, off=make.steps_of(tamsin, "madras")[:2], at=SOON)


@pytest.fixture
def mark(watched, pia):
    """Pia marked the second and the third down."""
    off = [step["key"] for step in watched.steps[1:3]]
    return record_second.mark_too(by=pia, watched=watched, off=off, at=NOW)


def test_both_marks_stand_side_by_side_and_where_they_differ(mark, nils):
    shown = marked_twice.show(mark, Naming.of(make.menu_of(nils)))

    assert [(s.first, s.second, s.differs) for s in shown.steps[:4]] == [
        (True, False, True), (True, True, False), (False, True, True), (False, False, False),
    ]  # fmt: skip
    assert (len(shown.steps), shown.alike) == (
        len(mark.watched.steps), len(mark.watched.steps) - 2
    )  # fmt: skip


@pytest.mark.parametrize(
    ("who", "status"),
    [("tamsin", 200), ("pia", 200), ("nils", 200), ("marek", 200), ("odalys", 200),
     ("other", 404), ("fellow", 404), ("ravna", 404)],
)  # fmt: skip
def test_who_sees_them(visit, odalys, marek, tamsin, pia, nils, ravna, mark, who, status):
    others = {"other": ("Rhea", "trainer"), "fellow": ("Bo", "trainee")}
    cast = {
        "odalys": odalys, "marek": marek, "tamsin": tamsin, "pia": pia, "nils": nils,
        "ravna": ravna,
    }  # fmt: skip
    member = cast.get(who) or hire_somebody(odalys, *others[who])
    page = address(tamsin, "both_marks", code=mark.watched.code)

    answer = visit(member).get(page)

    assert answer.status_code == status
    if status == 200:
        said = text(answer)
        assert f"{len(mark.watched.steps) - 2} of {len(mark.watched.steps)} steps" in said
        assert said.count("differs") == 2


def test_before_the_second_has_marked_there_is_no_such_page(visit, tamsin, watched):
    page = address(tamsin, "both_marks", code=watched.code)

    assert visit(tamsin).get(page).status_code == 404


def test_the_form_leads_to_both_marks_once_it_was_sent(visit, odalys, pia, watched):
    form = address(pia, "mark_too", code=watched.code)
    both = address(pia, "both_marks", code=watched.code)

    assert visit(pia).get(form).status_code == 200
    sent = visit(pia).send(form, {"off": []})
    assert (sent.status_code, sent["Location"]) == (302, both)
    assert visit(pia).get(form)["Location"] == both
    late = visit(pia).send(form, {"off": []}, follow=True)
    assert "marked" in text(late)
    assert SecondMark.objects.count() == 1
    third = hire_somebody(odalys, "Rhea", "trainer")
    onward = visit(third).get(address(third, "mark_too", code=watched.code))
    assert onward["Location"] == address(third, "build", code=watched.code)


def test_the_list_and_the_build_lead_there_for_whom_it_is_for(
    visit, odalys, marek, tamsin, pia, nils, mark
):
    both = address(tamsin, "both_marks", code=mark.watched.code)
    third = hire_somebody(odalys, "Rhea", "trainer")
    for who, leads in ((tamsin, True), (pia, True), (marek, True), (third, False)):
        for page, parts in (("second_marks", {}), ("build", {"code": mark.watched.code})):
            shown = visit(who).get(address(who, page, **parts)).content.decode()
            assert (both in shown) is leads, (who, page)
    own = visit(nils).get(address(nils, "my_build", code=mark.watched.code))
    assert both in own.content.decode()
    look = visit(marek).get(address(marek, "to_look_at")).content.decode()
    assert address(marek, "second_marks") in look


def test_the_newest_come_first_and_old_ones_leave_the_list(monkeypatch, tamsin, pia, marek, nils):
    monkeypatch.setattr(marked_twice, "NEWEST", 2)
    marks = []
    for minutes, (first, second) in enumerate([(tamsin, pia), (pia, tamsin), (tamsin, pia)]):
        at = NOW + dt.timedelta(minutes=minutes)
        made = make.watch(first, nils, at=at)
        marks.append(record_second.mark_too(by=second, watched=made, off=(), at=at))

    for who in (tamsin, pia, marek):
        assert marked_twice.seen_by(who) == marks[:0:-1]


def test_a_hidden_build_tells_its_outcome_nowhere_on_its_page(visit, tamsin, pia, marek, nils):
    """Neither the sign-off nor what was said to it."""
    watched = make.watch(tamsin, nils, at=SOON)
    record.sign_off(by=tamsin, watched=watched, at=SOON)
    record_entries.answer(
        by=nils, entry=watched, words="Glad it went well.", disagrees=False, at=SOON
    )
    pages = [address(pia, page, code=watched.code) for page in ("build", "entry")]
    before = [text(visit(pia).get(page)) for page in pages]

    visit(pia).send(address(pia, "see_marks", code=watched.code))

    after = [text(visit(pia).get(page)) for page in pages]
    told = ("Signed off on", "Glad it went well.")
    assert [word in said for word, said in zip(told, before, strict=True)] == [False, False]
    assert [word in said for word, said in zip(told, after, strict=True)] == [True, True]
    assert "Signed off on" in text(visit(tamsin).get(pages[0]))


def test_of_a_trainer_who_has_left_nothing_is_hidden(visit, odalys, tamsin, pia, nils):
    """What they passed and never signed is handed over, so everybody knows how it came."""
    watched = make.watch(tamsin, nils, at=SOON)
    page = address(pia, "build", code=watched.code)
    assert "The marks are hidden" in text(visit(pia).get(page))

    enrol.mark_left(by=odalys, membership=tamsin, at=SOON)

    assert "The marks are hidden" not in text(visit(pia).get(page))
    assert "No build of another trainer" in text(visit(pia).get(address(pia, "second_marks")))


def test_nor_does_the_list_say_what_only_a_pass_says(visit, odalys, tamsin, pia, nils):
    """That the house has changed the drink since stands beside what was passed alone."""
    make.watch(tamsin, nils, "gin-tonic", at=SOON)
    make.lemon_in_tonic(odalys, at=NOW - dt.timedelta(minutes=1))
    changed = "Changed since"
    page = address(pia, "hire_record", code=nils.code)

    assert changed not in text(visit(pia).get(page))
    assert changed in text(visit(tamsin).get(page))
