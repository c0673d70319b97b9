"""An export of the till, looked at and taken in."""

import io
import uuid

import openpyxl
import pytest
from django.utils import timezone

from assessments.models import CallMapping, SalesMix
from recipes.models import Recipe
from recipes.publish_recipes import retire
from tests.assessments.pages import address, fields, text, written
from tests.assessments.till_pages import send_file, take_as_shown
from tests.factories.assessments import NOW
from tests.factories.tills import NIGHTS, REPORT, checks, rows


@pytest.fixture
def take(odalys):
    return address(odalys, "sales_take")


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


def test_what_is_not_taught_is_listed(visit, marek, take):
    browser = visit(marek)
    _looked, taken = take_as_shown(browser, take, REPORT)
    retire(by=marek, recipe=Recipe.objects.get(slug="gin-tonic"), at=timezone.now())
    after = text(browser.get(address(marek, "sales_mix")))

    assert "Sold, not taught tequila & soda 64 Say otherwise" in text(taken)
    assert "Sold, not taught gin tonic no longer on the menu 1204" in after
    assert "Drinks of the house 340 Set aside 1902" in after
    assert "of that sold, not taught 1364" in after


def test_what_is_not_taught_is_said_otherwise_where_it_is_listed(visit, marek, tamsin, take):
    browser = visit(marek)
    _looked, taken = take_as_shown(browser, take, rows("Tequila & Soda,64", "Vodka,33"))
    there = address(marek, "sales_mix")

    assert '<a class="do second" href="?otherwise=vodka">' in taken.content.decode()
    assert "vodka, 33 sold Vodka soda Vodka tonic" in text(browser.get(f"{there}?otherwise=vodka"))
    assert "Say otherwise" not in text(visit(tamsin).get(there))


def test_what_is_told_to_be_a_drink_that_left_is_set_aside_before_as_after(visit, marek, take):
    browser, drink = visit(marek), Recipe.objects.get(slug="gin-tonic")
    CallMapping.objects.create(
        venue=marek.venue, said="house g", recipe=drink, each=2, by=marek, at=NOW
    )
    retire(by=marek, recipe=drink, at=timezone.now())
    looked, taken = take_as_shown(browser, take, rows("House G,7", "Madras,3"))

    for shown in (text(looked), text(taken)):
        assert "Drinks of the house 3 Set aside 7" in shown
    assert "House G (7)" in text(looked)
    assert "no longer on the menu 7" in text(taken)


def test_of_two_moments_it_says_which_is_taken(visit, marek, take):
    data = (
        "Item,Qty,Closed at,Opened at\nMadras,3,2026-03-06 23:40,2026-03-06 22:50\n"
        "Madras,3,2026-03-06 23:41,2026-03-06 22:58\n"
    )
    shown = text(send_file(visit(marek), take, data))

    assert "When it was sold is read from Opened at, not from Closed at." in shown
    assert "“Opened at” is read as days, by what stands in it." in shown


@pytest.mark.parametrize(
    ("data", "says"),
    [
        ("", "There is nothing in this file."),
        ("name,price\nMadras,3\n", "Call them item and quantity, or give each size"),
        (rows("Total,3"), "No row of it is a sale."),
        (b"\x00\x01", "This file can't be read."),
    ],
)
def test_what_is_no_export_is_said_and_changes_nothing(visit, marek, take, data, says):
    before = written()
    shown = text(send_file(visit(marek), take, data))

    assert says in shown
    assert written() == before


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
        ("item,quantity\n2 x Madras,3\n",
         "once it is in. 2 x Madras its name tells of 2 drinks 3"),
        ("item,quantity,date\nMadras,3,1996-03-01\n", "Long ago: March 1, 1996."),
        ("item,quantity,Booked\nMadras,3,2026-03-01\nBeer,2,2026-03-02\n",
         "“Booked” is read as days, by what stands in it."),
        ('item,quantity\nMadras,3\nVodka Soda,ten\n,""\nBeer,\n',
         "can't be read 3 Vodka Soda (ten), 5 Beer 2"),
        ("item,quantity\nMadras,3\n,5\nBeer,1\n,2\n", "Set aside 8"),
        ("item,quantity\nMadras,3\n,5\nBeer,1\n,2\n",
         "of that without a name rows 3 (5), 5 (2) 7"),
        ("item,quantity\nMadras,3\nCocktails total,3\n", "not counted Cocktails total (3) 1"),
    ],
    ids=["count in name", "long ago", "days by cells", "no figure", "aside", "no name", "a total"],
)  # fmt: skip
def test_what_looks_odd_is_said_before(visit, marek, take, data, says):
    assert says in text(send_file(visit(marek), take, data))


def test_more_taken_off_than_sold_goes_in_once_somebody_says_so(visit, marek, take):
    data = rows("Madras,3", "Madras DBL,-5000", "Beer,4", "Burger,-2", "Negroni,2", "Negroni,-1")
    shown, refused = take_as_shown(visit(marek), take, data)

    for page in (shown, refused):
        assert "Below zero Madras: -4997. More was taken off than sold. burger: -2." in text(page)
    assert "Look at it below, and say so if it is so." in text(refused)
    assert SalesMix.objects.count() == 0
    _, taken = take_as_shown(visit(marek), take, data, sure="on")
    assert "Taken in: -4994 rung up." in taken.content.decode()
    assert SalesMix.objects.get().quantity == -4994


def test_what_came_back_of_more_is_no_doubt(visit, marek, take):
    shown, _ = take_as_shown(visit(marek), take, rows("Negroni,2", "Negroni,-2"))

    assert "Below zero" not in text(shown)
    assert SalesMix.objects.get().quantity == 0


def test_rows_without_a_name_are_set_aside_and_never_lost(visit, marek, take):
    _, taken = take_as_shown(visit(marek), take, rows("Madras,3", ",5"))

    assert "Rung up 8 Drinks of the house 3 Set aside 5 of that without a name 5" in text(taken)


def test_voids_and_returns_are_both_taken_off_and_a_column_not_used_is_told(visit, marek, take):
    data = "item,quantity,voids,returns,PLU\nMojito,10,1,2,17\n"
    looked, taken = take_as_shown(visit(marek), take, data)
    shown = text(looked)

    assert "Rung up 10 Drinks of the house 7 Set aside 3" in shown
    assert "Void or sold voids, returns" in shown
    assert "Not used: PLU." in shown
    assert "Rung up 10 Drinks of the house 7 Set aside 3" in text(taken)


def test_how_a_sheet_was_laid_out_again_is_said(visit, marek, take):
    wide = "Item,Single,Double\nGin Tonic,5,2\nMadras,3,\n"
    looked, taken = take_as_shown(visit(marek), take, wide)
    assert "read as sizes, each with how many were sold: Single, Double." in text(looked)
    assert "Rung up 10 Drinks of the house 10 " in text(taken)

    wide = "Item,Single,Double,Void\nGin Tonic,40,12,2\nMadras,3,,\n"
    looked, taken = take_as_shown(visit(marek), take, wide)
    assert "by size. It comes off what sold most: 2 Gin Tonic." in text(looked)
    assert "Rung up 55 Drinks of the house 53 Set aside 2" in text(taken)

    wide = "Item,Single,Double,Total\nGin Tonic,5,2,9\nMadras,4,,4\n"
    said = "don't add up to their “Total”; what the columns say counts: row 2, Gin Tonic: 7, not 9."
    assert said in text(send_file(visit(marek), take, wide))

    below = "Item,Size,Qty\nGin Tonic,Single,5\n,Double,2\nMadras,,3\n"
    looked = send_file(visit(marek), take, below)
    assert "read under the name above them: 3 Gin Tonic." in text(looked)


def test_more_than_any_bar_sells_goes_in_once_somebody_says_so(visit, marek, take):
    looked, asked = take_as_shown(visit(marek), take, rows("Madras,5449000"))

    assert "No bar sells so much of one thing." in text(looked)
    assert "Look at its rows, and tick that it is so." in text(asked)
    assert SalesMix.objects.count() == 0

    take_as_shown(visit(marek), take, rows("Madras,5449000"), sure="1")
    assert SalesMix.objects.get().quantity == 5449000


@pytest.mark.parametrize("quantity", ["5449000000996", "-5449000000996", "99999999999999999"])
def test_a_code_in_the_column_of_quantities_never_goes_in(visit, marek, take, quantity):
    sent = rows("Negroni,3", f"Madras,{quantity}")
    _looked, refused = take_as_shown(visit(marek), take, sent, sure="1")

    assert "Codes or prices stand where the quantities should be" in text(refused)
    assert SalesMix.objects.count() == 0


def test_hours_that_go_are_told(visit, marek, take):
    take_as_shown(visit(marek), take, "item,qty,date,hour\nMadras,3,2026-03-06,20\n")

    looked, asked = take_as_shown(visit(marek), take, "item,qty,date\nMadras,1,2026-03-06\n")
    for page in (looked, asked):
        assert "The night loses them." in text(page)
        assert "It takes their place all the same" in text(page)
    assert "An export taken in before tells more of these days." in text(asked)
    assert SalesMix.objects.count() == 1

    again = {**fields(asked, take), "take": "1", "less": "on"}
    visit(marek).send(take, again)
    assert sorted(SalesMix.objects.values_list("quantity", flat=True)) == [1, 3]


HOURS, ORDERS = "item,qty,date,hour", "item,qty,date,check"


@pytest.mark.parametrize(
    ("older", "newer", "asked"),
    [
        (f"{HOURS}\nMadras,3,2026-03-06,20", "item,qty,date\nMadras,1,2026-03-06", True),
        (f"{HOURS}\nMadras,3,2026-03-06,20", f"{HOURS}\nMadras,1,2026-03-06,", True),
        (f"{ORDERS}\nMadras,3,2026-03-06,7", "item,qty,date\nMadras,1,2026-03-06", True),
        (f"{HOURS}\nMadras,3,2026-03-06,20", f"{HOURS}\nMadras,1,2026-03-06,20", False),
        ("item,qty,date\nMadras,3,2026-03-06", "item,qty,date\nMadras,1,2026-03-06", False),
        (f"{HOURS}\nMadras,3,2026-03-05,20", "item,qty,date\nMadras,1,2026-03-06", False),
    ],
)
def test_what_tells_less_of_a_day_is_asked_about(visit, marek, take, older, newer, asked):
    take_as_shown(visit(marek), take, older)

    looked, _ = take_as_shown(visit(marek), take, newer)
    assert ("It takes their place all the same" in text(looked)) is asked
    assert SalesMix.objects.count() == (1 if asked else 2)


def test_what_has_to_be_answered_stands_first(visit, marek, take):
    """Above all figures, as the tick does that its refusal asks for."""
    take_as_shown(visit(marek), take, "item,qty,date\nMadras,3,2026-03-06\n")
    looked, asked = take_as_shown(visit(marek), take, rows("Madras,4", "Negroni,-2"))

    for page in map(text, (looked, asked)):
        first = page.index("To be answered first")
        sure, beside = (page.index(words) for words in ("It is so", "These are other sales"))
        assert first < sure < beside < page.index("Rows read") < page.index("Take it in")


def test_what_waits_is_listed_as_the_file_writes_it(visit, marek, take):
    names = [f"House Mystery No. {n} (HH)" for n in range(14)]
    shown = send_file(visit(marek), take, rows("Madras,1", *(f"{n},2" for n in names)))

    page = text(shown)
    assert "14 names wait to be told" in page
    assert [page.count(name) for name in names] == [1] * 14
    folded = shown.content.decode().split("The others</summary>")[1]
    assert sum(name in folded for name in names) == 2
    assert "To be answered first" not in page


def test_a_row_of_sums_is_called_as_its_other_column_calls_it(visit, marek, take):
    sold = "Highballs,Gin Tonic,5\nHighballs subtotal,,5\nCash,Discount 10%,-1\n"
    data = f"Category,Item,Qty\n{sold}"
    shown = text(send_file(visit(marek), take, data))

    assert "not counted Highballs subtotal (5), Discount 10% (-1) 2" in shown
    assert "Rows read 3 Rung up 5 Drinks of the house 5" in shown


def test_each_row_of_sums_is_counted_once(visit, marek, take):
    wide = "Item,Single,Double\nGin Tonic,5,2\nHighballs subtotal,5,2\nMadras,3,\nTotal,8,2\n"

    assert "not counted Highballs subtotal (7), Total (10) 2" in text(
        send_file(visit(marek), take, wide)
    )


def test_a_name_of_thousands_of_letters_is_a_row_that_cannot_be_read(visit, marek, take):
    data = rows(f"{'Punch ' * 5000},3", "Madras,2")
    shown, taken = take_as_shown(visit(marek), take, data)

    said = text(shown)
    assert "Rows that can't be read 2 Punch" in said
    assert "(a name of 29999 letters) 1" in said
    assert said.count("Punch") < 20
    wide = f"Item,Single,Double\n{'Punch ' * 5000},3,2\nMadras,2,1\n"
    assert text(send_file(visit(marek), take, wide)).count("a name of 30005 letters") == 1
    assert text(taken).count("Punch") == 0
    assert "Rung up 2" in text(taken)
