"""Recipes as lines of text: what a trainer types, and that what is written reads back the same."""

import re

import pytest
from hypothesis import given
from hypothesis import strategies as st

from recipes.grammar.ingredients import Ingredient, Kind
from recipes.grammar.lines import (
    CODES,
    read_amount,
    read_garnish,
    read_parts,
    write_amount,
    write_garnish,
    write_parts,
)
from recipes.grammar.reasons import CannotBuild, Reason
from recipes.grammar.spec import Garnish, How, Part, When
from recipes.grammar.unit_words import UNIT_WORDS
from recipes.grammar.units import Unit
from tests.grammar.kitchen import MENU, PANTRY, garnished, muddled, top

VODKA = {"ingredient": "vodka", "how": How.MEASURED, "amount": 1.0, "unit": Unit.POUR}
MUDDLED = {"how": How.MUDDLED}


@pytest.mark.parametrize(
    ("line", "said"),
    [
        ("1 pour vodka", {}),
        ("  1   Pour  VODKA ", {}),
        ("measured 1 pour vodka", {}),
        ("1 pour of vodka", {}),
        ("1.5 pours vodka", {"amount": 1.5}),
        ("1,5 pours vodka", {"amount": 1.5}),
        ("½ pour vodka", {"amount": 0.5}),
        ("1½ pours vodka", {"amount": 1.5}),
        ("1 ½ pours vodka", {"amount": 1.5}),
        ("1/2 pour vodka", {"amount": 0.5}),
        ("1 1/2 pours vodka", {"amount": 1.5}),
        ("45 ml vodka", {"amount": 45, "unit": Unit.ML}),
        ("45ml vodka", {"amount": 45, "unit": Unit.ML}),
        ("4.5 cl vodka", {"amount": 4.5, "unit": Unit.CL}),
        ("1.5 fl oz vodka", {"amount": 1.5, "unit": Unit.FLOZ}),
        ("1.5 floz vodka", {"amount": 1.5, "unit": Unit.FLOZ}),
        ("2 imperial fl oz vodka", {"amount": 2, "unit": Unit.IMPERIAL_FLOZ}),
        ("1 us pint vodka", {"unit": Unit.US_PINT}),
        ("1 imperial pint vodka", {"unit": Unit.IMPERIAL_PINT}),
        ("2 dash bitters", {"ingredient": "bitters", "how": How.DASH, "amount": 2, "unit": "dash"}),
        (
            "1 splash lime juice",
            {"ingredient": "lime-juice", "how": How.DASH, "unit": Unit.SPLASH},
        ),
        ("measured 1 splash lime juice", {"ingredient": "lime-juice", "unit": Unit.SPLASH}),
        ("muddle 6 leaf mint", {**MUDDLED, "ingredient": "mint", "amount": 6, "unit": "leaf"}),
        ("muddle ½ lime", {**MUDDLED, "ingredient": "lime", "amount": 0.5, "unit": "piece"}),
        ("float 0.5 pour cream", {"ingredient": "cream", "how": How.FLOAT, "amount": 0.5}),
        (
            "first in 0.5 pour grenadine",
            {"ingredient": "grenadine", "how": How.FIRST_IN, "amount": 0.5},
        ),
        ("1 pour irish-cream", {"ingredient": "irish-cream"}),
        ("1 pour Irish Cream", {"ingredient": "irish-cream"}),
        ("0 pour vodka", {"amount": 0}),
    ],
)  # fmt: skip
def test_a_part_is_read(line, said):
    assert read_parts(line, PANTRY) == [{**VODKA, **said}]


@pytest.mark.parametrize(
    ("line", "said"),
    [
        ("top cranberry juice", {"ingredient": "cranberry-juice", "how": How.TOP}),
        ("Top 2 shares cola", {"ingredient": "cola", "how": How.TOP, "share": 2}),
        ("top 0.5 share of cola", {"ingredient": "cola", "how": How.TOP, "share": 0.5}),
    ],
)
def test_a_top_up_is_read(line, said):
    assert read_parts(line, PANTRY) == [said]


def test_lines_and_semicolons_part_the_parts():
    text = "1 pour vodka; top cranberry juice\n\n 2 dash bitters;\n"

    assert [part["ingredient"] for part in read_parts(text, PANTRY)] == [
        "vodka", "cranberry-juice", "bitters",
    ]  # fmt: skip


@pytest.mark.parametrize(
    ("line", "code", "values"),
    [
        ("vodka", "amount_missing", {"ingredient": "vodka"}),
        ("float cream", "amount_missing", {"ingredient": "cream"}),
        ("1 pour", "line_without_ingredient", {}),
        ("top", "line_without_ingredient", {}),
        ("1 pour !!", "line_without_ingredient", {}),
        ("1 pour moonwater", "unknown_ingredient", {"ingredient": "moonwater"}),
        ("moonwater", "unknown_ingredient", {"ingredient": "moonwater"}),
        (
            "top cranbery juise",
            "misspelt_ingredient",
            {"said": "cranbery juise", "ingredient": "cranberry-juice"},
        ),
        ("top 50 ml cola", "top_with_amount", {"ingredient": "cola"}),
        ("top 2 cola", "top_with_amount", {"ingredient": "cola"}),
        ("1 pint lager", "which_pint", {}),
        ("1/0 pour vodka", "number_unreadable", {"said": "1/0"}),
        ("1,500 ml vodka", "number_unreadable", {"said": "1,500"}),
        ("1.2.3 pour vodka", "number_unreadable", {"said": "1.2.3"}),
        ("-1 pour vodka", "amount_negative", {"said": "-1 pour vodka"}),
        ("float \u22121/2 pour cream", "amount_negative", {"said": "float \u22121/2 pour cream"}),
        ("10-12 leaves mint", "amount_range", {"said": "10-12"}),
        ("1 to 2 dashes bitters", "amount_range", {"said": "1 to 2"}),
        ("nan oz vodka", "number_unreadable", {"said": "nan"}),
        ("3 glugs vodka", "unknown_unit", {"said": "glugs", "ingredient": "vodka"}),
        ("45 mls of vodka", "unknown_unit", {"said": "mls", "ingredient": "vodka"}),
        # A thing that is counted has no unit to be unknown.
        ("2 moonwater mint", "unknown_ingredient", {"ingredient": "moonwater mint"}),
    ],
)
def test_why_a_line_cannot_be_read(line, code, values):
    with pytest.raises(CannotBuild) as refused:
        read_parts(f"1 pour gin\n{line}", PANTRY)

    [reason] = refused.value.reasons
    assert (reason.code, dict(reason.values)) == (code, {**values, "line": 2})


def test_every_bad_line_is_named_at_once():
    with pytest.raises(CannotBuild) as refused:
        read_parts("vodka\n1 pour gin\n1 pint lager\n1 pour moonwater", PANTRY)

    assert [r.values["line"] for r in refused.value.reasons] == [1, 3, 4]


def test_every_code_is_given_by_a_case_above():
    [marks] = [m for m in test_why_a_line_cannot_be_read.pytestmark if m.name == "parametrize"]

    assert {code for _, code, _ in marks.args[1]} >= CODES


@pytest.mark.parametrize(
    ("text", "said"),
    [
        ("", None),
        (" \n ", None),
        ("none", []),
        ("None\n", []),
        ("lime", [{"item": "lime", "when": When.ALWAYS}]),
        ("always lime", [{"item": "lime", "when": When.ALWAYS}]),
        (
            "ask lemon\nask lime",
            [{"item": "lemon", "when": When.ASK}, {"item": "lime", "when": When.ASK}],
        ),
        ("on request mint", [{"item": "mint", "when": When.ON_REQUEST}]),
    ],
)
def test_a_garnish_is_read(text, said):
    assert read_garnish(text, PANTRY) == said


def test_none_beside_a_garnish_is_no_garnish_of_that_name():
    with pytest.raises(CannotBuild) as refused:
        read_garnish("always lime\nnone", PANTRY)

    assert refused.value.reasons[0].values == {"ingredient": "none", "line": 2}


def test_a_name_beats_an_alias_and_a_slug_beats_a_name():
    def stock(slug: str, name: str, *aliases: str) -> Ingredient:
        return Ingredient(slug=slug, name=name, kind=Kind.SYRUP, aliases=aliases)

    pantry = {
        i.slug: i
        for i in (
            stock("a", "Red syrup"),
            stock("b", "Grenadine", "red syrup", "rosy"),
            stock("red-syrup", "Something else"),
        )
    }

    def found(said: str) -> str:
        return read_parts(f"1 ml {said}", pantry)[0]["ingredient"]

    assert (found("rosy"), found("Grenadine"), found("red syrup")) == ("b", "b", "red-syrup")
    assert write_parts([Part(ingredient="a", amount=1, unit=Unit.ML)], pantry) == "1 ml a"


@pytest.mark.parametrize(
    ("part", "line"),
    [
        (Part(ingredient="vodka", amount=1), "1 pour vodka"),
        (Part(ingredient="vodka", amount=1.5), "1.5 pours vodka"),
        (Part(ingredient="vodka", amount=1 / 3), "1/3 pour vodka"),
        (muddled("mint", 6, Unit.LEAF), "muddle 6 leaves mint"),
        (Part(ingredient="bitters", how=How.DASH, amount=2, unit=Unit.DASH), "2 dashes bitters"),
        (Part(ingredient="bitters", amount=2, unit=Unit.DASH), "measured 2 dashes bitters"),
        (Part(ingredient="grenadine", how=How.FIRST_IN, amount=0.5), "first in 0.5 pour grenadine"),
        (top("cola"), "top cola"),
        (top("cola", 2), "top 2 shares cola"),
    ],
)  # fmt: skip
def test_a_part_is_written_as_a_bartender_would(part, line):
    assert write_parts([part], PANTRY) == line


def test_a_garnish_is_written():
    asked = (Garnish(item="lemon", when=When.ASK), Garnish(item="lime", when=When.ON_REQUEST))

    assert write_garnish(None, PANTRY) == ""
    assert write_garnish((), PANTRY) == "none"
    assert write_garnish(garnished("lime"), PANTRY) == "always lime"
    assert write_garnish(asked, PANTRY) == "ask lemon\non request lime"


# What is written reads back the same, whatever the house calls its stock.

TRAPS = tuple(
    Ingredient(slug=f"trap-{number}", name=name, kind=Kind.SYRUP)
    for number, name in enumerate(
        ("7 spice", "none", "top", "pour over", "2 shares", "of mice", "ask lime", "always",
         "½ moon", "a;b", "two  spaces", "!!", "vodka", "trap 3", "Trap-1", "first in", "dash"),
    )
)  # fmt: skip
CROWDED = {**PANTRY, **{i.slug: i for i in TRAPS}}
AMOUNTS = st.floats(0, 5000, exclude_min=True, exclude_max=True) | st.sampled_from(
    [1 / 3, 2 / 3, 4 / 3, 0.5, 1, 2, 1.25]
)
SLUGS = st.sampled_from(sorted(CROWDED))
TOPS = st.builds(
    Part, ingredient=SLUGS, how=st.just(How.TOP), share=st.floats(0.001, 100) | st.just(1.0)
)
DASHES = st.builds(
    Part, ingredient=SLUGS, how=st.just(How.DASH), amount=AMOUNTS,
    unit=st.sampled_from([Unit.DASH, Unit.SPLASH]),
)  # fmt: skip
OTHERS = st.builds(
    Part, ingredient=SLUGS, amount=AMOUNTS, unit=st.sampled_from(Unit),
    how=st.sampled_from([How.MEASURED, How.FLOAT, How.FIRST_IN, How.MUDDLED]),
)  # fmt: skip


@given(st.lists(TOPS | DASHES | OTHERS, max_size=5))
def test_parts_read_back_as_they_were_written(parts):
    read = read_parts(write_parts(parts, CROWDED), CROWDED)

    assert [Part.model_validate(said) for said in read] == parts


@given(st.none() | st.lists(st.builds(Garnish, item=SLUGS, when=st.sampled_from(When)), max_size=4))
def test_a_garnish_reads_back_as_it_was_written(garnish):
    read = read_garnish(write_garnish(garnish, CROWDED), CROWDED)

    assert (None if read is None else [Garnish.model_validate(said) for said in read]) == garnish


@pytest.mark.parametrize("slug", MENU)
def test_every_drink_of_a_menu_reads_back(slug):
    spec = MENU[slug]

    parts = read_parts(write_parts(spec.parts, PANTRY), PANTRY)

    assert tuple(Part.model_validate(said) for said in parts) == spec.parts


def refusals(read, text: str) -> tuple[Reason, ...]:
    try:
        read(text, PANTRY)
    except CannotBuild as refused:
        return refused.reasons
    return ()


@given(st.text(max_size=60))
def test_whatever_is_typed_is_read_or_refused(text):
    for read in (read_parts, read_garnish):
        assert all("line" in reason.values for reason in refusals(read, text))


@pytest.mark.parametrize(
    ("text", "amount"),
    [("1.5", 1.5), (" 1,5 ", 1.5), ("½", 0.5), ("1 1/2", 1.5), ("16", 16), ("0", 0)],
)
def test_an_amount_by_itself(text, amount):
    assert read_amount(text) == amount


@pytest.mark.parametrize("text", ["", "a", "1 pour", "1,000", "1/0", "-1", "1.5.2", "nan", "inf"])
def test_no_amount(text):
    with pytest.raises(ValueError, match=f"^{re.escape(text)}$"):
        read_amount(text)


@given(AMOUNTS)
def test_an_amount_reads_back_as_it_was_written(amount):
    assert read_amount(write_amount(amount)) == amount


def test_every_unit_can_be_typed():
    assert set(UNIT_WORDS) == set(Unit)
