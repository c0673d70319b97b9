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


@pytest.mark.parametrize("item", ["Refund Madras", "REFUND: Madras", "Returned Madras"])
@pytest.mark.parametrize("count", [-2, 2])
def test_a_refund_in_the_name_takes_its_drink_off(item, count):
    assert read(f"item,qty\n{item},{count}\n") == [(Kind.SALE, "madras", -2)]


@pytest.mark.parametrize("item", ["Subtotal", "Subtotal Beer", "Sub-total spirits", "SUB TOTAL x"])
def test_sums_of_a_part_are_no_sales(item):
    assert [x.kind for x in read_till(f"item,qty\n{item},7\n").lines] == [Kind.TOTAL]
