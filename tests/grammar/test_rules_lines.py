"""Needs of a garnish rule and what guests call things, as lines of text."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from recipes.grammar.ingredients import Kind, LiquorClass
from recipes.grammar.reasons import CannotBuild
from recipes.grammar.rules_lines import (
    CODES,
    read_needs,
    read_slang,
    write_needs,
    write_slang,
)
from tests.grammar.kitchen import PANTRY

CRAN = PANTRY["cranberry-juice"].model_copy(update={"aliases": ("cran",)})
STOCK = {**PANTRY, "cranberry-juice": CRAN}
LABELS = {"soda_mixer": "fizzy mixer", "spirit": "spirits", "vodka": "vodka", "juice": "juice"}
ALL = {**{w: w.replace("_", " ") for w in (*Kind, *LiquorClass)}, **LABELS}


@pytest.mark.parametrize(
    ("text", "needs"),
    [
        ("", ()),
        ("  \n\n", ()),
        ("vodka", (("vodka",),)),
        ("Vodka, gin\nclub soda", (("vodka", "gin"), ("club-soda",))),
        ("fizzy mixer", (("soda_mixer",),)),
        ("soda_mixer", (("soda_mixer",),)),
        ("Spirits\ncran", (("spirit",), ("cranberry-juice",))),
        ("vodka, , vodka", (("vodka",),)),
        (",", ()),
    ],
)
def test_needs_are_read(text, needs):
    assert read_needs(text, STOCK, LABELS) == needs


def test_every_unknown_word_is_named_with_its_line():
    with pytest.raises(CannotBuild) as caught:
        read_needs("vodka, moonshine\n\nplum", STOCK, LABELS)

    assert [(r.code, r.values["word"], r.values["line"]) for r in caught.value.reasons] == [
        ("unknown_word", "moonshine", 1),
        ("unknown_word", "plum", 3),
    ]


GROUP = st.lists(st.sampled_from([*STOCK, *ALL]), min_size=1, max_size=4, unique=True).map(tuple)


@given(st.lists(GROUP, max_size=4).map(tuple))
def test_needs_written_are_read_back(needs):
    assert read_needs(write_needs(needs, STOCK, ALL), STOCK, ALL) == needs


@pytest.mark.parametrize(
    ("text", "slang"),
    [
        ("", {}),
        ("cran = cranberry juice", {"cran": "cranberry-juice"}),
        ("the red one=CRAN\n\n pop = cola ", {"the red one": "cranberry-juice", "pop": "cola"}),
        ("pop = cola\npop = cola", {"pop": "cola"}),
    ],
)
def test_slang_is_read(text, slang):
    assert read_slang(text, STOCK) == slang


@pytest.mark.parametrize(
    ("text", "told"),
    [
        ("cran", [("slang_without_meaning", 1)]),
        ("= cola", [("slang_without_meaning", 1)]),
        ("pop =", [("slang_without_meaning", 1)]),
        ("pop = cola\npop = gin", [("slang_said_twice", 2)]),
        ("a = cola\nb = moonshine", [("unknown_ingredient", 2)]),
        ("a = tonic watr\nb", [("misspelt_ingredient", 1), ("slang_without_meaning", 2)]),
    ],
)
def test_slang_that_can_not_be_taken(text, told):
    with pytest.raises(CannotBuild) as caught:
        read_slang(text, STOCK)

    assert [(r.code, r.values["line"]) for r in caught.value.reasons] == told


def test_both_owners_of_a_word_are_named():
    with pytest.raises(CannotBuild) as caught:
        read_slang("pop = cola\npop = gin", STOCK)

    [reason] = caught.value.reasons
    assert (reason.values["ingredient"], reason.values["stock"]) == ("gin", "cola")
    assert reason.code in CODES


WORD = st.text("abcdefgh ", min_size=1).map(lambda s: " ".join(s.split())).filter(bool)


@given(st.dictionaries(WORD, st.sampled_from([*STOCK])))
def test_slang_written_is_read_back(slang):
    assert read_slang(write_slang(slang, STOCK), STOCK) == slang
