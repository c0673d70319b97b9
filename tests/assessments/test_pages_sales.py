"""The sales mix as a page: what counts, what replaces what, what is taken back."""

import datetime as dt
import uuid

import pytest

from assessments.models import SalesMix
from tests.assessments.pages import address, fields, text, written
from tests.assessments.till_pages import send_file, take_as_shown
from tests.factories.assessments import NOW
from tests.factories.tills import NIGHTS, REPORT, rows, take_in


@pytest.fixture
def page(odalys):
    return address(odalys, "sales_mix")


@pytest.fixture
def take(odalys):
    return address(odalys, "sales_take")


def test_a_file_that_begins_after_midnight_takes_no_evening_away(visit, marek, take):
    """Tills by the calendar: each file begins with the small hours of the evening before."""
    older = nights_by_the_calendar("2026-03-01", "2026-03-02", "2026-03-03")
    newer = nights_by_the_calendar("2026-03-03", "2026-03-04")
    browser = visit(marek)
    take_as_shown(browser, take, older)
    looked, taken = take_as_shown(browser, take, newer)

    said = text(taken)
    assert "10 of what this file rings up won't count, its piece of March 2, 2026" in text(looked)
    assert "Drinks of the house 440" in said
    why = "210 of them count now: another export tells more of March 2, 2026"
    assert f"Taken in: 220 rung up; {why}." in said
    assert said.count(why) == 2
    assert "The 210 of its 220 rung up that count now count no longer then" in said
    assert "; 230 of them count now: a newer one replaces its other days" in said


@pytest.mark.parametrize(
    ("newer", "now"),
    [
        ("Madras,7,2026-03-06,22\n",
         "; 0 of them count now: another export tells more of March 6, 2026"),
        ("Madras,7,2026-03-06,22\nMadras,5,2026-03-05,20\n",
         "; 5 of them count now: another export tells more of March 6, 2026"),
        ("Madras,7,2026-03-06,20\nMadras,5,2026-03-06,23\n", ""),
    ],
)  # fmt: skip
def test_how_many_of_what_came_in_count_is_said(visit, marek, take, newer, now):
    """The older tells more hours of the sixth than some of the newer ones."""
    head = "item,qty,date,hour\n"
    take_in(marek, f"{head}Madras,10,2026-03-06,20\nMadras,9,2026-03-06,23\n")
    looked, taken = take_as_shown(visit(marek), take, head + newer)
    n, said = 12 if newer.count("\n") == 2 else 7, text(taken)

    assert f"Taken in: {n} rung up{now}." in said
    assert ("7 of what this file rings up won't count" in text(looked)) is bool(now)
    assert ("newer ones replaced all of it" in said) is not bool(now)


def nights_by_the_calendar(*days):
    rows = [f"{day},1,Madras,10\n{day},22,Madras,100\n" for day in days]
    return "date,hour,item,quantity\n" + "".join(rows)


def test_a_second_time_is_refused_with_its_day_and_who_took_it_in(visit, marek, odalys, take):
    take_in(odalys)
    said = "Odalys took these very sales in on March 7, 2026 already. They count once."

    assert said in text(send_file(visit(marek), take, REPORT))


def test_the_wrong_file_is_taken_back(visit, marek, page):
    mix = take_in(marek)
    browser = visit(marek)
    path = address(marek, "sales_withdraw", code=mix.code)

    assert "it counts no longer" in browser.send(path, follow=True).content.decode()
    assert "taken back already" in browser.send(path, follow=True).content.decode()
    assert "By the house book, until a till is taken in." in text(browser.get(page))


def test_drinks_weigh_what_sells_in_a_kind_of_shift(visit, marek, page):
    take_in(marek, NIGHTS.decode("cp1252"))
    browser = visit(marek)
    early = text(browser.get(f"{page}?shift=weekend-early"))
    late = text(browser.get(f"{page}?shift=weekend-late"))

    assert early != late
    assert "Of 100 drinks" in late
    assert browser.get(f"{page}?shift=brunch").status_code == 404


def test_who_is_ready_weighs_what_sells(visit, marek, nils):
    """The pace ticket draws from the till's mix."""
    take_in(marek, rows("Negroni,100000"))
    path = address(marek, "pace", hire=nils.code)

    assert visit(marek).get(path).content.decode().count("Negroni") > 5


def test_what_an_export_replaces_is_shown_before(visit, marek, take):
    week = "item,qty,date\nMadras,{},2026-03-0{}\nMadras,{},2026-03-0{}\n"
    take_in(marek, week.format(5, 2, 7, 3))
    before = written()
    shown, taken = take_as_shown(visit(marek), take, week.format(8, 3, 1, 4))

    said = "March 3, 2026: 7 sold of what was taken in on March 7, 2026 count no longer."
    assert said in text(shown)
    assert "Its days March 3, 2026 to March 4, 2026" in text(shown)
    assert "Rung up 14 " in text(taken)
    assert "a newer one replaces its other days" in text(taken)
    assert before["SalesMix"] == 1


DATED = "item,qty,date\nMadras,5,2026-03-05\nBeer,2,2026-03-06\n"
OTHERS = "These are other sales: count them beside"


@pytest.mark.parametrize(
    ("old", "new", "said"),
    [
        (DATED, rows("Madras,3", "Negroni,1"), "March 5, 2026 to March 6, 2026, 7 rung up. 1 name"),
        (rows("Madras,3", "Beer,1"), DATED, "without days counts as well, 4 rung up. 2 names"),
        (rows("Madras,3"), rows("Negroni,4"), "without days counts as well, 3 rung up. 0 names"),
    ],
)
def test_sales_without_days_beside_others_count_once_somebody_says_so(
    visit, marek, take, old, new, said
):
    take_in(marek, old)
    browser = visit(marek)

    shown, asked = take_as_shown(browser, take, new)

    for page in (shown, asked):
        assert said in text(page)
        assert OTHERS in text(page)
    assert "Say whether these sales were counted already" in text(asked)
    assert SalesMix.objects.count() == 1
    _shown, taken = take_as_shown(browser, take, new, beside="on")
    assert "Taken in:" in text(taken)
    assert SalesMix.objects.count() == 2


def test_days_of_their_own_are_never_asked_about(visit, marek, take):
    take_in(marek, DATED)
    shown, _taken = take_as_shown(visit(marek), take, DATED.replace(",5,", ",9,"))

    assert OTHERS not in text(shown)
    assert SalesMix.objects.count() == 2


def test_what_came_without_days_is_replaced_where_that_is_ticked(visit, marek, take):
    take_in(marek, rows("Madras,5"))
    shown, taken = take_as_shown(visit(marek), take, rows("Madras,3"), beside="on")
    assert "It takes the place of what came without days before" in text(shown)
    assert "Rung up 8 " in text(taken)

    _, taken = take_as_shown(visit(marek), take, rows("Madras,4"), instead="on")
    assert "Rung up 4 " in text(taken)


def test_beside_it_and_in_its_place_cant_both_be(visit, marek, take):
    take_in(marek, rows("Madras,5"))
    browser = visit(marek)
    _, asked = take_as_shown(browser, take, rows("Madras,4"), instead="on", beside="on")

    page = text(asked)
    assert "it can't be both. Tick one of the two." in page
    assert OTHERS in page
    assert "It takes the place of what came without days before" in page
    assert not {"instead", "beside"} & fields(asked, take).keys()
    assert SalesMix.objects.count() == 1


def test_of_two_one_may_be_replaced_and_the_other_stay(visit, marek, take):
    """One came without days, the other has days and goes on counting."""
    take_in(marek, rows("Madras,5"))
    take_in(marek, DATED)
    _, taken = take_as_shown(visit(marek), take, rows("Madras,4"), instead="on", beside="on")

    assert "Taken in: 4 rung up" in text(taken)


def test_what_came_meanwhile_is_shown_once_more(visit, marek, take):
    browser, data = visit(marek), "item,qty,date\nMadras,{},2026-03-06\n"
    shown = send_file(browser, take, data.format(2))
    take_in(marek, data.format(9))
    sent = {**fields(shown, take), "take": "1"}
    anew = browser.send(take, sent)

    assert "Another export came in meanwhile." in text(anew)
    assert "March 6, 2026: 9 sold" in text(anew)
    assert SalesMix.objects.count() == 1


def test_an_import_sent_twice_counts_once(visit, marek, take):
    browser = visit(marek)
    sent = {**fields(send_file(browser, take, rows("Madras,3")), take), "take": "1"}
    sent["form_key"] = str(uuid.uuid4())
    for _ in range(2):
        answer = browser.post(take, sent)
        assert answer.status_code == 302

    assert SalesMix.objects.count() == 1


def test_exports_are_told_apart_and_each_is_asked_about_before(visit, marek, page):
    old = take_in(marek, rows("Madras,5", "Beer,1"), at=NOW - dt.timedelta(minutes=5))
    new = take_in(marek, rows("Madras,4"), instead=True)
    browser = visit(marek)
    shown = text(browser.get(page))

    later = "4 rung up, 1 row; by Marek, March 7, 2026, 3 p.m."
    before = "6 rung up, 2 rows; by Marek, March 7, 2026, 2:55 p.m.; 0 of them count now: "
    before += "newer ones replaced all of it"
    assert shown.index(later) < shown.index(before)
    assert "Its 4 rung up count no longer then; what it replaced counts once more." in shown
    assert "Its 6 rung up count nowhere now, and never again then." in shown

    browser.send(address(marek, "sales_withdraw", code=old.code))
    assert "newer ones replaced" not in text(browser.get(page))
    browser.send(address(marek, "sales_withdraw", code=new.code))
    assert "rung up" not in text(browser.get(page))


def test_what_is_worth_a_little_is_never_shown_as_nothing(visit, marek, page):
    take_in(marek, rows("Madras,40000"))
    shown = text(visit(marek).get(page))

    assert "Salty dog under 0.1" in shown
    assert " 0.0 " not in shown
