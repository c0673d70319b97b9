"""Sheets with a column a size or a day, and names that stand in the first of their rows alone."""

import datetime as dt

import pytest

from recipes.grammar.reasons import CannotBuild
from recipes.grammar.till_kinds import Kind
from recipes.grammar.till_sheet import read_till


def sold(text, **said):
    return [(x.item, x.size, x.quantity) for x in read_till(text, **said).of(Kind.SALE)]


LAGER = [("Lager", "Pint", 12), ("Lager", "Half", 3), ("Cider", "Pint", 4)]


@pytest.mark.parametrize(
    "text",
    [
        "Item,Pint,Half\nLager,12,3\nCider,4,\n",
        "Item;Pint;Half;Price\nLager;12;3;5,50\nCider;4;0;6,00\n",
        "Item,Pint,Half,Qty\nLager,12,3,15\nCider,4,-,4\n",  # the quantity is their sum
        "Product mix,,\n,,\nItem,Pint,Half\nLager,12,3\nCider,4,\n",
        "Item,Sold,\n,Pint,Half\nLager,12,3\nCider,4,\n",  # one heading over both
    ],
)
def test_a_column_a_size_is_read_as_sizes(text):
    found = read_till(text)

    assert sold(text) == LAGER
    assert (found.wide, found.wide_as_days) == (("Pint", "Half"), False)
    assert {line.line for line in found.lines} <= {2, 3, 4, 5}


def test_tall_and_short_are_sizes_too():
    text = "Item,Single,Double,Tall,Dbl Tall,Total\nVodka Soda,4,2,8,1,15\nTotal,4,2,8,1,15\n"

    assert sold(text) == [
        ("Vodka Soda", "Single", 4), ("Vodka Soda", "Double", 2), ("Vodka Soda", "Tall", 8),
        ("Vodka Soda", "Dbl Tall", 1),
    ]  # fmt: skip


def test_a_column_a_day_is_read_as_days():
    found = read_till("Item,2026-03-05,2026-03-06\nLager,12,3\nCider,4,\nTotal,16,3\n")

    march = dt.date(2026, 3, 5)
    assert [(x.item, x.day, x.quantity) for x in found.of(Kind.SALE)] == [
        ("Lager", march, 12), ("Lager", dt.date(2026, 3, 6), 3), ("Cider", march, 4),
    ]  # fmt: skip
    assert (found.wide, found.wide_as_days) == (("2026-03-05", "2026-03-06"), True)
    assert {x.line for x in found.of(Kind.TOTAL)} == {4}


@pytest.mark.parametrize(
    "text",
    [
        "item,glass,qty\nMadras,highball,3\n",  # one such heading is a column of something else
        "item,qty,small,large\nMadras,3,8.00,9.50\n",  # prices
        "item,qty,single,double\nMadras,9,1,2\n",  # not what was sold in all
    ],
)
def test_what_does_not_say_how_many_is_left_alone(text):
    found = read_till(text)

    assert found.wide == ()
    assert [(x.item, x.quantity) for x in found.lines] == [("Madras", 9 if "9,1,2" in text else 3)]


def test_a_list_of_prices_is_no_export():
    with pytest.raises(CannotBuild, match="till_columns"):
        read_till("item,glass,bottle\nHouse red,8.00,32.00\n")


def test_a_quantity_that_somebody_chose_wins():
    text = "Item,Pint,Half,All\nLager,12,3,15\n"

    assert sold(text, chosen={"quantity": "All"}) == [("Lager", "", 15)]


def test_what_is_no_figure_leaves_the_sheet_as_it_stands():
    with pytest.raises(CannotBuild, match="till_columns"):
        read_till("Item,Pint,Half\nLager,twelve,3\n")


def test_a_name_counts_for_the_rows_below_it():
    text = "Item,Size,Qty\nLager,Pint,12\n,Half,3\nCider,Pint,4\nTotal,,19\n"
    found = read_till(text)

    assert sold(text) == LAGER
    assert found.below == ((3, "Lager"),)


def test_days_under_one_name():
    found = read_till("item,date,qty\nLager,2026-03-05,12\n,2026-03-06,3\nCider,2026-03-05,4\n")

    assert [(x.item, x.day.day, x.quantity) for x in found.lines] == [
        ("Lager", 5, 12), ("Lager", 6, 3), ("Cider", 5, 4),
    ]  # fmt: skip


@pytest.mark.parametrize(
    "text",
    [
        "item,qty\nLager,12\n,3\n",  # nothing tells them apart
        "item,size,qty\nLager,Pint,12\n,Pint,3\n",  # the same size again
        "item,date,qty\nLager,2026-03-05,2\n,2026-03-06,3\nLager,2026-03-06,1\n",  # a row a sale
        "item,size,qty\n,Half,3\nLager,Pint,12\n",  # none above
        "item,size,qty\nLager,Pint,12\nTotal,,12\n,Half,3\n",  # below a sum
    ],
)
def test_else_a_row_without_a_name_has_none(text):
    found = read_till(text)

    assert found.below == ()
    assert [x.quantity for x in found.lines if not x.item] == [3]


@pytest.mark.parametrize(
    ("text", "wide", "unequal"),
    [
        ("Item,Single,Double,Total\nMadras,4,2,6\nPaloma,1,3,5\nTotal,5,5,11\n", True,
         [(3, "Paloma", 4, 5)]),
        ("Item,Single,Double,Total\nMadras,4,2,7\n", True, [(2, "Madras", 6, 7)]),
        ("Item;Single;Double;Total\nMadras;4,5;2;7\n", True, [(2, "Madras", 6.5, 7)]),
        ("Item,Single,Double,Grand total\nMadras,,2,3\n", True, [(2, "Madras", 2, 3)]),
        ("Item,Single,Double,Total sold\nMadras,4,2,6\n", True, []),
        ("Item,Single,Double,Total\nMadras,4,2,\n", True, []),  # it says nothing
        ("Item,Single,Double,Total\nMadras,4,2,51.00\n", True, []),  # money
        ("Item,2026-03-05,2026-03-06,Total\nMadras,4,2,7\n", True, [(2, "Madras", 6, 7)]),
        ("Item,Single,Double,Qty\nMadras,4,2,6\nPaloma,1,3,5\n", False,
         [(3, "Paloma", 4, 5)]),  # the file's own quantity counts
        ("Item,Single,Double,Qty\nMadras,1,2,9\nPaloma,3,1,8\n", False, []),  # no sizes at all
    ],
)  # fmt: skip
def test_rows_that_do_not_add_up_are_told(text, wide, unequal):
    found = read_till(text)

    assert bool(found.wide) is wide
    assert [(x.line, x.item, x.parts, x.whole) for x in found.unequal] == unequal
    assert bool(found.sum) is bool(unequal)


@pytest.mark.parametrize(
    ("text", "unequal"),
    [
        ("Item,Single,Double,Void,Total\nMadras,40,12,2,50\n", []),
        ("Item,Single,Double,Void,Returns,Total\nMadras,40,12,1,1,50\n", []),
        ("Item,Single,Double,Void,Total\nMadras,40,12,2,52\n", []),
        ("Item,Single,Double,Void,Total\nMadras,40,12,-2,50\nGin,1,1,0,2\n", []),
        ("Item,Single,Double,Void,Total\nMadras,40,12,2,51\n", [(2, 52, 51)]),
        ("Item,Single,Double,Void,Qty\nMadras,40,12,2,50\n", []),
    ],
)
def test_a_sum_may_leave_out_what_was_taken_off(text, unequal):
    found = read_till(text)

    assert [(x.line, x.parts, x.whole) for x in found.unequal] == unequal
    assert found.wide == ("Single", "Double")
    assert sum(x.quantity for x in found.of(Kind.SALE)) in (50, 52)
    assert sum(x.quantity for x in found.of(Kind.VOID)) == 2
