"""A menu that comes as a sheet: columns in any order, sales beside the items."""

import io

import openpyxl
import pytest

from recipes.menu_sheet import menu_of_file, menu_of_text, read_sold, written_sold


def test_columns_may_stand_in_any_order():
    found = menu_of_text("Qty sold;Price (EUR);Item\n120;9,50;Gin & Tonic\n1,040;12;French 75\n")

    assert found.text.splitlines() == ["Gin & Tonic | 9,50", "French 75 | 12"]
    assert found.sold == {1: 120, 2: 1040}


@pytest.mark.parametrize(
    ("price", "is_read"),
    [
        ("9.50", True), ("£9.50", True), ("9,50 EUR", True), ("US$ 12", True), ("4.50 / 6", True),
        ("", True), ("market price", False), ("ask", False), ("n/a", False), ("about 9", False),
    ],
)  # fmt: skip
def test_a_price_that_is_no_number_is_named_and_is_no_part_of_the_line(price, is_read):
    found = menu_of_text(f"item;price;qty\nMadras;{price};3\n")

    assert [(u.item, u.column, u.said) for u in found.unread] == (
        [] if is_read else [("Madras", "price", price)]
    )
    assert found.text == (f"Madras | {price}" if price and is_read else "Madras")
    assert found.sold == {1: 3}


@pytest.mark.parametrize("said", ["a few", "12 or so", "-", "3x"])
def test_a_quantity_that_is_no_number_is_named(said):
    found = menu_of_text(f"item;qty\nMadras;{said}\nNegroni;4\n")

    assert [(u.item, u.column, u.said) for u in found.unread] == [("Madras", "sold", said)]
    assert found.sold == {2: 4}


def test_what_is_in_it_goes_with_the_name():
    found = menu_of_text('item,description,price\nHarbour Dusk,"vodka, cranberry",10\n,,\n')

    assert found.text == "Harbour Dusk | vodka, cranberry | 10"
    assert found.sold == {}


@pytest.mark.parametrize(
    "said",
    [
        "Gin & Tonic 9.50\nMadras 8",
        "Madras, vodka, cranberry, orange 8",
        "",
        "name,ice\nMadras,full",
    ],
)
def test_any_other_text_is_a_menu_by_itself(said):
    found = menu_of_text(said)

    assert (found.sold, found.text) == ({}, said)


@pytest.mark.parametrize("encoding", ["utf-8", "utf-8-sig", "cp1252", "utf-16"])
def test_a_file_in_whatever_encoding(encoding):
    found = menu_of_file("Item;Price\nPiña Colada;12\n".encode(encoding))

    assert found.text == "Piña Colada | 12"


def test_a_workbook():
    book, out = openpyxl.Workbook(), io.BytesIO()
    for row in (["Sold", "Item", "Price"], [30, "Madras", 8.5], [4, "Cosmo", 12]):
        book.active.append(row)
    book.save(out)

    found = menu_of_file(out.getvalue())

    assert found.text.splitlines() == ["Madras | 8.5", "Cosmo | 12"]
    assert found.sold == {1: 30, 2: 4}


@pytest.mark.parametrize("said", ["", "{", "[1]", '{"a": 1}', '{"1": "x"}', "3"])
def test_what_was_sold_is_carried_or_nothing(said):
    assert read_sold(said) == {}
    assert read_sold(written_sold({1: 3.0, 12: 4.5})) == {1: 3.0, 12: 4.5}
