"""What the shipped course says about the trade.

Builds, garnishes and families are common practice, no source, unless a test names one.
"""

import re
from functools import cache
from pathlib import Path

import pytest

from recipes.grammar.coursefile import Course, CourseDrink, read_course
from recipes.grammar.drink import Drink, make_drink
from recipes.grammar.lookalikes import nearest, same_build
from recipes.grammar.refusals import LOW_ABV
from recipes.grammar.spec import How, Method
from recipes.grammar.steps import Stage, build_steps
from recipes.grammar.strength import strength

COURSE = Path(__file__).parents[2] / "fixtures" / "course"


@cache
def course() -> Course:
    return read_course(COURSE)


@cache
def drinks() -> dict[str, Drink]:
    """Every shipped drink, resolved under the shipped house rules."""
    shipped = course()
    return {
        d.slug: make_drink(
            slug=d.slug,
            name=d.name,
            module=module.slug,
            spec=d.spec,
            rules=shipped.rules,
            pantry=shipped.pantry,
            aliases=d.aliases,
            must_know=d.must_know,
            share=d.share,
        )
        for module in shipped.modules
        for d in module.drinks
    }


def written() -> tuple[CourseDrink, ...]:
    return tuple(d for module in course().modules for d in module.drinks)


def garnish(slug: str) -> list[tuple[str, str]]:
    return [(g.item, g.when.value) for g in drinks()[slug].spec.garnish]


def mixers(slug: str) -> list[tuple[str, float]]:
    return [(p.ingredient, p.share) for p in drinks()[slug].spec.mixers]


NAMES_OF_THE_TRADE = """
Cuba Libre; Gin Rickey; Vodka Rickey; Presbyterian; gin tonic; Vodka Tonic;
Tequila Tonic; Vodka Soda; Tequila Soda; Whiskey Cola; Vodka Lemonade; Vodka Energy; Moscow Mule;
Horse's Neck; Paloma; Tom Collins; Mojito; Americano; Aperitif Spritz; Long Island Iced Tea;
Long Beach Iced Tea; Cape Codder; vodka cranberry; Madras; Bay Breeze; Sea Breeze; Screwdriver;
Fuzzy Navel; Tequila Sunrise; Tequila Sunset; Greyhound; Salty Dog; Alabama Slammer; Bloody Mary;
Old Fashioned; Negroni; Black Russian; White Russian; Rusty Nail; Godfather; Margarita;
Whiskey Sour; Amaretto Sour; Mai Tai; Caipirinha; Daiquiri; Sidecar; Mint Julep; Mudslide;
Gin Martini; Vodka Martini; Dry Martini; Dirty Martini; Espresso Martini; Cosmopolitan;
Passion-Fruit Martini; Manhattan; Piña Colada; Tequila Shot; tequila with salt and lime; Kamikaze;
Lemon Drop; B-52; Washington Apple; Green Tea; Woo Woo; Melon Ball; Pickleback;
Herbal Bomb, Poured; Draught Lager; Nitro Stout; Bottled Lager; Half-and-Half; Shandy; Michelada;
Snakebite; Red Beer; Glass of White Wine; Glass of Sparkling Wine; Alcohol-Free Lager
"""


def test_every_drink_that_the_trade_starts_from_is_there():
    known = {n.casefold() for d in written() for n in (d.name, *d.aliases)}
    wanted = {" ".join(n.split()).casefold() for n in NAMES_OF_THE_TRADE.split(";")}

    assert wanted <= known


def test_the_course_is_big_enough_to_work_from():
    assert len(written()) >= 110
    assert sum(d.must_know for d in written()) >= 45
    assert [m.slug for m in course().modules] == ["highballs", "rocks", "shots", "beer", "service"]


def test_about_half_of_what_is_sold_are_highballs():
    by_module = {m.slug: sum(d.share for d in m.drinks) for m in course().modules}

    assert 0.45 < by_module["highballs"] / sum(by_module.values()) < 0.55


def test_must_knows_are_what_sells():
    """They are a good quarter of the names and more than half of the orders."""
    must = [d for d in written() if d.must_know]

    assert len(must) / len(written()) < 0.35
    assert sum(d.share for d in must) / sum(d.share for d in written()) > 0.5


def test_no_two_names_stand_for_the_same_build():
    found = list(drinks().values())
    twins = [
        (one.slug, other.slug)
        for n, one in enumerate(found)
        for other in found[n + 1 :]
        if same_build(one, other)
    ]

    assert twins == []


@pytest.mark.parametrize("slug", drinks())
def test_every_drink_can_be_taught(slug):
    """It has steps from a clean glass to the guest, and topics that make somebody know it."""
    drink = drinks()[slug]
    stages = [step.stage for step in build_steps(drink.spec, course().pantry)]

    assert stages[0] is Stage.GLASS
    assert stages[-1] is Stage.SERVE
    assert drink.topics


@pytest.mark.parametrize("slug", [s for s, d in drinks().items() if d.spec.alcohol_free])
def test_an_alcohol_free_drink_is_one(slug):
    assert strength(drinks()[slug].spec, course().pantry).abv_percent <= LOW_ABV


def test_low_and_no_alcohol_drinks_are_in_every_module_of_drinks():
    found = {d.module for d in drinks().values() if d.spec.alcohol_free}

    assert found == {"highballs", "rocks", "shots", "beer"}


LAYERED = [s for s, d in drinks().items() if d.spec.method is Method.LAYER]


@pytest.mark.parametrize("slug", LAYERED)
def test_layers_are_poured_heaviest_first(slug):
    densities = [course().pantry[p.ingredient].density for p in drinks()[slug].spec.parts]

    assert None not in densities
    assert densities == sorted(densities, reverse=True)
    assert len(set(densities)) == len(densities)


GARNISH = {
    # by rule
    "gin-and-tonic": [("lime-wedge", "always")],
    "tequila-tonic": [("lime-wedge", "always")],
    "alcohol-free-gin-and-tonic": [("lime-wedge", "always")],
    "whiskey-cola": [],
    "whiskey-ginger": [],
    "presbyterian": [],
    "vodka-soda": [("lemon-wedge", "ask"), ("lime-wedge", "ask")],
    "cape-codder": [("lime-wedge", "on_request")],
    "madras": [],
    "sea-breeze": [],
    "screwdriver": [],
    "greyhound": [],
    "tequila-soda": [],
    "rum-and-cola": [],
    # by the recipe, which beats every rule
    "cuba-libre": [("lime-wedge", "always")],
    "vodka-rickey": [("lime-wedge", "always")],
    "whiskey-rickey": [("lime-wedge", "always")],
    "salty-dog": [("lime-wedge", "always")],
    "manhattan": [("cherry", "always")],
}


@pytest.mark.parametrize(("slug", "expected"), GARNISH.items())
def test_the_garnish_is_the_house_rules_or_the_recipes_own(slug, expected):
    assert garnish(slug) == expected


MIXERS = {
    "cape-codder": {"cranberry-juice"},
    "madras": {"cranberry-juice", "orange-juice"},
    "sea-breeze": {"cranberry-juice", "grapefruit-juice"},
    "bay-breeze": {"cranberry-juice", "pineapple-juice"},
    "screwdriver": {"orange-juice"},
    "fuzzy-navel": {"orange-juice"},
    "greyhound": {"grapefruit-juice"},
    "salty-dog": {"grapefruit-juice"},
    "presbyterian": {"ginger-ale", "club-soda"},
    "gin-rickey": {"club-soda"},
    "moscow-mule": {"ginger-beer"},
    "horses-neck": {"ginger-ale"},
    "shandy": {"lager", "lemonade"},
    "snakebite": {"lager", "dry-cider"},
}


@pytest.mark.parametrize(("slug", "expected"), MIXERS.items())
def test_mixers_share_the_room_equally(slug, expected):
    assert dict(mixers(slug)) == dict.fromkeys(expected, 1 / len(expected))


PLAIN_HIGHBALLS = ("vodka-soda", "whiskey-cola", "gin-and-tonic", "cape-codder", "fuzzy-navel")


@pytest.mark.parametrize("slug", PLAIN_HIGHBALLS)
def test_a_plain_highball_is_one_pour_over_full_ice_in_the_house_glass(slug):
    spec = drinks()[slug].spec
    (pour,) = spec.how(How.MEASURED)

    assert (spec.glass, spec.ice.value) == ("highball", "full")
    assert pour.ml == pytest.approx(29.57, abs=0.01)
    assert spec.room_ml == pytest.approx(147.9, abs=0.1)


def test_sunrise_and_sunset_hold_the_same_in_the_other_order():
    sunrise, sunset = (drinks()[s].spec for s in ("tequila-sunrise", "tequila-sunset"))

    assert {p.ingredient for p in sunrise.parts} == {p.ingredient for p in sunset.parts}
    assert [p.ingredient for p in sunrise.how(How.FLOAT)] == ["grenadine"]
    assert [p.ingredient for p in sunset.how(How.FIRST_IN)] == ["grenadine"]


def test_salty_is_gin_grapefruit_and_a_rim_wetted_with_its_own_lime():
    spec = drinks()["salty-dog"].spec

    assert spec.parts[0].ingredient == "gin"
    assert (spec.rim.item, spec.rim.wet_with) == ("salt", "lime-wedge")


def test_white_is_black_with_cream_on_top():
    black, white = (drinks()[s].spec for s in ("black-russian", "white-russian"))

    assert white.parts[:2] == black.parts
    assert [p.ingredient for p in white.how(How.FLOAT)] == ["cream"]


@pytest.mark.parametrize(
    ("slug", "kin"),
    [
        ("madras", {"bay-breeze", "sea-breeze"}),
        ("bay-breeze", {"madras", "sea-breeze"}),
        ("sea-breeze", {"bay-breeze", "madras"}),
    ],
)
def test_the_breezes_and_the_madras_are_nearest_to_each_other(slug, kin):
    close = nearest(drinks()[slug], drinks().values(), 2)

    assert {d.slug for d in close} == kin


def test_a_sunrise_is_nearest_to_a_sunset():
    (close,) = nearest(drinks()["tequila-sunrise"], drinks().values(), 1)

    assert close.slug == "tequila-sunset"


LISTED = {
    # The international bartenders' list: which of its years has the drink.
    2023: """cuba-libre sea-breeze tequila-sunrise moscow-mule horses-neck long-island-iced-tea
        black-russian white-russian old-fashioned negroni margarita rusty-nail mojito tom-collins
        caipirinha mimosa""",
    2011: "screwdriver kamikaze b-52 godfather",
}


@pytest.mark.parametrize(("year", "slugs"), LISTED.items())
def test_the_international_list_stands_beside_its_drinks(year, slugs):
    found = {d.slug: (d.listed.list, d.listed.year) for d in written() if d.listed}

    assert {s: found.get(s) for s in slugs.split()} == dict.fromkeys(slugs.split(), ("IBA", year))


def test_how_the_house_differs_is_one_sentence():
    for drink in (d for d in written() if d.listed):
        assert "the house" in drink.listed.differs, drink.slug
        assert drink.listed.differs.endswith("."), drink.slug
        assert len(re.findall(r"\.(?:\s|$)", drink.listed.differs)) == 1, drink.slug


def test_the_safety_module_alone_is_the_gate():
    (gate,) = [m for m in course().modules if m.gate]

    assert (gate.slug, gate.alcohol, gate.drinks) == ("service", False, ())
    assert set(gate.stations) == {"well", "service-bar", "beer-point", "bar-back"}


@pytest.mark.parametrize("module", course().modules, ids=lambda m: m.slug)
def test_notes_are_a_short_read_in_sections(module):
    assert 350 <= len(module.notes.split()) <= 700
    assert module.notes.count("\n## ") + module.notes.startswith("## ") >= 3


def test_service_lessons_have_situations():
    (gate,) = [m for m in course().modules if m.gate]
    counts = {lesson.slug: len(lesson.scenarios) for lesson in gate.lessons}

    assert 8 <= len(counts) <= 10
    assert set(counts.values()) <= {2, 3, 4}
    assert sum(counts.values()) >= 24


def scenarios():
    return [s for m in course().modules for lesson in m.lessons for s in lesson.scenarios]


def test_what_can_hurt_somebody_is_critical():
    critical = {s.slug for s in scenarios() if s.critical}

    assert len(critical) >= 8
    assert critical >= {
        "birthday-at-midnight",
        "regular-refused",
        "arrived-and-staggering",
        "suspected-spiking",
        "nut-allergy",
        "glass-in-the-well",
        "dizzy-in-the-cellar",
        "tagged-tap",
    }


def test_a_guesser_learns_nothing_from_place_or_length():
    """The right choice stands in each place, and is neither mostly the longest nor the shortest."""
    found = scenarios()
    places = [sum(s.right == place for s in found) for place in range(4)]
    lengths = [(len(s.choices[s.right]), [len(c) for c in s.choices]) for s in found]

    assert all(len(s.choices) == 4 for s in found)
    assert min(places) >= len(found) / 8
    assert sum(right == max(all_) for right, all_ in lengths) < len(found) / 2
    assert sum(right == min(all_) for right, all_ in lengths) < len(found) / 2


def test_reasons_are_a_sentence_or_two():
    for scenario in scenarios():
        sentences = re.findall(r"[.!?](?:\s|$)", scenario.why)
        assert 1 <= len(sentences) <= 2, scenario.slug


def test_allergens_are_left_unknown_where_labels_differ():
    pantry = course().pantry

    assert pantry["irish-cream"].allergens == ("milk",)
    assert pantry["orgeat"].allergens == ("nuts",)
    assert pantry["lager"].allergens == ("gluten",)
    assert pantry["egg-white"].allergens == ("eggs",)
    for slug in ("amaretto", "worcestershire-sauce", "sour-mix", "coconut-cream", "hard-seltzer"):
        assert pantry[slug].allergens is None, slug
