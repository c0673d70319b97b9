"""What an owner changes about one person."""

import pytest
from django.urls import reverse
from django.utils import timezone

from barcourse.people import enrol
from barcourse.people.models import Membership

VERBS = ["change_role", "mark_left", "come_back", "erase_person"]


def page_of(someone, name="person"):
    return reverse(name, kwargs={"house": "harbour-lights", "code": someone.code})


def text(response):
    return response.content.decode()


def today(someone):
    return someone.venue.business_day(timezone.now())


def left(odalys, someone):
    enrol.mark_left(by=odalys, membership=someone, at=timezone.now())


def test_it_shows_who_it_is_and_what_can_be_changed(visit, odalys, nils):
    page = text(visit(odalys).get(page_of(nils)))

    assert "<h1>Nils</h1>" in page
    assert 'value="trainee"' in page
    assert f'value="{today(nils).isoformat()}"' in page
    assert "Take back" not in page


def test_a_role_is_changed(visit, odalys, nils):
    response = visit(odalys).send(page_of(nils, "change_role"), {"role": "trainer"}, follow=True)

    nils.refresh_from_db()
    assert "The role is changed." in text(response)
    assert nils.role == "trainer"


@pytest.mark.parametrize(
    ("role", "sentence"),
    [
        ("trainee", "They are trainee already."),
        ("boss", "Select a valid choice."),
        ("", "This field is required."),
    ],
)
def test_a_role_that_makes_no_sense_is_refused(visit, odalys, nils, role, sentence):
    response = visit(odalys).send(page_of(nils, "change_role"), {"role": role})

    assert response.status_code == 200
    assert sentence in text(response)


def test_the_last_owner_stays(visit, odalys):
    browser = visit(odalys)

    demoted = browser.send(page_of(odalys, "change_role"), {"role": "manager"})
    gone = browser.send(page_of(odalys, "mark_left"), {"day": today(odalys)})

    assert "This is the only owner." in text(demoted)
    assert "A house needs an owner." in text(gone)


def test_somebody_leaves_and_comes_back(visit, odalys, nils):
    browser = visit(odalys)

    response = browser.send(page_of(nils, "mark_left"), {"day": today(nils)}, follow=True)
    assert "Marked as left." in text(response)
    assert "Take back" in text(response)
    assert visit(nils).get(page_of(nils)).status_code == 404

    response = browser.send(page_of(nils, "come_back"), follow=True)
    assert "Back in the house." in text(response)
    assert visit(nils).get(page_of(nils)).status_code == 403


@pytest.mark.parametrize(
    ("day", "sentence"),
    [
        ("2026-03-04", "They started on 2026-03-05"),
        ("2999-01-01", "Choose today or an earlier day."),
        ("soon", "Enter a valid date."),
        ("", "This field is required."),
    ],
)
def test_a_day_that_makes_no_sense_is_refused_and_kept(visit, odalys, nils, day, sentence):
    response = visit(odalys).send(page_of(nils, "mark_left"), {"day": day})

    assert response.status_code == 200
    assert sentence in text(response)
    assert not day or f'value="{day}"' in text(response)
    assert Membership.objects.get(pk=nils.pk).left_day is None


def test_somebody_is_forgotten_only_on_purpose(visit, odalys, nils):
    browser = visit(odalys)
    left(odalys, nils)
    assert "This field is required." in text(browser.send(page_of(nils, "erase_person")))

    response = browser.send(page_of(nils, "erase_person"), {"sure": "on"}, follow=True)

    assert "<h1>someone erased</h1>" in text(response)
    assert "Erased." in text(response)
    assert "Take back" not in text(response)


def test_what_another_did_meanwhile_is_said(visit, odalys, nils):
    """The page was open while somebody else marked them as left."""
    left(odalys, nils)

    response = visit(odalys).send(page_of(nils, "mark_left"), {"day": today(nils)})

    assert response.status_code == 200


@pytest.mark.parametrize("name", ["person", *VERBS])
def test_who_gets_what_answer(visit, odalys, marek, nils, ravna, name):
    url = page_of(nils, name)

    def ask(member):
        browser = visit(member)
        return (browser.get(url) if name == "person" else browser.send(url)).status_code

    assert [ask(None), ask(ravna), ask(marek), ask(nils)] == [302, 404, 403, 403]
    wrong_method = visit(odalys).send(url) if name == "person" else visit(odalys).get(url)
    assert wrong_method.status_code == 405


@pytest.mark.parametrize("name", ["person", *VERBS])
def test_nobody_reaches_another_houses_people(visit, nils, ravna, name):
    url = reverse(name, kwargs={"house": "the-anchor-room", "code": nils.code})
    browser = visit(ravna)

    assert (browser.get(url) if name == "person" else browser.send(url)).status_code == 404
