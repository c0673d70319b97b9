"""The sales mix and the night, as pages."""

import datetime as dt
import io
import uuid

import openpyxl
import pytest
import time_machine

from assessments.models import CallMapping, SalesMix
from tests.assessments.pages import address, fields, text, written
from tests.factories import assessments as make
from tests.factories.assessments import LATER, NOW
from tests.factories.policies import let
from tests.factories.tills import NIGHTS, REPORT, checks, rows, take_in


@pytest.fixture
def page(odalys):
    return address(odalys, "sales_mix")


@pytest.fixture
def take(odalys):
    return address(odalys, "sales_take")


def send_file(browser, path, data, name="till.csv"):
    file = io.BytesIO(data if isinstance(data, bytes) else data.encode())
    file.name = name
    return browser.post(path, {"form_key": str(uuid.uuid4()), "file": file}, follow=True)


def take_as_shown(browser, path, data, **more):
    """What is shown first, then the page after it was taken in."""
    shown = send_file(browser, path, data)
    sent = {**fields(shown, path), "take": "1", **more}
    return shown, browser.post(path, {**sent, "form_key": str(uuid.uuid4())}, follow=True)


@pytest.mark.parametrize(
    ("data", "sums"),
    [
        (REPORT, "Rung up 2242 Drinks of the house 1640 Set aside 602"),
        (NIGHTS, "Rung up 180 Drinks of the house 173 Set aside 7"),
        (checks(), "Rung up 10 Drinks of the house 7 Set aside 3"),
    ],
    ids=["report", "nights", "checks"],
)
def test_three_tills_of_different_shapes_go_in(visit, marek, take, data, sums):
    looked, taken = take_as_shown(visit(marek), take, data)
    shown = text(taken)

    assert sums in text(looked)
    assert sums in shown
    assert "Taught, never sold" in shown


def test_a_file_that_begins_after_midnight_takes_no_evening_away(visit, marek, take):
    """Tills by the calendar: each file begins with the small hours of the evening before."""
    older = nights_by_the_calendar("2026-03-01", "2026-03-02", "2026-03-03")
    newer = nights_by_the_calendar("2026-03-03", "2026-03-04")
    browser = visit(marek)
    take_as_shown(browser, take, older)
    looked, taken = take_as_shown(browser, take, newer)

    assert "Only a piece of March 2, 2026: an export taken in before" in text(looked)
    assert "Drinks of the house 440" in text(taken)


def nights_by_the_calendar(*days):
    rows = [f"{day},1,Madras,10\n{day},22,Madras,100\n" for day in days]
    return "date,hour,item,quantity\n" + "".join(rows)


def test_what_is_not_taught_is_listed(visit, marek, take):
    shown = text(take_as_shown(visit(marek), take, REPORT)[1])

    assert "Sold, not taught tequila & soda 64" in shown


def test_a_name_is_asked_about_once(visit, marek, page):
    take_in(marek)
    browser = visit(marek)
    asked = browser.get(page)
    sent = fields(asked, address(marek, "sales_names"))

    assert sent["said"] == ["beer", "burger"]
    assert sent["drink"] == ["", ""]
    assert "It is Draught lager" in text(asked)
    browser.send(address(marek, "sales_names"), sent)
    assert CallMapping.objects.count() == 0  # what nobody ticked is not told
    again = {**fields(asked, address(marek, "sales_names")), "drink": ["", "-"]}
    browser.send(address(marek, "sales_names"), again | {"yes": ["0:draught-lager"]})
    shown = text(browser.get(page))
    assert "Which drink is it?" not in shown
    assert "of that nothing that is taught 88" in shown
    assert CallMapping.objects.count() == 2


def test_what_is_left_open_stays_so(visit, marek, page):
    take_in(marek)
    browser = visit(marek)
    browser.send(address(marek, "sales_names"), {"said": ["beer"], "drink": [""]})

    assert "beer, 450 sold" in text(browser.get(page))
    assert CallMapping.objects.count() == 0


def test_a_drink_of_no_menu_is_not_found(visit, marek):
    path = address(marek, "sales_names")

    assert visit(marek).send(path, {"said": ["x"], "drink": ["nope"]}).status_code == 404


@pytest.mark.parametrize(
    ("data", "says"),
    [
        ("", "There is nothing in this file."),
        ("name,price\nMadras,3\n", "Call them item and quantity."),
        (rows("Total,3"), "No row of it is a sale."),
        (b"\x00\x01", "This file can't be read."),
    ],
)
def test_what_is_no_export_is_said_and_changes_nothing(visit, marek, take, data, says):
    before = written()
    shown = text(send_file(visit(marek), take, data))

    assert says in shown
    assert written() == before


def test_a_second_time_is_refused_with_its_day(visit, marek, take):
    take_in(marek)
    said = "You took these very sales in on March 7, 2026. They count once."

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


def test_what_came_without_days_is_replaced_where_that_is_ticked(visit, marek, take):
    take_in(marek, rows("Madras,5"))
    shown, taken = take_as_shown(visit(marek), take, rows("Madras,3"))
    assert "It takes the place of what came without days before" in text(shown)
    assert "Rung up 8 " in text(taken)

    _, taken = take_as_shown(visit(marek), take, rows("Madras,4"), instead="on")
    assert "Rung up 4 " in text(taken)


def test_rows_of_days_to_come_are_refused_one_by_one(visit, marek, take):
    data = "item,qty,date\nMadras,2,2026-03-06\nMadras,3,2926-03-06\nMadras,1,yesterday\n"
    shown, taken = take_as_shown(visit(marek), take, data)

    assert "Row 3, Madras: March 6, 2926 is not over yet." in text(shown)
    assert "Row 4, Madras: “yesterday” is no day or hour: without it." in text(shown)
    assert "Rung up 6 Drinks of the house 3 Set aside 3" in text(taken)


def test_nothing_but_days_to_come_is_refused(visit, marek, take):
    shown = send_file(visit(marek), take, "item,qty,date\nMadras,3,2926-03-06\n")

    assert "Is the clock of the till right?" in text(shown)


def test_how_days_and_figures_were_read_is_said(visit, marek, take):
    data = 'item,qty,date\nMadras,"1,204",03/04/2026\nBeer,96,03/04/2026\n'
    shown = text(send_file(visit(marek), take, data))

    assert "“03/04/2026” is read as March 4, 2026, as your country writes it." in shown
    assert "“1,204” is read as 1204, as the file's other rows say." in shown


def test_what_came_meanwhile_is_shown_once_more(visit, marek, take):
    browser, data = visit(marek), "item,qty,date\nMadras,{},2026-03-06\n"
    shown = send_file(browser, take, data.format(2))
    take_in(marek, data.format(9))
    sent = {**fields(shown, take), "take": "1"}
    anew = browser.send(take, sent)

    assert "Another export came in meanwhile." in text(anew)
    assert "March 6, 2026: 9 sold" in text(anew)
    assert SalesMix.objects.count() == 1


def test_a_file_of_another_house_is_not_carried(visit, marek, ravna, take):
    shown = send_file(visit(marek), take, rows("Madras,3"))
    other = address(ravna, "sales_take")
    sent = {**fields(shown, take), "take": "1", "form_key": str(uuid.uuid4())}

    assert "Send it once more." in text(visit(ravna).post(other, sent))
    assert SalesMix.objects.count() == 0


def test_names_set_aside_as_voided_are_named(visit, marek, take):
    data = "item,qty,void,date\nMadras,3,1,soon\nGin tonic,2,0,2026-03-06\n"
    shown, taken = take_as_shown(visit(marek), take, data)

    assert "Rows read 2 " in text(shown)
    assert text(shown).count("“soon” is no day") == 1
    assert "Rung up and never sold madras 1" in text(taken)


def test_a_told_name_is_told_otherwise_or_forgotten(visit, marek, page):
    take_in(marek, "item,qty,date,hour\nBeer,3,2026-03-06,20\nMadras,1,2026-03-06,20\n")
    browser, path = visit(marek), address(marek, "sales_names")
    browser.send(path, {"said": ["beer"], "drink": ["draught-lager"]})
    assert "beer: Draught lager by Marek" in text(browser.get(page))

    asked = browser.get(f"{page}?otherwise=beer")
    told = {"said": ["beer"], "drink": ["draught-lager"], "was": ["draught-lager"]}
    assert fields(asked, path) == told
    browser.send(path, {"said": ["beer"], "drink": ["-"]})
    assert "beer: nothing that is taught by Marek" in text(browser.get(page))

    browser.send(path, {"said": ["beer"], "drink": ["?"]})
    shown = text(browser.get(page))
    assert "Names that were told" not in shown
    assert "beer, 3 sold" in shown
    assert CallMapping.objects.count() == 0


def test_a_page_that_lay_open_overwrites_nobody(visit, marek, page):
    take_in(marek, rows("Beer,3", "Burger,2"))
    browser, path = visit(marek), address(marek, "sales_names")
    stale = {**fields(browser.get(page), path), "drink": ["madras", "-"]}
    browser.send(path, {"said": ["beer"], "drink": ["draught-lager"]})

    said = text(browser.send(path, stale, follow=True))

    assert "Somebody has told “beer” meanwhile" in said
    assert "1 name told." in said
    told = {row.said: row.recipe and row.recipe.slug for row in CallMapping.objects.all()}
    assert told == {"beer": "draught-lager", "burger": None}


def test_only_what_was_looked_at_is_taken_in(visit, marek, take):
    """Other columns are looked at before they count."""
    data = "item,quantity,qty sold\nMadras,3,5\n"
    browser = visit(marek)
    shown = send_file(browser, take, data)
    assert "How many quantity" in text(shown)
    sent = {**fields(shown, take), "take": "1", "column-quantity": "qty sold"}

    again = browser.send(take, sent)
    assert "How many qty sold" in text(again)
    assert not SalesMix.objects.exists()
    browser.send(take, {**fields(again, take), "take": "1"})
    assert SalesMix.objects.get().quantity == 5


def test_columns_that_say_nothing_are_refused(visit, marek, take):
    browser = visit(marek)
    shown = send_file(browser, take, "item,quantity\nMadras,3\n")

    answer = browser.send(take, {**fields(shown, take), "column-item": ""})

    assert "a column of items" in text(answer) or "items" in text(answer)
    assert not SalesMix.objects.exists()


def test_the_sheet_that_was_read_is_named_and_another_can_be(visit, marek, take):
    browser = visit(marek)
    shown = send_file(browser, take, workbook(), "till.xlsx")
    assert "Read from the sheet “May”. The others are left out: Look at “Notes” Look at “June”" in (
        text(shown)
    )
    assert "Rung up 3" in text(shown)

    other = browser.send(take, {**fields(shown, take), "other": "June"})
    assert "Read from the sheet “June”" in text(other)
    browser.send(take, {**fields(other, take), "take": "1"})
    assert SalesMix.objects.get().quantity == 8


def workbook():
    book, out = openpyxl.Workbook(), io.BytesIO()
    book.active.title = "Notes"
    book.active.append(["Printed on Monday"])
    for name, sold in (("May", 3), ("June", 8)):
        sheet = book.create_sheet(name)
        sheet.append(["Item", "Qty"])
        sheet.append(["Madras", sold])
    book.save(out)
    return out.getvalue()


def test_a_file_and_pasted_rows_are_one_too_many(visit, marek, take):
    file = io.BytesIO(b"item,quantity\nMadras,3\n")
    file.name = "till.csv"
    sent = {"form_key": str(uuid.uuid4()), "file": file, "rows": "item,quantity\nBeer,2\n"}

    answer = text(visit(marek).post(take, sent))

    assert "A file and pasted rows came: send one of them." in answer


@pytest.mark.parametrize(
    ("data", "says"),
    [
        ("item,quantity\n2 x Madras,3\n", "counts as 3 drinks, though its name tells of 2."),
        ("item,quantity,date\nMadras,3,1996-03-01\n", "Long ago: March 1, 1996."),
        ("item,quantity,Booked\nMadras,3,2026-03-01\nBeer,2,2026-03-02\n",
         "“Booked” is read as days, by what stands in it."),
        ("item,quantity\nMadras,3\nVodka Soda,ten\n,5\n", "a figure 3 Vodka Soda, 4 2"),
        ("item,quantity\nMadras,3\nCocktails total,3\n", "not counted Cocktails total (3) 1"),
    ],
    ids=["count in a name", "long ago", "days by cells", "no figure", "a total"],
)  # fmt: skip
def test_what_looks_odd_is_said_before(visit, marek, take, data, says):
    assert says in text(send_file(visit(marek), take, data))


def test_what_the_program_read_by_itself_is_shown_and_corrected(visit, marek, page, take):
    browser, path = visit(marek), address(marek, "sales_names")
    shown = send_file(browser, take, rows("Gin Tonic DBL,3", "Madras,1"))
    assert "What 2 names were read as" in text(shown)
    take_in(marek, rows("Gin Tonic DBL,3", "Madras,1"))
    said = text(browser.get(page))
    assert "2 names read by themselves" in said
    assert "madras: Madras 1 sold" in said

    asked = browser.get(f"{page}?otherwise=madras")
    assert fields(asked, path)["drink"] == ["madras"]
    browser.send(path, {**fields(asked, path), "drink": ["negroni"]})
    assert "madras: Negroni by Marek" in text(browser.get(page))


def test_a_name_that_was_never_sold_is_not_told(visit, marek):
    take_in(marek, rows("Madras,3"))
    sent = {"said": ["margarita"], "drink": ["negroni"]}

    assert visit(marek).send(address(marek, "sales_names"), sent).status_code == 404
    assert CallMapping.objects.count() == 0


def test_a_trainer_sees_the_mix_and_changes_nothing(visit, marek, tamsin, page):
    mix, browser = take_in(marek), visit(tamsin)
    shown = text(browser.get(page))

    assert "Which drink is it? Your manager says what these are. beer 450" in shown
    assert "Take it back" not in shown
    for name, parts in (("sales_take", {}), ("sales_withdraw", {"code": mix.code})):
        assert browser.send(address(marek, name, **parts)).status_code == 403


def test_the_night_sets_people_beside_orders(visit, marek, nils):
    path = address(marek, "the_night")
    said = "?orders=180&pace=70&round=1&wait=120&share=90&others=3"
    shown = text(visit(marek).get(path + said))

    assert "180 orders an hour People needed 4 Hold the station 3 of them ready hires 0" in shown
    assert "3 people get through it, but only" in shown


def test_whoever_is_let_stand_for_that_shift_holds_the_station(visit, marek, nils):
    make.take_quiz(nils, make.GATE)
    let(marek, nils, late=True, reason="Two are ill.")
    path = address(marek, "the_night")
    with time_machine.travel(LATER, tick=False):  # the afternoon before
        late, early = (
            visit(marek).get(f"{path}?orders=60&others=1&shift={shift}")
            for shift in ("weekend-late", "weekend-early")
        )

    assert late.context["people"].once == ("Nils",)
    assert late.context["people"].holding == 2
    assert "let stand for this shift Nils 1" in text(late)
    assert (early.context["people"].once, early.context["people"].holding) == ((), 1)


def test_whoever_is_let_stand_for_the_night_after_does_not_hold_this_one(visit, marek, nils):
    make.take_quiz(nils, make.GATE)
    let(marek, nils, days=7, late=True, reason="Two are ill.")
    with time_machine.travel(NOW + dt.timedelta(days=5), tick=False):
        page = visit(marek).get(f"{address(marek, 'the_night')}?shift=weekend-late")

    assert page.context["people"].once == ()


def test_an_hour_without_orders_needs_nobody(visit, marek, nils):
    said = text(visit(marek).get(f"{address(marek, 'the_night')}?orders=0"))

    assert "People needed 0" in said
    assert "No orders come in: nobody is needed." in said
    assert "more than any bar has" not in said


@pytest.mark.parametrize("typed", ["1.6", "1,6"])
def test_drinks_an_order_are_read_with_a_point_or_a_comma(visit, marek, typed):
    path = address(marek, "the_night")
    page = visit(marek).get(path, {"orders": "100", "pace": "80", "round": typed, "others": "1"})

    assert page.context["one"].with_these.values["made"] == 50


def test_where_nothing_is_saved_nothing_is_said_of_saving(visit, marek):
    said = text(visit(marek).get(f"{address(marek, 'the_night')}?orders=many"))

    assert "Something below needs another look." in said
    assert "saved" not in said


def test_the_night_says_overload(visit, marek):
    path = address(marek, "the_night")
    shown = text(visit(marek).get(f"{path}?orders=180&pace=70&round=1&others=2"))

    assert "2 people can't make it: of 180 that come in each hour they make 140" in shown


@pytest.mark.parametrize(
    ("said", "sentence"),
    [
        ("orders=26", "Nobody holds it: 26 orders come in an hour, and nobody makes them."),
        ("orders=1", "Nobody holds it: one order comes in an hour, and nobody makes it."),
        (
            "orders=70&others=1",
            "One person has nothing to spare: just as many orders come in as they make",
        ),
    ],
)
def test_the_night_says_who_is_too_few(visit, marek, said, sentence):
    shown = text(visit(marek).get(f"{address(marek, 'the_night')}?pace=70&round=1&{said}"))

    assert sentence in shown
    assert "1 orders" not in shown


def test_the_night_tells_its_hours_by_the_till(visit, marek):
    take_in(marek, NIGHTS.decode("cp1252"))
    shown = text(visit(marek).get(address(marek, "the_night")))

    assert "Friday and Saturday, from ten on An average shift" in shown
    assert "22:00" in shown
    assert shown.index("22:00") < shown.index("01:00")


@pytest.mark.parametrize("said", ["orders=-1", "share=100", "pace=0", "round=x", "shift=brunch"])
def test_an_hour_out_of_reason_is_said_beside_its_field(visit, marek, said):
    answer = visit(marek).get(f"{address(marek, 'the_night')}?{said}")

    assert answer.status_code == 200
    assert "People needed" not in text(answer)
    assert "aria-invalid" in answer.content.decode()


def test_an_import_sent_twice_counts_once(visit, marek, take):
    browser = visit(marek)
    sent = {**fields(send_file(browser, take, rows("Madras,3")), take), "take": "1"}
    sent["form_key"] = str(uuid.uuid4())
    for _ in range(2):
        answer = browser.post(take, sent)
        assert answer.status_code == 302

    assert SalesMix.objects.count() == 1


def test_the_night_counts_what_waits_for_its_name(visit, marek):
    """Twenty a shift under a name that nobody told are drinks that somebody makes."""
    rows = "Beer,40,2026-03-06,22", "Madras,20,2026-03-06,22"
    take_in(marek, "item,qty,date,hour\n" + "\n".join(rows) + "\n")
    browser, path = visit(marek), address(marek, "the_night")

    def orders():
        page = browser.get(path, {"station": "well", "shift": "weekend-late", "round": "2"})
        return text(page), [hour.whole for hour, *_ in page.context["hours"]]

    said, before = orders()
    assert before == [30]
    assert "40 sold in such a shift wait for their names to be told" in said
    browser.send(address(marek, "sales_names"), {"said": ["beer"], "drink": ["draught-lager"]})
    said, after = orders()
    assert (after, "wait for their names" in said) == ([30], False)
    browser.send(address(marek, "sales_names"), {"said": ["beer"], "drink": ["-"]})
    assert orders()[1] == [10]
