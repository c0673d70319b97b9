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
OTHER_GLASSES = tuple(
    f"{before}{glass}"
    for before in ("vodka cran and ", "two madras, and ", "")
    for glass in (
        "a tall", "a double", "a double tall", "a tall double", "a short one", "a triple", "a neat",
        "a half", "a pint", "a shot", "one on the rocks", "two talls", "a tall triple with a lime",
        "a double neat with a lime", "a double no ice", "a double half", "a tall short",
        "a short tall", "a tall neat", "a neat on the rocks", "a single double", "a double triple",
        "a vodka tall", "a double scotch tall", "a tall cognac with a lime",
    )
)  # fmt: skip


def choices(preset, calls_open):
    words = book(preset)
    for text in calls_open:
        reading = calls.read(text, words)
        for question in reading.ask:
            for choice in question.choices:
                yield reading, question, choice


@pytest.mark.parametrize("calls_open", [OPEN, OTHER_GLASSES], ids=["open", "another"])
@pytest.mark.parametrize("preset", sorted(PRESETS.values()))
def test_every_answer_to_every_question_leads_on(preset, calls_open):
    words, tried = book(preset), 0
    for before, question, choice in choices(preset, calls_open):
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


WAYS = {"tall", "double", "triple", "short", "neat", "rocks", "half", "pint"}


@pytest.mark.parametrize("preset", sorted(PRESETS.values()))
@pytest.mark.parametrize(
    ("call", "size"),
    [
        ("vodka cran and a tall", {"tall"}),
        ("vodka cran and two talls", {"tall"}),
        ("tequila sunrise and a double tall", {"double", "tall"}),
        ("tequila sunrise and a tall double", {"double", "tall"}),
        ("a tall", {"tall"}),
        ("madras and a double", {"double"}),
        ("madras and a short one", {"short"}),
        ("madras and a half", {"half"}),
        ("madras and a double short with a lime", {"double", "short"}),
    ],
)
def test_a_glass_of_that_size_is_one_of_what_is_answered(preset, call, size):
    words = book(preset)
    before = calls.read(call, words)
    [asked] = before.ask
    items = {**words.pantry, **words.stock.drinks}
    for choice in asked.choices:
        said = phrases(asked, choice, items[choice].name)
        text = answered(before, asked, choice, said, lambda heard: calls.read(heard, words))
        after = calls.read(text, words)
        *others, glass = after.drinks

        assert {c.code for c in glass.changes} & WAYS == size, text
        assert (glass.count, others) == (before.drinks[-1].count, list(before.drinks[:-1]))
        assert glass.spec is not None
        kept = set(call.split()) - {"one"}
        assert kept <= set(text.split()), text


@pytest.mark.parametrize(
    ("call", "base", "said"),
    [
        ("vodka cran and a tall", "vodka", "vodka cran and a vodka tall"),
        ("tequila sunrise and a double tall", "tequila",
         "tequila sunrise and a double tequila tall"),
        ("madras and a half", "draught-pale-ale", "madras and a half Draught Pale Ale"),
    ],
)  # fmt: skip
def test_the_words_of_the_glass_stay(call, base, said):
    words = book("us-classic")
    before = calls.read(call, words)
    [asked] = before.ask
    items = {**words.pantry, **words.stock.drinks}
    how = phrases(asked, base, items[base].name)
    assert answered(before, asked, base, how, lambda heard: calls.read(heard, words)) == said


def test_a_tall_one_is_asked_with_what_and_stays_tall():
    words = book("us-classic")
    before = calls.read("vodka cran and a double scotch tall", words)
    [asked] = before.ask
    said = phrases(asked, "cola", "cola")
    text = answered(before, asked, "cola", said, lambda heard: calls.read(heard, words))

    assert text == "vodka cran and a double scotch tall cola"
    assert calls.read(text, words).status == "ready"


@pytest.mark.parametrize(
    ("call", "handed_back"),
    [
        ("madras and a tall short", "short"),
        ("madras and a short tall", "tall"),
        ("madras and a tall neat", "tall"),
        ("madras and a neat on the rocks", "on the rocks"),
        ("madras and a single double", "double"),
        ("madras and a double triple", "triple"),
        ("madras and a double half", "half"),
    ],
)
def test_a_glass_that_nobody_can_pour_is_handed_back(call, handed_back):
    assert " ".join(calls.read(call, book("us-classic")).unplaced) == handed_back
