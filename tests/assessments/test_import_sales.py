"""`manage.py import_sales`, as other programs call it."""

import io
import json

import pytest
from django.core.management import CommandError, call_command

from assessments.models import CallMapping, SalesMix
from tests.factories.assessments import NOW, menu_of
from tests.factories.tills import NIGHTS, REPORT, checks, rows


@pytest.fixture
def take(odalys, tmp_path):
    def run(data, *said):
        path = tmp_path / "till.csv"
        path.write_bytes(data if isinstance(data, bytes) else data.encode())
        out = io.StringIO()
        call_command("import_sales", str(path), *said, stdout=out)
        return out.getvalue()

    return run


def values(take, data, *said):
    return json.loads(take(data, "--json", *said))


@pytest.mark.parametrize(
    ("data", "quantity", "mapped"),
    [(REPORT, 2242, 1640), (NIGHTS, 180, 173), (checks(), 10, 7)],
    ids=["report", "nights", "checks"],
)
def test_three_tills_of_different_shapes(take, data, quantity, mapped):
    found = values(take, data)

    assert (found["quantity"], found["mapped"]) == (quantity, mapped)
    assert found["set_aside"] == quantity - mapped
    assert sum(d["quantity"] for d in found["drinks"]) == mapped
    assert SalesMix.objects.count() == 1


def test_item_and_quantity_are_enough(take):
    found = values(take, rows("Gin Tonic,3", "Double gin tonic,1", "Beer,2", "Chips,4"))

    assert found["drinks"] == [
        {"drink": "gin-tonic", "quantity": 4.0, "share": found["drinks"][0]["share"]}
    ]
    assert [(a["item"], a["quantity"]) for a in found["ask"]] == [("chips", 4.0), ("beer", 2.0)]
    assert found["ask"][1]["did_you_mean"][0] == "draught-lager"
    assert (found["orders"], found["first_day"]) == (None, None)
    assert "negroni" in found["taught_not_sold"]


def test_a_day_in_the_title_is_told(take):
    till = "Sales of 6 March 2026\nItem,Qty\nMadras,3\n"

    assert "Row 1 does for all of them, “Sales of 6 March 2026”: they count as" in take(till)
    assert SalesMix.objects.get().first_day.isoformat() == "2026-03-06"


def test_a_name_told_before_is_no_question_any_more(take, odalys):
    CallMapping.objects.create(venue=odalys.venue, said="chips", by=odalys, at=NOW)

    assert values(take, rows("Chips,4", "Madras,1"))["ask"] == []


def test_a_dry_run_writes_nothing(take):
    found = values(take, REPORT, "--dry-run")

    assert (found["dry_run"], found["quantity"]) == (True, 2242)
    assert SalesMix.objects.count() == 0


def test_big_figures_are_written_as_people_do(take):
    data = rows("Gin Tonic,9999500", "Zwetsch,2345678.5", ",1234567")

    said = take(data, "--dry-run")

    assert "13579745.5 rung up: 9999500 mapped and 3580245.5 set aside" in said
    assert "2345678.5 zwetsch: which drink?" in said
    assert "1234567 without a name" in said
    assert "e+0" not in said


def test_what_it_replaces_is_said(take):
    two = "item,qty,date\nMadras,{},2026-03-02\nMadras,{},2026-03-03\n"
    first = values(take, two.format(5, 7))
    assert first["replaced"] == []
    said = take("item,qty,date\nMadras,9,2026-03-03\n", "--dry-run")
    assert "March 3, 2026: 7 sold of what was taken in on" in said

    [one] = values(take, "item,qty,date\nMadras,9,2026-03-03\n")["replaced"]
    mix = SalesMix.objects.order_by("pk").first()
    assert one == {
        "export": mix.code, "taken_in": mix.at.isoformat(), "days": ["2026-03-03"],
        "quantity": 7.0, "all_of_it": False,
    }  # fmt: skip


@pytest.mark.parametrize(
    ("data", "says"),
    [(rows("Negroni,-4"), "More was taken off than sold. Add --sure"),
     (rows("Madras,5449000"), "No bar sells so much of one thing. Add --sure")],
)  # fmt: skip
def test_what_is_odd_goes_in_only_where_that_is_said(take, data, says):
    assert says in refused(take, data)
    assert values(take, data, "--dry-run")["needs"] == ["--sure"]
    assert values(take, data, "--sure")["needs"] == []
    assert SalesMix.objects.count() == 1


def test_a_dry_run_tells_that_one_tells_less(take):
    take("item,qty,date,hour\nMadras,10,2026-03-06,20\n")

    found = values(take, "item,qty,date\nMadras,9,2026-03-06\n", "--dry-run")
    assert (found["needs"], found["replaced"][0]["quantity"]) == (["--fewer"], 10.0)


def test_orders_are_told_with_what_waits_on_them(take):
    data = "check,item,qty\n1,Madras,2\n2,Zwetschge,1\n3,Madras,3\n3,Zwetschge,1\n"
    found = values(take, data, "--dry-run")

    assert (found["orders"], found["orders_told"], found["orders_of_waiting_names"]) == (3, 1, 1)
    assert found["drinks_per_order"] == 2.0
    assert "Drinks an order: 2.0 (on those of which every name is told: 1; on" in take(data)


def test_what_came_without_days_goes_where_that_is_said(take):
    take(rows("Madras,3"))
    assert values(take, rows("Madras,4"), "--dry-run")["replaced"] == []

    [one] = values(take, rows("Madras,4"), "--instead")["replaced"]
    assert (one["days"], one["quantity"], one["all_of_it"]) == ([], 3.0, True)


def refused(take, data, *said):
    before = SalesMix.objects.count()
    with pytest.raises(CommandError) as found:
        take(data, *said)
    assert found.value.returncode == 2
    assert "\n" not in str(found.value)
    assert SalesMix.objects.count() == before
    return str(found.value)


def test_what_may_count_twice_is_told_and_goes_in_only_where_it_is_said_to_be_other(take):
    take("item,qty,date\nMadras,3,2026-03-06\n")
    looked = values(take, rows("Madras,4", "Beer,2"), "--dry-run")
    [one] = looked["may_count_twice"]

    assert (one["names"], one["quantity"], looked["needs"]) == (1, 4.0, ["--beside"])
    assert "Refused without --beside." in take(rows("Madras,4"), "--dry-run")
    assert "Add --beside where they are others" in refused(take, rows("Madras,4"))
    assert "Add --beside" in refused(take, rows("Madras,4"), "--instead")  # that one has days
    assert "May count twice: What was taken in on" in take(rows("Madras,4"), "--beside")
    assert SalesMix.objects.count() == 2
    assert (
        values(take, "item,qty,date\nMadras,9,2026-03-06\n", "--instead")["may_count_twice"] == []
    )


def test_two_flags_that_cant_both_be(take):
    take(rows("Madras,5"))

    assert "Leave out --beside or --instead." in refused(
        take, rows("Madras,4"), "--beside", "--instead"
    )
    assert values(take, rows("Madras,4"), "--instead", "--dry-run")["needs"] == []
    assert SalesMix.objects.count() == 1


def test_days_to_come_are_told_apart(take):
    found = values(take, "item,qty,date\nMadras,3,2026-03-06\nBeer,2,2926-03-06\n")

    assert found["ahead"] == [{"item": "beer", "quantity": 2.0}]
    assert found["quantity"] == found["mapped"] + found["set_aside"] == 5


def test_in_words(take):
    said = take(REPORT)

    assert said.startswith("Taken in: 2242 rung up: 1640 mapped and 602 set aside.")
    assert "450 beer: which drink? draught-lager or" in said
    assert "64 tequila & soda: not taught" in said
    assert "Taught, never sold: " in said.splitlines()[-1]


def test_a_long_list_of_the_never_sold_is_short_in_words_and_whole_in_json(take):
    never = values(take, rows("Madras,3"), "--dry-run")["taught_not_sold"]
    [line] = [x for x in take(rows("Madras,3")).splitlines() if x.startswith("Taught, never")]

    assert line.startswith(f"Taught, never sold: {len(never)} ({', '.join(never[:8])} and ")
    assert line.endswith(f" and {len(never) - 8} more; --json has them all).")


@pytest.mark.parametrize(
    ("data", "says"),
    [
        ("", "nothing in this file"),
        ("name,price\nMadras,3\n", "Call them item and quantity"),
        (rows("Total,3"), "No row of it is a sale"),
        (b"\x00\x01\x02", "can't be read"),
    ],
)
def test_what_is_no_export_is_refused_in_one_line(take, data, says):
    with pytest.raises(CommandError, match=says) as found:
        take(data)

    assert found.value.returncode == 2
    assert "\n" not in str(found.value)


def test_the_same_sales_twice_are_refused(take):
    take(REPORT)
    with pytest.raises(CommandError, match="They count once"):
        take(REPORT)


def test_a_file_that_is_not_there_is_refused(odalys, tmp_path):
    with pytest.raises(CommandError, match="No such file") as found:
        call_command("import_sales", str(tmp_path / "none.csv"))

    assert found.value.returncode == 2


def test_rows_that_cannot_be_read_and_names_that_were_are_told(take):
    found = values(take, rows("Madras,3", "Vodka Soda,ten", ",5", "Mojto,1", "Beer,"))

    assert (found["rows_unreadable"], found["unreadable"]) == (
        2,
        [{"row": 3, "item": "Vodka Soda", "quantity": "ten"},
         {"row": 6, "item": "Beer", "quantity": ""}],
    )  # fmt: skip
    assert found["read"] == [
        {"item": "madras", "drink": "madras", "quantity": 3.0, "each": 1},
        {"item": "mojto", "drink": "mojito", "quantity": 1.0, "each": 1},
    ]
    assert (found["quantity"], found["mapped"], found["without_a_name"]) == (9.0, 4.0, 5.0)
    assert found["set_aside"] == 5.0


def test_what_cannot_be_read_is_said_in_words(take):
    said = take(rows("Madras,3", "Vodka Soda,ten", ",5", "Negroni,-4"), "--dry-run")

    assert "Rows that can't be read, not counted: 1. These: 3 Vodka Soda (ten)." in said
    assert "Negroni: -4. More was taken off than sold." in said
    assert "5 without a name: set aside" in said


@pytest.mark.parametrize(
    ("heads", "cells", "unused"),
    [("voids,returns", "1,2", []), ("returned,PLU", "3,17", ["PLU"]),
     ("refunds,voids", "25.50,3", ["refunds"])],
)  # fmt: skip
def test_what_was_taken_off_is_no_sale_and_columns_not_used_are_told(take, heads, cells, unused):
    data = f"item,quantity,{heads}\nMojito,10,{cells}\n"
    found = values(take, data, "--dry-run")

    assert (found["quantity"], found["mapped"], found["set_aside"]) == (10.0, 7.0, 3.0)
    assert found["voided"] == [{"item": "mojito", "quantity": 3.0}]
    assert found["columns_unused"] == unused
    assert (f"Not used: {', '.join(unused)}." in take(data)) is bool(unused)


def test_a_day_or_hour_that_is_none_is_said(take):
    data = "item,quantity,date,hour\nMadras,3,2026-03-05,25\nBeer,1,soon,20\n"

    said = take(data, "--dry-run")

    assert "Row 2, Madras: “25” is no day or hour: without it." in said
    assert "Row 3, Beer: “soon” is no day or hour: without it." in said


def test_what_was_taken_off_several_sizes_comes_off_once(take):
    data = "Item,Single,Double,Void\nMojito,40,12,2\n"
    found = values(take, data, "--dry-run")

    assert (found["quantity"], found["mapped"], found["set_aside"]) == (52.0, 50.0, 2.0)
    assert "It comes off what sold most: 2 Mojito." in take(data)


def test_what_will_not_count_since_an_older_one_tells_more_is_said(take):
    head = "item,qty,date,hour\n"
    take(f"{head}Madras,10,2026-03-06,20\nMadras,9,2026-03-06,23\n")
    piece = f"{head}Madras,7,2026-03-06,22\n"

    assert values(take, piece, "--dry-run")["not_counting"] == 7.0
    assert "7 of what this file rings up won't count, its piece of March 6, 2026" in take(piece)


@pytest.mark.parametrize("flag", ["--instead", "--fewer"])
def test_a_file_that_tells_less_takes_the_place_of_one_with_hours_only_where_that_is_said(
    take, flag
):
    take("item,qty,date,hour\nMadras,10,2026-03-06,20\n")
    bare = "item,qty,date\nMadras,9,2026-03-06\n"

    with pytest.raises(CommandError, match="Add --fewer") as found:
        take(bare)
    assert found.value.returncode == 2
    assert SalesMix.objects.count() == 1
    [one] = values(take, bare, flag)["replaced"]
    assert (one["quantity"], one["all_of_it"]) == (10.0, True)


def test_a_file_that_tells_less_may_count_beside_what_came_without_days(take):
    take("item,qty,date,hour\nMadras,10,2026-03-06,20\n")
    take(rows("Madras,4"), "--beside")
    bare = "item,qty,date\nMadras,9,2026-03-06\n"

    assert values(take, bare, "--dry-run")["needs"] == ["--fewer", "--beside"]
    found = values(take, bare, "--fewer", "--beside")
    assert [one["quantity"] for one in found["replaced"]] == [10.0]
    assert [one["quantity"] for one in found["may_count_twice"]] == [9.0]


def test_packs_are_asked_about_and_counted_by_the_glass_once_told(take, odalys):
    sold = rows("Gin Tonic 6 pack,2", "Gin Tonic,3")
    [asked] = values(take, sold, "--dry-run")["ask"]
    assert (asked["item"], asked["tells_of"], asked["did_you_mean"]) == (
        "gin tonic 6 pack", 6, ["gin-tonic"],
    )  # fmt: skip

    CallMapping.objects.create(
        venue=odalys.venue, said="gin tonic 6 pack", by=odalys, at=NOW, each=6,
        recipe=menu_of(odalys).by_slug["gin-tonic"].recipe,
    )  # fmt: skip
    found = values(take, sold, "--dry-run")
    assert (found["quantity"], found["mapped"], found["set_aside"]) == (5.0, 5.0, 0.0)
    assert found["drinks_mapped"] == found["drinks"][0]["quantity"] == 15.0
    assert "5 rung up: 5 mapped and 0 set aside; those mapped are 15 drinks" in take(sold)


def test_sizes_that_do_not_add_up_are_told(take):
    said = "Item,Single,Double,Total\nGin Tonic,5,2,9\nMadras,3,,3\n"

    assert "row 2, Gin Tonic: 7, not 9." in take(said, "--dry-run")
    assert values(take, said)["not_adding_up"] == [
        {"row": 2, "item": "Gin Tonic", "columns": 7.0, "total": 9.0}
    ]
