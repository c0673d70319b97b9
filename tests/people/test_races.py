"""Two at the same moment, with real transactions on real connections."""

import threading
import uuid

import pytest
from django.db import connection
from django.urls import reverse

from barcourse.people import enrol, log
from barcourse.people.models import Invitation, LogEntry, Membership, Person
from barcourse.people.reasons import Refused
from barcourse.people.roles import Role
from tests.cast import Visitor
from tests.factories import people as make

pytestmark = pytest.mark.django_db(transaction=True)


def at_once(*calls):
    """Results or exceptions of the calls, each on a thread and a connection of its own."""
    barrier, results = threading.Barrier(len(calls)), [None] * len(calls)

    def run(place, call):
        barrier.wait()
        try:
            results[place] = call()
        except Exception as error:  # noqa: BLE001  (the test looks at it)
            results[place] = error
        finally:
            connection.close()

    threads = [threading.Thread(target=run, args=pair) for pair in enumerate(calls)]
    for thread in threads:
        thread.start()
    for thread in threads:
        thread.join()
    return results


def test_a_form_sent_twice_at_once_counts_once(odalys):
    path = reverse("invite", kwargs={"house": odalys.venue.slug})
    body = {"form_key": str(uuid.uuid4()), "names": "Nils"}
    browsers = [Visitor(), Visitor()]
    for browser in browsers:
        browser.force_login(odalys.person)

    responses = at_once(*(lambda b=browser: b.post(path, body) for browser in browsers))

    assert [response.status_code for response in responses] == [302, 302]
    assert Invitation.objects.count() == 1


def test_a_link_opened_twice_at_once_lets_one_in(odalys):
    _, token = make.invite(odalys)

    def join(sign_in):
        return enrol.join(token=token, sign_in=sign_in, password=make.PASSWORD, at=make.OPENED)

    results = at_once(lambda: join("nils"), lambda: join("impostor"))

    assert sorted(type(result).__name__ for result in results) == ["Membership", "Refused"]
    assert Membership.objects.hires().count() == Person.objects.count() - 1 == 1
    assert log.check(odalys.venue) == []


def test_two_owners_who_demote_each_other_leave_one(odalys):
    marek = make.hire(odalys, "Marek", Role.OWNER)

    def demote(by, whom):
        enrol.change_role(by=by, membership=whom, role=Role.TRAINER, at=make.OPENED)

    results = at_once(lambda: demote(odalys, marek), lambda: demote(marek, odalys))

    assert sum(isinstance(result, Refused) for result in results) == 1
    assert Membership.objects.owners().count() == 1


def test_entries_written_at_once_are_numbered_without_a_gap(odalys):
    def invite(number):
        return lambda: make.invite(odalys, f"Hire {number}")

    before = log.head(odalys.venue).number
    results = at_once(*(invite(number) for number in range(8)))

    assert not [result for result in results if isinstance(result, Exception)]
    assert LogEntry.objects.filter(number__gt=before).count() == 8
    assert log.check(odalys.venue) == []


def test_two_houses_of_one_name_get_two_addresses(odalys):
    def open_house(owner):
        return make.open_house("Pier", owner=owner)

    results = at_once(lambda: open_house("Ravna"), lambda: open_house("Bo"))

    slugs = {result.venue.slug for result in results if isinstance(result, Membership)}
    assert slugs == {"pier", "pier-2"}
