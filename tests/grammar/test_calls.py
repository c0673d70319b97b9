"""Sentences of the bar and what they mean: one rule of reading each."""

import pytest

from recipes.grammar import calls
from recipes.grammar.calls import About, AskKind, Status
from recipes.grammar.spec import How
from recipes.grammar.strength import strength
from tests.grammar.called import book

US, GB = "us-classic", "great-britain"


def read(text, preset=US):
    return calls.read(text, book(preset))


def drink(text, preset=US):
    [found] = read(text, preset).drinks
    return found


def asked(text, preset=US):
    return [(q.about.value, *q.choices) for q in read(text, preset).ask]


def changes(text):
    return [c.code for c in drink(text).changes]


@pytest.mark.parametrize(
    ("text", "recipe"),
    [
        ("madras", "madras"),
        ("a Long Island please", "long-island-iced-tea"),
        ("g&t", "gin-and-tonic"),
        ("gin and tonic", "gin-and-tonic"),
        ("tonic and gin", "gin-and-tonic"),
        ("cola and rum", "rum-and-cola"),
        ("vodka grapefruit", "greyhound"),
        ("vodka cranberry and pineapple", "bay-breeze"),
        ("pineapple, cranberry and vodka", "bay-breeze"),
        ("vodka coffee liqueur", "black-russian"),
        ("scotch and amaretto", "godfather"),
        ("rum and cola with a lime", "cuba-libre"),
        ("gin soda with lime", "gin-rickey"),
        ("bourbon press", "presbyterian"),
        ("highball", "whiskey-ginger"),
        ("bourbon sour", "whiskey-sour"),
        ("lager and lemonade", "shandy"),
        ("frozen marg", "frozen-margarita"),
        ("whiskey rocks", "whiskey-on-the-rocks"),
        ("half of lager", "half-lager"),
        ("white russian, no cream", "black-russian"),
        ("pina colada, virgin", "virgin-pina-colada"),
        ("herbal bomb, poured", "poured-bomb"),
        ("DBL TALL VOD CRAN", "cape-codder"),
    ],
)
def test_a_build_that_is_a_recipe_is_that_recipe(text, recipe):
    assert drink(text).recipe == recipe


@pytest.mark.parametrize(
    ("text", "parts"),
    [
        ("tequila and grapefruit soda", {"tequila": "measured", "grapefruit-soda": "top"}),
        ("whiskey ginger beer", {"bourbon": "measured", "ginger-beer": "top"}),
        ("gin rickey", {"gin": "measured", "club-soda": "top"}),
        ("mezcal press", {"mezcal": "measured", "ginger-ale": "top", "club-soda": "top"}),
        ("bourbon and water", {"bourbon": "measured", "water": "top"}),
        ("lemonade", {"lemonade": "top"}),
        ("vodka, half soda, half cranberry",
         {"vodka": "measured", "club-soda": "top", "cranberry-juice": "top"}),
        ("gin, splash of tonic, neat", {"gin": "measured", "tonic-water": "dash"}),
    ],
)  # fmt: skip
def test_ingredients_make_a_drink_without_a_name(text, parts):
    assert {p.ingredient: p.how.value for p in drink(text).spec.parts} == parts


@pytest.mark.parametrize(
    ("text", "counts"),
    [
        ("two gin tonics and a beer", [2, 1]),
        ("2x madras, x3 mojito, 4 kamikazes", [2, 3, 4]),
        ("gin tonic x2 and another madras", [2, 1]),
        ("a couple of mojitos plus half a dozen kamikazes", [2, 6]),
        ("x 2 madras", [2]),
        ("2 B-52s and 3 French 75s", [2, 3]),
        ("two vodka sodas, one lemon, one lime, and a madras", [1, 1, 1]),
        ("three gin tonics, one with no ice", [2, 1]),
    ],
)
def test_counts(text, counts):
    assert [d.count for d in read(text).drinks] == counts


def test_part_of_a_round_may_be_changed():
    plain, iceless = read("three gin tonics, one with no ice").drinks

    assert (plain.spec.ice, iceless.spec.ice) == ("full", "none")


def test_a_double_has_two_pours_and_asks_short_or_tall():
    reading = read("double gin tonic")

    assert [(q.about, q.choices, q.kind) for q in reading.ask] == [
        (About.SIZE, ("short", "tall"), AskKind.SERVICE)
    ]
    assert drink("double gin tonic").spec.parts[0].ml == pytest.approx(2 * 29.5735, abs=0.01)


@pytest.mark.parametrize(
    ("text", "glass", "pours"),
    [
        ("double tall gin tonic", "pint", 2),
        ("gin tonic, double, short", "highball", 2),
        ("tall gin tonic", "pint", 1),
        ("double gin tonic in a pint glass", "pint", 2),
        ("gin tonic", "highball", 1),
    ],
)
def test_sizes(text, glass, pours):
    found = drink(text)

    assert found.spec.glass == glass
    assert found.spec.parts[0].ml == pytest.approx(pours * 29.5735, abs=0.01)
    assert read(text).status is Status.READY


@pytest.mark.parametrize("text", ["double tall gin tonic", "double short gin tonic"])
def test_short_and_tall_have_the_same_alcohol(text):
    pantry = book(US).pantry

    assert strength(drink(text).spec, pantry).ethanol_g == pytest.approx(
        2 * strength(drink("gin tonic").spec, pantry).ethanol_g
    )


@pytest.mark.parametrize(
    ("text", "glass", "ice", "method"),
    [
        ("gin neat", "rocks", "none", "build"),
        ("gin on the rocks", "rocks", "full", "build"),
        ("gin up", "cocktail", "none", "stir"),
        ("shot of gin", "shot", "none", "build"),
        ("margarita up", "cocktail", "none", "shake"),
        ("manhattan on the rocks", "double-rocks", "full", "stir"),
        ("double shot of gin", "shot", "none", "build"),
    ],
)
def test_styles(text, glass, ice, method):
    spec = drink(text).spec

    assert (spec.glass, spec.ice.value, spec.method.value) == (glass, ice, method)


@pytest.mark.parametrize("text", ["vodka", "double whiskey", "a tequila please", "amaretto"])
def test_a_bare_spirit_asks_how(text):
    assert asked(text) == [("style", "neat", "rocks", "shot", "mixer")]


@pytest.mark.parametrize(
    ("text", "ice"),
    [
        ("gin tonic no ice", "none"),
        ("gin tonic, hold the ice", "none"),
        ("gin tonic without ice", "none"),
        ("gin tonic light ice", "light"),
        ("gin tonic, easy on the ice", "light"),
        ("gin tonic with ice", "full"),
    ],
)
def test_ice(text, ice):
    assert drink(text).spec.ice.value == ice


@pytest.mark.parametrize(
    ("text", "garnish"),
    [
        ("gin tonic", [("lime-wedge", "always")]),
        ("gin tonic no lime", []),
        ("gin tonic no garnish", []),
        ("vodka soda with lemon", [("lemon-wedge", "always")]),
        ("vodka soda, slice of lime", [("lime-wedge", "always")]),
        ("vodka cran", [("lime-wedge", "on_request")]),
        ("vodka cran with lime", [("lime-wedge", "always")]),
        ("old fashioned, hold the cherry", [("orange-slice", "always")]),
        ("gin martini with a twist", [("lemon-twist", "always")]),
    ],
)
def test_what_goes_on_it(text, garnish):
    assert [(g.item, g.when.value) for g in drink(text).spec.garnish] == garnish


def test_what_the_house_rules_leave_open_is_asked_and_nothing_else():
    assert asked("vodka soda") == [("garnish", "lemon-wedge", "lime-wedge")]
    assert asked("vodka tonic") == []
    assert asked("gin and tonic", GB) == [("garnish", "lemon-wheel", "none")]
    assert asked("gin and tonic, no slice", GB) == []


def test_without_alcohol_all_of_it_is_left_out_and_that_is_said():
    found = drink("virgin margarita")

    assert strength(found.spec, book(US).pantry).ethanol_g == 0
    assert found.spec.alcohol_free
    assert [c.code for c in found.changes] == ["virgin"]
    assert read("virgin negroni").status is Status.UNKNOWN
    assert read("virgin negroni").drinks == ()


def test_martinis():
    dry, plain, dirty = (
        drink(t) for t in ("extra dry vodka martini", "vodka martini", "dirty gin martini")
    )
    vermouth = [next(p.ml for p in d.spec.parts if p.ingredient == "dry-vermouth")
                for d in (dry, plain)]  # fmt: skip

    assert vermouth[0] < vermouth[1]
    assert "olive-brine" in {p.ingredient for p in dirty.spec.parts}
    assert asked("martini") == [("base", "gin", "vodka")]


def test_rims_straws_splashes_and_backs():
    assert drink("margarita, no salt").spec.rim is None
    assert drink("tequila soda with salt").spec.rim.item == "salt"
    assert not drink("madras no straw").spec.straw
    assert changes("whiskey neat with a water back") == ["back:water"]
    [*_, splash] = drink("madras, splash of soda").spec.parts
    assert (splash.ingredient, splash.how) == ("club-soda", How.DASH)


def test_words_of_the_country():
    assert drink("gin lemonade").spec.mixers[0].ingredient == "lemonade"
    assert drink("gin lemonade", GB).spec.mixers[0].ingredient == "lemon-lime-soda"
    assert asked("rum ginger") == []
    assert asked("rum ginger", GB)[0] == ("mixer", "ginger-ale", "ginger-beer")
    assert asked("a short", GB)[0][0] == "base"
    assert asked("a half", GB)[0][:2] == ("drink", "draught-lager")
    assert drink("highball", GB).recipe == "whiskey-soda"


def test_a_step_up_is_told_to_whoever_pours():
    assert changes("premium gin tonic") == ["premium"]
    assert changes("house gin tonic") == []


@pytest.mark.parametrize(
    ("text", "meant"),
    [("margerita", "margarita"), ("gintonic", "gin tonic"), ("vodka cranbery", "cranberry"),
     ("screw driver", "screwdriver"), ("harvey walbanger", "wallbanger")],
)  # fmt: skip
def test_a_misspelling_is_read_and_said_back(text, meant):
    reading = read(text)

    assert reading.status is Status.READY
    assert [r.meant for r in reading.read_as] == [meant]


def test_what_is_equally_near_to_two_drinks_is_asked():
    assert asked("breeze") == [("drink", "bay-breeze", "sea-breeze", "coconut-bay-breeze")]
    assert asked("a russian") == [("drink", "black-russian", "white-russian")]


@pytest.mark.parametrize(
    ("text", "strange"),
    [("gin tonic with quazzle", ("quazzle",)), ("vodka soda or gin tonic", ("or",)),
     ("madras neat", ("neat",)), ("shandy, dry", ("dry",)), ("a double lager", ("double",)),
     ("🍸", ("🍸",))],
)  # fmt: skip
def test_what_can_not_be_placed_is_handed_back(text, strange):
    reading = read(text)

    assert reading.unplaced == strange
    assert reading.status is not Status.READY


def test_each_choice_says_why():
    codes = {r.code for r in drink("rum and pine").why}

    assert {"call_ingredient", "call_rule_pour", "call_rule_glass", "call_rule_garnish"} <= codes
    assert drink("madras").why[0].code == "call_name"
    assert drink("vodka cran").why[0].code == "call_alias"
    assert "call_slang" in {r.code for r in drink("whiskey and pineapple").why}
