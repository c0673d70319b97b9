"""Every no in the house's own look, and never a traceback."""

import pytest
from django.db import connection
from django.test import Client, override_settings
from django.urls import include, path

from barcourse.people.access import anyone


def broken(request):
    raise RuntimeError("the secret recipe")


def broken_database(request):
    with connection.cursor() as cursor:
        cursor.execute("SELECT * FROM no_such_table")


urlpatterns = [
    path("broken/", anyone(broken)),
    path("broken-database/", anyone(broken_database)),
    path("", include("barcourse.people.urls")),
]
handler400 = "barcourse.people.error_pages.bad_request"
handler403 = "barcourse.people.error_pages.forbidden"
handler404 = "barcourse.people.error_pages.not_found"
handler500 = "barcourse.people.error_pages.server_error"


@pytest.fixture(autouse=True)
def _small_site():
    with override_settings(ROOT_URLCONF=__name__):
        yield


@pytest.fixture
def browser(db):
    return Client(raise_request_exception=False)


def ours(response):
    page = response.content.decode()
    assert '<main id="main"' in page
    assert "Traceback" not in page
    return page


def test_no_such_page(browser):
    response = browser.get("/nowhere/")

    assert response.status_code == 404
    assert "<h1>No such page</h1>" in ours(response)


def test_what_broke_stays_inside(browser):
    response = browser.get("/broken/")

    assert response.status_code == 500
    assert "That&#x27;s on us" in ours(response)
    assert "secret recipe" not in response.content.decode()


def test_a_broken_database_is_not_asked_again(browser, django_assert_num_queries):
    with django_assert_num_queries(1):
        response = browser.get("/broken-database/")

    assert "That&#x27;s on us" in ours(response)


def test_a_form_that_did_not_arrive_whole(browser):
    response = browser.post("/sign-in/", {"sign_in": "nils"})

    assert response.status_code == 400
    assert "arrive whole" in ours(response)


def test_somebody_elses_page_keeps_the_houses_bar(visit, nils):
    response = visit(nils).get("/h/harbour-lights/house/")

    assert response.status_code == 403
    assert "<span>Harbour Lights</span>" in ours(response)


def test_a_page_that_was_open_too_long(db):
    response = Client(enforce_csrf_checks=True).post("/sign-in/")

    assert response.status_code == 403
    assert "Once more, please" in ours(response)


@pytest.mark.parametrize(
    ("referer", "leads"),
    [
        ("http://testserver/h/harbour-lights/shift/", True),
        ("https://elsewhere.example/shift/", False),
        ("javascript:alert(1)", False),
        ("", False),
    ],
)
def test_a_form_of_a_page_with_another_address_leads_back_there_on_this_site(db, referer, leads):
    sender = Client(enforce_csrf_checks=True, headers={"Referer": referer} if referer else {})
    response = sender.post("/sign-out/")

    assert response.status_code == 403
    assert (f'href="{referer}">Open it anew' in ours(response)) is leads


@pytest.mark.parametrize(
    ("send", "allowed"),
    [
        (lambda browser: browser.get("/h/harbour-lights/people/invite/"), "POST"),
        (lambda browser: browser.post("/h/harbour-lights/people/"), "GET"),
        (lambda browser: browser.put("/sign-in/"), "GET, POST"),
    ],
)
def test_a_page_asked_in_the_wrong_way_leads_back_to_the_door(visit, odalys, send, allowed):
    response = send(visit(odalys))

    assert (response.status_code, response["Allow"]) == (405, allowed)
    assert '<a class="do" href="/">To the door</a>' in ours(response)
