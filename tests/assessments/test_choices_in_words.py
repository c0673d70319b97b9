"""Whoever reads a quiz can tell its choices apart, and one of them alone is right.

Random house books, with second names for builds that are there already: written the same, or in
other units. Held against the words on the page, which share no code with how choices are picked.
"""

from dataclasses import replace
from itertools import combinations

from hypothesis import given, settings
from hypothesis import strategies as st

from assessments.measures.quiz import ItemKind, QuizPlan, generate
from assessments.showing import Naming
from assessments.showing_quiz import show_item
from recipes.grammar.aspects import Aspect
from recipes.grammar.units import Unit
from tests.grammar.kitchen import PANTRY, RULES
from tests.measures.bar import drink, menus, specs

NAMING = Naming(
    {slug: item.name for slug, item in PANTRY.items()},
    {slug: glass.name for slug, glass in RULES.glasses.items()},
    "us",
)
EVERYTHING = (
    (ItemKind.WHOLE, None),
    (ItemKind.NAME_IT, None),
    *((ItemKind.ASPECT, aspect) for aspect in Aspect),
)
SAME_AMOUNT = {(1, Unit.POUR): (1, Unit.FLOZ), (1, Unit.FLOZ): (30, Unit.ML)}


def in_other_units(spec):
    """The same build as a bartender pours it: one pour is one fluid ounce in this house."""
    parts = []
    for part in spec.parts:
        amount, unit = SAME_AMOUNT.get((part.amount, part.unit), (part.amount, part.unit))
        parts.append(part.model_copy(update={"amount": amount, "unit": unit}))
    return spec.model_copy(update={"parts": tuple(parts)})


@st.composite
def books(draw):
    """A menu, and second names for some of its builds."""
    own = draw(menus(most=9))
    built = draw(st.lists(specs(), max_size=3))
    drinks = [*own, *(drink(f"more-{n}", s, name=f"More {n}") for n, s in enumerate(built))]
    for number, spec in enumerate(built):
        twin = draw(st.sampled_from([spec, in_other_units(spec)]))
        drinks.append(drink(f"twin-{number}", twin, name=f"Twin {number}"))
    for number, other in enumerate(draw(st.lists(st.sampled_from(own), max_size=3))):
        drinks.append(replace(other, slug=f"same-{number}", name=f"Same {number}"))
    return drinks


def quiz_on(drinks, pool):
    plan = QuizPlan(80, mix=EVERYTHING)
    return generate(plan=plan, drinks=drinks, pool=pool, scenarios=(), seed=3)


def read(item):
    """Each choice as it is read, without its letter."""
    shown = show_item(item, NAMING)
    return [(c.text, tuple(c.parts)) for c in shown.choices]


def as_read(drink):
    """All five aspects in words."""
    return NAMING.build({a.value: content for a, content in drink.contents.items()})


@settings(max_examples=150)
@given(books(), st.integers(0, 100))
def test_no_two_choices_read_the_same(drinks, half):
    module = drinks[: 1 + half * len(drinks) // 100]

    for item in quiz_on(module, drinks):
        words = read(item)
        assert len(set(words)) == len(words), words


@settings(max_examples=150)
@given(books())
def test_no_wrong_choice_reads_like_the_drink_that_is_asked_about(drinks):
    """Neither as a build of its name, nor as a name of its build."""
    by_slug = {d.slug: d for d in drinks}

    for item in quiz_on(drinks, drinks):
        asked = by_slug[item.recipe]
        for number, choice in enumerate(item.choices):
            other = by_slug[choice.of]
            if number == item.right:
                assert other is asked
            else:
                assert as_read(other) != as_read(asked)
                assert other.name != asked.name


@settings(max_examples=60)
@given(books())
def test_a_second_name_never_stands_beside_the_first(drinks):
    """Two names for one build, in other units too: whichever is asked about, the other is no
    choice."""
    twins = [
        {a.slug, b.slug} for a, b in combinations(drinks, 2) if a.fingerprints == b.fingerprints
    ]
    twins += [{f"more-{number}", f"twin-{number}"} for number in range(3)]

    for item in quiz_on(drinks, drinks):
        others = {c.of for c in item.choices} - {item.recipe}
        assert not any({item.recipe, other} in twins for other in others)


def test_the_books_do_hold_second_names():
    """Else the properties above would be easily had."""
    found = []

    @settings(max_examples=30, database=None)
    @given(books())
    def look(drinks):
        found.append(
            any(a.fingerprints == b.fingerprints for a, b in combinations(drinks, 2))
            and bool(quiz_on(drinks, drinks))
        )

    look()
    assert any(found)
