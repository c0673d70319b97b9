"""A watch half tapped by a trainer who left: others see it, drop it, watch it anew."""

import pytest
import time_machine

from assessments import record_open_watch
from assessments.models import OpenWatch, WatchedBuild
from assessments.watch_places import place_of
from barcourse.people import enrol, log
from barcourse.people.models import LogEntry
from barcourse.people.reasons import Refused
from tests.assessments.pages import address, text
from tests.factories import people
from tests.factories.assessments import NOW

HEADING = "Begun by somebody who no longer watches here"


def begin(trainer, where):
    place = place_of(trainer.venue, where)
    kept = {"state": [True, "slow with the ice"]}
    return record_open_watch.keep_watch(by=trainer, place=place, forms=[], kept=kept, at=NOW)


def page_of(hire, query=""):
    return address(hire, "watch_build", hire=hire.code, drink="madras") + query


@pytest.fixture
def begun(odalys, tamsin, nils):
    """Tamsin was tapping a Madras by Nils when she left."""
    row = begin(tamsin, page_of(nils))
    enrol.mark_left(by=odalys, membership=tamsin, at=NOW)
    return row


@pytest.fixture(autouse=True)
def _today():
    with time_machine.travel(NOW, tick=False):
        yield


def test_managers_and_trainers_read_that_it_was_open_and_not_what_was_tapped(
    visit, marek, pia, nils, begun
):
    seen = {m: visit(m).get(address(m, page)).content.decode() for m, page in
            ((marek, "to_look_at"), (pia, "watch"))}  # fmt: skip

    for page in seen.values():
        assert HEADING in page
        assert "Madras by Nils" in page
        assert "begun by Tamsin" in page
        assert f'href="{page_of(nils)}"' in page
        assert "slow with the ice" not in page
    assert "drop/" in seen[marek]
    assert begun.code not in seen[pia]


def test_another_watches_it_anew_from_the_beginning(visit, pia, nils, begun):
    page = visit(pia).get(page_of(nils)).content.decode()

    assert "slow with the ice" not in page
    assert not WatchedBuild.objects.exists()


def test_a_manager_drops_it_and_the_log_says_so(visit, marek, tamsin, begun):
    path = address(marek, "drop_left_watch")
    for _twice in range(2):
        said = text(visit(marek).send(path, {"watch": begun.code}, follow=True))
        assert "Dropped. Nothing of it went on record." in said

    assert HEADING not in said
    assert not OpenWatch.objects.exists()
    assert LogEntry.objects.filter(kind="watch_dropped", subject_code=tamsin.code).count() == 1
    assert log.check(marek.venue) == []


def test_what_somebody_here_is_watching_is_theirs_alone(visit, marek, tamsin, nils):
    row = begin(tamsin, page_of(nils))

    assert HEADING not in text(visit(marek).get(address(marek, "to_look_at")))
    with pytest.raises(Refused, match="begun_by_somebody_here"):
        record_open_watch.drop_left_watch(by=marek, code=row.code, at=NOW)


def test_another_house_drops_nothing(ravna, begun):
    record_open_watch.drop_left_watch(by=ravna, code=begun.code, at=NOW)

    assert OpenWatch.objects.get() == begun


def test_whoever_became_a_trainee_watches_no_more_either(visit, odalys, marek, pia, nils):
    begin(pia, page_of(nils))
    enrol.change_role(by=odalys, membership=pia, role="trainee", at=NOW)

    assert "begun by Pia" in text(visit(marek).get(address(marek, "to_look_at")))


def test_where_the_hire_has_left_too_nobody_watches_it_anew(visit, odalys, marek, nils, begun):
    enrol.mark_left(by=odalys, membership=nils, at=NOW)

    page = visit(marek).get(address(marek, "to_look_at")).content.decode()

    assert HEADING in page
    assert page_of(nils) not in page


def test_of_a_build_taken_back_the_bare_page_is_opened(odalys, tamsin, nils):
    place = place_of(nils.venue, page_of(nils, "?as_of=2026-03-06T16%3A00&after=abc"))

    assert place.anew == page_of(nils, "?as_of=2026-03-06T16%3A00")


def test_whoever_was_to_be_watched_watches_somebody_else(visit, odalys, marek, tamsin):
    hire = people.hire(odalys, "Edda")
    begin(tamsin, address(marek, "together") + f"?a={hire.code}&b={marek.code}&d=madras")
    enrol.mark_left(by=odalys, membership=tamsin, at=NOW)

    shown = text(visit(marek).get(address(marek, "to_look_at")))

    assert "Side by side" in shown
    assert "Watch it anew" not in shown
