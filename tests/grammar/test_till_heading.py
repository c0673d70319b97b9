"""Headings over two rows, where the lower one is no sizes."""

import datetime as dt

import pytest

from recipes.grammar.reasons import CannotBuild
from recipes.grammar.till_kinds import Kind
from recipes.grammar.till_sheet import has_columns, read_till

DAY = dt.date(2026, 3, 6)


@pytest.mark.parametrize(
    "text",
    [
        "Product,Sold,,\n,Qty,Net,Date\nMadras,3,24.00,2026-03-06\n",
        "Product mix,,,\n\nProduct,Sold,,\n,Qty,Net,Date\nMadras,3,24.00,2026-03-06\n",
        "Product,Sold,,Sale\n,Net,Qty,Date\nMadras,24.00,3,2026-03-06\n",  # "Sold" isn't how many
        "Product,Sold,Sold,Sold\n,Qty,Net,Date\nMadras,3,24.00,2026-03-06\n",
        "Product,Figures,,\n,Net,Qty,Date\nMadras,24.00,3,2026-03-06\n",
        "Date,,Sold,\n,Product,Qty,Net\n2026-03-06,Madras,3,24.00\n",
    ],
)
def test_two_rows_are_one_heading(text):
    found = read_till(text)

    assert [(x.item, x.quantity, x.day) for x in found.of(Kind.SALE)] == [("Madras", 3, DAY)]
    assert found.of(Kind.UNREADABLE) == ()
    assert (found.columns["quantity"], found.columns["date"]) == ("Qty", "Date")
    assert "Net" in found.ignored


def test_rows_keep_their_numbers():
    [sale] = read_till("Product,Sold,,\n,Qty,Net,Date\nMadras,3,24.00,2026-03-06\n").lines

    assert sale.line == 3


@pytest.mark.parametrize(
    ("text", "sold"),
    [
        ("Item,Qty,Note\n,2,hour\nMadras,3,\n", [("", 2), ("Madras", 3)]),  # a row of data
        ("Item,Qty,Note\nSize,2,\nMadras,3,\n", [("Size", 2), ("Madras", 3)]),
        ("Item,Qty\n,2026-03-06\nMadras,3\n", [("Madras", 3)]),
        ("Item,Qty,\nMadras,3,Date\n", [("Madras", 3)]),
        ("Item,Sold,\n,Pint,Half\nLager,12,3\n", [("Lager", 12), ("Lager", 3)]),  # sizes
    ],
)
def test_a_second_row_that_is_data_or_sizes_is_none(text, sold):
    found = read_till(text)

    assert [(x.item, x.quantity) for x in found.of(Kind.SALE)] == sold


def test_groups_that_say_the_same_twice_are_not_guessed_at():
    """Of two columns of quantities one alone would count."""
    text = "Product,Friday,,Saturday,\n,Qty,Net,Qty,Net\nMadras,3,24.00,4,32.00\n"

    assert not has_columns([(n, row.split(",")) for n, row in enumerate(text.splitlines(), 1)])
    with pytest.raises(CannotBuild, match="till_columns"):
        read_till(text)
