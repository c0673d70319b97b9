"""Guessing is slowed down by account and device; nobody keeps an owner's own phone out."""

import datetime as dt

import pytest

from barcourse.people import enrol, signing_in
from barcourse.people.models import SignInTry
from barcourse.people.signing_in import TRIES_A_DEVICE, TRIES_BY_STRANGE_DEVICES, WINDOW
from tests.factories import people as make

PAGE = "/sign-in/"
WRONG = {"sign_in": "nils", "password": "not it"}
RIGHT = {"sign_in": "nils", "password": make.PASSWORD}


def text(response):
    return response.content.decode()


def wrong_tries(browser, many, sign_in="nils"):
    for _ in range(many):
        browser.send(PAGE, {**WRONG, "sign_in": sign_in})


def test_the_right_password_lets_in_however_the_name_is_typed(visit, nils):
    browser = visit()

    assert browser.send(PAGE, {**RIGHT, "sign_in": " NILS "}).url == "/"
    assert browser.session["_auth_user_id"] == str(nils.person.pk)


@pytest.mark.parametrize(
    ("typed", "sentence"),
    [
        (WRONG, "go together"),
        ({**RIGHT, "sign_in": "nobody"}, "go together"),
        ({**RIGHT, "sign_in": "two words"}, "go together"),
        ({**RIGHT, "sign_in": "ni\x00ls"}, "Null characters"),
        ({"sign_in": "nils"}, "This field is required."),
    ],
)
def test_a_wrong_one_is_told_kindly_and_keeps_the_name(visit, nils, typed, sentence):
    response = visit().send(PAGE, typed)

    assert response.status_code == 200
    assert sentence in text(response)
    assert make.PASSWORD not in text(response)
    if "\x00" not in typed["sign_in"]:
        assert f'value="{typed["sign_in"]}"' in text(response)


def test_ten_wrong_tries_on_a_device_and_it_waits_even_with_the_right_password(visit, nils):
    browser = visit()
    wrong_tries(browser, TRIES_A_DEVICE - 1)
    assert "go together" in text(browser.send(PAGE, WRONG))

    response = browser.send(PAGE, RIGHT)

    assert "try again in 15 minutes" in text(response)
    assert "_auth_user_id" not in browser.session


def test_another_account_on_that_device_and_another_device_do_not_wait(visit, nils, tamsin):
    browser = visit()
    wrong_tries(browser, TRIES_A_DEVICE)

    assert browser.send(PAGE, {**RIGHT, "sign_in": "tamsin"}).url == "/"
    assert visit().send(PAGE, RIGHT).url == "/"


def test_a_name_typed_otherwise_is_the_same_account(visit, nils):
    browser = visit()
    wrong_tries(browser, TRIES_A_DEVICE, sign_in=" NiLs")

    assert "try again" in text(browser.send(PAGE, RIGHT))


def test_after_a_quarter_of_an_hour_it_goes_on(visit, nils):
    browser = visit()
    wrong_tries(browser, TRIES_A_DEVICE)
    SignInTry.objects.update(at=make.OPENED)

    assert browser.send(PAGE, RIGHT).url == "/"


def test_a_right_password_wipes_the_wrong_ones_on_that_device(visit, nils):
    browser = visit()
    wrong_tries(browser, TRIES_A_DEVICE - 1)
    browser.send(PAGE, RIGHT)
    wrong_tries(browser, TRIES_A_DEVICE - 1)

    assert browser.send(PAGE, RIGHT).url == "/"


def many_strange_devices(account, at, many=TRIES_BY_STRANGE_DEVICES):
    SignInTry.objects.bulk_create(
        SignInTry(account=account, device=f"strange-{n}", worked=False, at=at) for n in range(many)
    )


def test_a_new_device_for_each_try_does_not_help_and_the_owners_own_phone_gets_in(db):
    at = make.OPENED
    account = signing_in._account("odalys")
    SignInTry.objects.create(account=account, device="own-phone", worked=True, at=at)
    many_strange_devices(account, at)

    assert signing_in.minutes_to_wait(account, "strange-new", at) == 15
    assert signing_in.minutes_to_wait(account, "own-phone", at) == 0
    assert signing_in.minutes_to_wait(signing_in._account("nils"), "strange-new", at) == 0


@pytest.mark.parametrize(
    ("after", "minutes"),
    [
        (dt.timedelta(0), 15),
        (dt.timedelta(seconds=1), 15),
        (dt.timedelta(minutes=1), 14),
        (WINDOW - dt.timedelta(seconds=1), 1),
        (WINDOW, 0),
    ],
)
def test_how_long_it_waits(db, after, minutes):
    account = signing_in._account("odalys")
    SignInTry.objects.bulk_create(
        SignInTry(account=account, device="d", worked=False, at=make.OPENED)
        for _ in range(TRIES_A_DEVICE)
    )

    assert signing_in.minutes_to_wait(account, "d", make.OPENED + after) == minutes


def test_what_was_typed_is_not_stored(visit, nils):
    visit().send(PAGE, {"sign_in": make.PASSWORD, "password": "oops"})

    stored = SignInTry.objects.values().get()
    assert all(make.PASSWORD not in str(value) for value in stored.values())


def test_old_tries_are_thrown_away(visit, nils):
    many_strange_devices(signing_in._account("odalys"), make.OPENED, many=3)

    visit().send(PAGE, WRONG)

    assert SignInTry.objects.count() == 1


def test_whoever_left_is_told_so_and_not_let_in(visit, odalys, nils):
    enrol.mark_left(by=odalys, membership=nils, at=make.OPENED)
    browser = visit()

    response = browser.send(PAGE, RIGHT)

    assert "You have left Harbour Lights." in text(response)
    assert "_auth_user_id" not in browser.session


def test_but_not_to_somebody_who_guesses(visit, odalys, nils):
    enrol.mark_left(by=odalys, membership=nils, at=make.OPENED)

    assert "have left" not in text(visit().send(PAGE, WRONG))


@pytest.mark.parametrize(
    ("onward", "goes_to"),
    [
        ("/h/harbour-lights/people/", "/h/harbour-lights/people/"),
        ("https://elsewhere.example/", "/"),
        ("//elsewhere.example/", "/"),
        ("javascript:alert(1)", "/"),
        ("", "/"),
    ],
)
def test_it_goes_on_to_where_one_wanted_but_never_off_the_site(visit, nils, onward, goes_to):
    assert visit().send(PAGE, {**RIGHT, "next": onward}).url == goes_to


def test_the_page_carries_on_where_one_wanted_to_go(visit, db):
    assert 'value="/h/x/people/"' in text(visit().get("/sign-in/?next=/h/x/people/"))


def test_signing_out(visit, nils):
    browser = visit(nils)

    assert browser.get("/sign-out/").status_code == 405
    assert browser.send("/sign-out/").url == PAGE
    assert "_auth_user_id" not in browser.session
    assert visit().send("/sign-out/").url == "/sign-in/?next=/"


def test_signing_in_is_forgery_proof(nils):
    from django.test import Client

    response = Client(enforce_csrf_checks=True).post(PAGE, RIGHT)

    assert response.status_code == 403
    assert "open for too long" in text(response)
