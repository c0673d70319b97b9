"""Whatever a guest answers, the question is gone: no answer leads nowhere."""

import pytest

from recipes.grammar import calls
from recipes.grammar.calls import About
from recipes.grammar.calls.answering import answered, phrases
from tests.grammar.called import PRESETS, book

OPEN = (
    "lager and lime", "premium margarita", "a beer", "a pint", "a half", "a shot", "wine",
    "a glass of wine", "martini", "dry martini", "dirty martini", "tequila", "whiskey",
    "double whiskey", "a double", "vodka soda", "double rum cola", "double vodka cran", "rickey",
    "press", "double manhattan", "triple margarita", "virgin breeze", "half carafe of red",
    "large red wine", "mojito no lime", "straight up vodka", "whiskey no ice", "vodka lemonade",
    "three beers, one in a bottle", "spiced ginger beer", "rum and ginger", "whiskey and ginger",
    "premium gin and tonic", "call vodka soda", "premium tequila", "top shelf whiskey sour",
    "whiskey neat on the rocks", "gin tonic with a splash", "whiskey with a splash",
    "white or dark rum and cola", "gin or vodka martini", "vodka with a mixer", "a short",
    "something neat", "brandy", "schnapps", "curacao", "white russian and a beer",
    "two martinis and a beer", "a can", "a bottle of lager", "tall beer", "rum on the rocks",
    "vermouth", "vermouth on the rocks", "a beer with a back", "tequila with a beer back",
    "whiskey neat with a back", "2 oz vodka", "two double manhattans and a beer", "sour",
    "collins", "shandy", "vodka and lime juice", "madras, top shelf",
)  # fmt: skip


def choices(preset):
    words = book(preset)
    for text in OPEN:
        reading = calls.read(text, words)
        for question in reading.ask:
            for choice in question.choices:
                yield reading, question, choice


@pytest.mark.parametrize("preset", sorted(PRESETS.values()))
def test_every_answer_to_every_question_leads_on(preset):
    words, tried = book(preset), 0
    for before, question, choice in choices(preset):
        things = words.stock.drinks if question.about is About.DRINK else words.pantry
        name = things[choice].name if choice in things else choice
        said = phrases(question, choice, name)
        text = answered(before, question, choice, said, lambda call: calls.read(call, words))
        assert text is not None, (before.heard, question, choice)

        tried += 1
        after = calls.read(text, words)
        assert question not in after.ask, (before.heard, choice, text)
        assert set(after.unplaced) <= set(before.unplaced)
    assert tried > 200
