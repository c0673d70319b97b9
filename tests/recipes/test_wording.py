"""Everything the grammar can say has words, and no placeholder stays unfilled."""

import ast
import importlib
import json
import pkgutil
import re
from dataclasses import replace
from enum import StrEnum
from pathlib import Path

import pytest
from django.utils import translation
from django.utils.functional import Promise

import recipes.grammar
from recipes import wording
from recipes.grammar import (
    coursefile,
    lines,
    refusals,
    rules_nonsense,
    rules_refusals,
    rules_said,
    steps,
    words_owned,
)
from recipes.grammar.allergens import ALLERGENS
from recipes.grammar.aspects import Aspect, contents
from recipes.grammar.drink import make_drink
from recipes.grammar.house_spec import resolve
from recipes.grammar.reasons import CannotBuild, Reason
from recipes.grammar.refusals import read_spec
from recipes.grammar.spec import Ice, When
from recipes.grammar.steps import BuildStep, build_steps
from recipes.grammar.units import Unit
from tests.grammar.kitchen import GLASS_NAMES, MENU, NAMES, PANTRY, RULES, house
from tests.grammar.refused import REFUSED

UNFILLED = re.compile(r"%\(|%s|[{}]|\bNone\b|\b[a-z]+_[a-z]+\b|  ")
"""A placeholder, a Python value, a code or a gap where a word should stand."""


@pytest.fixture(autouse=True)
def _in_english():
    with translation.override("en"):
        yield


def all_steps() -> list[BuildStep]:
    backed = replace(house("gin-tonic"), beside=(house("bottled-lager"),))
    specs = [*map(house, MENU), backed]
    return [step for spec in specs for step in build_steps(spec, PANTRY)]


def refused_for() -> list[Reason]:
    found: list[Reason] = []
    for _case, data, _codes in REFUSED:
        with pytest.raises(CannotBuild) as caught:
            read_spec(data, RULES, PANTRY)
        found += caught.value.reasons
    return found


def step_keys_in_source() -> set[str]:
    """The beginning of the key of every `_step(...)` call in steps.py, up to what is filled in."""
    keys = set()
    for node in ast.walk(ast.parse(Path(steps.__file__).read_text())):
        if isinstance(node, ast.Call) and getattr(node.func, "id", "") == "_step":
            first = node.args[0]
            literal = first.values[0] if isinstance(first, ast.JoinedStr) else first
            if isinstance(literal, ast.Constant):
                keys.add(str(literal.value))
    return keys


def grammar_enums() -> set[type[StrEnum]]:
    found = set()
    for module in pkgutil.iter_modules(recipes.grammar.__path__):
        held = vars(importlib.import_module(f"recipes.grammar.{module.name}")).values()
        found |= {v for v in held if isinstance(v, type) and issubclass(v, StrEnum)}
    return found - {StrEnum}


def test_every_step_reads_as_a_sentence():
    for step in all_steps():
        for text in wording.step_words(step, glass_names=GLASS_NAMES):
            assert text[:1].upper() == text[:1] != ""
            assert not UNFILLED.search(text), text


def test_every_step_of_the_shipped_course_reads_as_a_sentence():
    course = coursefile.read_course(Path("fixtures/course"))
    pantry = {item.slug: item for item in course.ingredients}
    drinks = [drink for module in course.modules for drink in module.drinks]
    assert len(drinks) >= 100
    for drink in drinks:
        for step in build_steps(resolve(drink.spec, course.rules, pantry), pantry):
            for text in wording.step_words(step):
                assert text
                assert not UNFILLED.search(text), text


def test_no_step_of_the_source_escapes_the_test_above():
    """A new kind of step must find its way onto the menu of these tests."""
    made = [step.key for step in all_steps()]
    keys = step_keys_in_source()
    assert len(keys) > 15
    assert {k for k in keys if not any(m.startswith(k) for m in made)} == set()


def test_no_words_without_a_step():
    steps_made = all_steps()
    said = {wording._variant(s.does) for s in steps_made} | {s.why.code for s in steps_made}
    assert {c for c in wording.WORDS if c.startswith(("do_", "why_"))} == said


def test_every_ice_and_every_garnish_word_has_a_step():
    codes = [f"ice_{i}" for i in Ice if i is not Ice.NONE] + [f"garnish_{w}" for w in When]
    assert [c for c in codes if not {f"do_{c}", f"why_{c}"} <= wording.WORDS.keys()] == []


@pytest.mark.parametrize(
    "module", [refusals, coursefile, rules_nonsense, rules_refusals, lines, rules_said, words_owned]
)
def test_every_refusal_has_words(module):
    assert module.CODES - wording.WORDS.keys() == set()


FILED = [
    Reason.of("file_missing"),
    Reason.of("not_text"),
    Reason.of("toml_syntax", line=7, said="expected a value"),
    Reason.of("slug_twice", slug="madras", other_file="10-highballs.toml"),
    Reason.of("alias_twice", alias="a", owner="b", other="c", other_file="20-rocks.toml"),
    Reason.of("unknown_allergen", allergen="kryptonite"),
    Reason.of("right_out_of_range", right=4, choices=4),
    Reason.of("choice_twice"),
    Reason.of("unknown_word", word="smoke"),
    Reason.of("line_without_ingredient", line=2),
    Reason.of("misspelt_ingredient", said="vodak", ingredient="vodka", line=1),
    Reason.of("number_unreadable", said="1/0", line=1),
    Reason.of("which_pint", line=3),
    Reason.of("pattern_without_meaning", said="press", line=1),
    Reason.of("serving_without_meaning", said="short", line=1),
    Reason.of("said_twice", word="press", earlier=1, line=2),
    Reason.of("word_of_a_drink", word="madras", section="pattern", owner="Madras"),
    Reason.of("word_of_an_ingredient", word="gin", section="serving", owner="gin"),
    Reason.of(
        "word_of_another",
        word="cran",
        section="slang",
        owner="cranberry juice",
        means="orange juice",
    ),
    Reason.of("word_of_two", word="press", section="slang", already="pattern"),
    Reason.of("word_is_a_way", word="tall one", section="slang"),
    Reason.of("word_is_a_kind", word="beer", section="pattern"),
    Reason.of("word_is_a_call", word="double vodka", section="serving", means="vodka"),
    Reason.of("amount_negative", said="-1 pour gin", line=1),
    Reason.of("amount_range", said="10-12", line=1),
    Reason.of("unknown_unit", said="glugs", ingredient="gin", line=1),
]


def test_what_is_wrong_with_a_file_reads_as_a_sentence():
    known = coursefile.CODES | rules_refusals.CODES | lines.CODES
    known |= rules_said.CODES | words_owned.CODES
    assert {r.code for r in FILED} == known - refusals.CODES
    for reason in FILED:
        text = wording.word(reason, names=NAMES)
        assert not UNFILLED.search(text), text
        assert text.startswith("Line ") == ("line" in reason.values)


def test_every_refusal_reads_as_a_sentence():
    reasons = refused_for()
    assert {r.code for r in reasons} == refusals.CODES
    for reason in reasons:
        text = wording.word(reason, names=NAMES, glass_names=GLASS_NAMES)
        assert not UNFILLED.search(text), text
        assert text.endswith((".", "”."))


def test_a_code_without_words_is_an_error_and_never_silent():
    with pytest.raises(KeyError):
        wording.word(Reason.of("nobody_wrote_this"))


def test_all_words_pass_through_translation():
    bare = {c: t for c, t in wording.WORDS.items() if not isinstance(t, Promise)}
    assert set(bare.values()) <= {"%(part)s"}


def test_every_enum_of_the_grammar_has_labels():
    assert grammar_enums() - set(wording.LABELLED) == set()


@pytest.mark.parametrize("enum", wording.LABELLED)
def test_labels_differ_within_an_enum(enum):
    labels = [wording.label(member) for member in enum]
    assert all(labels)
    assert len(set(labels)) == len(labels)


@pytest.mark.parametrize(
    ("amount", "unit", "said"),
    [
        (1, "pour", "1 pour"),
        (1.5, "pour", "1½ pours"),
        (0.5, "pour", "½ pour"),
        (2, "pour", "2 pours"),
        (45, "ml", "45 ml"),
        (22.5, "ml", "22.5 ml"),
        (1200, "ml", "1200 ml"),
        (1.25, "floz", "1¼ fl oz"),
        (0.75, "floz", "¾ fl oz"),
        (0.3333, "floz", "⅓ fl oz"),
        (0.667, "floz", "⅔ fl oz"),
        (1.3, "floz", "1.3 fl oz"),
        (0.9999, "pour", "1 pour"),
        (2, "dash", "2 dashes"),
        (1, "dash", "1 dash"),
        (6, "leaf", "6 leaves"),
        (1, "leaf", "1 leaf"),
        (2, "splash", "2 splashes"),
        (3, "piece", "3 pieces"),
        (0.5, "imperial_pint", "½ pint"),
    ],
)
def test_amounts(amount, unit, said):
    assert wording.amount_words(amount, unit) == said


@pytest.mark.parametrize("unit", list(Unit))
def test_every_unit_has_a_singular_and_a_plural(unit):
    for amount, number in ((1, "1"), (3, "3")):
        assert wording.amount_words(amount, unit).startswith(f"{number} ")
        assert "thing" in wording.part_words(amount, unit, "thing")


def test_a_pour_may_say_how_much_it_is_here():
    assert wording.amount_words(1, Unit.POUR, 29.57) == "1 pour (1 fl oz)"
    assert wording.amount_words(1, Unit.POUR, 25, "gb") == "1 pour (25 ml)"
    assert wording.amount_words(1, Unit.POUR, 35.5, "ie") == "1 pour (35.5 ml)"
    assert wording.amount_words(30, Unit.ML, 30) == "30 ml"


@pytest.mark.parametrize(
    ("amount", "unit", "said"),
    [
        (1, "pour", "1 pour lime"),
        (0.5, "piece", "½ lime"),
        (1, "piece", "1 lime"),
        (3, "piece", "3 × lime"),
        (6, "leaf", "6 leaves of lime"),
    ],
)
def test_parts(amount, unit, said):
    assert wording.part_words(amount, unit, "lime") == said


@pytest.mark.parametrize(
    ("percent", "said"), [(50, "½"), (33, "⅓"), (67, "⅔"), (25, "¼"), (40, "40 %"), (100, "100 %")]
)
def test_shares(percent, said):
    assert wording.share_words(percent) == said


CARDS = {
    "bay-breeze": {
        "Glass": ["Highball glass, 10 fl oz"],
        "Pours": ["1 pour vodka"],
        "Mixers": ["cranberry juice", "pineapple juice", "in equal parts"],
        "Finish": ["no garnish", "straw"],
        "Method": ["full ice", "build in the glass"],
    },
    "tequila-sunset": {
        "Glass": ["Highball glass, 10 fl oz"],
        "Pours": ["1 pour tequila", "15 ml grenadine"],
        "Mixers": ["orange juice"],
        "Finish": ["no garnish", "straw"],
        "Method": ["full ice", "build in the glass", "grenadine first, under the ice"],
    },
    "vodka-soda": {
        "Glass": ["Highball glass, 10 fl oz"],
        "Pours": ["1 pour vodka"],
        "Mixers": ["club soda"],
        "Finish": ["lemon or lime (ask the guest)", "straw"],
        "Method": ["full ice", "build in the glass"],
    },
    "margarita": {
        "Glass": ["Rocks glass, 9 fl oz"],
        "Pours": ["1½ pours tequila", "15 ml lime juice", "½ pour orange liqueur"],
        "Mixers": ["no mixer"],
        "Finish": ["half rim of salt, wet with lime", "lime, always"],
        "Method": ["full ice", "shake with ice, strain"],
    },
    "three-layers": {
        "Glass": ["Shot glass, 2 fl oz"],
        "Pours": ["15 ml coffee liqueur", "15 ml irish cream", "15 ml orange liqueur"],
        "Mixers": ["no mixer"],
        "Finish": ["no garnish"],
        "Method": [
            "no ice",
            "layer over a spoon",
            "from the bottom: coffee liqueur, irish cream, orange liqueur",
        ],
    },
    "draught-lager": {
        "Glass": ["Pint glass, 16 fl oz"],
        "Pours": ["nothing measured"],
        "Mixers": ["lager"],
        "Finish": ["no garnish"],
        "Method": ["draw from the tap"],
    },
}


@pytest.mark.parametrize("name", CARDS)
def test_the_back_of_a_card(name):
    drink = make_drink(
        slug=name, name=name, module="m", spec=MENU[name], rules=RULES, pantry=PANTRY
    )
    assert dict(wording.drink_card(drink, NAMES, GLASS_NAMES)) == CARDS[name]


@pytest.mark.parametrize("name", MENU)
def test_content_reads_the_same_after_json(name):
    held = contents(house(name))
    for aspect in Aspect:
        fresh = wording.aspect_words(aspect, held[aspect], NAMES, GLASS_NAMES)
        stored = json.loads(json.dumps(held[aspect]))
        assert wording.aspect_words(aspect, stored, NAMES, GLASS_NAMES) == fresh
        assert fresh
        assert not [line for line in fresh if UNFILLED.search(line) or not line]


def test_what_has_gone_from_the_pantry_is_read_from_its_slug():
    pours = contents(house("white-russian"))[Aspect.POURS]
    assert "1 pour coffee liqueur" in wording.aspect_words(Aspect.POURS, pours, {}, {})


def test_unequal_mixers_say_their_shares():
    content = {"top": [["cola", "0.333"], ["soda", "0.667"]]}
    assert wording.aspect_words(Aspect.MIXERS, content, {}, {}) == ["⅔ soda", "⅓ cola"]


def test_millilitres_outside_the_united_states():
    content = {"glass": "pint", "glass_ml": "568.261"}
    assert wording.aspect_words(Aspect.GLASS, content, {}, {}, "gb") == ["pint, 568 ml"]


def test_nothing_ever_reads_as_free_from():
    for known in (None, (), ("milk",)):
        assert "free" not in wording.allergen_words(known)
    assert "fetch the manager" in wording.allergen_words(None)
    assert "milk" in wording.allergen_words(("milk",))


def test_every_allergen_has_its_own_label():
    labels = {wording.allergen_label(a) for a in ALLERGENS}
    assert len(labels) == len(ALLERGENS)
    assert wording.allergen_label("house-nut-mix") == "house nut mix"
