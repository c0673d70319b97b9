"""The drawing is honest: its volumes are read back by code that shares nothing with it."""

import math
import re
from dataclasses import replace
from itertools import pairwise
from xml.etree import ElementTree

import pytest
from hypothesis import given

from recipes.grammar.drawing import draw
from recipes.grammar.glassware import PROFILES, make_glass
from recipes.grammar.liquids import layers, level_ml
from recipes.grammar.rules import GlassRule
from recipes.grammar.seen import CODES, seen
from recipes.grammar.spec import Garnish, Ice, Method, Rim, When
from recipes.grammar.strength import strength
from recipes.grammar.units import Unit
from tests.grammar.cocktails import recipes
from tests.grammar.kitchen import (
    MENU,
    PANTRY,
    RULES,
    build,
    first_in,
    floated,
    garnished,
    house,
    ml,
    pour,
    top,
)

SVG = "{http://www.w3.org/2000/svg}"
NUMBER = re.compile(r"-?\d+(?:\.\d+)?")


def picture(spec, **said):
    return ElementTree.fromstring(draw(spec, PANTRY, **{"title": "a drink", **said}))  # noqa: S314


def read_volumes(svg):
    """Millilitres of each liquid from the bottom up, from nothing but the picture.

    Each path is the silhouette of a body of revolution. Its right edge is cut into frustums:
    pi h (a^2 + a b + b^2) / 3, and the scale gives centimetres.
    """
    scale = float(svg.get("data-scale"))
    return {
        path.get("data-liquid"): _revolved(path.get("d")) / scale**3
        for path in svg.iter(f"{SVG}path")
        if path.get("data-liquid") is not None
    }


def _revolved(d):
    numbers = [float(n) for n in NUMBER.findall(d)]
    points = list(zip(numbers[::2], numbers[1::2], strict=True))
    middle = (min(x for x, _y in points) + max(x for x, _y in points)) / 2
    half = [(y, x - middle) for x, y in points[len(points) // 2 :]]
    return sum(
        math.pi * abs(y1 - y0) * (r0 * r0 + r0 * r1 + r1 * r1) / 3
        for (y0, r0), (y1, r1) in pairwise(half)
    )


def closely(ml):
    """Within one percent, or a tenth of a millilitre where there is hardly anything."""
    return pytest.approx(ml, rel=0.01, abs=0.1)


@pytest.mark.parametrize("glass", sorted(PROFILES))
@pytest.mark.parametrize("amount", [15, 90, 240])
def test_a_glass_holds_in_the_picture_what_it_holds_in_the_hand(glass, amount):
    """Neat, so that the liquid alone stands in the glass."""
    rules = RULES.model_copy(
        update={"glasses": {glass: GlassRule(name=glass, amount=250, unit=Unit.ML)}}
    )
    spec = house(build(ml("bourbon", amount), glass=glass, ice=Ice.NONE, garnish=()), rules)
    assert read_volumes(picture(spec)) == {"bourbon": closely(amount)}


@pytest.mark.parametrize(
    ("name", "expected"),
    [
        # Half of every glass is full ice, so a surface has twice the liquid under it.
        ("gin-tonic", {"gin tonic-water": 295.7}),
        ("madras", {"vodka cranberry-juice orange-juice": 295.7}),
        ("old-fashioned", {"bourbon bitters": 2 * (2 * 29.574 + 2 * 0.924)}),
        # The syrup that went in first, then everything else.
        ("tequila-sunset", {"grenadine": 30, "tequila orange-juice": 265.7}),
        # Three fifths of the float lie at the bottom; the rest hangs in as much drink again.
        (
            "tequila-sunrise",
            {
                "grenadine": 18,
                "grenadine tequila orange-juice": 2 * (6 + 15),
                "tequila orange-juice": 295.7 - 18 - 42,
            },
        ),
        ("white-russian", {"vodka coffee-liqueur": 4 * 29.574, "cream": 40}),
        ("three-layers", {"coffee-liqueur": 15, "irish-cream": 15, "orange-liqueur": 15}),
        ("draught-lager", {"lager": 473.2}),
        ("bottled-lager", {"lager": 354.9}),
        ("snakebite", {"lager cider": 473.2}),
        # Blended ice is in the drink: as much again as was poured.
        ("pina-colada", {"white-rum pineapple-juice cream": 2 * (44.36 + 90 + 30)}),
        ("tequila-shot", {"tequila": 29.57}),
    ],
)
def test_volumes_read_back_from_the_picture(name, expected):
    assert read_volumes(picture(house(name))) == {k: closely(v) for k, v in expected.items()}


@given(spec=recipes())
def test_volumes_of_any_drink(spec):
    made = house(spec)
    drink = strength(made, PANTRY)
    read = read_volumes(picture(made))
    if made.ice is not Ice.LIGHT:
        assert sum(read.values()) * (1 - made.ice_share) == closely(drink.volume_ml)
    elif made.mixers:
        assert sum(read.values()) == closely(made.glass_ml)


@given(spec=recipes())
def test_layers_hold_all_of_the_drink(spec):
    made = house(spec)
    found = layers(made, PANTRY)
    assert sum(layer.ml for layer in found) == pytest.approx(strength(made, PANTRY).volume_ml)
    assert all(layer.ml > 0 for layer in found)


def test_light_ice_lies_half_as_high_and_floats_in_a_full_glass():
    spec = house("light-gin-tonic")
    assert level_ml(spec, spec.room_ml) == pytest.approx(spec.glass_ml)
    assert level_ml(spec, 20) == pytest.approx(40)


def colours(spec):
    return [layer.colour for layer in layers(house(spec), PANTRY)]


def test_mixed_drinks_have_one_colour_and_sequences_have_several():
    assert len(colours("madras")) == 1
    assert len(colours("gin-tonic")) == 1
    assert len(colours("tequila-sunset")) == 2
    assert len(colours("tequila-sunrise")) == 3
    assert colours("three-layers") == ["#2a1510", "#c9a887", "#f0c27a"]


def test_two_juices_show_as_bands_where_the_sequence_is_the_drink():
    spec = build(
        first_in("grenadine", 10), pour("vodka"), top("orange-juice"), top("cranberry-juice")
    )
    items = [layer.items for layer in layers(house(spec), PANTRY)]
    assert items == [("grenadine",), ("vodka", "orange-juice"), ("cranberry-juice",)]


@pytest.mark.parametrize(
    ("slug", "expected"), [("grenadine", 0), ("cream", -1), ("irish-cream", -1), ("bourbon", -1)]
)
def test_a_heavy_float_sinks_and_a_light_one_stays(slug, expected):
    """1.3 g/ml falls through a drink of about 1.0; 0.99 and a spirit don't; 1.06 just holds."""
    spec = build(pour("tequila"), top("orange-juice"), floated(slug, 15))
    assert layers(house(spec), PANTRY)[expected].items == (slug,)


def test_the_sunset_and_the_sunrise_look_different():
    assert draw(house("tequila-sunset"), PANTRY, title="") != draw(
        house("tequila-sunrise"), PANTRY, title=""
    )


def test_coloured_liquid_in_clear_liquid_stays_coloured():
    """Filters multiply: four parts cranberry in one of vodka are hardly paler than the juice."""
    juice = build(ml("cranberry-juice", 100), glass="rocks", ice=Ice.NONE)
    mixed = build(ml("cranberry-juice", 100), ml("vodka", 25), glass="rocks", ice=Ice.NONE)
    (juice_colour,), (mixed_colour,) = colours(juice), colours(mixed)
    assert juice_colour == "#b3243b"
    red, green, _blue = (int(mixed_colour[i : i + 2], 16) for i in (1, 3, 5))
    assert red > 179
    assert 36 < green < 70


@given(spec=recipes())
def test_only_flat_shapes_in_presentation_attributes(spec):
    svg = picture(house(spec))
    names = {e.tag.removeprefix(SVG) for e in svg.iter()}
    assert names <= {"svg", "title", "path", "circle", "ellipse", "g"}
    for element in svg.iter():
        assert "style" not in element.attrib
        assert "id" not in element.attrib
        assert not [v for v in element.attrib.values() if "url(" in v]


@given(spec=recipes())
def test_numbers_are_rounded_to_two_decimals(spec):
    svg = picture(house(spec))
    del svg.attrib["data-scale"]
    for element in svg.iter():
        for value in element.attrib.values():
            assert not re.search(r"\.\d{3}|\de-|nan|inf", value), value


@given(spec=recipes())
def test_everything_stands_inside_the_box(spec):
    """Liquids and ice; garnish may reach out a little."""
    for path in picture(house(spec)).iter(f"{SVG}path"):
        if path.get("data-liquid") is not None:
            numbers = [float(n) for n in NUMBER.findall(path.get("d"))]
            assert min(numbers[::2]) >= 8
            assert max(numbers[::2]) <= 92
            assert min(numbers[1::2]) >= 20
            assert max(numbers[1::2]) <= 135


@given(spec=recipes())
def test_the_same_drink_is_drawn_the_same_every_time(spec):
    assert draw(house(spec), PANTRY, title="x") == draw(house(spec), PANTRY, title="x")


def test_many_on_one_page_share_no_id():
    one = picture(house("madras"), prefix="card-1-")
    other = picture(house("madras"), prefix="card-2-")
    ids = [e.get("id") for svg in (one, other) for e in svg.iter() if e.get("id")]
    assert ids == ["card-1-title", "card-2-title"]
    assert one.get("aria-labelledby") == "card-1-title"


def test_a_prefix_cannot_break_out_of_its_attribute():
    svg = picture(house("madras"), prefix='"><x y="')
    assert svg.get("aria-labelledby") == svg[0].get("id") == '"><x y="title'


def test_without_a_prefix_there_is_no_id_at_all():
    assert " id=" not in draw(house("madras"), PANTRY, title="x")


def test_the_text_alternative_stands_first_and_is_escaped():
    svg = picture(house("madras"), title="Red & <orange>")
    assert svg.get("role") == "img"
    assert svg[0].tag == f"{SVG}title"
    assert svg[0].text == "Red & <orange>"


@pytest.mark.parametrize("height", [48, 140, 480])
def test_any_size(height):
    svg = picture(house("madras"), height=height)
    assert int(svg.get("height")) == height
    assert int(svg.get("width")) == round(height * 100 / 140)
    assert svg.get("viewBox") == "0 0 100 140"


@pytest.mark.parametrize(
    ("with_it", "without"),
    [
        (
            build(pour("gin"), top("cola"), straw=True, garnish=()),
            build(pour("gin"), top("cola"), straw=False, garnish=()),
        ),
        (
            build(pour("gin"), top("cola"), garnish=garnished("lime")),
            build(pour("gin"), top("cola"), garnish=()),
        ),
        (
            build(pour("gin"), top("cola"), garnish=(), rim=Rim(item="salt", wet_with="lime")),
            build(pour("gin"), top("cola"), garnish=()),
        ),
        (
            build(pour("gin"), garnish=(), rim=Rim(item="salt", wet_with="lime", half=True)),
            build(pour("gin"), garnish=(), rim=Rim(item="salt", wet_with="lime")),
        ),
        (build(pour("gin"), ice=Ice.CRUSHED), build(pour("gin"), ice=Ice.FULL)),
        (build(pour("gin"), garnish=garnished("cherry")), build(pour("gin"), garnish=())),
        (
            build(pour("gin"), garnish=(Garnish(item="lime", when=When.ASK),)),
            build(pour("gin"), garnish=()),
        ),
        (
            build(top("lager"), method=Method.DRAUGHT),
            build(top("lager"), glass="pint", ice=Ice.NONE, straw=False, garnish=()),
        ),
    ],
)
def test_what_is_there_shows(with_it, without):
    assert shapes(with_it) != shapes(without)


def shapes(spec):
    return len(picture(house(spec)).findall(".//*")), draw(house(spec), PANTRY, title="")


def test_what_only_a_guest_asks_for_stays_off_the_picture():
    asked = build(pour("gin"), top("cola"), garnish=(Garnish(item="lime", when=When.ON_REQUEST),))
    assert shapes(asked) == shapes(build(pour("gin"), top("cola"), garnish=()))


@pytest.mark.parametrize(
    ("glass", "like"),
    [
        ("highball", "highball"),
        ("double-rocks", "rocks"),
        ("copper-mug", "mug"),
        ("beer-bottle", "bottle"),
        ("coupe", "cocktail"),
        ("half-pint", "pint"),
        ("nick-and-nora", "tumbler"),
    ],
)
def test_the_house_may_call_its_glasses_what_it_likes(glass, like):
    assert make_glass(glass, 300).profile is PROFILES[like]


@pytest.mark.parametrize("name", sorted(PROFILES))
def test_a_glass_is_scaled_to_its_capacity(name):
    small, big = make_glass(name, 100), make_glass(name, 800)
    assert big.cm == pytest.approx(2 * small.cm)
    assert big.height_of(800) == pytest.approx(big.cm, abs=1e-3)
    assert small.height_of(0) == pytest.approx(0, abs=1e-4)


@pytest.mark.parametrize("name", sorted(PROFILES))
def test_more_liquid_stands_higher_and_never_above_the_rim(name):
    glass = make_glass(name, 300)
    heights = [glass.height_of(ml) for ml in range(10, 400, 10)]
    assert heights == sorted(heights)
    assert heights[-1] <= glass.rim_cm


@pytest.mark.parametrize(
    ("name", "ml", "height", "widest"),
    [
        # Ordinary glasses of these capacities, from memory: within a centimetre or so.
        ("highball", 296, 12.5, 6.2),
        ("pint", 473, 14.6, 8.7),
        ("shot", 59, 6.0, 4.6),
        ("bottle", 355, 20.0, 6.2),
        ("can", 355, 12.2, 6.6),
    ],
)
def test_glasses_are_as_big_as_glasses_are(name, ml, height, widest):
    glass = make_glass(name, ml)
    assert glass.rim_cm == pytest.approx(height, abs=1.2)
    assert 2 * glass.widest_cm == pytest.approx(widest, abs=0.9)


def test_what_is_seen_is_said_from_the_bottom_up():
    said = [(r.code, dict(r.params)) for r in seen(house("tequila-sunset"), PANTRY)]
    assert said == [
        ("seen_glass", {"glass": "highball"}),
        ("seen_ice_full", {}),
        ("seen_bottom", {"items": "grenadine"}),
        ("seen_above", {"items": "tequila / orange-juice"}),
        ("seen_straw", {}),
    ]


def test_every_code_of_what_is_seen_is_reached():
    crushed = build(pour("gin"), rim=Rim(item="salt", wet_with="lime"), ice=Ice.CRUSHED)
    backed = replace(house(crushed), beside=(house(build(pour("gin"))),))
    specs = [*map(house, MENU), backed]
    assert {r.code for spec in specs for r in seen(spec, PANTRY)} == CODES
