"""One word, one meaning: who owns what guests say, and which clashes are refused."""

import pytest

from recipes.grammar.rules import Pattern, Serving
from recipes.grammar.words_owned import NamedDrink, clashes, owner_in, without_owned
from tests.grammar.kitchen import PANTRY, RULES

MADRAS = NamedDrink("Madras", ("Madras", "dras"), frozenset({"vodka", "cranberry-juice"}))
PRESS = Pattern(mixers=("cola",))
WORD, NOTHING = "press", {"slang": {}, "patterns": {}, "servings": {}}

# What the rules begin to say; the code; who owns it already.
CLASHES = [
    ({"patterns": {"press": PRESS}}, None, None),
    ({"patterns": {"MADRAS": PRESS}}, "word_of_a_drink", "Madras"),
    ({"patterns": {"dras": PRESS}}, "word_of_a_drink", "Madras"),
    ({"servings": {"madras": Serving.HALF}}, "word_of_a_drink", "Madras"),
    ({"slang": {"madras": "cola"}}, "word_of_a_drink", "Madras"),
    # One thing that is in the drink is not the drink.
    ({"slang": {"madras": "cranberry-juice"}}, "word_of_a_drink", "Madras"),
    ({"patterns": {"gin": PRESS}}, "word_of_an_ingredient", "gin"),
    ({"servings": {"tonic water": Serving.PINT}}, "word_of_an_ingredient", "tonic water"),
    # Which lemonade is meant differs by country: pointed out, not refused.
    ({"slang": {"gin": "vodka"}}, None, None),
    # What an ingredient is called besides can't mean another one.
    ({"slang": {"Cran": "orange-juice"}}, "word_of_another", "cranberry juice"),
    ({"slang": {"cran": "cranberry-juice"}}, None, None),
    ({"slang": {"x": "cola"}, "patterns": {"X": PRESS}}, "word_of_two", "pattern"),
    ({"slang": {"x": "cola"}, "servings": {"x": Serving.HALF}}, "word_of_two", "serving"),
    ({"patterns": {"x": PRESS}, "servings": {"x": Serving.HALF}}, "word_of_two", "pattern"),
]


def found(said, before=None):
    rules = RULES.model_copy(update={**NOTHING, **said})
    cranberry = PANTRY["cranberry-juice"].model_copy(update={"aliases": ("cran",)})
    pantry = {**PANTRY, "cranberry-juice": cranberry}
    return list(clashes(rules, before, pantry, [MADRAS]))


@pytest.mark.parametrize(("said", "code", "owner"), CLASHES)
def test_a_word_that_somebody_owns_is_refused_with_its_owner(said, code, owner):
    told = [(r.code, r.values.get("owner", r.values.get("already"))) for r in found(said)]

    assert told == ([(code, owner)] if code else [])


def test_slang_for_another_thing_is_refused_with_both_owners_named():
    [told] = found({"slang": {"cran": "orange-juice"}})

    assert told.values == {
        "word": "cran", "section": "slang", "owner": "cranberry juice", "means": "orange juice",
    }  # fmt: skip


def test_what_the_rules_said_before_they_may_go_on_saying():
    before = RULES.model_copy(update={**NOTHING, "patterns": {"Madras": PRESS}})

    assert found({"patterns": {"madras": PRESS}}, before) == []
    assert [r.code for r in found({"servings": {"madras": Serving.HALF}}, before)] == [
        "word_of_a_drink"
    ]


def test_rules_from_elsewhere_leave_out_what_is_owned_here():
    before = RULES.model_copy(update=NOTHING)
    words = {"patterns": {"press": PRESS, "Madras": PRESS}, "servings": {"gin": Serving.HALF}}
    rules, told = without_owned(before.model_copy(update=words), before, PANTRY, [MADRAS])

    assert (set(rules.patterns), rules.servings) == ({"press"}, {})
    assert [(r.code, r.values["word"]) for r in told] == [
        ("word_left_out", "Madras"), ("word_left_out", "gin"),
    ]  # fmt: skip
    assert list(clashes(rules, before, PANTRY, [MADRAS])) == []


@pytest.mark.parametrize(
    ("said", "parts", "section"),
    [
        ("PRESS", (), "pattern"),
        ("a half", (), "serving"),
        ("pop", (), "slang"),
        ("pop", ("cola",), None),
        ("cola", (), None),
    ],
)
def test_a_name_meets_the_words_of_the_rules(said, parts, section):
    words = {"patterns": {"press": PRESS}, "servings": {"a half": Serving.HALF}}
    rules = RULES.model_copy(update={**words, "slang": {"pop": "cola"}})
    owner = owner_in(rules, said, frozenset(parts))

    assert (owner.section if owner else None) == section
