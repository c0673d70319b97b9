"""Side work signed by mistake: taken back with a reason, kept on record, counted no more."""

import datetime as dt

import pytest
import time_machine
from django.urls import reverse

from assessments.tasks import task_rows
from barcourse.people import enrol, log, side_work
from barcourse.people.models import LogEntry, PersonalText, SideTakenBack
from barcourse.people.reasons import Refused
from barcourse.people.sealed import SealedError
from tests.factories import people as make
from tests.people.test_side_work import AT, HOUR, PATH, shown, station, task

WHY = "That was the other bar's."


def signed(tamsin, by, at=AT, **more):
    row = task(tamsin, **more)
    [done] = side_work.sign(by=by, tasks=[row], at=at)
    return row, done


def take_back(by, done, reason=WHY, at=AT + HOUR):
    return side_work.take_back_done(by=by, row=done, reason=reason, at=at)


def page_of(done):
    return reverse("side_work_take_back", args=["harbour-lights", done.pk])


def test_it_stays_on_record_with_who_and_why_and_the_log_stays_whole(tamsin, nils):
    _row, done = signed(tamsin, nils)

    void = take_back(nils, done)

    assert (void.done, void.by) == (done, nils)
    assert side_work.why_taken_back(void) == WHY
    assert WHY not in "".join(map(str, vars(void).values()))
    assert LogEntry.objects.get(kind="side_work_voided").subject_code == nils.code
    assert log.check(nils.venue) == []
    with pytest.raises(SealedError):
        void.save()


def test_whoever_signed_may_and_a_manager_and_nobody_else(marek, tamsin, pia, nils, ravna):
    _row, done = signed(tamsin, nils)
    for by, code in ((pia, "side_work_of_others"), (tamsin, "side_work_of_others"),
                     (ravna, "other_house")):  # fmt: skip
        with pytest.raises(Refused, match=code):
            take_back(by, done)
    with pytest.raises(Refused, match="taking_back_needs_reason"):
        take_back(marek, done, reason=" ")

    take_back(marek, done)

    with pytest.raises(Refused, match="side_work_taken_back"):
        take_back(nils, done)
    assert SideTakenBack.objects.count() == 1


def test_the_list_goes_back_to_who_signed_before(tamsin, pia, nils):
    row, first = signed(tamsin, pia, hours=4)
    [slip] = side_work.sign(by=nils, tasks=[row], at=AT + HOUR)
    assert shown(row, AT + 2 * HOUR).done == slip

    take_back(nils, slip, at=AT + 2 * HOUR)

    line = shown(row, AT + 4 * HOUR)
    assert (line.done, line.void, line.overdue) == (first, slip, True)
    [anew] = side_work.sign(by=pia, tasks=[row], at=AT + 4 * HOUR)
    line = shown(row, AT + 5 * HOUR)
    assert (line.done, line.void) == (anew, None)


def test_the_next_day_nothing_is_said_of_it(tamsin, nils):
    row, done = signed(tamsin, nils)
    take_back(nils, done)

    assert shown(row, AT + 2 * HOUR).void == done
    assert shown(row, AT + 24 * HOUR).void is None


def test_before_it_counted_for_the_bar_back_and_since_then_it_does_not(tamsin, nils):
    _row, done = signed(tamsin, nils, station=station(tamsin, "bar-back"))
    take_back(nils, done)

    def undone(at):
        [found] = task_rows(station(nils, "bar-back"), [nils], at)
        [reason] = [r for r in found.verdict.missing if r.code == "tasks_not_done"]
        return reason.values["count"]

    assert undone(AT + HOUR) == undone(AT + HOUR - dt.timedelta(seconds=1)) + 1


def test_the_reason_goes_with_the_person(odalys, tamsin, nils):
    _row, done = signed(tamsin, nils)
    void = take_back(nils, done)
    enrol.mark_left(by=odalys, membership=nils, at=AT + 2 * HOUR)

    enrol.erase_person(by=odalys, membership=nils, at=AT + 3 * HOUR)

    assert side_work.why_taken_back(void) == ""
    assert not PersonalText.objects.filter(text=WHY).exists()
    assert log.check(odalys.venue) == []


def test_on_the_page_it_is_found_taken_back_and_told(visit, marek, tamsin, pia, nils):
    _row, done = signed(tamsin, nils)
    page = page_of(done)
    with time_machine.travel(AT + HOUR, tick=False):
        for who, leads in ((nils, True), (marek, True), (pia, False)):
            assert (page in visit(who).get(PATH).content.decode()) is leads, who.name
        assert "Nils, who signed it, can take it back" in visit(pia).get(page).content.decode()
        refused = visit(pia).send(page, {"reason": WHY})
        assert "Whoever signed it takes it back, or a manager." in refused.content.decode()
        assert visit(nils).send(page, {"reason": ""}).status_code == 200
        assert not SideTakenBack.objects.exists()
        onward = visit(nils).send(page, {"reason": WHY})
        listed = visit(pia).get(PATH).content.decode()
        told = visit(nils).get(page).content.decode()

    assert onward["Location"] == f"{PATH}?station=well"
    assert "taken back by Nils" in listed
    assert "Taken back by Nils on" in told
    assert "other bar" in told


def test_nobody_elses_house_and_no_other_number(visit, tamsin, nils, ravna):
    _row, done = signed(tamsin, nils)

    assert visit(ravna).get(page_of(done)).status_code == 404
    assert visit(nils).get(page_of(done).replace(str(done.pk), "9" * 9)).status_code == 404


def test_a_number_of_one_house_is_nothing_at_another_ones_address(visit, tamsin, nils, ravna):
    _row, done = signed(tamsin, nils)
    theirs = reverse("side_work_take_back", args=[ravna.venue.slug, done.pk])

    assert visit(ravna).get(theirs).status_code == 404
    assert visit(ravna).send(theirs, {"reason": WHY}).status_code == 404
    assert visit(nils).send(theirs, {"reason": WHY}).status_code == 404
    assert not SideTakenBack.objects.exists()


@pytest.mark.parametrize("number", [0, 2**63, 10**40])
def test_a_number_that_no_row_can_have_is_not_there(visit, nils, number):
    page = reverse("side_work_take_back", args=["harbour-lights", number])

    assert visit(nils).get(page).status_code == 404


def test_why_it_was_taken_back_is_for_whoever_could_and_for_trainers(
    visit, marek, tamsin, pia, nils
):
    _row, done = signed(tamsin, nils)
    take_back(nils, done)
    other = make.hire(marek, "Bo")

    told = {
        who.name: "other bar" in visit(who).get(page_of(done)).content.decode()
        for who in (nils, other, pia, marek)
    }

    assert told == {"Nils": True, "Bo": False, "Pia": True, "Marek": True}


def test_two_houses_sign_apart(tamsin, nils, ravna):
    """What Ravna's house takes back is nothing to this one."""
    other = make.hire(ravna, "Bo")
    _row, ours = signed(tamsin, nils)
    theirs = task(ravna)
    [done] = side_work.sign(by=other, tasks=[theirs], at=AT)
    take_back(other, done)

    assert shown(ours.task, AT + HOUR).done == ours
