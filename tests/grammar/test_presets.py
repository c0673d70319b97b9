"""The house rules that ship for each country, and the whole course under each of them."""

from functools import cache
from pathlib import Path

import pytest

from recipes.grammar.coursefile import Course, read_course
from recipes.grammar.drink import make_drink
from recipes.grammar.ingredients import LiquorClass
from recipes.grammar.lookalikes import same_build
from recipes.grammar.metric import in_millilitres
from recipes.grammar.refusals import problems
from recipes.grammar.rules import Family, MeasuredBy
from recipes.grammar.rules_check import rules_notices
from recipes.grammar.rules_preset import PRESET_OF, PRESETS, preset_for
from recipes.grammar.units import Unit

COURSE = Path(__file__).parents[2] / "fixtures" / "course"


@cache
def under(preset: str) -> Course:
    """Reading it refuses every drink that could not be built."""
    return read_course(COURSE, preset)


def test_every_file_of_a_preset_can_be_picked():
    assert {path.stem for path in (COURSE / "presets").glob("*.toml")} == set(PRESETS)


@pytest.mark.parametrize("preset", PRESETS)
def test_every_shipped_drink_can_be_built(preset):
    course = under(preset)

    assert course.rules.preset == preset
    # Where lemonade is the fizzy one, vodka and lemon-lime is one more name of a vodka lemonade;
    # where whisky is no bourbon, two drinks of the house's own kind are names of whisky drinks.
    assert sum(len(m.drinks) for m in course.modules) == (178 if preset.startswith("us-") else 175)


@pytest.mark.parametrize("preset", PRESETS)
def test_every_shipped_drink_can_be_built_in_millilitres(preset):
    """Glasses still hold it, and no amount in US ounces is left."""
    course = in_millilitres(under(preset))

    refused = {
        d.slug: found
        for m in course.modules
        for d in m.drinks
        if (found := problems(d.spec, course.rules, course.pantry, alcohol_module=m.alcohol))
    }
    parts = [p for m in course.modules for d in m.drinks for p in d.spec.parts]

    assert refused == {}
    assert {p.unit for p in parts} >= {Unit.POUR, Unit.ML, Unit.DASH}
    assert Unit.FLOZ not in {p.unit for p in parts}


@pytest.mark.parametrize(
    ("drink", "part", "ml"),
    [
        ("negroni", "gin", 30), ("moscow-mule", "lime-juice", 15), ("mojito", "simple-syrup", 22.5),
        ("gin-martini", "gin", 75), ("mimosa", "sparkling-wine", 75),
    ],
)  # fmt: skip
def test_a_metric_list_writes_thirty_millilitres_for_an_ounce(drink, part, ml):
    """Common practice, no source."""
    course = in_millilitres(under("great-britain"))
    spec = next(d.spec for m in course.modules for d in m.drinks if d.slug == drink)
    found = next(p for p in spec.parts if p.ingredient == part)

    assert (found.amount, found.unit) == (ml, Unit.ML)


def test_pours_and_dashes_stay_what_they_are():
    before, after = under("great-britain"), in_millilitres(under("great-britain"))
    kept = [
        (one, other)
        for m, n in zip(before.modules, after.modules, strict=True)
        for d, e in zip(m.drinks, n.drinks, strict=True)
        for one, other in zip(d.spec.parts, e.spec.parts, strict=True)
        if one.unit is not Unit.FLOZ
    ]

    assert len(kept) > 100
    assert all(one == other for one, other in kept)


@pytest.mark.parametrize("measure", [lambda course: course, in_millilitres])
@pytest.mark.parametrize("preset", PRESETS)
def test_no_two_drinks_become_one(preset, measure):
    course = measure(under(preset))
    found = [
        make_drink(
            slug=d.slug, name=d.name, module=m.slug, spec=d.spec, rules=course.rules,
            pantry=course.pantry,
        )
        for m in course.modules
        for d in m.drinks
    ]  # fmt: skip
    twins = [
        (one.slug, other.slug)
        for n, one in enumerate(found)
        for other in found[n + 1 :]
        if same_build(one, other)
    ]

    assert twins == []


@pytest.mark.parametrize("preset", PRESETS)
def test_there_is_nothing_to_point_out(preset):
    course = under(preset)

    assert rules_notices(course.rules, course.pantry) == ()


FREE, JIGGER, STAMPED = MeasuredBy.FREE_POUR, MeasuredBy.JIGGER, MeasuredBy.STAMPED
FLOZ, PINT = 29.5735295625, 568.26125


@pytest.mark.parametrize(
    ("preset", "country", "pour_ml", "by", "draught_ml"),
    [
        # 1 fl oz, 16 fl oz: common practice, no source. Fluid ounce: NIST Handbook 44 appendix C.
        ("us-classic", "us", FLOZ, JIGGER, 16 * FLOZ),
        # Common practice, no source; some states require metering or cap the pour.
        ("us-free-pour", "us", 1.5 * FLOZ, FREE, 16 * FLOZ),
        # SI 1988/2039 (25 or 35 ml); Weights and Measures Act 1985 for the pint.
        ("great-britain", "gb", 25, STAMPED, PINT),
        # National Standards Authority of Ireland.
        ("ireland", "ie", 35.5, STAMPED, PINT),
        # From memory: the nip, and a schooner as the usual draught glass.
        ("australia", "au", 30, JIGGER, 425),
        # Common practice, no source.
        ("europe", "eu", 40, JIGGER, 500),
    ],
)
def test_what_is_poured_where(preset, country, pour_ml, by, draught_ml):
    rules = under(preset).rules
    pour = rules.pours[LiquorClass.SPIRIT]

    assert rules.country == country
    assert pour.ml == pytest.approx(pour_ml)
    assert pour.measured_by is by
    assert rules.glasses[rules.default_glass[Family.DRAUGHT]].ml == pytest.approx(draught_ml)


def test_a_british_glass_of_still_wine_is_a_legal_measure():
    """125 or 175 ml: SI 1988/2039."""
    assert under("great-britain").rules.pours[LiquorClass.WINE].ml in (125, 175)


@pytest.mark.parametrize(
    ("country", "preset"),
    [
        ("us", "us-classic"), ("gb", "great-britain"), ("ie", "ireland"), ("au", "australia"),
        ("eu", "europe"), ("ca", "us-classic"), ("nz", "us-classic"), ("other", "us-classic"),
    ],
)  # fmt: skip
def test_the_country_picks_the_preset(country, preset):
    assert preset_for(country) == preset


def test_every_picked_preset_ships():
    assert set(PRESET_OF.values()) <= set(PRESETS)


@pytest.mark.parametrize(
    ("preset", "drink", "garnish"),
    [
        ("us-classic", "vodka-cola", []),
        ("us-classic", "vodka-tonic", [("lime-wedge", "always")]),
        ("us-free-pour", "vodka-tonic", [("lime-wedge", "always")]),
        ("great-britain", "vodka-tonic", [("lemon-wheel", "ask")]),
        ("great-britain", "vodka-cola", [("lemon-wheel", "ask")]),
        ("great-britain", "screwdriver", []),
        ("ireland", "whiskey-ginger", [("lemon-wheel", "ask")]),
        ("australia", "vodka-tonic", [("lime-wedge", "always")]),
        ("australia", "vodka-cola", []),
        ("europe", "vodka-tonic", [("lemon-wheel", "always")]),
        ("europe", "vodka-cola", [("lemon-wheel", "always")]),
    ],
)
def test_customs_of_garnish(preset, drink, garnish):
    """Common practice, no source."""
    course = under(preset)
    spec = next(d.spec for m in course.modules for d in m.drinks if d.slug == drink)
    made = make_drink(
        slug=drink, name=drink, module="", spec=spec, rules=course.rules, pantry=course.pantry
    )

    assert [(g.item, g.when.value) for g in made.spec.garnish] == garnish


@pytest.mark.parametrize(
    ("preset", "word", "ingredient"),
    [
        ("us-classic", "lemonade", "lemonade"),
        ("great-britain", "lemonade", "lemon-lime-soda"),
        ("us-classic", "ginger", "ginger-ale"),
        ("great-britain", "ginger", None),
        ("us-classic", "whiskey", "bourbon"),
        ("ireland", "whiskey", "irish-whiskey"),
        ("great-britain", "black", "blackcurrant-cordial"),
    ],
)
def test_words_mean_what_they_mean_there(preset, word, ingredient):
    """Left out is asked: plain ginger may be ale or beer."""
    assert under(preset).rules.slang.get(word) == ingredient


@pytest.mark.parametrize(
    ("preset", "mixer"),
    [("us-classic", "ginger-ale"), ("us-free-pour", "ginger-ale"), ("great-britain", "club-soda"),
     ("ireland", "club-soda"), ("australia", "club-soda"), ("europe", "club-soda")],
)  # fmt: skip
def test_a_plain_highball_is_what_the_country_means_by_it(preset, mixer):
    """Whiskey and ginger ale in parts of the United States, whiskey and soda elsewhere (common
    practice, no source)."""
    highball = under(preset).rules.patterns["highball"]

    assert highball.mixers == (mixer,)
    assert under(preset).pantry[highball.base or ""].kind == "whiskey"
