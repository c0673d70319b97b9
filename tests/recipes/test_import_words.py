"""Words for everything that a sheet or a pasted menu may be refused for."""

import re

import pytest

from recipes import importing, publish_import, publish_pasted
from recipes.grammar import sheet_rows, sheet_standing, sheet_text, till_sheet
from recipes.grammar.menu_lines import By
from recipes.grammar.reasons import Reason
from recipes.import_words import OUTCOMES, named, sheet_problems
from recipes.publish_import import Outcome, Taken
from recipes.wording import WORDS, label, word
from recipes.words_sheets import SHEETS

MODULES = (
    sheet_text, sheet_rows, sheet_standing, till_sheet, importing, publish_import, publish_pasted,
)  # fmt: skip
UNFILLED = re.compile(r"%\(|\{")
TOLD = {
    "most": 80, "kilobytes": 500, "megabytes": 20, "column": "name", "cells": 9, "columns": 8,
    "drink": "Fog", "earlier": 3, "said": "throw", "modules": "Shots", "module": "Shots",
    "glass": "shot", "one": "porter", "other": "sorter", "line": 4, "had": "drink",
}  # fmt: skip


def test_every_code_has_words_and_no_words_are_left_over():
    assert frozenset().union(*(m.CODES for m in MODULES)) == set(SHEETS)


@pytest.mark.parametrize("code", SHEETS)
def test_every_refusal_reads_as_a_sentence(code):
    text = word(Reason.of(code, **TOLD), glass_names={"shot": "shot glass"})

    assert text.startswith("Line 4: ")
    assert text.endswith((".", "?"))
    assert not UNFILLED.search(text)


def test_the_words_stand_in_the_one_catalogue():
    assert {c: WORDS[c] for c in SHEETS} == SHEETS


def test_a_row_is_named_by_its_line_and_its_drink():
    assert named(Taken(7, "Fog", Outcome.REFUSED)) == "Line 7, Fog"
    assert named(Taken(7, "", Outcome.REFUSED)) == "Line 7"


def test_what_is_no_sheet_says_its_line_where_there_is_one():
    assert sheet_problems(
        [Reason.of("sheet_empty"), Reason.of("column_missing", line=2, had="x")]
    ) == [
        "There is nothing in this sheet.",
        "Line 2: The first row must name the columns name and ingredients. It names: x.",
    ]


def test_every_outcome_and_every_way_to_understand_a_line_has_words():
    assert set(OUTCOMES) == set(Outcome)
    assert len({label(by) for by in By}) == len(By)
