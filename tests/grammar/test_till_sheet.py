"""Exports of tills: where the columns are, which rows are sales, what a name says."""

import datetime as dt

import pytest

from recipes.grammar.reasons import CannotBuild
from recipes.grammar.till_kinds import Kind
from recipes.grammar.till_names import spoken
from recipes.grammar.till_sheet import MOST_LINES, read_till, till_of
from recipes.wording import WORDS
from tests.factories.tills import NIGHTS, REPORT, rows


def sales(text, **said):
    return [(x.item, x.quantity) for x in read_till(text, **said).of(Kind.SALE)]


def test_a_title_above_and_a_total_below_are_no_sales():
    found = read_till(REPORT)

    assert found.columns == {"item": "Menu Item", "quantity": "Qty Sold"}
    assert found.ignored == ("PLU", "Net Sales")
    assert sales(REPORT)[:4] == [
        ("101 - Gin Tonic", 1204),
        ("GIN TONIC DBL", 96),
        ("Margarita (HH)", 310),
        ("Marg Lge", -10),
    ]
    [total] = found.of(Kind.TOTAL)
    assert (total.line, total.item, total.quantity) == (13, "Total", 2242)


def test_semicolons_and_decimal_commas():
    first, second, *_ = read_till(NIGHTS.decode("cp1252")).of(Kind.SALE)

    assert (first.quantity, first.day, first.hour) == (120, dt.date(2026, 3, 6), 22)
    assert (second.size, second.quantity, second.hour) == ("0,3 l", 30, 1)


@pytest.mark.parametrize("delimiter", [",", ";", "\t", "|"])
def test_whatever_parts_the_columns(delimiter):
    assert sales(rows("Madras,3").replace(",", delimiter)) == [("Madras", 3)]


@pytest.mark.parametrize(
    ("row", "kind", "quantity"),
    [
        ("Madras,2,paid", Kind.SALE, 2),
        ("Madras,2,VOID", Kind.VOID, 2),
        ("Madras,2,cancelled", Kind.VOID, 2),
        ("VOID Madras,1,", Kind.VOID, 1),
        ("VOID Madras,-1,", Kind.SALE, -1),
        ("Madras,2,Refund", Kind.SALE, -2),
        ("Madras,-2,Refund", Kind.SALE, -2),
        ("Madras,,paid", Kind.UNREADABLE, 0),
        ("Madras,some,paid", Kind.UNREADABLE, 0),
        (",3,paid", Kind.SALE, 3),
        ("Total,9,", Kind.TOTAL, 9),
        ("Sub-total,9,", Kind.TOTAL, 9),
        ("Cash,9,", Kind.TOTAL, 9),
        ("Gift card,9,", Kind.TOTAL, 9),
        ("Tax,,", Kind.TOTAL, 0),
        ("Tip 18%,9,", Kind.TOTAL, 9),
        ("Cash Crop,9,", Kind.SALE, 9),
        ("Change of Heart,9,", Kind.SALE, 9),
        ("Total White Wine,9,", Kind.SALE, 9),
    ],
)
def test_what_a_row_is(row, kind, quantity):
    [line] = read_till(f"item,quantity,status\n{row}\n").lines

    assert (line.kind, line.quantity) == (kind, quantity)


@pytest.mark.parametrize(
    ("text", "code"),
    [
        ("", "till_empty"),
        (" \n\n", "till_empty"),
        ("a,b\n1,2\n", "till_columns"),
        ("item,price\nMadras,2\n", "till_columns"),
    ],
)
def test_what_is_no_export_is_refused_in_words(text, code):
    with pytest.raises(CannotBuild) as refused:
        read_till(text)

    assert [r.code for r in refused.value.reasons] == [code]
    assert code in WORDS


def test_more_rows_than_any_till_writes_are_refused():
    with pytest.raises(CannotBuild) as refused:
        till_of([(n, ["x"]) for n in range(MOST_LINES + 1)])

    assert refused.value.reasons[0].code == "till_too_long"


def test_days_that_could_be_either_are_read_as_told():
    text = "item,qty,date\nMadras,1,02/03/2026\n"

    assert read_till(text, month_first=True).lines[0].day == dt.date(2026, 2, 3)
    assert read_till(text).lines[0].day == dt.date(2026, 3, 2)


@pytest.mark.parametrize(
    ("item", "said"),
    [
        ("101 - Gin Tonic", "Gin Tonic"),
        ("GIN & TONIC DBL", "GIN & TONIC double"),
        ("House White Wine 175ml", "House White Wine"),
        ("Mojito (HH)", "Mojito"),
        ("Margarita Lg $12.50", "Margarita"),
        ("*Draught Lager - Pint", "Draught Lager Pint"),
        ("VOID Madras", "Madras"),
        ("Madras VOID", "Madras"),
        ("Hse White Gls", "house White"),
        ("Glass of White 175ml", "Glass of White"),
        ("Vodka Soda Lrg", "Vodka Soda"),
        ("House Red Btl", "House Red bottle"),
        ("House Red 75cl", "House Red bottle"),
        ("House Red 0,75 l", "House Red bottle"),
        ("House Red 750ml", "House Red bottle"),
        ("House Red 37.5cl", "House Red half bottle"),
        ("House Red 1.5 l", "House Red litre"),
        ("Lager 1 L", "Lager litre"),
        ("House Red 175ml", "House Red"),
        ("Lager 0.5 l", "Lager"),
        ("Cider 500ml", "Cider"),
        ("B-52", "B-52"),
        ("7 and 7", "7 and 7"),
    ],
)
def test_a_name_without_the_tills_marks(item, said):
    assert spoken(item) == said


def test_a_size_of_its_own_column_is_said_with_it():
    assert spoken("Gin Tonic", "Double") == "Double Gin Tonic"
    assert spoken("Gin Tonic", "Large") == "Gin Tonic"
    assert spoken("Glass of White", "Single") == "Glass of White"  # a drink may be called so


@pytest.mark.parametrize(
    ("counts", "sums"),
    [
        ([12, 7, 5, 30, 10, 20], {0, 3}),  # headings above
        ([7, 5, 12, 10, 20, 30], {2, 5}),  # sums below
        ([12, 7, 5, 4, 4, 30, 10, 20], {0, 3, 5}),  # a section of one row among them
        ([12, 7, 5], set()),  # one alone may be an accident
        ([5, 5, 4, 4], set()),
        ([12, 7, 5, 30, 10, 21], set()),  # something is left over
        ([12, 7, 5, 30, 10, -20], set()),
        ([], set()),
    ],
)
def test_headings_with_sums_are_known_by_their_figures(counts, sums):
    found = read_till(rows(*(f"drink {n},{count}" for n, count in enumerate(counts)))).lines

    assert {n for n, line in enumerate(found) if line.kind is Kind.TOTAL} == sums


@pytest.mark.parametrize(
    "said", ["COCKTAILS TOTAL", "Beer sub-total", "Cocktails Summe", "Wine - Total:"]
)
def test_a_name_that_ends_in_total_is_one(said):
    [line] = read_till(rows(f"{said},12")).lines

    assert line.kind is Kind.TOTAL


def test_rows_with_days_have_no_sections():
    sheet = read_till(
        "item,quantity,date\n"
        + "".join(f"x,{n},2026-03-0{d}\n" for d, n in enumerate((12, 7, 5, 30, 10, 20), 1))
    )

    assert len(sheet.of(Kind.SALE)) == 6


def test_columns_as_somebody_chose():
    text = "item,quantity,qty sold,Booked\nMadras,3,5,2026-03-01\nBeer,1,2,2026-03-02\n"
    found = read_till(text, chosen={"quantity": "qty sold", "date": ""})

    assert [line.quantity for line in found.lines] == [5, 2]
    assert [line.day for line in found.lines] == [None, None]
    assert (found.columns["quantity"], "Booked" in found.ignored) == ("qty sold", True)


S, T = Kind.SALE, Kind.TOTAL


@pytest.mark.parametrize(
    ("rows", "kinds"),
    [
        ([("Madras", 3), ("", 5)], [S, S]),  # sold something, nobody knows what
        ([("Madras", 3), ("Beer", 5), ("", 8)], [S, S, T]),
        ([("Madras", 3), ("Beer", 5), ("", 9)], [S, S, S]),
        ([("Madras", 3), ("", 3)], [S, S]),  # one row has no sum
        ([("Madras", 3), ("Beer", 5), ("", 8), ("Stout", 1), ("Cider", 2), ("", 3), ("", 11)],
         [S, S, T, S, S, T, T]),
    ],
)  # fmt: skip
def test_a_row_without_a_name_is_a_sum_or_sold_something(rows, kinds):
    text = "\n".join(f"{name},{n},2026-03-06" for name, n in rows)

    lines = read_till(f"item,quantity,date\n{text}\n").lines
    assert [line.kind for line in lines] == kinds


@pytest.mark.parametrize(
    ("item", "status", "kind"),
    [
        ("Cash", "", T), ("Credit card", "", T), ("Change due", "", T), ("Total due", "", T),
        ("Amount paid", "", T), ("- Card -", "", T),
        ("House account", "Tender", T), ("Somebody", "Payment", T),
        ("Card Sharp", "", S), ("Cash Cow", "", S), ("Madras", "Paid", S),
        ("Madras", "Payment complete", S), ("Small change", "", S),
    ],
)  # fmt: skip
def test_how_a_receipt_was_paid_is_no_sale(item, status, kind):
    found = read_till(f"check,item,qty,status\n1,Negroni,1,Paid\n1,{item},1,{status}\n")

    assert [line.kind for line in found.lines] == [S, kind]


D20, D21 = dt.date(2026, 11, 20), dt.date(2026, 11, 21)


@pytest.mark.parametrize(
    ("head", "cells", "read"),
    [
        ("Time", ["2026-11-20 21:05", "2026-11-21 00:40"], [(D20, 21), (D21, 0)]),
        ("Time", ["2026-11-20 21:05"], [(D20, 21)]),
        ("Uhrzeit", ["20.11.2026 21:05", "21.11.2026 00:40"], [(D20, 21), (D21, 0)]),
        ("Rung", ["2026-11-20 21:05", "2026-11-21 00:40"], [(D20, 21), (D21, 0)]),
        ("Hour", ["2026-11-20", "2026-11-21"], [(D20, None), (D21, None)]),
        ("Time", ["21:05", "00:40"], [(None, 21), (None, 0)]),
        ("Hour", ["21", "0"], [(None, 21), (None, 0)]),
        ("Time", ["21:00 - 21:59", "00:00 - 00:59"], [(None, 21), (None, 0)]),
        ("Time", ["20.11.26 21:05"], [(D20, 21)]),
        ("Time", ["10.05.30"], [(None, None)]),  # a clock with dots is no day
        ("Time", ["2026-11-20 21:05", "21:10"], [(None, 21), (None, 21)]),  # half is not nearly all
    ],
)
def test_a_column_of_hours_tells_the_day_where_one_stands_beside_them(head, cells, read):
    found = read_till("\n".join((f"{head},item,qty", *(f"{cell},Madras,2" for cell in cells))))

    assert [(line.day, line.hour) for line in found.lines] == read
    assert ("date" in found.by_cells) == any(day for day, _hour in read)


def test_a_column_of_days_by_its_name_comes_before_hours_that_say_them_too():
    found = read_till("Time,item,qty,Date\n2026-11-21 00:40,Madras,2,2026-11-20\n")

    assert [(line.day, line.hour) for line in found.lines] == [(D20, 0)]
    assert found.by_cells == ()


@pytest.mark.parametrize("column", ["item", "size"])
def test_what_is_too_long_for_a_name_is_none(column):
    said = {"item": "Madras", "size": "", column: "a" * 32_000}
    text = f"item,size,qty\n{said['item']},{said['size']},3\nGin tonic,,2\n"
    found = read_till(text)

    assert [(x.item, x.quantity) for x in found.of(Kind.SALE)] == [("Gin tonic", 2)]
    [row] = found.of(Kind.UNREADABLE)
    assert (row.line, row.letters) == (2, 32_000 + 6 * (column == "size"))
    assert len(row.item) < 70
    assert len(row.size) < 70


def test_a_long_name_with_all_its_changes_is_one():
    name = "Madras, " + "no ice, " * 25
    [row] = read_till(f'item,qty\n"{name}",3\n').lines

    assert (row.kind, row.item, row.letters) == (Kind.SALE, name.strip(), 0)


def test_cells_that_cannot_be_read_are_clipped():
    long = "b" * 9_000
    rows = read_till(f"item,qty,date\nMadras,{long},2026-03-06\nMadras,3,{long}\n").lines

    assert [len(rows[0].figure), len(*rows[1].unread)] == [62, 62]
