"""What was rung up and taken off again: counted in a column, marked, or said in the name."""

import pytest

from recipes.grammar.till_kinds import Kind
from recipes.grammar.till_names import spoken
from recipes.grammar.till_sheet import read_till


def read(text):
    return [(x.kind, spoken(x.item).casefold(), x.quantity) for x in read_till(text).lines]


@pytest.mark.parametrize(
    ("rows", "expected"),
    [
        ("Madras,5,2\n", [(Kind.SALE, "madras", 3), (Kind.VOID, "madras", 2)]),
        ("Madras,5,0\nBeer,4,1\n",
         [(Kind.SALE, "madras", 5), (Kind.SALE, "beer", 3), (Kind.VOID, "beer", 1)]),
        ("Madras,2,2\n", [(Kind.VOID, "madras", 2)]),
        ("Madras,1,1\nBeer,1,0\n", [(Kind.VOID, "madras", 1), (Kind.SALE, "beer", 1)]),
        ("Madras,5,yes\nBeer,4,\n", [(Kind.VOID, "madras", 5), (Kind.SALE, "beer", 4)]),
        ("Madras,5,x\n", [(Kind.VOID, "madras", 5)]),
    ],
)  # fmt: skip
@pytest.mark.parametrize("name", ["Void", "Voids", "Returns"])
def test_a_column_of_voids_counts_or_marks(name, rows, expected):
    assert read(f"item,qty,{name}\n{rows}") == expected


@pytest.mark.parametrize(
    "item",
    [
        "VOID Madras",
        "Madras VOID",
        "Madras (void)",
        "Madras - Voided",
        "*Madras* storno",
        "Madras: cancelled",
    ],
)
def test_a_void_in_the_name_was_never_sold(item):
    assert read(f"item,qty\n{item},2\n") == [(Kind.VOID, "madras", 2)]
    assert read(f"item,qty\n{item},-2\n") == [(Kind.SALE, "madras", -2)]


@pytest.mark.parametrize("item", ["The Void", "Devoid", "Avoided", "The Return", "Voidka"])
def test_a_name_that_only_has_such_letters_is_sold(item):
    assert read(f"item,qty\n{item},2\n") == [(Kind.SALE, item.casefold(), 2)]


@pytest.mark.parametrize(
    "item",
    ["Refund Madras", "REFUND: Madras", "Returned Madras", "Madras REFUND", "Madras (return)"],
)
@pytest.mark.parametrize("count", [-2, 2])
def test_a_refund_in_the_name_takes_its_drink_off(item, count):
    assert read(f"item,qty\n{item},{count}\n") == [(Kind.SALE, "madras", -2)]


@pytest.mark.parametrize("item", ["Subtotal", "Subtotal Beer", "Sub-total spirits", "SUB TOTAL x"])
def test_sums_of_a_part_are_no_sales(item):
    assert [x.kind for x in read_till(f"item,qty\n{item},7\n").lines] == [Kind.TOTAL]


OFF = ["void", "Voids", "voided", "Return", "returns", "Returned", "refund", "Refunds", "refunded",
       "Cancelled", "canceled", "Returned qty", "Qty voided"]  # fmt: skip


@pytest.mark.parametrize("name", OFF)
@pytest.mark.parametrize("cell", ["2", "-2", "(2)", "2.0"])
def test_whatever_a_column_of_what_was_taken_off_is_called(name, cell):
    found = read_till(f"item,qty,{name}\nMadras,10,{cell}\nBeer,4,-\n")

    assert [(x.kind, x.quantity) for x in found.lines] == [
        (Kind.SALE, 8), (Kind.VOID, 2), (Kind.SALE, 4),
    ]  # fmt: skip
    assert (found.columns["status"], found.ignored) == (name, ())


@pytest.mark.parametrize(
    ("heads", "cells", "sold", "off"),
    [
        ("voids,returns", "1,2", 7, 3),
        ("returns,voids", "2,1", 7, 3),
        ("Voids,Voids", "1,2", 7, 3),
        ("void,return,refund,cancelled", "1,1,1,1", 6, 4),
        ("status,voids,returned", "Sold,1,2", 7, 3),
        ("type,voids", "3,1", 9, 1),
        ("status,returns", "Void,2", 0, 10),
        ("returned,void", "2,yes", 0, 10),
        ("voids,returns", "6,6", -2, 12),
        ("voids,returns", "1,", 9, 1),
        ("voids,refunds", "1,17.00", 9, 1),
        ("voids,refunds", "1,€8.50", 9, 1),
        ("voids,refunds", "1,200", 9, 1),
    ],
)
def test_all_of_what_was_taken_off_is(heads, cells, sold, off):
    found = read_till(f"item,qty,{heads}\nMadras,10,{cells}\n")
    sums = {k: sum(x.quantity for x in found.of(k)) for k in (Kind.SALE, Kind.VOID)}

    assert sums == {Kind.SALE: sold, Kind.VOID: off}
    assert sum(sums.values()) == 10


@pytest.mark.parametrize(
    ("head", "cell"),
    [("refunds", "17.00"), ("refunds", "€8.50"), ("voids", "200"), ("type", "3"), ("Net", "85")],
)
def test_a_column_that_says_nothing_is_told(head, cell):
    found = read_till(f"item,qty,{head},returns\nMadras,10,{cell},2\nBeer,4,1,0\n")

    assert found.ignored == (head,)
    assert (found.columns["status"], found.also_off) == ("returns", ())
    assert [x.quantity for x in found.of(Kind.SALE)] == [8, 4]


@pytest.mark.parametrize(
    ("chosen", "off", "also"),
    [({"status": "voids"}, 3, 1), ({"status": "returns"}, 3, 1), ({"status": "x"}, 4, 0),
     ({"status": ""}, 0, 0), ({"size": "returns"}, 1, 0)],
)  # fmt: skip
def test_a_choice_among_the_known_keeps_them_all(chosen, off, also):
    found = read_till("item,qty,voids,returns,x\nMadras,10,1,2,4\n", chosen=chosen)

    assert sum(x.quantity for x in found.of(Kind.VOID)) == off
    assert len(found.also_off) == also
    again = read_till("item,qty,voids,returns,x\nMadras,10,1,2,4\n",
                      chosen={"status": ""} | dict(found.columns))  # fmt: skip
    assert (again.lines, again.columns) == (found.lines, found.columns)
