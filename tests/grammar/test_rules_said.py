"""Patterns and servings as lines: what is taken, what isn't, and that it comes back the same."""

import pytest

from recipes.grammar.reasons import CannotBuild
from recipes.grammar.rules import Pattern, Serving
from recipes.grammar.rules_said import (
    CODES,
    read_patterns,
    read_servings,
    write_patterns,
    write_servings,
)
from recipes.grammar.spec import Garnish, When
from tests.grammar.kitchen import PANTRY

LABELS = {serving: f"the {serving.value}" for serving in Serving}
LIME = Garnish(item="lime")
ASKED = Garnish(item="lime", when=When.ASK)
WRITTEN = [
    ("", {}),
    ("press = cola, tonic water", {"press": Pattern(mixers=("cola", "tonic-water"))}),
    ("rickey=COLA; always lime", {"rickey": Pattern(mixers=("cola",), garnish=(LIME,))}),
    ("rickey = cola; ask lime", {"rickey": Pattern(mixers=("cola",), garnish=(ASKED,))}),
    (
        "highball = tonic water; base gin; none",
        {"highball": Pattern(mixers=("tonic-water",), garnish=(), base="gin")},
    ),
]


@pytest.mark.parametrize(("text", "patterns"), WRITTEN)
def test_patterns_are_read_and_written_back(text, patterns):
    assert read_patterns(text, PANTRY) == patterns
    assert read_patterns(write_patterns(patterns, PANTRY), PANTRY) == patterns


@pytest.mark.parametrize(
    ("text", "told"),
    [
        ("press", [("pattern_without_meaning", 1)]),
        ("= cola", [("pattern_without_meaning", 1)]),
        ("press = ; base gin", [("pattern_without_meaning", 1)]),
        ("press = cola; base gin; base vodka", [("pattern_without_meaning", 1)]),
        ("press = cola\n\nPress = tonic water", [("said_twice", 3)]),
        ("press = moonshine", [("unknown_ingredient", 1)]),
        ("press = cola; base tonic watr", [("misspelt_ingredient", 1)]),
    ],
)
def test_patterns_that_can_not_be_taken(text, told):
    with pytest.raises(CannotBuild) as caught:
        read_patterns(text, PANTRY)

    assert [(r.code, r.values["line"]) for r in caught.value.reasons] == told


def test_servings_are_read_and_written_back():
    servings = {"short": Serving.ANY_SPIRIT, "a half": Serving.HALF}

    assert read_servings("short = any spirit\na half = THE HALF", LABELS) == servings
    assert read_servings(write_servings(servings, LABELS), LABELS) == servings


@pytest.mark.parametrize(
    ("text", "told"),
    [
        ("short", [("serving_without_meaning", 1)]),
        ("short = a bucket", [("serving_without_meaning", 1)]),
        ("short = half\nSHORT = pint", [("said_twice", 2)]),
    ],
)
def test_servings_that_can_not_be_taken(text, told):
    with pytest.raises(CannotBuild) as caught:
        read_servings(text, LABELS)

    assert [(r.code, r.values["line"]) for r in caught.value.reasons] == told
    assert {r.code for r in caught.value.reasons} <= CODES
