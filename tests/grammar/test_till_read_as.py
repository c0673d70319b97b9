"""How days and figures of an export were read, and what of it says neither."""

import datetime as dt

import pytest

from recipes.grammar.sheet_text import decode
from recipes.grammar.till_cells import decimal_sign, is_doubtful
from recipes.grammar.till_kinds import Kind
from recipes.grammar.till_names import spoken
from recipes.grammar.till_sheet import read_till


@pytest.mark.parametrize(
    ("cells", "beside", "house", "sign"),
    [
        (["1,204"], [], ".", (".", False)),
        (["1,204"], [], ",", (",", False)),
        (["1.024"], [], ".", (".", False)),
        (["1.024"], [], ",", (",", False)),
        (["1,204", "96"], [], ",", (".", True)),
        (["1.204", "96"], [], ".", (",", True)),
        (["1.204", "2,5"], [], ".", (",", True)),
        (["1,204"], ["9,632.00"], ",", (".", True)),
        (["1.204"], ["8,50"], ".", (",", True)),
        (["1.204"], ["06.03.2026", "x"], ".", (".", False)),
        (["1,000", "12,000"], [], ".", (",", True)),
        (["1,204", "2,310"], [], ".", (".", False)),
        (["0,500", "1,204"], [], ".", (",", True)),
        (["1.204.300"], [], ".", (",", True)),
        (["3", "4"], [], ",", (",", False)),
    ],
)
def test_one_sign_a_file_by_its_numbers_else_by_the_country(cells, beside, house, sign):
    assert decimal_sign(cells, beside, house) == sign


@pytest.mark.parametrize(
    ("cell", "doubtful"),
    [("1,204", True), ("1.024", True), ("0.500", False), ("1,20", False), ("12", False)],
)
def test_what_could_be_either(cell, doubtful):
    assert is_doubtful(cell) is doubtful


def doubts(text, **said):
    return [(d.said, d.meant, d.by_house) for d in read_till(text, **said).doubts]


def test_doubts_are_told_with_who_decided():
    text = 'item,qty,date\nMadras,"1,204",03/04/2026\n'
    april, march = dt.date(2026, 4, 3), dt.date(2026, 3, 4)

    assert doubts(text) == [("03/04/2026", april, True), ("1,204", 1204, True)]
    assert doubts(text, month_first=True, decimal=",")[0] == ("03/04/2026", march, True)
    assert doubts(text, decimal=",")[1] == ("1,204", 1.204, True)
    decided = f"{text}Beer,96,25/04/2026\n"
    assert doubts(decided, month_first=True, decimal=",") == [
        ("03/04/2026", april, False),
        ("1,204", 1204, False),
    ]
    assert doubts("item,qty,date\nMadras,3,2026-04-03\nMadras,4,04/04/2026\n") == []


@pytest.mark.parametrize(
    ("day", "hour", "unread"),
    [
        ("yesterday", "20", ("yesterday",)),
        ("30.02.2026", "20", ("30.02.2026",)),
        ("2026-03-06", "25", ("25",)),
        ("2026-03-06", "late", ("late",)),
        ("soon", "late", ("soon", "late")),
        ("2026-03-06", "24", ()),
        ("", "", ()),
    ],
)
def test_a_day_or_hour_that_says_neither_is_told_and_its_row_counts(day, hour, unread):
    [line] = read_till(f"item,qty,date,hour\nMadras,2,{day},{hour}\n").lines

    assert (line.kind, line.quantity, line.unread) == (Kind.SALE, 2, unread)


@pytest.mark.parametrize(
    ("item", "said"),
    [
        ("1/2 pt Lager", "half of Lager"),
        ("½ pint of Lager", "half of Lager"),
        ("Lager 1/2 pt.", "Lager half"),
        ("Lager 1/2", "Lager half"),
        ("Pt Lager", "pint Lager"),
        ("7 and 7", "7 and 7"),
    ],
)
def test_half_pints(item, said):
    assert spoken(item) == said


def test_a_mark_of_a_void_is_a_letter_too():
    found = read_till("item,qty,void\nMadras,2,V\nBeer,1,\n").lines

    assert [line.kind for line in found] == [Kind.VOID, Kind.SALE]


@pytest.mark.parametrize("encoding", ["utf-16", "cp1252", "utf-8-sig"])
def test_in_whatever_letters(encoding):
    data = "Artikel;Menge;Datum\nCrème;2,5;06.03.2026\n".encode(encoding)
    [line] = read_till(decode(data, None)[0]).lines

    assert (line.item, line.quantity, line.day) == ("Crème", 2.5, dt.date(2026, 3, 6))
