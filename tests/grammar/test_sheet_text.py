"""A sheet of recipes as text: encodings, delimiters, lines and cells that look like formulas."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from recipes.grammar.reasons import CannotBuild, Reason
from recipes.grammar.sheet_text import (
    ALL,
    COLUMNS,
    MOST_ROWS,
    as_text,
    decode,
    read_sheet,
    write_sheet,
)

HEAD = "name,ingredients\n"


@pytest.mark.parametrize(
    ("data", "read_as"),
    [
        ("Piña".encode(), "utf-8"),
        ("Piña".encode("utf-8-sig"), "utf-8"),
        ("Piña".encode("cp1252"), "cp1252"),
        ("Piña".encode("utf-16"), "utf-16"),
    ],
)
def test_the_encoding_is_found_out_and_said(data, read_as):
    assert decode(data) == ("Piña", read_as)


def test_the_encoding_may_be_switched_by_hand():
    assert decode("ñ".encode(), "cp1252") == ("Ã±", "cp1252")
    assert decode(b"\x81", "cp1252")[0] == "�"


@pytest.mark.parametrize("between", [",", ";", "\t"])
def test_the_delimiter_is_found_out(between):
    text = between.join(("name", "glass", "ingredients")) + "\n"
    text += between.join(("Madras", "highball", '"1 pour vodka; top cranberry juice"'))
    [row] = read_sheet(text).rows

    assert row.cells["glass"] == "highball"
    assert row.cells["ingredients"] == "1 pour vodka; top cranberry juice"


def test_rows_know_their_line_whatever_lies_between():
    sheet = read_sheet(HEAD + '"Two\nlines",1 pour gin\n\n,\nMadras,1 pour vodka\n')

    assert [(r.line, r.cells["name"]) for r in sheet.rows] == [(2, "Two\nlines"), (6, "Madras")]


def test_a_mark_and_a_line_about_the_delimiter_come_before_the_header():
    sheet = read_sheet("\ufeffsep=;\r\nName;Ingredients\r\nMadras;1 pour vodka\r\n")

    assert [(r.line, r.cells["name"]) for r in sheet.rows] == [(3, "Madras")]


def test_columns_that_nobody_reads_are_named():
    assert read_sheet("name,Notes,ingredients\nMadras,x,1 pour vodka\n").ignored == ("Notes",)


@pytest.mark.parametrize(
    ("text", "reasons"),
    [
        ("", [Reason.of("sheet_empty")]),
        (" \n,,\n", [Reason.of("sheet_empty")]),
        ("name,ingredients\n", [Reason.of("sheet_without_rows")]),
        ("name,ingredients\n,\n\n", [Reason.of("sheet_without_rows")]),
        ("name,glass\nx,y\n", [Reason.of("column_missing", line=1, had="name, glass")]),
        ("name,name,ingredients\n", [Reason.of("column_twice", line=1, column="name")]),
        (HEAD + "a,b\n" * (MOST_ROWS + 1), [Reason.of("sheet_too_long", most=MOST_ROWS)]),
        (HEAD + f"a,{'b' * 140_000}\n", [Reason.of("sheet_unreadable", line=2)]),
    ],
)
def test_what_is_no_sheet_says_why(text, reasons):
    with pytest.raises(CannotBuild) as refused:
        read_sheet(text)

    assert list(refused.value.reasons) == reasons


@pytest.mark.parametrize(
    ("row", "reasons"),
    [
        ("a,b", []),
        ("a,b,,", []),
        ("a,b,c", [Reason.of("row_too_wide", line=2, cells=3, columns=2)]),
        ("a", [Reason.of("row_too_narrow", line=2, cells=1, columns=2)]),
        (f"a,{'b' * 4001}", [Reason.of("cell_too_long", line=2, most=4000)]),
    ],
)
def test_a_row_whose_cells_dont_fit_the_columns_says_so(row, reasons):
    [found, whole] = read_sheet(f"{HEAD}{row}\nMadras,1 pour vodka\n").rows

    assert list(found.reasons) == reasons
    assert whole.reasons == ()


def test_cells_missing_at_the_end_are_empty():
    [short] = read_sheet("name,ingredients,garnish,price\nMadras,1 pour vodka\n").rows

    assert short.reasons == ()
    assert (short.cells["garnish"], short.cells["price"]) == ("", "")


@pytest.mark.parametrize(
    ("cell", "written"),
    [
        ("Madras", "Madras"),
        ("=1+1", "'=1+1"),
        ("@home", "'@home"),
        ("+1 Spritz", "'+1 Spritz"),
        ("- none -", "'- none -"),
        ("\tMadras", "'\tMadras"),
        ("'=1+1", "''=1+1"),
        ("'tis", "'tis"),
        # A number is a number.
        ("-5", "-5"),
        ("+1.5", "+1.5"),
        ("", ""),
    ],
)
def test_what_looks_like_a_formula_is_written_as_text(cell, written):
    assert as_text(cell) == written


def test_the_columns_that_others_rely_on_come_first():
    assert ALL[:8] == COLUMNS
    assert COLUMNS == (
        "name", "module", "glass", "ice", "method", "ingredients", "garnish", "aliases",
    )  # fmt: skip


CELLS = st.text(st.characters(exclude_categories=("Cs", "Cc")), max_size=30).map(str.strip)
ROWS = st.lists(
    st.fixed_dictionaries(dict.fromkeys(ALL, CELLS)).filter(lambda r: any(r.values())),
    min_size=1,
    max_size=4,
)


@given(ROWS)
def test_whatever_is_written_reads_back_the_same(rows):
    text = write_sheet(rows)

    assert [dict(r.cells) for r in read_sheet(text).rows] == rows
    for line in text.splitlines():
        assert not line.startswith(("=", "@"))
