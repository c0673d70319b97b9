"""A form sent twice counts once: told on a small page of its own that counts what it did."""

import uuid

import pytest
from django.core.files.uploadedfile import SimpleUploadedFile
from django.db import connection
from django.http import HttpResponse
from django.shortcuts import redirect
from django.test import override_settings
from django.urls import include, path

from barcourse.people.access import READ_AND_SEND, anyone, member, signed_in
from barcourse.people.models import SentForm, Station, Venue
from barcourse.people.once import afterwards
from barcourse.people.roles import May
from tests.factories import people as make

KEY = "6f4c1b9e-9d0a-4c39-8f0e-9d6a5f6b7c8d"


def put_up(request):
    """Adds a station; shows the form again when `wrong` is in it."""
    venue = Venue.objects.get()
    slug = request.POST.get("slug", "") or uuid.uuid4().hex[:8]
    Station.objects.create(venue=venue, slug=slug, name=slug)
    if "wrong" in request.POST:
        afterwards(request, lambda: Station.objects.create(venue=venue, slug="told", name="told"))
        return HttpResponse("once more, please")
    if "broken" in request.POST:
        raise RuntimeError(slug)
    return redirect(f"/there/{slug}/")


def read_up(request):
    """Reads what was sent; shows the form again when `wrong` is in it."""
    READ.append(len(connection.savepoint_ids))
    if MEANWHILE:
        MEANWHILE.pop()()
        return HttpResponse("too late")
    if "wrong" in request.POST:
        afterwards(request, lambda: log_off(request))
        return HttpResponse("once more, please")
    return "read"


def write_down(request, found=None):
    READ.append((found, len(connection.savepoint_ids)))
    return put_up(request)


READ = []
"""How deep in transactions of its own each step of a form was."""
MEANWHILE = []
"""What happens while the next form is read."""


def log_off(request):
    Station.objects.create(venue=request.venue, slug="told", name="told")


urlpatterns = [
    path(
        "h/<slug:house>/read/", member(May.LEARN, methods=READ_AND_SEND, first=read_up)(write_down)
    ),
    path("put-up/", anyone(put_up, methods=READ_AND_SEND)),
    path("also/", anyone(methods=READ_AND_SEND)(put_up)),
    path("mine/", signed_in(methods=READ_AND_SEND)(put_up)),
    path("", include("barcourse.people.urls")),
]
handler400 = "barcourse.people.error_pages.bad_request"

pytestmark = pytest.mark.usefixtures("_small_site")


@pytest.fixture
def _small_site(house):
    with override_settings(ROOT_URLCONF=__name__):
        yield


def stations():
    return Station.objects.count() - 4


def send(browser, path="/put-up/", key=KEY, **data):
    return browser.post(path, {"form_key": key, **data})


def test_the_first_time_it_happens(visit):
    response = send(visit())

    assert response.status_code == 302
    assert stations() == 1


def test_a_resend_gets_the_same_redirect_and_changes_nothing(visit):
    browser = visit()
    first = send(browser)

    again = [send(browser) for _ in range(3)]

    assert {response.url for response in again} == {first.url}
    assert stations() == 1


def test_two_keys_are_two_forms(visit):
    browser = visit()
    send(browser, key=str(uuid.uuid4()))
    send(browser, key=str(uuid.uuid4()))

    assert stations() == 2


@pytest.mark.parametrize("other", [{"slug": "x", "more": "y"}, {"slug": "z"}, {}])
def test_the_same_key_with_another_body_is_refused(visit, other):
    browser = visit()
    send(browser, slug="x")

    response = send(browser, **other)

    assert response.status_code == 409
    assert "sent before with something else in it" in response.content.decode()
    assert stations() == 1


def test_the_same_key_on_another_page_is_refused(visit):
    browser = visit()
    send(browser, slug="x")

    assert send(browser, "/also/", slug="x").status_code == 409


def test_the_token_against_forged_forms_is_no_part_of_the_body(visit):
    browser = visit()
    send(browser, slug="x", csrfmiddlewaretoken="a")

    assert send(browser, slug="x", csrfmiddlewaretoken="b").status_code == 302


def test_files_are_part_of_the_body(visit):
    browser = visit()

    def with_file(content):
        return send(browser, slug="x", photo=SimpleUploadedFile("a.txt", content)).status_code

    assert [with_file(b"one"), with_file(b"one"), with_file(b"two")] == [302, 302, 409]


@pytest.mark.parametrize("key", [None, "", "12", "not-a-key"])
def test_a_form_without_a_key_is_refused(visit, key):
    response = visit().post("/put-up/", {} if key is None else {"form_key": key})

    assert response.status_code == 400
    assert stations() == 0


def test_a_form_shown_again_undoes_all_but_what_must_be_told(visit):
    response = send(visit(), slug="half-done", wrong="1")

    assert response.status_code == 200
    assert Station.objects.filter(slug="told").exists()
    assert not Station.objects.filter(slug="half-done").exists()
    assert not SentForm.objects.exists()


def test_the_corrected_form_may_carry_the_same_key(visit):
    browser = visit()
    send(browser, slug="x", wrong="1")

    assert send(browser, slug="x").status_code == 302
    assert Station.objects.filter(slug="x").exists()


def test_a_form_that_broke_the_program_undoes_all_and_may_come_again(visit):
    browser = visit()
    with pytest.raises(RuntimeError):
        send(browser, slug="x", broken="1")
    assert stations() == 0

    assert send(browser, slug="x").status_code == 302


def test_a_key_belongs_to_the_browser_that_sent_it(visit):
    send(visit(), slug="x")

    assert send(visit(), slug="x").status_code == 409


def test_or_to_the_person_on_whatever_device(visit, nils, tamsin):
    first = send(visit(nils), "/mine/", slug="x")

    assert send(visit(nils), "/mine/", slug="x").url == first.url
    assert send(visit(tamsin), "/mine/", slug="x").status_code == 409


def test_signing_in_does_not_lose_a_browsers_keys(visit, nils):
    browser = visit()
    first = send(browser, slug="x")
    browser.force_login(nils.person)

    assert send(browser, slug="x").url == first.url


# Read first, then written

READS = "/h/harbour-lights/read/"


@pytest.fixture
def reader(visit, odalys):
    READ.clear()
    return visit(odalys)


def test_what_was_sent_is_read_before_the_transaction_of_what_it_does(reader):
    assert send(reader, READS, slug="x").status_code == 302

    assert READ == [0, ("read", 1)]
    assert stations() == 1


def test_read_or_not_a_resend_gets_the_same_redirect_and_nothing_is_read(reader):
    first = send(reader, READS, slug="x")

    assert send(reader, READS, slug="x").url == first.url
    assert send(reader, READS, slug="y").status_code == 409
    assert len(READ) == 2


def test_a_page_that_reading_ends_in_keeps_no_key(reader):
    assert send(reader, READS, slug="x", wrong="1").content == b"once more, please"

    assert READ == [0]
    assert Station.objects.filter(slug="told").exists()
    assert not SentForm.objects.exists()
    assert send(reader, READS, slug="x").status_code == 302


def test_a_form_that_was_answered_while_it_was_read_gets_that_answer(reader):
    MEANWHILE.append(lambda: send(reader, READS, slug="x"))

    assert send(reader, READS, slug="x").url == "/there/x/"
    assert stations() == 1


@pytest.mark.parametrize("key", ["", "12"])
def test_without_a_key_nothing_is_read(reader, key):
    assert send(reader, READS, key=key).status_code == 400
    assert READ == []


def test_reading_needs_no_key_and_leaves_none(visit):
    assert visit().get("/put-up/").status_code == 302
    assert not SentForm.objects.exists()


def test_a_password_in_a_form_cannot_be_found_from_its_digest(visit):
    """The digest is keyed: the same body under another secret has another one."""
    send(visit(), password=make.PASSWORD)
    with override_settings(SECRET_KEY="another secret of the site, long enough to be one"):
        send(visit(), password=make.PASSWORD, key=str(uuid.uuid4()))

    assert SentForm.objects.values("body_digest").distinct().count() == 2
