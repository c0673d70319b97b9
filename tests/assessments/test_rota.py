"""The rota pasted: what was read is looked at, what was not is asked, then all of it is set."""

import datetime as dt

import pytest

from assessments.models import ShiftAhead
from tests.assessments.pages import address, fields, text
from tests.assessments.test_next_shift import SATURDAY, say

TEXT = "Nils, 14 March, 18:00\nPia 3/14 20:00\nSomebody 14/3 19:00\nThe bar's rota"


def paste(browser, member, said=TEXT):
    return browser.send(address(member, "rota"), {"text": said})


def stand():
    return [
        (s.hire.name, f"{s.hire.venue.local(s.starts_at):%d %H:%M}", s.minutes, s.said_by.name)
        for s in ShiftAhead.objects.order_by("starts_at")
    ]


@pytest.fixture(autouse=True)
def _pia(pia, nils):
    """Both are here."""


def test_what_is_not_clear_is_asked_and_the_rest_is_set_in_one_go(visit, marek, nils):
    browser, path = visit(marek), address(marek, "rota")
    page = paste(browser, marek)
    sent = fields(page)

    assert "Is it read right?" in text(page)
    assert "Nils, Saturday, March 14, 2026, 6 p.m." in text(page)
    assert "Somebody 14/3 19:00 something is left to say: Nobody here is called" in text(page)
    assert not ShiftAhead.objects.exists()
    assert [sent[f"form-{n}-who"] for n in range(2)] == [[nils.code], [_code(page, "Pia")]]
    assert (sent["form-2-who"], sent["form-2-hour"]) == ([""], ["19:00"])
    assert sent["form-3-drop"] == ["on"]

    asked = browser.send(path, sent)
    assert "something is left to say: Who: This field is required." in text(asked)
    assert not ShiftAhead.objects.exists()

    done = browser.send(path, {**fields(asked), "form-2-drop": "on", "minutes": "8"}, follow=True)
    assert "2 shifts are set." in text(done)
    assert stand() == [("Nils", "14 18:00", 8, "Marek"), ("Pia", "14 20:00", 8, "Marek")]
    assert "Nils 8 minutes a day, said by Marek" in text(done)


def _code(page, name):
    [found] = [m for m in page.context["rows"].forms[0].people.values() if m.name == name]
    return found.code


def test_a_manager_s_rota_takes_the_place_of_what_hires_said_for_those_days(visit, marek, nils):
    said_himself = SATURDAY + dt.timedelta(days=2)
    say(nils, starts_at=said_himself)
    browser = visit(marek)
    browser.send(address(marek, "rota"), fields(paste(browser, marek, "Nils 14/3 18:00")))

    assert [s[1:] for s in stand()] == [("14 18:00", 5, "Marek")]
    assert "Set by Marek" in text(visit(nils).get(address(nils, "next_shift")))


@pytest.mark.parametrize(
    ("said", "sentence"),
    [
        ("Nils 1/3 18:00", "That is not ahead of us"),
        ("Nils 14/3 18:00\nNils 14/3 18:00", "leave one line out"),
        ("The bar's rota", "No line is left to set."),
    ],
)
def test_what_can_t_be_set_is_said_and_nothing_is(visit, marek, said, sentence):
    browser = visit(marek)
    page = browser.send(address(marek, "rota"), fields(paste(browser, marek, said)))

    assert sentence in text(page)
    assert not ShiftAhead.objects.exists()


def test_two_shifts_on_one_day_both_stand_and_the_earlier_one_counts(visit, marek, nils):
    say(nils, starts_at=SATURDAY + dt.timedelta(days=2))
    browser = visit(marek)
    page = paste(browser, marek, "Nils 14/3 18:00\nNils 14/3 12:00")
    done = browser.send(address(marek, "rota"), fields(page), follow=True)

    assert "2 shifts are set." in text(done)
    assert [s[1] for s in stand()] == ["14 12:00", "14 18:00"]
    said = text(visit(nils).get(address(nils, "next_shift")))
    assert "Saturday, March 14, 2026, noon" in said
    assert "1 more shift stands after it." in said

    browser.send(address(marek, "rota"), fields(paste(browser, marek, "Nils 14/3 17:00")))
    assert [s[1] for s in stand()] == ["14 17:00"]


GRID = "\tThurs 3/12\tFri\tSat 14/3\nNils\t\t18:00-02:00\t10:00-14:00, 18-23\nPia\toff\tlate\t"


@pytest.mark.parametrize("said", ["Pia 14/3 off", "Pia, Saturday, x", "Pia Saturday holiday"])
def test_who_is_off_is_left_out_and_the_rest_is_set(visit, marek, nils, said):
    browser = visit(marek)
    page = paste(browser, marek, f"Nils 14/3 18:00\n{said}")

    assert f"{said} off: left out" in text(page)
    browser.send(address(marek, "rota"), fields(page))
    assert [s[0] for s in stand()] == ["Nils"]


def test_a_grid_of_names_and_days_is_read_looked_at_and_set(visit, marek, nils):
    browser, path = visit(marek), address(marek, "rota")
    page = paste(browser, marek, GRID)
    said = text(page)

    assert "Nils, Fri: 18:00-02:00 Nils, Friday, March 13, 2026, 6 p.m." in said
    assert "Pia, Fri: late something is left to say" in said
    asked = browser.send(path, fields(page))
    assert not ShiftAhead.objects.exists()
    browser.send(path, {**fields(asked), "form-3-hour": "20:00"})
    assert [s[:2] for s in stand()] == [
        ("Nils", "13 18:00"), ("Pia", "13 20:00"), ("Nils", "14 10:00"), ("Nils", "14 18:00"),
    ]  # fmt: skip


def test_weekdays_alone_are_asked_for_their_first_day(visit, marek, nils):
    browser, path = visit(marek), address(marek, "rota")
    asked = paste(browser, marek, "\tFri\tSat\nNils\t18:00\t")
    assert "which day is “Fri”?" in text(asked)

    sent = {**fields(asked), "text": "\tFri\tSat\nNils\t18:00\t"}
    assert "That day is no “Fri”" in text(browser.send(path, {**sent, "begins": "2026-03-21"}))
    page = browser.send(path, {**sent, "begins": "2026-03-20"})
    browser.send(path, fields(page))
    assert [s[1] for s in stand()] == ["20 18:00"]


@pytest.mark.parametrize(
    ("said", "sentence"),
    [
        ("", "This field is required."),
        (" \n\t", "This field is required."),
        ("Nils 14/3 18:00\n" * 101, "paste it in parts"),
        ("\tFri 13/3\tSat 14/3\n" + "Nils\t18:00\t18:00\n" * 51, "paste it in parts"),
    ],
)
def test_nothing_and_too_much_are_said_beside_the_text(visit, marek, said, sentence):
    assert sentence in text(paste(visit(marek), marek, said))


def test_somebody_of_another_house_is_nobody_here(visit, marek, ravna):
    browser = visit(marek)
    sent = fields(paste(browser, marek, "Nils 14/3 18:00")) | {"form-0-who": ravna.code}

    assert "Select a valid choice" in text(browser.send(address(marek, "rota"), sent))
    assert not ShiftAhead.objects.exists()


def test_people_lead_to_it(visit, marek):
    assert address(marek, "rota") in visit(marek).get(address(marek, "people")).content.decode()
