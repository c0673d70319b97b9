"""Which receipts are orders, and on which of them every name is told: a truth table."""

import datetime as dt
from decimal import Decimal

import pytest

from assessments.models.sales import Kept, Place
from assessments.sales_receipts import Means, Orders, Receipts, judged, judged_all
from assessments.sales_words import orders_words

MEANS = {
    "madras": Means("madras", Kept(Place.MAPPED)),
    "madras dbl": Means("madras", Kept(Place.MAPPED)),
    "madras 6 pack": Means("madras", Kept(Place.MAPPED, 6)),
    "paloma": Means("paloma", Kept(Place.UNTAUGHT)),
    "beer": Means("beer", Kept(Place.WAITING)),
    "burger": Means("burger", Kept(Place.NOT_OURS)),
}
TOLD, PART, ONLY_WAITS, NONE = (1, 1, 0), (1, 0, 0), (1, 0, 1), (0, 0, 0)


def receipt(text):
    pairs = (line.rsplit(" ", 1) for line in text.split(", "))
    return tuple((said, Decimal(n)) for said, n in pairs)


@pytest.mark.parametrize(
    ("text", "is_", "drinks"),
    [
        ("madras 2", TOLD, 2),
        ("madras 2, paloma 1", TOLD, 3),  # made, whether or not it is taught
        ("madras 2, burger 1", TOLD, 2),
        ("madras 6 pack 2, madras -1", TOLD, 11),
        ("madras 1, paloma -1", TOLD, 1),  # what came back was of another order
        ("madras 1, beer 1", PART, 0),
        ("madras 1, beer -1", PART, 0),
        ("madras 1, beer 0", TOLD, 1),
        ("beer 2", ONLY_WAITS, 0),
        ("beer 2, burger 1", ONLY_WAITS, 0),
        ("beer 1, madras -1", ONLY_WAITS, 0),
        ("burger 3", NONE, 0),
        ("beer -1", NONE, 0),
        ("madras 0", NONE, 0),
        ("madras dbl 1, madras -1", NONE, 0),  # one drink under two names
    ],
)
def test_what_a_receipt_is(text, is_, drinks):
    found = judged(receipt(text), MEANS)

    assert (found.orders, found.told, found.waiting) == is_
    assert found.drinks == drinks


def test_receipts_that_are_alike_are_counted_together():
    alike = [(3, receipt("madras 2")), (2, receipt("beer 1")), (4, receipt("burger 1"))]

    assert judged_all(alike, MEANS) == Orders(orders=5, told=3, drinks=Decimal(6), waiting=2)


def test_a_receipt_begins_with_its_first_sale_whatever_that_is():
    friday, found = dt.date(2026, 3, 6), Receipts()
    for order, said, n, hour in (
        ("1", "burger", 1, 22), ("1", "madras", 2, 23), ("2", "madras", 2, 23),
        ("3", "madras", 2, 23), ("4", "beer", -1, 21),
    ):  # fmt: skip
        found.add(friday, order, said, Decimal(n), (friday, hour))

    assert found.begun() == {
        (friday, 22): [(1, receipt("burger 1, madras 2"))],
        (friday, 23): [(2, receipt("madras 2"))],
        (friday, None): [(1, receipt("beer -1"))],
    }


@pytest.mark.parametrize(
    ("told", "drinks", "said"),
    [(12, 19, "1.6"), (3, 11, "3.7"), (100, 199, "2.0"), (4, 10, "2.5"), (849, 1341, "1.6")],
)
def test_drinks_an_order_are_rounded(told, drinks, said):
    _orders, (_label, found, _note) = orders_words(Orders(told, told, Decimal(drinks)))

    assert found == said
