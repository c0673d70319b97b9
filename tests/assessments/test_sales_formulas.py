"""Workbooks whose formulas were stored without what they came to."""

import io
from zipfile import ZipFile

import openpyxl
import pytest
from django.core.management import CommandError, call_command

from recipes.formulas import without_results
from tests.assessments.pages import address, fields, text
from tests.assessments.till_pages import send_file, take_as_shown

MEND = "Open it in a spreadsheet, save it there, and send it once more."


def book(*rows, name="Sheet", first=()):
    made, out = openpyxl.Workbook(), io.BytesIO()
    if first:
        made.active.append(first)
        made.create_sheet(name)
    sheet = made.worksheets[-1]
    sheet.title = name
    for row in rows:
        sheet.append(row)
    made.save(out)
    return out.getvalue()


HEAD = ("Item", "Qty")


@pytest.fixture
def take(odalys):
    return address(odalys, "sales_take")


def test_cells_without_results_are_found_by_sheet():
    data = book(HEAD, ("Madras", "=2+3"), ("Gin", 4), ("Rum", '=IF(1<2,"a","b")'),
                name="Sold & paid", first=("x",))  # fmt: skip

    assert without_results(data) == {
        "Sold & paid": {(2, 2): "=2+3", (4, 2): '=IF(1<2,"a","b")'},
    }


def stored(cell):
    """A workbook with just this in its second row."""
    out = io.BytesIO()
    with ZipFile(io.BytesIO(book(HEAD, ("Madras", "=2+3")))) as made, ZipFile(out, "w") as other:
        for entry in made.namelist():
            kept = made.read(entry)
            other.writestr(entry, kept.replace(b'<c r="B2"><f>2+3</f><v></v></c>', cell))
    return out.getvalue()


@pytest.mark.parametrize(
    ("cell", "found"),
    [
        (b'<c r="B2"><f>2+3</f><v>5</v></c>', {}),
        (b'<c r="B2"><v>5</v></c>', {}),
        (b'<c r="B2" t="str"><f>C2</f><v></v></c>', {}),  # its result is an empty text
        (b'<c r="B2" s="1"><f>C2</f></c>', {(2, 2): "=C2"}),
        (b'<c r="AB2"><f t="shared" si="0"/><v/></c>', {(2, 28): "=\u2026"}),
        (b'<x:c r="B2"><x:f>C2</x:f><x:v/></x:c>', {(2, 2): "=C2"}),
    ],
)
def test_what_is_stored_without_its_result(cell, found):
    assert without_results(stored(cell)) == ({"Sheet": found} if found else {})


def test_where_all_are_formulas_it_is_said_which_rows_and_what_mends_it(visit, marek, take):
    data = book(HEAD, ("Madras", "=2+3"), ("Gin tonic", "=1+1"), ("Total", "=SUM(B2:B3)"))

    shown = text(send_file(visit(marek), take, data, "till.xlsx"))

    assert "as formulas whose results the file doesn't have (rows: 2, 3)." in shown
    assert MEND in shown


def test_where_some_are_they_are_rows_that_cannot_be_read(visit, marek, take):
    data = book(HEAD, ("Madras", "=2+3"), ("Gin tonic", 4))
    shown, taken = take_as_shown(visit(marek), take, data)

    said = text(shown)
    assert "Row 2 holds a formula whose result the file doesn't have: it can't be read." in said
    assert MEND in said
    assert "Rows that can't be read 2 Madras (=2+3) 1" in said
    assert "Rung up 4" in text(taken)


def test_a_name_that_is_a_formula_is_no_name(visit, marek, take):
    data = book(HEAD, ("=A3", 2), ("Gin tonic", 4), ("=A3", 2))
    said = text(send_file(visit(marek), take, data))

    assert "Rows 2, 4 hold formulas whose results the file doesn't have" in said
    assert "Rung up 4" in said


def test_sizes_that_are_formulas_are_sizes_still(visit, marek, take):
    data = book(("Item", "Single", "Double"), ("Madras", 3, "=1+1"), ("Gin tonic", 4, 1))
    shown = send_file(visit(marek), take, data)

    assert "Row 2 holds a formula" in text(shown)
    assert "Rung up 8" in text(shown)
    assert "Single, Double" in text(shown)
    assert fields(shown, take)["sheet"]


def test_the_command_says_so_in_one_line(odalys, tmp_path):
    path = tmp_path / "till.xlsx"
    path.write_bytes(book(HEAD, ("Madras", "=2+3")))

    with pytest.raises(CommandError, match=r"rows: 2\). Open it in a spreadsheet"):
        call_command("import_sales", str(path))
