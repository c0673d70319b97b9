"""The steps of a build: trade order, what fails and what is a fault."""

import pytest
from hypothesis import given

from recipes.grammar.aspects import Aspect
from recipes.grammar.spec import Garnish, Ice, Method, Rim, When
from recipes.grammar.steps import Stage, build_steps
from tests.grammar.cocktails import recipes
from tests.grammar.kitchen import (
    MENU,
    PANTRY,
    build,
    dashed,
    first_in,
    floated,
    garnished,
    house,
    ml,
    pour,
    top,
)

ORDER = list(Stage)


def steps(spec):
    return build_steps(house(spec), PANTRY)


def keys(spec):
    return [step.key for step in steps(spec)]


TRADE_ORDER = {
    "bay-breeze": """
        glass clean_glass scoop ice:full pour:vodka top:cranberry-juice top:pineapple-juice
        straw no_garnish serve
    """,
    "tequila-sunset": """
        glass clean_glass first_in:grenadine scoop ice:full pour:tequila top:orange-juice straw
        no_garnish serve
    """,
    "tequila-sunrise": """
        glass clean_glass scoop ice:full pour:tequila top:orange-juice float:grenadine straw
        no_garnish serve
    """,
    "salty-dog": """
        glass clean_glass rim scoop ice:full pour:gin top:grapefruit-juice straw garnish:lime
        serve
    """,
    "old-fashioned": """
        glass clean_glass muddle:sugar scoop ice:full pour:bourbon dash:bitters garnish:orange
        garnish:cherry serve
    """,
    "margarita": """
        glass clean_glass rim pour:tequila pour:orange-liqueur pour:lime-juice scoop shake
        ice:full strain garnish:lime serve
    """,
    "negroni": """
        glass clean_glass pour:gin pour:sweet-vermouth pour:red-aperitif scoop stir ice:full
        strain garnish:orange serve
    """,
    "daiquiri": """
        glass clean_glass pour:white-rum pour:lime-juice pour:simple-syrup scoop shake strain
        garnish:lime serve
    """,
    "pina-colada": """
        glass clean_glass pour:white-rum pour:pineapple-juice pour:cream scoop blender_ice blend
        straw garnish:cherry serve
    """,
    "three-layers": """
        glass clean_glass pour:coffee-liqueur pour:irish-cream pour:orange-liqueur no_garnish
        serve
    """,
    "draught-lager": """
        glass clean_glass rinse draw:lager nozzle head serve
    """,
    "snakebite": """
        glass clean_glass rinse draw:lager draw:cider nozzle head serve
    """,
    "nitro-stout": """
        glass clean_glass rinse draw:stout nozzle settle head serve
    """,
    "bottled-lager": """
        bottle pour:lager serve
    """,
}


@pytest.mark.parametrize(("name", "expected"), TRADE_ORDER.items())
def test_trade_order(name, expected):
    """The grammar of a build, step by step (a definition of the trade, no source)."""
    assert keys(name) == expected.split()


def test_garnishes_that_the_guest_chooses_from_are_one_question():
    found = {s.key: s for s in steps("vodka-soda")}
    assert found["garnish:ask"].does.values == {"item": "lemon / lime"}
    assert not [k for k in found if k.startswith("garnish:l")]


def test_ask_stands_beside_what_always_goes_on():
    spec = build(
        pour("vodka"),
        garnish=(Garnish(item="lime", when=When.ASK), Garnish(item="cherry")),
    )
    assert keys(spec)[-3:] == ["garnish:cherry", "garnish:ask", "serve"]


FAILS = {
    "glass",  # wrong size
    "bottle",
    "clean_glass",  # chipped or dirty
    "scoop",  # hand or glass in the ice
    "pour",  # wrong base, outside tolerance, or not by the house's way of measuring
    "top",  # wrong drink
    "draw",
    "shake",  # another drink altogether
    "stir",
    "blender_ice",
    "blend",
    "nozzle",
    "settle",  # here the sequence is the drink
    "first_in",
    "float",
}
FAULTS = {
    "rim",
    "rinse",
    "muddle",
    "dash",
    "strain",
    "head",
    "ice",  # short ice
    "straw",
    "garnish",
    "no_garnish",
    "serve",
}


def test_what_fails_a_build_and_what_is_a_fault():
    said = {(s.key.partition(":")[0], s.fails) for name in MENU for s in steps(name)}
    assert said == {(k, True) for k in FAILS} | {(k, False) for k in FAULTS}


def test_sequence_fails_only_where_it_is_the_drink():
    """A step in a special place fails; the same liquid among the pours fails as a pour alone."""
    special = {s.key: s.fails for s in steps("tequila-sunset") if s.stage is Stage.FIRST_IN}
    assert special == {"first_in:grenadine": True}
    plain = build(pour("tequila"), ml("grenadine", 15), top("orange-juice"))
    assert not [s for s in steps(plain) if s.stage in (Stage.FIRST_IN, Stage.FLOAT)]


@given(spec=recipes())
def test_a_stage_never_goes_back(spec):
    places = [ORDER.index(s.stage) for s in steps(spec)]
    assert places == sorted(places)


@given(spec=recipes())
def test_every_key_stands_for_one_step(spec):
    found = keys(spec)
    assert len(set(found)) == len(found)
    assert found == keys(spec)


@given(spec=recipes())
def test_every_part_garnish_and_rim_has_a_step(spec):
    made = house(spec)
    found = {k.partition(":")[2] for k in keys(spec)}
    assert {p.ingredient for p in made.parts} <= found
    assert {g.item for g in made.garnish if g.when is not When.ASK} <= found
    assert ("ask" in found) == any(g.when is When.ASK for g in made.garnish)
    assert ("rim" in keys(spec)) == (made.rim is not None)
    assert ("straw" in keys(spec)) == made.straw


@given(spec=recipes())
def test_every_aspect_with_content_has_a_step(spec):
    made = house(spec)
    held = {Aspect.GLASS, Aspect.FINISH}
    held |= {Aspect.MIXERS} if made.mixers else set()
    held |= {Aspect.POURS} if [p for p in made.parts if p.measured_by] else set()
    held |= {Aspect.METHOD} if made.ice is not Ice.NONE else set()
    assert held <= {s.aspect for s in steps(spec)}


@pytest.mark.parametrize("method", [Method.SHAKE, Method.STIR, Method.BLEND])
def test_ice_is_scooped_even_where_none_is_served(method):
    spec = build(pour("gin", 2), method=method, ice=Ice.NONE)
    assert keys(spec).count("scoop") == 1
    assert not [k for k in keys(spec) if k.startswith("ice:")]


def test_no_ice_no_scoop():
    assert "scoop" not in keys("tequila-shot")


@pytest.mark.parametrize("ice", [Ice.FULL, Ice.LIGHT, Ice.CRUSHED])
def test_the_house_rim_comes_before_ice_of_any_kind(ice):
    spec = build(pour("gin"), top("cola"), ice=ice, rim=Rim(item="salt", wet_with="lime"))
    assert keys(spec).index("rim") < keys(spec).index("scoop") < keys(spec).index(f"ice:{ice}")


def test_half_a_rim_is_said_and_is_the_same_step():
    margarita = {s.key: s for s in steps("margarita")}
    assert margarita["rim"].does.code == "do_half_rim"
    salty = {s.key: s for s in steps("salty-dog")}
    assert salty["rim"].does.code == "do_rim"
    assert salty["rim"].does.values == {"item": "salt", "wet_with": "lime"}


def test_dashes_come_after_the_measured_pours():
    spec = build(dashed("bitters"), pour("gin"), pour("dry-vermouth"), method=Method.STIR)
    assert keys(spec)[2:5] == ["pour:gin", "pour:dry-vermouth", "dash:bitters"]


def test_a_pour_says_how_much_and_how_it_is_measured():
    step = next(s for s in steps("old-fashioned") if s.key == "pour:bourbon")
    assert step.does.values == {
        "item": "bourbon",
        "amount": 2.0,
        "unit": "pour",
        "ml": 59.1,
        "by": "jigger",
    }
    assert (step.aspect, step.why.code) == (Aspect.POURS, "why_measured")


@pytest.mark.parametrize(("slug", "why"), [("gin", "why_measured"), ("lime-juice", "why_balance")])
def test_why_it_is_measured_depends_on_alcohol(slug, why):
    found = steps(build(pour("gin"), ml("lime-juice", 20)))
    assert next(s for s in found if s.key == f"pour:{slug}").why.code == why


def test_the_first_of_two_mixers_leaves_room():
    first, second = (s for s in steps("madras") if s.stage is Stage.TOP)
    assert (first.why.code, second.why.code) == ("why_leave_room", "why_to_the_top")
    assert (first.does.values["share"], second.does.values["share"]) == (50, 50)


def test_layers_go_in_as_the_recipe_lists_them():
    layer = steps("three-layers")[2:5]
    assert {s.does.code for s in layer} == {"do_layer"}
    assert {s.why.code for s in layer} == {"why_layer"}


def test_floats_and_first_ins_keep_their_order():
    spec = build(
        floated("cream", 10),
        first_in("grenadine", 5),
        pour("vodka"),
        floated("irish-cream", 10),
        garnish=garnished("cherry"),
    )
    placed = [k for k in keys(spec) if k.startswith(("first_in", "float"))]
    assert placed == ["first_in:grenadine", "float:cream", "float:irish-cream"]
