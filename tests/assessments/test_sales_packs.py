"""Names that tell of several drinks: asked about, told once, counted by the glass."""

import pytest

from assessments import record_sales, sales
from assessments.measures.sales_mix import AS_IF_SOLD
from assessments.models import CallMapping, OrdersByHour, SalesLine
from assessments.models.sales import Place
from assessments.sales_reading import SOME, heard, name_of
from assessments.sales_told import Meant
from barcourse.people.reasons import Refused
from recipes.menu import menu_at
from tests.assessments.sold import names, summary
from tests.factories.assessments import LATER, NOW, menu_of
from tests.factories.tills import rows, take_in


@pytest.fixture
def menu(odalys):
    return menu_at(odalys.venue, NOW)


def tell(by, told, **each):
    glasses = {said.replace("_", " "): n for said, n in each.items()}
    return record_sales.tell_names(by=by, told=told, each=glasses, menu=menu_of(by), at=LATER)


@pytest.mark.parametrize(
    ("item", "means"),
    [
        ("Madras 6 pack", (Place.WAITING, ("madras",), 6)),
        ("Bucket of 5 Madras", (Place.WAITING, ("madras",), 5)),
        ("2pk Madras", (Place.WAITING, ("madras",), 2)),
        ("4 for 3 Madras", (Place.WAITING, ("madras",), 4)),
        ("Double Madras x2", (Place.WAITING, ("madras",), 2)),
        ("Two Madras", (Place.WAITING, ("madras",), 2)),
        ("Madras (2)", (Place.MAPPED, (), 1)),  # a bare figure is a size
        ("Madras 2", (Place.MAPPED, (), 1)),
        ("Bucket Madras", (Place.WAITING, ("madras",), SOME)),
        ("6 pack PP Codder", (Place.WAITING, ("cape-codder",), 6)),
        ("3 PP Codders", (Place.WAITING, ("cape-codder",), 3)),
        ("6 pack Nuts", (Place.NOT_OURS, (), 1)),
        ("6 pack Zwetschge", (Place.WAITING, (), 6)),
        ("6 pack Tequila & Soda", (Place.WAITING, (), 6)),  # no drink of the book
        ("Six Zwetschge", (Place.WAITING, (), 1)),  # it may be called so
    ],
)
def test_what_tells_of_several_is_never_one_by_itself(menu, item, means):
    told = {"pp codder": Meant(menu.by_slug["cape-codder"].recipe), "nuts": Meant()}

    found = heard(name_of(item), menu, told)

    assert (found.place, found.proposed[:1], found.each) == means


def test_a_pack_counts_its_glasses_and_the_sums_stay_as_rung_up(marek):
    take_in(marek, rows("Madras 6 pack,2", "Madras,3", "Burger,1"))
    tell(marek, {"madras 6 pack": "madras"}, madras_6_pack=6)
    found = summary(marek)

    assert (found.quantity, found.mapped, found.aside) == (6, 5, 1)
    assert found.quantity == found.mapped + found.aside
    assert found.drinks == 2 * 6 + 3
    menu = menu_of(marek)
    share = sales.shares(marek.venue, at=LATER)["madras"]
    thought = menu.by_slug["madras"].recipe.share / sum(i.recipe.share for i in menu.items)
    assert share == pytest.approx((15 + AS_IF_SOLD * thought) / (15 + AS_IF_SOLD))


def test_it_is_not_told_without_how_many(marek):
    take_in(marek, rows("Madras 6 pack,2"))
    with pytest.raises(Refused, match="till_name_of_several"):
        tell(marek, {"madras 6 pack": "madras"})
    assert CallMapping.objects.count() == 0

    tell(marek, {"madras 6 pack": None})  # what is no drink has no glasses
    assert names(summary(marek), Place.NOT_OURS) == {"madras 6 pack": 2}


@pytest.mark.parametrize("each", [1, 6])
def test_told_before_or_after_counts_alike_and_is_told_otherwise(marek, each):
    def counted():
        found = summary(marek)
        return found.mapped, found.drinks

    take_in(marek, rows("Madras 6 pack,2"))
    tell(marek, {"madras 6 pack": "madras"}, madras_6_pack=each)
    after = counted()
    take_in(marek, rows("Madras 6 pack,4"), at=LATER)

    assert after == (2, 2 * each)
    assert counted() == (6, 6 * each)
    tell(marek, {"madras 6 pack": "madras"}, madras_6_pack=4)
    assert counted() == (6, 24)
    tell(marek, {"madras 6 pack": record_sales.FORGET})
    assert counted() == (0, 0)


@pytest.mark.parametrize(
    ("other", "means"),
    [
        ("madras x2", (Place.MAPPED, 2)),
        ("2x madras", (Place.MAPPED, 2)),
        ("madras 2 x", (Place.MAPPED, 2)),
        ("2 x madras double", (Place.MAPPED, 2)),
        ("3 x madras", (Place.WAITING, 3)),
        ("2 pack madras", (Place.WAITING, 2)),  # said another way, it may be something else
        ("madras", (Place.MAPPED, 1)),
    ],
)
def test_once_told_it_is_not_asked_in_another_spelling(marek, other, means):
    take_in(marek, rows("2 x Madras,5", f"{other},3"))
    tell(marek, {"2 x madras": "madras"}, **{"2_x_madras": 2})
    row = SalesLine.objects.get(said=other)
    place, each = means

    assert (row.place, row.each) == (place, each if place is Place.MAPPED else 1)
    found = heard(other, menu_of(marek), record_sales.meanings(marek.venue))
    assert (found.place, found.each) == means


def test_hours_count_the_glasses(marek):
    take_in(marek, "item,qty,date,hour\nMadras 6 pack,2,2026-03-06,20\nMadras,1,2026-03-06,20\n")
    seen = [OrdersByHour.objects.get().drinks]
    for to, each in (("madras", 6), ("madras", 4), (None, 1), ("madras", 6),
                     (record_sales.FORGET, 1)):  # fmt: skip
        tell(marek, {"madras 6 pack": to}, madras_6_pack=each)
        seen.append(OrdersByHour.objects.get().drinks)

    assert seen == [1, 13, 9, 1, 13, 1]


def test_hours_of_what_comes_in_later_count_them_too(marek):
    take_in(marek, rows("Madras 6 pack,1"))
    tell(marek, {"madras 6 pack": "madras"}, madras_6_pack=6)
    take_in(
        marek,
        "item,qty,date,hour,check\nMadras 6 pack,2,2026-03-06,20,1\nMadras,1,2026-03-06,20,2\n",
    )
    mix = OrdersByHour.objects.get().mix

    assert OrdersByHour.objects.get().drinks == 13
    assert mix.quantity == 3
    assert summary(marek).drinks_an_order == pytest.approx(13 / 2)
