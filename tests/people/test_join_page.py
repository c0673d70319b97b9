"""The page behind an invitation's link."""

import pytest
from django.test import Client
from django.urls import reverse
from django.utils import timezone

from barcourse.people import enrol
from barcourse.people.models import Invitation, Membership
from barcourse.people.signing_in import TRIES_A_DEVICE
from tests.factories import people as make

NEW = {"way": "new", "sign_in": "nils", "password": make.PASSWORD}


def text(response):
    return response.content.decode()


@pytest.fixture
def invited(odalys):
    return make.invite(odalys, "Nils Holm", at=timezone.now())


@pytest.fixture
def link(invited):
    return reverse("join", args=[invited[1]])


def test_looking_shows_house_role_and_name_and_uses_nothing_up(visit, link):
    browser = visit()

    pages = [text(browser.get(link)) for _ in range(2)]

    for words in ("Harbour Lights", "trainee", "Welcome, Nils Holm"):
        assert words in pages[1]
    assert Invitation.objects.get().used_at is None


def test_the_address_is_told_to_nobody_and_the_page_is_not_kept(visit, link):
    for response in (visit().get(link), visit().get("/join/made-up/")):
        assert response["Referrer-Policy"] == "strict-origin"
        assert response["Cache-Control"] == "no-store"


def test_a_new_hire_joins_and_stands_at_the_door(visit, link):
    browser = visit()

    assert browser.send(link, NEW).url == "/"

    nils = Membership.objects.hires().get()
    assert (nils.name, nils.person.sign_in) == ("Nils Holm", "nils")
    assert browser.get("/").status_code in {200, 302}
    assert browser.session["_auth_user_id"] == str(nils.person.pk)


def test_a_resend_lets_nobody_in_twice(visit, link):
    browser = visit()
    body = {**NEW, "form_key": "6f4c1b9e-9d0a-4c39-8f0e-9d6a5f6b7c8d"}

    answers = [browser.post(link, body) for _ in range(2)]

    # The second time the link is used up, which the kept answer must outrank.
    assert [answer.status_code for answer in answers] == [302, 302]
    assert Membership.objects.hires().count() == 1


@pytest.mark.parametrize(
    ("wrong", "sentence"),
    [
        ({"password": "short"}, "too short"),
        ({"password": ""}, "This field is required."),
        ({"sign_in": "odalys"}, "Somebody already signs in with that."),
        ({"sign_in": "two words"}, "Leave the spaces out"),
    ],
)
def test_what_is_wrong_stands_beside_its_field(visit, link, wrong, sentence):
    response = visit().send(link, {**NEW, **wrong})

    assert response.status_code == 200
    assert sentence in text(response)
    assert f'value="{wrong.get("sign_in", "nils")}"' in text(response)
    assert not Membership.objects.hires().exists()


@pytest.mark.parametrize("way", ["", "else", "me"])
def test_a_form_that_is_none_of_the_three_joins_nobody(visit, link, way):
    assert visit().send(link, {"way": way}).status_code == 200
    assert not Membership.objects.hires().exists()


def test_somebody_with_a_sign_in_joins_with_it(visit, link, ravna):
    browser = visit()

    assert browser.send(link, {**NEW, "way": "known", "sign_in": "ravna"}).url == "/"

    assert Membership.objects.hires().get().person == ravna.person


def test_guessing_a_password_here_is_slowed_down_too(visit, link, ravna):
    browser = visit()
    guess = {"way": "known", "sign_in": "ravna", "password": "wrong"}
    for _ in range(TRIES_A_DEVICE):
        assert "go together" in text(browser.send(link, guess))

    assert "try again in" in text(browser.send(link, guess))


def test_who_is_signed_in_joins_with_one_tap(visit, link, ravna):
    browser = visit(ravna)
    assert "Join as Ravna" in text(browser.get(link))

    assert browser.send(link, {"way": "me"}).url == "/"

    assert Membership.objects.hires().get().person == ravna.person


def test_who_is_here_already_is_told_so_and_the_link_lives(visit, link, odalys):
    response = visit(odalys).send(link, {"way": "me"})

    assert "You already work at Harbour Lights" in text(response)
    assert Invitation.objects.get().used_at is None


class TestDeadLinks:
    """Each says which it is, to those who look and to those who send."""

    def check(self, visit, link, sentence):
        for response in (visit().get(link), visit().send(link, NEW)):
            assert response.status_code == 410
            assert sentence in text(response)
        assert not Membership.objects.filter(person__sign_in="nils").exists()

    def test_used(self, visit, link):
        visit().send(link, {**NEW, "sign_in": "first"})

        self.check(visit, link, "This link has been used already.")

    def test_run_out(self, visit, invited, link):
        Invitation.objects.update(expires_at=timezone.now())

        self.check(visit, link, "This link has run out.")

    def test_taken_back(self, visit, odalys, invited, link):
        enrol.withdraw_invitation(by=odalys, invitation=invited[0], at=timezone.now())

        self.check(visit, link, "This invitation was taken back.")

    def test_of_someone_who_left(self, visit, odalys, link):
        visit().send(link, {**NEW, "sign_in": "first"})
        first = Membership.objects.hires().get()
        enrol.mark_left(by=odalys, membership=first, at=timezone.now())

        self.check(visit, link, "somebody who has left Harbour Lights since")

    def test_made_up(self, visit, odalys):
        self.check(visit, "/join/AAAAAAAAAAAAAAAAAAAAAA/", "anywhere")


def test_joining_is_forgery_proof(link):
    assert Client(enforce_csrf_checks=True).post(link, NEW).status_code == 403
