"""What stands tapped and is not on record: kept for whoever taps it, until it is on record."""

import datetime as dt
import json
import uuid

import pytest
import time_machine
from django.urls import reverse

from assessments.models import OpenWatch, WatchedBuild
from assessments.watch_places import place_of
from barcourse.people.models import SentForm
from tests.assessments.pages import address, fields, text
from tests.factories.assessments import NOW

PLACES = {
    "watch_build": ("watch/{hire}/madras/", "Madras by Nils"),
    "watch_round": ("watch/round/{hire}/?d=madras&d=madras", "A round of 2 by Nils"),
    "together": ("watch/together/?a={hire}&b={other}&d=madras", "Side by side: Nils, Pia"),
    "pours": ("watch/pours/{hire}/", "Pour check by Nils"),
    "pace": ("watch/pace/{hire}/?station=well&orders=3&seed=4&rung_up=no", "Pace check by Nils"),
}
STATE = {"by": "x", "page": "", "print": "p", "at": 1, "state": [True, ""], "times": [["", 5]]}


def where_of(hire, other, page="watch_build"):
    path, _about = PLACES[page]
    return f"/h/{hire.venue.slug}/" + path.format(hire=hire.code, other=other.code)


def keep(browser, member, where, kept=STATE, forms=(), after=""):
    keys = [str(key) for key in forms]
    sent = json.dumps({"where": where, "forms": keys, "kept": kept, "after": after})
    return browser.put(address(member, "keep_watch"), sent, "application/json").status_code


@pytest.mark.parametrize("page", PLACES)
def test_it_is_found_under_watch_and_on_its_page(visit, tamsin, pia, nils, page):
    browser, where = visit(tamsin), where_of(nils, pia, page)
    assert keep(browser, tamsin, where) == 200

    said = text(browser.get(address(tamsin, "watch")))
    again = visit(tamsin).get(where).content.decode()

    assert PLACES[page][1] in said
    assert "not on record" in said
    assert "&quot;state&quot;: [true, &quot;&quot;]" in again


def test_nobody_else_meets_it(visit, odalys, tamsin, pia, nils):
    where = where_of(nils, pia)
    keep(visit(tamsin), tamsin, where)

    for member in (odalys, pia):
        assert "Under way" not in text(visit(member).get(address(member, "watch")))
        assert "quot;state" not in visit(member).get(where).content.decode()


def test_the_newest_taps_stand_and_the_first_ones_say_since_when(visit, tamsin, pia, nils):
    browser, where = visit(tamsin), where_of(nils, pia)
    with time_machine.travel(NOW, tick=False) as clock:
        keep(browser, tamsin, where)
        clock.shift(dt.timedelta(minutes=7))
        keep(browser, tamsin, where, {**STATE, "state": [False, "slow"]})

    row = OpenWatch.objects.get()
    assert json.loads(row.kept)["state"] == [False, "slow"]
    assert (row.begun_at, row.at) == (NOW, NOW + dt.timedelta(minutes=7))


def put_on_record(browser, where, key):
    page = browser.get(where)
    sent = {**fields(page, where), "form_key": str(key), "help_level": "unprompted"}
    return browser.post(where, {**sent, "made_with": "stock"})


def test_what_is_on_record_is_never_found_again(visit, tamsin, pia, nils):
    browser, where, key = visit(tamsin), where_of(nils, pia), uuid.uuid4()
    keep(browser, tamsin, where, forms=[key])

    assert put_on_record(browser, where, key).status_code == 302

    assert WatchedBuild.objects.count() == 1
    assert not OpenWatch.objects.exists()
    late = keep(browser, tamsin, where, forms=[uuid.uuid4(), key])
    assert late == 409  # taps still on their way when it was put on record
    assert not OpenWatch.objects.exists()
    assert SentForm.objects.filter(key=key).count() == 1


def test_nor_by_another_device_that_has_it_open_still(visit, tamsin, pia, nils):
    browser, where = visit(tamsin), where_of(nils, pia)
    keep(browser, tamsin, where)
    code = OpenWatch.objects.get().code
    assert keep(browser, tamsin, where, after=code) == 200
    put_on_record(browser, where, uuid.uuid4())

    assert keep(visit(tamsin), tamsin, where, after=code) == 409
    assert not OpenWatch.objects.exists()


def test_keeping_taps_sends_no_form(visit, tamsin, pia, nils):
    keys = [uuid.uuid4(), uuid.uuid4()]
    assert keep(visit(tamsin), tamsin, where_of(nils, pia), forms=keys) == 200
    assert not SentForm.objects.filter(key__in=keys).exists()


def test_it_is_dropped_and_begun_afresh(visit, tamsin, pia, nils):
    browser, where = visit(tamsin), where_of(nils, pia)
    keep(browser, tamsin, where)
    row = OpenWatch.objects.get()
    visit(pia).send(address(pia, "drop_watch"), {"watch": row.code})
    assert OpenWatch.objects.exists()

    said = text(browser.send(address(tamsin, "drop_watch"), {"watch": row.code}, follow=True))
    assert "Dropped. Nothing of it went on record." in said
    assert not OpenWatch.objects.exists()

    keep(browser, tamsin, where)
    assert keep(browser, tamsin, where, None) == 204
    assert not OpenWatch.objects.exists()


def test_after_a_day_it_is_gone(visit, tamsin, pia, nils):
    browser, where = visit(tamsin), where_of(nils, pia)
    with time_machine.travel(NOW, tick=False) as clock:
        keep(browser, tamsin, where)
        clock.shift(dt.timedelta(days=1))
        assert "Under way" not in text(browser.get(address(tamsin, "watch")))
        keep(browser, tamsin, where_of(nils, pia, "pours"))

    assert [row.where for row in OpenWatch.objects.all()] == [where_of(nils, pia, "pours")]


@pytest.mark.parametrize(
    "where",
    [
        "https://elsewhere.example/h/harbour-lights/watch/",
        "//elsewhere.example/h/harbour-lights/watch/x/madras/",
        "/h/the-anchor-room/watch/pours/x/",
        "/h/harbour-lights/watch/",
        "/nothing/",
        "/h/harbour-lights/watch/pours/x/?" + "d=madras&" * 200,
        "[",
        7,
    ],
)
def test_nothing_but_a_page_of_watching_is_kept(visit, tamsin, where):
    assert keep(visit(tamsin), tamsin, where) == 400
    assert not OpenWatch.objects.exists()


@pytest.mark.parametrize(
    "sent", ["", "[]", "{}", "7", '{"where": null}', "[" * 30_000, "x" * 50_000, "\udcff"]
)
def test_nonsense_is_refused(visit, tamsin, sent):
    path = address(tamsin, "keep_watch")
    body = sent.encode("utf-8", "surrogatepass")
    assert visit(tamsin).put(path, body, "application/json").status_code == 400


@pytest.mark.parametrize("kept", [[], "x", 3])
def test_what_is_tapped_is_an_object(visit, tamsin, pia, nils, kept):
    assert keep(visit(tamsin), tamsin, where_of(nils, pia), kept) == 400


def test_nobody_of_another_house_is_watched(visit, tamsin, ravna, nils):
    where = reverse("watch_build", args=["harbour-lights", ravna.code, "madras"])
    assert keep(visit(tamsin), tamsin, where) == 404


def test_one_page_has_one_address(tamsin, nils):
    at = where_of(nils, nils)
    assert place_of(nils.venue, f"{at}?").where == at
    assert place_of(nils.venue, f"{at}?as_of=a%20b").where == f"{at}?as_of=a+b"
