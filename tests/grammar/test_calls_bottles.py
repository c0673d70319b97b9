"""Bottles of the house: called by their names, and by the step that they stand on."""

from functools import cache

import pytest

from recipes.grammar import calls
from recipes.grammar.calls import About, Book, Status
from recipes.grammar.calls.answering import answered, phrases
from recipes.grammar.calls.reading import NONE
from recipes.grammar.coursefile import read_course
from recipes.grammar.drink import make_drink
from recipes.grammar.ingredients import Ingredient, LiquorClass, Pantry, Step
from tests.grammar.called import COURSE

BOTTLES = (
    ("quayside-gin", "Quayside gin", Step.PREMIUM, "gin"),
    ("lamplighter-vodka", "Lamplighter vodka", Step.CALL, "vodka"),
    ("breakwater-bourbon", "Breakwater bourbon", Step.PREMIUM, "bourbon"),
    ("old-pier-bourbon", "Old Pier bourbon", Step.PREMIUM, "bourbon"),
)


def stocked(pantry: Pantry) -> dict[str, Ingredient]:
    """With the bottles, each spoken of by the first of its words too."""
    found = dict(pantry)
    for slug, name, step, of in BOTTLES:
        said = {"slug": slug, "name": name, "aliases": (name.rsplit(" ", 1)[0],)}
        found[slug] = pantry[of].model_copy(update={**said, "step": step, "bottle_of": of})
    return found


@cache
def book() -> Book:
    course = read_course(COURSE)
    pantry = stocked(course.pantry)
    drinks = [
        make_drink(
            slug=d.slug, name=d.name, module=m.slug, spec=d.spec, rules=course.rules,
            pantry=pantry, aliases=d.aliases,
        )
        for m in course.modules
        for d in m.drinks
    ]  # fmt: skip
    return calls.vocabulary(course.rules, drinks, pantry)


# A call; its recipe; what is poured of spirits; what is on it always.
POURED = [
    ("premium gin and tonic", "gin-and-tonic", "quayside-gin", ["lime-wedge"]),
    ("Quayside and tonic", "gin-and-tonic", "quayside-gin", ["lime-wedge"]),
    ("tonic and quayside gin", "gin-and-tonic", "quayside-gin", ["lime-wedge"]),
    ("gin and tonic with quayside", "gin-and-tonic", "quayside-gin", ["lime-wedge"]),
    ("quayside rickey", "gin-rickey", "quayside-gin", ["lime-wedge"]),
    ("premium gin rickey", "gin-rickey", "quayside-gin", ["lime-wedge"]),
    ("call madras", "madras", "lamplighter-vodka", []),
    ("lamplighter soda with lime", "vodka-soda", "lamplighter-vodka", ["lime-wedge"]),
    ("old pier old fashioned", "old-fashioned", "old-pier-bourbon", ["orange-slice", "cherry"]),
    ("premium gin neat", None, "quayside-gin", []),
    ("house gin and tonic", "gin-and-tonic", "gin", ["lime-wedge"]),
    ("gin and tonic", "gin-and-tonic", "gin", ["lime-wedge"]),
    # Said behind the drink it is the same call.
    ("gin and tonic premium", "gin-and-tonic", "quayside-gin", ["lime-wedge"]),
    ("gin and tonic, premium please", "gin-and-tonic", "quayside-gin", ["lime-wedge"]),
    ("gin and tonic, top shelf", "gin-and-tonic", "quayside-gin", ["lime-wedge"]),
    ("premium quayside and tonic", "gin-and-tonic", "quayside-gin", ["lime-wedge"]),
    ("gin and tonic, house", "gin-and-tonic", "gin", ["lime-wedge"]),
]


@pytest.mark.parametrize(("call", "recipe", "spirit", "on_it"), POURED)
def test_the_bottle_goes_in_and_the_drink_stays_what_it_is(call, recipe, spirit, on_it):
    reading = calls.read(call, book())
    [drink] = reading.drinks
    pantry = book().pantry
    parts = (p.ingredient for p in drink.spec.parts)
    strong = [slug for slug in parts if pantry[slug].liquor_class is LiquorClass.SPIRIT]

    assert reading.status is Status.READY
    assert (drink.recipe, strong) == (recipe, [spirit])
    assert [g.item for g in drink.spec.garnish if g.when == "always"] == on_it


def test_a_double_is_poured_from_the_bottle_too():
    [drink] = calls.read("double premium gin and tonic tall", book()).drinks

    assert drink.spec.parts[0].ingredient == "quayside-gin"
    assert drink.spec.parts[0].amount == 2
    assert [c.code for c in drink.changes] == ["double", "premium", "tall", "base:quayside-gin"]


@pytest.mark.parametrize("call", ["premium whiskey and cola", "premium old fashioned"])
def test_of_several_bottles_on_a_step_it_is_asked_which(call):
    reading = calls.read(call, book())

    assert reading.status is Status.ASK
    assert [(q.about.value, q.choices) for q in reading.ask] == [
        ("base", ("breakwater-bourbon", "old-pier-bourbon"))
    ]
    known = {p.ingredient for p in reading.drinks[0].spec.parts}
    assert not known & {"bourbon", "breakwater-bourbon", "old-pier-bourbon"}


# A call of a step that no bottle stands on; what the house has of that kind.
LACKING = [
    ("premium madras", ("vodka", "lamplighter-vodka")),
    ("madras, top shelf", ("vodka", "lamplighter-vodka")),
    ("premium lamplighter and cranberry", ("vodka", "lamplighter-vodka")),
    ("call gin and tonic", ("gin", "quayside-gin")),
    ("double tall call gin and tonic", ("gin", "quayside-gin")),
    ("premium tequila soda", ("tequila", NONE)),
    ("premium gold rum, neat", ("gold-rum", NONE)),
]


@pytest.mark.parametrize(("call", "had"), LACKING)
def test_a_step_that_no_bottle_stands_on_is_asked_about_and_no_house_pour_slips_in(call, had):
    reading = calls.read(call, book())
    [drink] = reading.drinks

    assert reading.status is Status.ASK
    assert [q.choices for q in reading.ask if q.about is About.BASE] == [had]
    assert {"call", "premium"} & {c.code for c in drink.changes}
    assert "call_no_step" in {r.code for r in drink.why}
    alone = len(drink.spec.parts) == 1
    assert alone or not {p.ingredient for p in drink.spec.parts} & set(had)


SHOWN = [
    ("premium madras", ["vodka", "cranberry-juice", "orange-juice"], 1),
    ("double tall call gin and tonic", ["gin", "tonic-water"], 2),
    ("premium tequila soda", ["tequila", "club-soda"], 1),
    ("premium gold rum, neat", ["gold-rum"], 1),
    ("premium old fashioned", ["sugar-cube", "bourbon", "aromatic-bitters"], None),
    ("premium whiskey and cola", ["bourbon", "cola"], 1),
]


@pytest.mark.parametrize(("call", "parts", "pours"), SHOWN)
def test_while_the_bottle_is_open_the_houses_own_stands_in_for_show(call, parts, pours):
    [drink] = calls.read(call, book()).drinks

    assert [p.ingredient for p in drink.shown.parts] == parts
    assert pours in (None, drink.shown.parts[0].amount)


@pytest.mark.parametrize("call", ["premium gin and tonic", "gin and tonic", "vodka soda"])
def test_where_no_bottle_is_open_nothing_stands_in(call):
    assert [d.shown for d in calls.read(call, book()).drinks] == [None]


@pytest.mark.parametrize(("call", "had"), LACKING)
def test_what_the_house_has_instead_can_be_answered(call, had):
    words = book()
    before = calls.read(call, words)
    question = next(q for q in before.ask if q.about is About.BASE)
    for choice in had:
        name = words.pantry[choice].name if choice != NONE else ""
        said = phrases(question, choice, name)
        answer = answered(before, question, choice, said, lambda t: calls.read(t, words))
        assert answer is not None, choice
        assert (answer == "") == (choice == NONE), choice
        if answer:
            [drink] = calls.read(answer, words).drinks
            assert choice in {p.ingredient for p in drink.spec.parts}


def test_a_good_evening_asks_for_no_bottle():
    assert calls.read("gin and tonic, good evening", book()).status is Status.READY
    assert calls.read("gin and tonic would be good", book()).status is Status.UNKNOWN


def test_a_kind_alone_never_asks_among_its_bottles():
    [ask] = calls.read("a short gin", book()).ask + calls.read("vodka rickey", book()).ask

    assert ask.about == "style"


def test_why_says_which_bottle_it_was():
    [drink] = calls.read("premium gin and tonic", book()).drinks

    told = {r.code: r.values for r in drink.why}
    assert told["call_step"] == {"ingredient": "quayside-gin", "step": "premium"}
