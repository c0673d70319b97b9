"""Refused sales and incidents: quick to note, sealed, and without words in the sealed row."""

import datetime as dt
import html
import re

import pytest
import time_machine
from django.urls import reverse

from barcourse.people import log, refusals
from barcourse.people.models import LogEntry, PersonalText, Refusal
from barcourse.people.models.refusal import REFUSED, What
from barcourse.people.reasons import Refused
from barcourse.people.sealed import SealedError
from barcourse.people.views.refusals import SHOWN, last_time
from tests.factories import people as make

AT = make.OPENED
PATH = reverse("refusals", args=["harbour-lights"])


def note(by, what="drunk", **more):
    return refusals.note(by=by, what=what, **{"happened_at": AT, "at": AT, **more})


@pytest.mark.parametrize("what", What)
def test_each_is_sealed_with_its_entry(nils, what):
    row = note(nils, what, words="A group of four, sent home by taxi.")

    entry = LogEntry.objects.get(row_table="people_refusal")
    assert entry.kind == ("sale_refused" if what in REFUSED else "incident_noted")
    assert (entry.by_code, entry.facts) == (nils.code, {"what": what.value})
    assert log.check(nils.venue) == []
    with pytest.raises(SealedError):
        row.save()


def test_the_sealed_row_and_its_entry_hold_no_words(nils):
    row = note(nils, words="Asked for Tom")

    held = [*vars(row).values(), *vars(LogEntry.objects.get(row_table="people_refusal")).values()]
    assert not any("Tom" in str(value) for value in held)
    assert PersonalText.objects.get(code=row.text_code).text == "Asked for Tom"


@pytest.mark.parametrize(
    ("ago", "why"),
    [(dt.timedelta(minutes=-1), "refusal_to_come"),
     (dt.timedelta(hours=24, minutes=1), "refusal_time")],
)  # fmt: skip
def test_only_what_happened_within_a_day_is_noted(nils, ago, why):
    with pytest.raises(Refused, match=why):
        note(nils, happened_at=AT - ago)


def test_something_else_needs_a_word_about_it(nils):
    with pytest.raises(Refused, match="refusal_needs_words"):
        note(nils, "other", words="  ")


def test_erasing_the_words_leaves_the_rest_and_the_log_whole(nils, marek):
    row = note(nils, words="In a red coat")

    refusals.erase_words(by=marek, row=row, at=AT)

    [entry] = refusals.newest(nils.venue, 9)
    assert (entry.words, entry.erased, entry.row) == ("", True, row)
    assert log.check(nils.venue) == []


def test_there_may_be_nothing_to_erase_or_another_house_asks(nils, marek, ravna):
    with pytest.raises(Refused, match="refusal_without_words"):
        refusals.erase_words(by=marek, row=note(nils), at=AT)
    with pytest.raises(Refused, match="other_house"):
        refusals.erase_words(by=ravna, row=note(nils, words="x"), at=AT)


@pytest.mark.parametrize(
    ("clock", "said", "meant"),
    [
        ("2026-03-06 22:10", "22:10", "2026-03-06 22:10"),
        ("2026-03-06 22:10", "21:55", "2026-03-06 21:55"),
        ("2026-03-07 00:20", "23:50", "2026-03-06 23:50"),
        ("2026-03-07 00:20", "00:05", "2026-03-07 00:05"),
        ("2026-03-06 22:10", "22:11", "2026-03-06 22:11"),
        ("2026-03-06 22:10", "01:10", "2026-03-07 01:10"),
        ("2026-03-06 22:10", "01:11", "2026-03-06 01:11"),
        ("2026-03-06 15:00", "19:00", "2026-03-05 19:00"),
    ],
)
def test_a_time_of_day_is_the_last_one_that_was_or_one_soon_to_come(clock, said, meant):
    venue = make.build_venue()  # Lisbon, in winter as UTC
    at = dt.datetime.fromisoformat(clock).replace(second=30, tzinfo=dt.UTC)

    found = last_time(venue, dt.time.fromisoformat(said), at)

    assert found == dt.datetime.fromisoformat(meant).replace(tzinfo=dt.UTC)


def test_it_takes_one_tap_and_the_button(visit, nils):
    browser = visit(nils)
    with time_machine.travel(AT + dt.timedelta(days=1, seconds=40), tick=False):
        page = browser.get(PATH)
        sent = {"what": "no_proof", "time": page.context["form"]["time"].value(), "words": ""}
        answer = browser.send(PATH, sent)

    row = Refusal.objects.get()
    assert (answer.status_code, row.what, row.by) == (302, "no_proof", nils)
    assert row.happened_at == (AT + dt.timedelta(days=1)).replace(second=0)
    assert row.text_code == ""


def test_a_time_soon_to_come_is_refused_beside_the_field(visit, nils):
    browser = visit(nils)
    with time_machine.travel(AT + dt.timedelta(days=1), tick=False):
        answer = browser.send(PATH, {"what": "drunk", "time": "17:30", "words": "At the well"})

    form = answer.context["form"]
    assert "still to come" in form.errors["time"][0]
    assert form["words"].value() == "At the well"
    assert not Refusal.objects.exists()


def test_the_day_is_said_before_and_after_it_is_sealed(visit, nils):
    browser = visit(nils)
    with time_machine.travel(AT + dt.timedelta(days=1), tick=False):  # 6 March, 15:00
        before = browser.get(PATH).content.decode()
        answer = browser.send(PATH, {"what": "drunk", "time": "22:30", "words": ""})
        after = browser.get(answer["Location"]).content.decode()

    assert re.search(r"Up to 3 p\.m\. it is kept as of March 6, 2026, a later", before)
    assert "Noted as of March 5, 2026, 10:30 p.m., with your name." in after


@pytest.mark.parametrize(
    "sent",
    [{}, {"what": "sober", "time": "20:00"}, {"what": "drunk", "time": "25:00"},
     {"what": "other", "time": "00:00"}],
)  # fmt: skip
def test_what_makes_no_sense_is_shown_again_and_nothing_kept(visit, nils, sent):
    assert visit(nils).send(PATH, sent).status_code == 200
    assert not Refusal.objects.exists()


def test_a_trainee_sees_their_own_and_a_trainer_everybodys(visit, nils, tamsin):
    note(nils, words="At the door")
    note(tamsin, words="At the well")

    def seen(member):
        months = visit(member).get(PATH).context["months"]
        return [entry.words for month in months for entry in month.noted]

    assert seen(nils) == ["At the door"]
    assert seen(tamsin) == ["At the well", "At the door"]


def test_it_is_two_taps_from_every_page(visit, nils, tamsin, marek, odalys):
    for member, name in (
        (nils, "next_shift"), (tamsin, "watch"), (marek, "who_is_ready"), (odalys, "people"),
    ):  # fmt: skip
        page = visit(member).get(reverse(name, args=["harbour-lights"])).content.decode()
        assert f'href="{PATH}"' in page


def test_erasing_by_a_manager_on_the_page_counts_once(visit, nils, marek):
    row = note(nils, words="In a red coat")
    path, browser = reverse("refusal_erase", args=["harbour-lights", row.code]), visit(marek)

    assert browser.send(path).status_code == 302
    assert PersonalText.objects.get(code=row.text_code).text == ""
    again = browser.get(browser.send(path)["Location"])
    assert "erased already" in again.content.decode()


def listed(page):
    return [entry.row.what for month in page.context["months"] for entry in month.noted]


def test_the_list_is_folded_by_month_the_newest_open(visit, tamsin):
    for days in (0, 1, 40):
        when = AT + dt.timedelta(days=days)
        note(tamsin, happened_at=when, at=when)

    page = visit(tamsin).get(PATH)

    months = page.context["months"]
    assert [(m.first, len(m.noted)) for m in months] == [
        (dt.date(2026, 4, 1), 1), (dt.date(2026, 3, 1), 2),
    ]  # fmt: skip
    said = page.content.decode()
    assert said.count('<details class="more"') == 2
    assert said.count('<details class="more" open') == 1


def test_a_reason_alone_and_page_by_page(visit, tamsin):
    for n in range(SHOWN + 2):
        note(tamsin, "hours" if n % 2 else "drunk", happened_at=AT, at=AT)
    browser = visit(tamsin)

    assert set(listed(browser.get(PATH, {"what": "hours"}))) == {"hours"}
    first, second = (browser.get(PATH, {"page": n}) for n in (1, 2))
    assert (len(listed(first)), len(listed(second))) == (SHOWN, 2)
    assert "page=2" in first.content.decode()
    assert "page=1" in second.content.decode()
    assert "None of these." in browser.get(PATH, {"what": "fight"}).content.decode()


@pytest.mark.parametrize(
    "asked", [{"what": "sober"}, {"page": "0"}, {"page": "x"}, {"page": "99999"}]
)
def test_a_list_that_there_is_not_is_not_found(visit, tamsin, asked):
    assert visit(tamsin).get(PATH, asked).status_code == 404


def test_what_looks_like_a_name_is_asked_about_once(visit, nils):
    browser = visit(nils)
    with time_machine.travel(AT, tick=False):
        sent = {"what": "drunk", "time": "15:00", "words": "Tom Baker was loud"}
        asked = browser.send(PATH, sent)
        assert not Refusal.objects.exists()
        question = asked.context["form"].doubted
        other = browser.send(PATH, sent | {"sure": question, "words": "Ann Baker was loud"})
        assert not Refusal.objects.exists()
        done = browser.send(PATH, sent | {"sure": question})

    said = asked.content.decode()
    asks = "“Tom Baker”: is this a guest's name? Leave it out."
    visible = re.sub(r"<input[^>]*>", "", html.unescape(said))
    assert visible.count(asks) == 2  # at the head of the form, and beside the tick
    assert (asked.status_code, other.status_code, done.status_code) == (200, 200, 302)
    assert PersonalText.objects.get(code=Refusal.objects.get().text_code).text == sent["words"]


def test_a_station_or_a_weekday_is_no_name(visit, nils):
    with time_machine.travel(AT, tick=False):
        words = "On Thursday at the Service Bar, no ID. Left by taxi."
        answer = visit(nils).send(PATH, {"what": "drunk", "time": "15:00", "words": words})

    assert answer.status_code == 302
