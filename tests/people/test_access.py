"""The order in which a page says no, and that no page forgets to have a rule."""

import pytest
from django.http import HttpResponse
from django.test import override_settings
from django.urls import include, path
from django.utils import timezone

from barcourse.people import enrol
from barcourse.people.access import READ_AND_SEND, SEND, anyone, member, signed_in
from barcourse.people.checks import every_page_has_a_rule, patterns
from barcourse.people.roles import May


def say(request, *args, **kwargs):
    place = getattr(request, "venue", None)
    words = [str(place), timezone.get_current_timezone_name(), *args, *kwargs.values()]
    return HttpResponse(" ".join(words))


inner = [
    path("book/", member(May.EDIT_BOOK)(say)),
    path("book/<slug:code>/", member(May.EDIT_BOOK)(say)),
    path("send/", member(May.EDIT_BOOK, methods=SEND)(say)),
]
urlpatterns = [
    path("open/to/all/", anyone(say)),
    path("both/", anyone(methods=READ_AND_SEND)(say)),
    path("mine/", signed_in(say)),
    path("h/<slug:house>/", include(inner)),
    path("", include("barcourse.people.urls")),
]
handler404 = "barcourse.people.error_pages.not_found"
handler403 = "barcourse.people.error_pages.forbidden"
BOOK, SEND_ONLY = "/h/harbour-lights/book/", "/h/harbour-lights/send/"


@pytest.fixture(autouse=True)
def _small_site():
    with override_settings(ROOT_URLCONF=__name__):
        yield


def test_a_page_for_anyone_opens_to_nobody_in_particular(visit, db):
    assert visit().get("/open/to/all/").status_code == 200


@pytest.mark.parametrize("path", ["/mine/", BOOK, "/h/no-such-house/book/"])
def test_nobody_is_asked_to_sign_in_whether_the_house_exists_or_not(visit, house, path):
    response = visit().get(path)

    assert (response.status_code, response.url) == (302, f"/sign-in/?next={path}")


def test_a_form_of_nobody_is_not_sent_on_after_signing_in(visit, house):
    assert visit().send(SEND_ONLY).url == "/sign-in/?next=/"


def test_who_may_gets_in_with_their_house_and_its_clock(visit, tamsin):
    response = visit(tamsin).get(f"{BOOK}madras/")

    assert response.content.decode() == "Harbour Lights Europe/Lisbon madras"


def test_the_clock_is_put_back_afterwards(visit, tamsin):
    visit(tamsin).get(BOOK)

    assert timezone.get_current_timezone_name() == "UTC"


def test_a_stranger_sees_no_such_page(visit, house, ravna):
    assert visit(ravna).get(BOOK).status_code == 404
    assert visit(ravna).get("/h/no-such-house/book/").status_code == 404


def test_whoever_left_is_a_stranger_from_that_day(visit, odalys, tamsin):
    enrol.mark_left(by=odalys, membership=tamsin, at=timezone.now())

    assert visit(tamsin).get(BOOK).status_code == 404


def test_a_role_that_is_too_little_is_told_so(visit, nils):
    response = visit(nils).get(BOOK)

    assert response.status_code == 403
    assert "another role" in response.content.decode()


def test_only_who_may_is_told_that_the_method_is_wrong(visit, tamsin, nils, ravna):
    assert visit(tamsin).send(BOOK).status_code == 405
    assert visit(tamsin).get(SEND_ONLY).status_code == 405
    assert visit(nils).get(SEND_ONLY).status_code == 403
    assert visit(ravna).get(SEND_ONLY).status_code == 404


def test_asking_for_the_head_of_a_page_is_reading(visit, tamsin):
    assert visit(tamsin).head(BOOK).status_code == 200
    assert visit(tamsin).head(SEND_ONLY).status_code == 405


def test_an_erased_persons_session_ends(visit, odalys, ravna, nils):
    browser = visit(nils)
    enrol.mark_left(by=odalys, membership=nils, at=timezone.now())
    enrol.erase_person(by=odalys, membership=nils, at=timezone.now())

    assert browser.get("/mine/").status_code == 302


def test_one_look_at_the_database_says_who_somebody_is_here(
    visit, tamsin, django_assert_num_queries
):
    browser = visit(tamsin)

    with django_assert_num_queries(3):  # session, person, membership with its house
        browser.get(BOOK)


def test_every_page_of_the_site_has_a_rule():
    with override_settings(ROOT_URLCONF="barcourse.urls"):
        assert every_page_has_a_rule() == []
        assert len(list(patterns())) > 15


def test_a_page_without_a_rule_keeps_the_site_from_starting():
    forgotten = [*urlpatterns, path("deep/", include([path("forgotten/<int:x>/", say)]))]
    with override_settings(ROOT_URLCONF=type("Urls", (), {"urlpatterns": forgotten})):
        [error] = every_page_has_a_rule()

    assert error.id == "people.E001"
    assert "'deep/forgotten/<int:x>/'" in error.msg


def test_a_decorator_that_wraps_further_keeps_the_rule():
    from django.views.decorators.cache import never_cache

    assert never_cache(anyone(say)).access_rule == anyone(say).access_rule
