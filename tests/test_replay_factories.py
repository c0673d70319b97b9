"""A factory's statements are sent again only where nothing else could come of its verb."""

import datetime as dt

import pytest
from django.db import connection

from assessments.models import WatchedBuild
from barcourse.people import log
from barcourse.people.models import LogEntry, Person
from recipes import shipped
from tests import replay_factories
from tests.factories import assessments as make
from tests.factories.assessments import LATER, NOW
from tests.factories.recipes import small_course

pytestmark = [pytest.mark.django_db, pytest.mark.sqlite_only]


@pytest.fixture(autouse=True)
def _small_and_still(monkeypatch, time_machine):
    course = small_course()
    monkeypatch.setattr(shipped, "shipped_course", lambda: course)
    monkeypatch.setattr(shipped, "shipped_rules", lambda preset="us-classic": course.rules)
    time_machine.move_to(NOW, tick=False)


@pytest.fixture
def watched_before(monkeypatch, tamsin, nils):
    """Whether the verb itself is called, of what is asked for from here on; a build of Nils's was
    watched in a test that was taken back."""
    verb, called = make.record.watch_build, []
    monkeypatch.setattr(replay_factories, "PATCHED_ALWAYS", {
        *replay_factories.PATCHED_ALWAYS, "watch_build", "PATCHED_ALWAYS", "_made", "_comes_again",
    })  # fmt: skip
    sent = replay_factories._test.sent.copy()
    monkeypatch.setattr(replay_factories, "_made", {})
    monkeypatch.setattr(replay_factories, "_comes_again", {sent.hexdigest()})

    def noted(**said):
        called.append(said["item"].recipe.slug)
        return verb(**said)

    monkeypatch.setattr(make.record, "watch_build", noted)
    point = connection.savepoint()
    make.watch(tamsin, nils)
    connection.savepoint_rollback(point)
    replay_factories._test.sent = sent
    assert len(called) == 1
    called.clear()
    return called


def test_it_is_the_same_row_with_the_rows_of_now(watched_before, tamsin, nils):
    watched = make.watch(tamsin, nils)

    assert watched_before == []
    assert watched.hire is nils
    stored = WatchedBuild.objects.get()
    assert {f.attname: getattr(watched, f.attname) for f in stored._meta.concrete_fields} == {
        f.attname: getattr(stored, f.attname) for f in stored._meta.concrete_fields
    }
    assert LogEntry.objects.order_by("-id")[0].kind == "build_watched"
    assert log.check(nils.venue) == []


@pytest.mark.parametrize(
    "differs",
    ["drink", "moment", "hire", "field of a row", "row before", "clock", "course", "program"],
)
def test_the_verb_is_called_where_anything_differs(
    watched_before, tamsin, nils, marek, time_machine, monkeypatch, differs
):
    said = {"slug": "madras", "at": NOW}
    if differs == "drink":
        said["slug"] = "gin-tonic"
    if differs == "moment":
        said["at"] = LATER
    if differs == "field of a row":
        nils.person.name = "Nils the Second"
    if differs == "row before":
        Person.objects.filter(pk=marek.person_id).update(name="Marek the Second")
    if differs == "clock":
        time_machine.move_to(NOW + dt.timedelta(seconds=1), tick=False)
    if differs == "course":
        monkeypatch.setattr(shipped, "shipped_course", object)
    if differs == "program":
        monkeypatch.setattr(make.checklist, "steps_of", lambda *_: ())

    make.watch(tamsin, marek if differs == "hire" else nils, **said)

    assert len(watched_before) == 1
