"""The text alternative of a drawing."""

import re

import pytest
from django.utils import translation
from django.utils.functional import Promise

from recipes.drawing_words import SEEN, describe
from recipes.grammar.seen import CODES
from tests.grammar.kitchen import GLASS_NAMES, MENU, NAMES, PANTRY, house


def said(name):
    with translation.override("en"):
        return describe(house(name), PANTRY, NAMES, GLASS_NAMES)


IN_WORDS = {
    "gin-tonic": """
        Highball glass, ice to the top, gin and tonic water, lime, a straw.
    """,
    "tequila-sunset": """
        Highball glass, ice to the top, grenadine at the bottom,
        tequila and orange juice above it, a straw.
    """,
    "draught-lager": """
        Pint glass, lager, a head of foam.
    """,
    "margarita": """
        Rocks glass, ice to the top, tequila, orange liqueur and lime juice,
        salt round half of the edge, lime.
    """,
    "vodka-soda": """
        Highball glass, ice to the top, vodka and club soda,
        lemon or lime if the guest says so, a straw.
    """,
}


@pytest.mark.parametrize(("name", "expected"), IN_WORDS.items())
def test_a_drawing_in_words(name, expected):
    assert said(name) == " ".join(expected.split())


@pytest.mark.parametrize("name", MENU)
def test_every_drawing_has_words(name):
    assert re.fullmatch(r"[A-Z][^%{}_]+\.", said(name))


def test_every_code_has_words_and_every_word_a_code():
    assert SEEN.keys() == CODES
    bare = {text for text in SEEN.values() if not isinstance(text, Promise)}
    assert all(re.fullmatch(r"%\(\w+\)s", text) for text in bare)
