"""A forgotten password: a link from somebody above, once, for this house alone."""

import datetime as dt

import pytest
from django.urls import reverse
from django.utils import timezone

from barcourse.people import enrol, log, new_password
from barcourse.people.models import LogEntry, PasswordLink
from barcourse.people.reasons import Refused
from tests.factories import people as make

NEW = "the-tide-comes-in-twice"
AT = make.OPENED


def refusal(call):
    with pytest.raises(Refused) as refused:
        call()
    return refused.value.reason.code


def made(by, member, at=AT):
    return new_password.make_link(by=by, membership=member, at=at)[1]


def set_it(token, password=NEW, at=AT):
    return new_password.set_password(token=token, password=password, at=at)


def text(response):
    return response.content.decode()


def test_a_link_sets_a_new_password_once_and_the_log_says_who_made_it(marek, nils):
    token = made(marek, nils)
    set_it(token)

    nils.person.refresh_from_db()
    assert nils.person.check_password(NEW)
    assert refusal(lambda: set_it(token)) == "password_link_dead"
    entries = LogEntry.objects.filter(venue=nils.venue).order_by("-number")[:2]
    assert [(e.kind, e.by_code, e.subject_code) for e in entries] == [
        ("password_renewed", nils.code, nils.code), ("password_link_made", marek.code, nils.code),
    ]  # fmt: skip
    assert log.check(nils.venue) == []


def test_the_token_is_stored_nowhere(marek, nils):
    token = made(marek, nils)

    assert token not in str(list(PasswordLink.objects.values()))
    assert token not in str(list(LogEntry.objects.values()))


def test_it_holds_a_day_and_a_newer_one_kills_it(marek, nils):
    first, second = made(marek, nils), made(marek, nils)

    assert refusal(lambda: new_password.find_link(token=first, at=AT)) == "password_link_dead"
    late = AT + dt.timedelta(hours=24)
    assert new_password.find_link(token=second, at=late - dt.timedelta(seconds=1))
    assert refusal(lambda: set_it(second, at=late)) == "password_link_dead"
    assert refusal(lambda: set_it("made-up")) == "password_link_dead"


def test_a_weak_password_is_refused_and_leaves_the_link_alive(marek, nils):
    token = made(marek, nils)

    assert refusal(lambda: set_it(token, password="12345678")) == "password_weak"
    assert set_it(token).pk == nils.pk


def test_only_for_people_whose_role_one_may_give(odalys, marek, tamsin, nils):
    other = make.hire(odalys, "Mona", "manager")

    assert all(made(by, whom) for by, whom in ((odalys, marek), (marek, tamsin), (marek, nils)))
    assert refusal(lambda: made(marek, odalys)) == "password_not_yours_to_renew"
    assert refusal(lambda: made(marek, other)) == "password_not_yours_to_renew"
    assert refusal(lambda: made(tamsin, nils)) == "password_not_yours_to_renew"
    assert refusal(lambda: made(odalys, odalys)) == "password_of_ones_own"


def test_nobody_who_works_in_another_house_too(marek, nils, ravna):
    """Who makes a link could use it: it must not open a house that isn't theirs."""
    token = made(marek, nils)
    make.join_as(ravna, nils.person)

    assert refusal(lambda: made(marek, nils)) == "password_opens_another_house"
    assert refusal(lambda: set_it(token)) == "password_link_dead"
    assert refusal(lambda: made(ravna, nils)) == "other_house"


def test_a_link_dies_with_what_gave_the_right_to_make_it(odalys, marek, nils):
    token = made(marek, nils)
    enrol.change_role(by=odalys, membership=nils, role="manager", at=AT)
    assert refusal(lambda: set_it(token)) == "password_link_dead"

    token = made(odalys, nils)
    enrol.mark_left(by=odalys, membership=nils, at=AT)
    assert refusal(lambda: set_it(token)) == "password_link_dead"
    assert refusal(lambda: made(odalys, nils)) == "has_left_already"


class TestOnThePages:
    @pytest.fixture
    def path(self, marek, nils):
        return reverse("password_link", args=[nils.venue.slug, nils.code])

    def test_a_manager_makes_it_and_sees_it_once(self, visit, marek, path):
        browser = visit(marek)
        assert "Make a link" in text(browser.get(path))
        assert browser.send(path, {}).url == path

        shown = browser.get(path)
        assert "/password/" in text(shown)
        assert shown["Cache-Control"] == "no-store"
        assert "/password/" not in text(browser.get(path))

    def test_a_manager_gets_to_it_from_the_people(self, visit, marek, nils, path):
        assert path in text(visit(marek).get(reverse("people", args=[nils.venue.slug])))

    def test_whoever_forgot_it_sets_a_new_one_and_is_in(self, visit, marek, nils):
        token = made(marek, nils, at=timezone.now())
        browser, link = visit(), reverse("new_password", args=[token])
        assert "Hello, Nils" in text(browser.get(link))

        assert browser.send(link, {"password": NEW}).url == "/"
        assert browser.session["_auth_user_id"] == str(nils.person.pk)
        assert visit().get(link).status_code == 410

    def test_a_session_with_the_old_password_ends(self, visit, marek, nils):
        before = visit(nils)
        home = reverse("next_shift", args=[nils.venue.slug])
        assert before.get(home).status_code == 200

        set_it(made(marek, nils, at=timezone.now()), at=timezone.now())
        assert before.get(home).status_code == 302

    def test_a_password_too_short_is_said_beside_the_field(self, visit, marek, nils):
        link = reverse("new_password", args=[made(marek, nils, at=timezone.now())])

        answer = visit().send(link, {"password": "short"})
        assert answer.status_code == 200
        assert "aria-invalid" in text(answer)

    def test_who_may_not_is_told_why_and_sees_no_button(self, visit, marek, odalys):
        page = text(
            visit(marek).get(reverse("password_link", args=[odalys.venue.slug, odalys.code]))
        )

        assert "an owner makes the link" in page
        assert "Make a link</button>" not in page

    def test_strangers_and_small_roles(self, visit, path, tamsin, nils, ravna):
        assert visit(tamsin).get(path).status_code == 403
        assert visit(nils).get(path).status_code == 403
        assert visit(ravna).get(path).status_code == 404
        assert visit(tamsin).send(path, {}).status_code == 403
