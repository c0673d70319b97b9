"""What was rung up and taken off again: counted in a column, marked, or said in the name."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

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


@pytest.mark.parametrize(
    ("cells", "sold", "off", "shared"),
    [
        ("40,12,2", [("Single", 38), ("Double", 12)], 2, True),
        ("12,40,-2", [("Single", 12), ("Double", 38)], 2, True),
        ("40,12,45", [("Double", 7)], 45, True),
        ("40,12,52", [], 52, False),
        ("40,,2", [("Single", 38)], 2, False),
        ("40,12,", [("Single", 40), ("Double", 12)], 0, False),
        ("40,12,yes", [], 52, False),
    ],
)
@pytest.mark.parametrize("name", ["Void", "Returns", "Refunded qty"])
def test_what_is_taken_off_an_item_of_several_sizes_comes_off_once(name, cells, sold, off, shared):
    found = read_till(f"Item,Single,Double,{name}\nGin & Tonic,{cells}\n")

    assert [(x.size, x.quantity) for x in found.of(Kind.SALE)] == sold
    assert sum(x.quantity for x in found.of(Kind.VOID)) == off
    assert found.shared_off == (((2, "Gin & Tonic"),) if shared else ())


def test_voids_and_returns_of_several_sizes_or_days_are_both_taken_off_once():
    sizes = read_till("Item,Single,Double,Void,Returns\nMadras,4,3,2,4\nBeer,9,1,1,0\n")
    days = read_till("Item,2026-11-20,2026-11-21,Void\nMadras,12,30,3\nBeer,4,2,0\n")

    assert [(x.item, x.size, x.quantity) for x in sizes.of(Kind.SALE)] == [
        ("Madras", "Double", 1), ("Beer", "Single", 8), ("Beer", "Double", 1),
    ]  # fmt: skip
    assert sum(x.quantity for x in sizes.of(Kind.VOID)) == 7
    assert sum(x.quantity for x in sizes.lines) == 17
    assert [(x.item, x.day.day, x.quantity) for x in days.of(Kind.SALE)] == [
        ("Madras", 20, 12), ("Madras", 21, 27), ("Beer", 20, 4), ("Beer", 21, 2),
    ]  # fmt: skip
    assert days.shared_off == ((2, "Madras"),)


@given(
    counts=st.lists(st.integers(0, 99), min_size=2, max_size=4),
    off=st.integers(0, 400),
    back=st.integers(0, 400),
)
def test_several_sizes_balance_whatever_is_taken_off(counts, off, back):
    heads = ",".join(["Single", "Double", "Tall", "Half"][: len(counts)])
    row = ",".join(map(str, (*counts, off, back)))
    found = read_till(f"Item,{heads},Void,Returns\nMadras,{row}\nBeer,9,9{',' * len(counts)}\n")
    madras = [x for x in found.lines if x.item == "Madras"]

    assert sum(x.quantity for x in madras) == sum(counts)
    if off + back <= sum(counts):
        assert all(x.quantity >= 0 for x in madras)
    if off + back < sum(counts):
        assert sum(x.quantity for x in madras if x.kind is Kind.VOID) == off + back
