"""What has no alcohol: the reader of calls and the till's names know the same words for it."""

import pytest

from recipes.grammar.calls.words import SOBER, closed_words
from recipes.grammar.till_names import is_alcohol_free

VIRGIN = sorted(word for word, (_, op) in closed_words().items() if op == "virgin")


@pytest.mark.parametrize("word", [*VIRGIN, *sorted(SOBER)])
def test_the_readers_words_are_the_tills_too(word):
    assert is_alcohol_free(f"{word} lager")


@pytest.mark.parametrize("name", ["sugar free cola", "nougat", "Negroni", "prosecco", "nosegay"])
def test_other_words_are_not(name):
    assert not is_alcohol_free(name)
