"""A shared tablet: enrolled once, a PIN each; what is put on record is theirs who entered it."""

import datetime as dt

import pytest
import time_machine
from django.urls import reverse

from assessments.models import WatchedBuild
from barcourse.people import enrol, log, shared_tablet, tablet_session
from barcourse.people.models import LogEntry, Pin, PinTry, Tablet
from barcourse.people.nav import PLACES
from barcourse.people.reasons import Refused
from barcourse.people.roles import Role
from tests.cast import Visitor
from tests.factories import people as make

AT = make.OPENED
PIN = "4917"


@pytest.fixture
def tablet(marek):
    """A browser that Marek has made the house's tablet, and in which nobody is signed in now."""
    browser = Visitor()
    browser.force_login(marek.person)
    gone = browser.send(reverse("tablet_enrol", args=[marek.venue.slug]), {"name": "The well"})
    assert gone["Location"] == reverse("tablet")
    return browser


def pin_of(member, pin=PIN):
    return shared_tablet.set_pin(by=member, pin=pin, at=AT)


def enter(browser, member, pin=PIN):
    return browser.send(reverse("tablet"), {"who": member.code, "pin": pin})


def who_is_in(browser):
    return browser.session.get("_auth_user_id")


@pytest.mark.parametrize("pin", ["", "491", "491749174", "49 17", "abcd", "٤٩١٧"])
def test_a_pin_is_four_to_eight_digits(nils, pin):
    with pytest.raises(Refused, match="pin_shape"):
        pin_of(nils, pin)


@pytest.mark.parametrize("pin", ["1111", "1234", "0123", "9876", "3434", "567890"[:5]])
def test_what_anybody_tries_first_is_refused(nils, pin):
    with pytest.raises(Refused, match="pin_obvious"):
        pin_of(nils, pin)


def test_the_pin_is_kept_as_a_hash_alone_and_set_anew_by_oneself(nils):
    first = pin_of(nils)
    second = pin_of(nils, "82640")

    assert first.pk == second.pk
    assert PIN not in Pin.objects.get().hash
    assert LogEntry.objects.filter(kind="pin_set", by_code=nils.code).count() == 2
    assert log.check(nils.venue) == []


def test_the_token_of_a_tablet_is_kept_as_a_hash_alone(marek):
    row, token = shared_tablet.enrol_tablet(by=marek, name=" The well ", at=AT)

    assert (row.name, token in row.token_hash) == ("The well", False)
    assert Tablet.objects.with_token(row.token_hash) == row


def test_elsewhere_a_pin_is_worth_nothing(nils):
    pin_of(nils)
    stranger = Visitor()

    assert stranger.get(reverse("tablet")).status_code == 403
    assert enter(stranger, nils).status_code == 403
    assert who_is_in(stranger) is None


def test_a_made_up_cookie_is_no_tablet(nils):
    pin_of(nils)
    browser = Visitor()
    browser.cookies["tablet"] = "made-up:by:hand"

    assert enter(browser, nils).status_code == 403


def test_whoever_makes_it_one_is_signed_out_on_it(tablet):
    assert who_is_in(tablet) is None
    assert tablet.get(reverse("tablet")).status_code == 200


def test_people_take_turns_and_each_build_is_theirs_who_entered_the_pin(tablet, tamsin, pia, nils):
    for trainer in (tamsin, pia):
        pin_of(trainer)
        assert enter(tablet, trainer).status_code == 302
        path = reverse("watch_build", args=["harbour-lights", nils.code, "madras"])
        sent = {
            "build": tablet.get(path).context["build"],
            "help_level": "unprompted",
            "made_with": "stock",
        }
        assert tablet.send(path, sent).status_code == 302
        assert tablet.send(reverse("sign_out"))["Location"] == reverse("tablet")
        assert who_is_in(tablet) is None

    trainers = WatchedBuild.objects.order_by("pk").values_list("trainer", flat=True)
    assert list(trainers) == [tamsin.pk, pia.pk]


def test_only_those_who_are_here_and_have_a_pin_are_on_the_list(tablet, odalys, tamsin, pia, nils):
    pin_of(tamsin)
    pin_of(pia)
    enrol.mark_left(by=odalys, membership=pia, at=AT)

    shown = tablet.get(reverse("tablet")).context["people"]

    assert shown == [tamsin]
    enter(tablet, pia)
    assert who_is_in(tablet) is None


def test_a_wrong_pin_lets_nobody_in_and_counts(tablet, tamsin):
    pin_of(tamsin)

    answer = enter(tablet, tamsin, "4918")

    assert answer["Location"].endswith(f"?who={tamsin.code}")
    assert who_is_in(tablet) is None
    assert "isn&#x27;t it" in tablet.get(answer["Location"]).content.decode()
    assert PinTry.objects.get().membership == tamsin


def test_five_wrong_ones_make_person_and_tablet_wait(tablet, marek, tamsin, pia):
    pin_of(tamsin)
    pin_of(pia)
    for _try in range(shared_tablet.TRIES):
        answer = enter(tablet, tamsin, "4918")
    said = tablet.get(answer["Location"]).content.decode()
    assert "Five wrong PINs: the tablet waits for 15 minutes" in said
    assert said.count("Try once more") <= shared_tablet.TRIES - 1  # not of the fifth

    enter(tablet, tamsin)  # the right one
    assert who_is_in(tablet) is None
    enter(tablet, pia)  # somebody else, on the same tablet
    assert who_is_in(tablet) is None
    waits = tablet.get(reverse("tablet") + f"?who={pia.code}").content.decode()
    assert "the tablet waits for 15 minutes" in waits
    for page in (said, waits, tablet.get(reverse("tablet")).content.decode()):
        assert ("Tamsin" in page, "Pia" in page) == (False, False)  # no name until it goes on
    other, _token = shared_tablet.enrol_tablet(by=marek, name="Terrace", at=AT)
    now = PinTry.objects.latest("at").at
    with pytest.raises(Refused, match="pin_waits"):  # the person, on another tablet
        shared_tablet.try_pin(tablet=other, membership=tamsin, pin=PIN, at=now)
    assert shared_tablet.try_pin(tablet=other, membership=pia, pin=PIN, at=now)


def test_after_a_quarter_of_an_hour_they_go_on(marek, tamsin):
    pin_of(tamsin)
    tablet, _token = shared_tablet.enrol_tablet(by=marek, name="The well", at=AT)
    for _try in range(shared_tablet.TRIES):
        assert not shared_tablet.try_pin(tablet=tablet, membership=tamsin, pin="0", at=AT)

    almost = AT + shared_tablet.WINDOW - dt.timedelta(seconds=1)
    with pytest.raises(Refused, match="pin_waits"):
        shared_tablet.try_pin(tablet=tablet, membership=tamsin, pin=PIN, at=almost)
    after = AT + shared_tablet.WINDOW
    assert shared_tablet.try_pin(tablet=tablet, membership=tamsin, pin=PIN, at=after)


def test_five_for_five_people_make_the_tablet_wait_and_nobody_else(marek, odalys, tamsin):
    pin_of(tamsin)
    tablet, _token = shared_tablet.enrol_tablet(by=marek, name="The well", at=AT)
    for name in ("Ann", "Ben", "Cas", "Dov", "Eli"):
        someone = make.hire(odalys, name)
        shared_tablet.try_pin(tablet=tablet, membership=someone, pin="0", at=AT)

    with pytest.raises(Refused, match="tablet_waits"):
        shared_tablet.try_pin(tablet=tablet, membership=tamsin, pin=PIN, at=AT)
    assert shared_tablet.minutes_for_person(tamsin, AT) == 0


def test_a_right_one_forgives_ones_own_slips(marek, tamsin):
    pin_of(tamsin)
    tablet, _token = shared_tablet.enrol_tablet(by=marek, name="The well", at=AT)
    for _round in range(3):
        for _slip in range(shared_tablet.TRIES - 1):
            shared_tablet.try_pin(tablet=tablet, membership=tamsin, pin="0", at=AT)
        assert shared_tablet.try_pin(tablet=tablet, membership=tamsin, pin=PIN, at=AT)

    assert not PinTry.objects.exists()


def test_fifteen_in_a_day_and_only_a_manager_lets_them_go_on(marek, tamsin):
    pin_of(tamsin)
    tablet, _token = shared_tablet.enrol_tablet(by=marek, name="The well", at=AT)
    at = AT
    for number in range(shared_tablet.TRIES_A_DAY):
        at = AT + number * dt.timedelta(minutes=16)
        shared_tablet.try_pin(tablet=tablet, membership=tamsin, pin="0", at=at)

    at += dt.timedelta(hours=2)
    with pytest.raises(Refused, match="pin_needs_manager"):
        shared_tablet.try_pin(tablet=tablet, membership=tamsin, pin=PIN, at=at)
    shared_tablet.release_person(by=marek, membership=tamsin, at=at)
    assert shared_tablet.try_pin(tablet=tablet, membership=tamsin, pin=PIN, at=at)


def test_a_manager_lets_a_tablet_go_on(visit, tablet, marek, tamsin):
    pin_of(tamsin)
    for _try in range(shared_tablet.TRIES):
        enter(tablet, tamsin, "4918")
    row = Tablet.objects.get()
    slug = marek.venue.slug

    visit(marek).send(reverse("tablet_release", args=[slug, row.code]))
    visit(marek).send(reverse("pin_release", args=[slug, tamsin.code]))
    enter(tablet, tamsin)

    assert who_is_in(tablet) == str(tamsin.person.pk)
    assert {"tablet_released", "tablet_enrolled"} <= set(
        LogEntry.objects.values_list("kind", flat=True)
    )
    assert log.check(marek.venue) == []


def test_a_turn_ends_when_nobody_touches_it(tablet, tamsin):
    pin_of(tamsin)
    begun = dt.datetime(2026, 3, 6, 18, 0, tzinfo=dt.UTC)
    watch = reverse("watch", args=["harbour-lights"])
    with time_machine.travel(begun, tick=False) as clock:
        enter(tablet, tamsin)
        for _page in range(5):  # in use, it goes on
            clock.shift(tablet_session.IDLE)
            assert tablet.get(watch).status_code == 200
        clock.shift(tablet_session.IDLE + dt.timedelta(seconds=1))

        assert tablet.get(watch)["Location"] == reverse("tablet")
        assert who_is_in(tablet) is None


def test_looking_whose_turn_it_is_ends_the_turn_before(tablet, tamsin):
    pin_of(tamsin)
    enter(tablet, tamsin)

    tablet.get(reverse("tablet"))

    assert who_is_in(tablet) is None


def test_taken_out_of_use_it_lets_nobody_in_and_whoever_is_in_out(visit, tablet, marek, tamsin):
    pin_of(tamsin)
    enter(tablet, tamsin)
    code = Tablet.objects.get().code

    visit(marek).send(reverse("tablet_withdraw", args=[marek.venue.slug, code]))

    assert tablet.get(reverse("watch", args=["harbour-lights"]))["Location"] == reverse("tablet")
    assert enter(tablet, tamsin).status_code == 403


def test_by_pin_an_owner_may_do_what_a_trainer_may(tablet, odalys):
    pin_of(odalys)
    enter(tablet, odalys)

    assert tablet.get(reverse("watch", args=["harbour-lights"])).status_code == 200
    for name in ("people", "house", "papers", "log", "tablets"):
        assert tablet.get(reverse(name, args=["harbour-lights"])).status_code == 403
    shown = tablet.get(reverse("watch", args=["harbour-lights"])).context
    of_a_trainer = [label for _name, label in PLACES[Role.TRAINER]]
    assert [place.label for place in shown["places"]] == of_a_trainer
    assert tablet.get(reverse("my_pin", args=["harbour-lights"])).status_code == 403


def test_with_a_password_they_may_do_all_of_it_and_are_forgotten_as_soon(tablet, odalys):
    begun = dt.datetime(2026, 3, 6, 18, 0, tzinfo=dt.UTC)
    with time_machine.travel(begun, tick=False) as clock:
        tablet.send(reverse("sign_in"), {"sign_in": "odalys", "password": make.PASSWORD})
        assert tablet.get(reverse("people", args=["harbour-lights"])).status_code == 200
        clock.shift(tablet_session.IDLE * 2)

        assert tablet.get(reverse("people", args=["harbour-lights"])).status_code == 302


def test_a_pin_opens_no_other_house_that_one_works_in(tablet, ravna, tamsin):
    make.join_as(ravna, tamsin.person, Role.TRAINER)
    pin_of(tamsin)
    enter(tablet, tamsin)

    assert tablet.get(reverse("watch", args=["harbour-lights"])).status_code == 200
    assert tablet.get(reverse("watch", args=["the-anchor-room"])).status_code == 404
    assert tablet.get("/")["Location"].startswith("/h/harbour-lights/")


def test_nor_does_somebody_of_another_house_come_in_by_theirs(tablet, ravna):
    pin_of(ravna)
    enter(tablet, ravna)

    assert who_is_in(tablet) is None


def test_ones_pin_is_set_with_ones_password(visit, nils):
    browser, path = visit(nils), reverse("my_pin", args=["harbour-lights"])
    wrong = browser.send(path, {"password": "guess", "pin": PIN, "again": PIN})
    differs = browser.send(path, {"password": make.PASSWORD, "pin": PIN, "again": "4918"})
    assert (wrong.status_code, differs.status_code) == (200, 200)
    assert not Pin.objects.exists()

    right = browser.send(path, {"password": make.PASSWORD, "pin": PIN, "again": PIN})

    assert right.status_code == 302
    assert Pin.objects.get().membership == nils


def test_a_pin_goes_with_whoever_is_erased(odalys, marek, nils):
    pin_of(nils)
    tablet, _token = shared_tablet.enrol_tablet(by=marek, name="The well", at=AT)
    shared_tablet.try_pin(tablet=tablet, membership=nils, pin="0", at=AT)
    enrol.mark_left(by=odalys, membership=nils, at=AT)
    enrol.erase_person(by=odalys, membership=nils, at=AT)

    assert not Pin.objects.exists()
    assert not PinTry.objects.exists()


def careful(member, tablet=None):
    """A browser in which forged requests are refused, with a member in."""
    browser = Visitor(enforce_csrf_checks=True)
    if tablet:
        browser.cookies = tablet.cookies
    browser.force_login(member.person)
    return browser


def hidden(browser, path, name):
    return browser.get(path).content.decode().split(f'name="{name}" value="')[1].split('"')[0]


def form_of(browser, path):
    sent = {name: hidden(browser, path, name) for name in ("csrfmiddlewaretoken", "form_by")}
    return {**sent, "help_level": "unprompted", "made_with": "stock"}


def test_a_form_of_somebody_else_says_whose_it_was_meant_for(tablet, tamsin, pia, nils):
    """Taps of Tamsin, sent after Pia came in by PIN."""
    for trainer in (tamsin, pia):
        pin_of(trainer)
    browser, turn = careful(tamsin, tablet), reverse("tablet")
    path = reverse("watch_build", args=["harbour-lights", nils.code, "madras"])
    sent = form_of(browser, path)
    token = hidden(browser, f"{turn}?who={pia.code}", "csrfmiddlewaretoken")
    enter_as = {"who": pia.code, "pin": PIN, "csrfmiddlewaretoken": token}
    assert browser.send(turn, enter_as).status_code == 302

    answer = browser.send(path, sent)

    page = answer.content.decode()
    assert answer.status_code == 403
    assert "It was meant for Tamsin" in page
    assert "Tamsin opened this page, and Pia is in now." in page
    assert "too long" not in page
    assert f'href="{turn}"' in page
    assert not WatchedBuild.objects.exists()


def test_whoever_came_in_anew_opens_the_page_anew(tamsin, nils):
    browser = careful(tamsin)
    path = reverse("watch_build", args=["harbour-lights", nils.code, "madras"])
    sent = form_of(browser, path)

    page = careful(tamsin).send(path, sent).content.decode()

    assert "You came in anew after this page was opened." in page
    assert f'href="{path}"' in page


def test_to_somebody_of_another_house_no_name_is_told(tamsin, ravna, nils):
    path = reverse("watch_build", args=["harbour-lights", nils.code, "madras"])
    sent = form_of(careful(tamsin), path)

    page = careful(ravna).send(path, sent).content.decode()

    assert "Tamsin" not in page
    assert "open for too long" in page
