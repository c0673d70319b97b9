"""Side work: short lists by station, signed by whoever did it."""

import datetime as dt

import pytest
import time_machine
from django.urls import reverse

from barcourse.people import log, side_work
from barcourse.people.models import LogEntry, SideDone, SideTask, Station
from barcourse.people.models.side_work import Moment
from barcourse.people.reasons import Refused
from barcourse.people.sealed import SealedError
from tests.factories import people as make

AT = make.OPENED  # a Thursday, three in the afternoon
HOUR = dt.timedelta(hours=1)
PATH = reverse("side_work", args=["harbour-lights"])
LISTS = reverse("side_work_edit", args=["harbour-lights"])


def station(member, slug="well"):
    return Station.objects.select_related("venue").get(venue=member.venue, slug=slug)


def task(by, when="opening", **more):
    said = {"station": station(by), "text": "Mats down", **more}
    return side_work.add_task(by=by, when=when, at=AT, **said)


def shown(row, at):
    lines = [x for lst in side_work.lists_at(station(row), at) for x in lst.tasks]
    return next(line for line in lines if line.task == row)


def test_every_shipped_task_is_for_a_station_of_a_new_house_and_known_moments():
    tasks = side_work.shipped_tasks()

    assert {t["station"] for t in tasks} == {"well", "service-bar", "beer-point", "bar-back"}
    assert {t["when"] for t in tasks} == {moment.value for moment in Moment}
    assert all(len(t["text"]) <= 200 and len(t.get("caution", "")) <= 300 for t in tasks)


@pytest.mark.parametrize(
    ("about", "words"),
    [
        ("Lines cleaned", "caustic"),
        ("Cellar looked at", "gas can kill"),
        ("Glass broken near the ice", "empty the whole bin, melt, wash, refill"),
        ("Keg changed", "two people"),
        ("Ice burnt", "scalds"),
    ],
)
def test_what_can_hurt_carries_its_caution(about, words):
    found = [t for t in side_work.shipped_tasks() if t["text"].startswith(about)]

    assert found
    assert all(words in t["caution"] for t in found)


def test_a_new_house_starts_with_them(odalys):
    assert SideTask.objects.in_house(odalys.venue).count() == len(side_work.shipped_tasks())
    assert log.check(odalys.venue) == []


def test_brought_in_later_only_where_a_station_has_none(odalys, tamsin):
    for row in SideTask.objects.in_house(odalys.venue).at(station(odalys)):
        side_work.remove_task(by=tamsin, task=row, at=AT)
    wells = [t for t in side_work.shipped_tasks() if t["station"] == "well"]

    assert len(side_work.bring_in_shipped(by=tamsin, at=AT)) == len(wells)
    assert side_work.bring_in_shipped(by=tamsin, at=AT) == []
    assert LogEntry.objects.filter(kind="side_work_brought_in").count() == 1
    assert log.check(odalys.venue) == []


def test_signed_it_is_sealed_and_theirs_who_signed(tamsin, nils):
    rows = side_work.sign(by=nils, tasks=[task(tamsin), task(tamsin, "closing")], at=AT)

    assert [row.by for row in SideDone.objects.all()] == [nils, nils]
    assert LogEntry.objects.filter(kind="side_work_done", by_code=nils.code).count() == 2
    assert log.check(nils.venue) == []
    with pytest.raises(SealedError):
        rows[0].save()


@pytest.mark.parametrize(
    ("when", "later", "counts"),
    [
        ("opening", 11 * HOUR, True),  # two at night, the same business day
        ("opening", 14 * HOUR, False),  # five in the morning, the next one
        ("weekly", 6 * 24 * HOUR, True),
        ("weekly", 7 * 24 * HOUR, False),
    ],
)
def test_it_counts_for_the_night_or_for_the_week(tamsin, nils, when, later, counts):
    row = task(tamsin, when)
    side_work.sign(by=nils, tasks=[row], at=AT)

    assert (shown(row, AT + later).done is not None) is counts


def test_what_was_made_ready_is_thrown_away_at_its_hour(tamsin, nils):
    row = task(tamsin, text="Limes cut", hours=4)
    [done] = side_work.sign(by=nils, tasks=[row], at=AT)

    assert done.discard_at == AT + 4 * HOUR
    assert not shown(row, AT + 4 * HOUR - dt.timedelta(seconds=1)).overdue
    assert shown(row, AT + 4 * HOUR).overdue
    side_work.sign(by=nils, tasks=[row], at=AT + 4 * HOUR)  # cut anew
    assert not shown(row, AT + 5 * HOUR).overdue


def test_what_is_off_the_list_or_another_houses_or_nothing_is_not_signed(tamsin, nils, ravna):
    row = task(tamsin)
    with pytest.raises(Refused, match="side_work_none"):
        side_work.sign(by=nils, tasks=[], at=AT)
    with pytest.raises(Refused, match="other_house"):
        side_work.sign(by=ravna, tasks=[row], at=AT)
    with pytest.raises(Refused, match="other_house"):
        side_work.remove_task(by=ravna, task=row, at=AT)
    with pytest.raises(Refused, match="other_house"):
        side_work.add_task(by=ravna, station=station(tamsin), when="opening", text="x", at=AT)
    side_work.remove_task(by=tamsin, task=row, at=AT)
    row.refresh_from_db()
    for again in (
        lambda: side_work.sign(by=nils, tasks=[row], at=AT),
        lambda: side_work.remove_task(by=tamsin, task=row, at=AT),
    ):
        with pytest.raises(Refused, match="side_task_gone"):
            again()


def test_on_the_page_a_trainee_signs_what_is_ticked(visit, tamsin, nils):
    row, browser = task(tamsin, text="Limes cut", hours=4), visit(nils)
    with time_machine.travel(AT, tick=False):
        assert browser.send(PATH, {"done": [row.code]}).status_code == 302
        page = browser.get(PATH).content.decode()

    assert SideDone.objects.get().by == nils
    assert "throw away at" in page


def test_nothing_ticked_is_said_and_a_strange_task_is_not_there(visit, tamsin, nils, ravna):
    task(tamsin)
    strange = SideTask.objects.in_house(ravna.venue).first()

    assert "Tick what you have done" in visit(nils).send(PATH).content.decode()
    assert visit(nils).send(PATH, {"done": [strange.code]}).status_code == 404
    assert visit(nils).get(PATH, {"station": "roof"}).status_code == 404
    assert not SideDone.objects.exists()


def test_a_trainer_changes_the_lists(visit, tamsin):
    browser = visit(tamsin)
    said = {"station": "well", "when": "closing", "text": "Candles out", "hours": ""}
    assert browser.send(LISTS, said).status_code == 302
    row = SideTask.objects.get(text="Candles out")
    gone = reverse("side_work_remove", args=["harbour-lights", row.code])

    assert browser.send(gone).status_code == 302
    assert "Candles out" not in browser.get(LISTS).content.decode()


@pytest.mark.parametrize(
    "wrong", [{"text": ""}, {"when": "never"}, {"hours": "0"}, {"station": ""}]
)
def test_a_task_that_makes_no_sense_is_shown_again(visit, tamsin, wrong):
    said = {"station": "well", "when": "closing", "text": "Candles out", "hours": "", **wrong}
    before = SideTask.objects.count()

    assert visit(tamsin).send(LISTS, said).status_code == 200
    assert SideTask.objects.count() == before


def test_whoever_signs_after_somebody_else_reads_it(visit, marek, nils, tamsin):
    row = task(tamsin)
    sent = {"station": "well", "done": [row.code]}
    with time_machine.travel(AT, tick=False):
        first = visit(nils).send(PATH, sent, follow=True).content.decode()
        late = visit(marek).send(PATH, sent, follow=True).content.decode()
        again = visit(marek).send(PATH, sent, follow=True).content.decode()

    told = "Nils had signed “Mats down” before you: both are on record."
    assert (told in first, told in late, "before you" in again) == (False, True, False)
    assert SideDone.objects.filter(task=row).count() == 3
    assert log.check(nils.venue) == []
