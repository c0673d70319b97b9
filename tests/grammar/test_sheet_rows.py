"""A row of a sheet as a recipe, and back."""

from decimal import Decimal

import pytest
from hypothesis import given
from hypothesis import strategies as st

from recipes.grammar.reasons import CannotBuild, Reason
from recipes.grammar.refusals import read_spec
from recipes.grammar.sheet_rows import (
    House,
    new_ingredients,
    read_rows,
    with_ingredients,
    written_row,
)
from recipes.grammar.sheet_standing import Standing, read_standing, written_standing
from recipes.grammar.sheet_text import ALL, SheetRow, read_sheet, write_sheet
from recipes.grammar.spec import BuildSpec, Garnish, How, Ice, Method, Part, Rim, When
from recipes.grammar.units import COUNTED, Unit
from recipes.shipped import shipped_course
from tests.grammar import kitchen

HOUSE = House(kitchen.RULES, kitchen.PANTRY, {"highballs": "Highballs", "rocks": "Rocks, up"})


def row(line: int = 2, **cells: str) -> SheetRow:
    return SheetRow(line, dict.fromkeys(ALL, "") | {"name": "Test"} | cells)


def read(house: House = HOUSE, *, adding: bool = False, **cells: str):
    [found] = read_rows([row(**cells)], house, adding=adding)
    return found


def parts(cell: str) -> list[tuple[str, str, float | None, str]]:
    found = read(ingredients=cell)
    assert found.reasons == ()
    said = [Part.model_validate(p) for p in found.spec["parts"]]
    return [(p.ingredient, p.how.value, p.amount, p.unit.value) for p in said]


@pytest.mark.parametrize(
    ("cell", "said"),
    [
        ("1 pour vodka", [("vodka", "measured", 1, "pour")]),
        ("2 dash bitters", [("bitters", "dash", 2, "dash")]),
        ("a dash of bitters", [("bitters", "dash", 1, "dash")]),
        ("50ml gin", [("gin", "measured", 50, "ml")]),
        ("gin 50 ml", [("gin", "measured", 50, "ml")]),
        ("2,5 cl gin", [("gin", "measured", 2.5, "cl")]),
        ("2 ounces gin", [("gin", "measured", 2, "floz")]),
        ("1/2fl.oz gin", [("gin", "measured", 0.5, "floz")]),
        ("1/2fl.oz. of gin", [("gin", "measured", 0.5, "floz")]),
        ("gin 2 ounces", [("gin", "measured", 2, "floz")]),
        ("fill with cola", [("cola", "top", None, "pour")]),
        ("filled up with cola", [("cola", "top", None, "pour")]),
        ("cola to fill", [("cola", "top", None, "pour")]),
        ("1 1/2 oz gin", [("gin", "measured", 1.5, "floz")]),
        ("1-1/2 fl oz gin", [("gin", "measured", 1.5, "floz")]),
        ("1⁄2 oz gin", [("gin", "measured", 0.5, "floz")]),
        ("½ fl. oz gin", [("gin", "measured", 0.5, "floz")]),
        ("1½ pours gin", [("gin", "measured", 1.5, "pour")]),
        ("1 tsp sugar", [("sugar", "measured", 1, "tsp")]),
        ("a splash of club soda", [("club-soda", "dash", 1, "splash")]),
        ("top cola", [("cola", "top", None, "pour")]),
        ("top up with cola", [("cola", "top", None, "pour")]),
        ("cola to top", [("cola", "top", None, "pour")]),
        ("6 mint leaves", [("mint", "measured", 6, "leaf")]),
        ("muddle 6 mint leaves", [("mint", "muddled", 6, "leaf")]),
        ("Muddled 6 leaves mint", [("mint", "muddled", 6, "leaf")]),
        ("float 15 ml cream", [("cream", "float", 15, "ml")]),
        ("25 ml gin, 1,5 cl lime juice", [("gin", "measured", 25, "ml"),
                                         ("lime-juice", "measured", 1.5, "cl")]),
        ("1 pour gin\n top tonic water", [("gin", "measured", 1, "pour"),
                                          ("tonic-water", "top", None, "pour")]),
    ],
)  # fmt: skip
def test_ingredients_are_read_as_people_write_them(cell, said):
    assert parts(cell) == said


@pytest.mark.parametrize(
    ("cell", "garnish", "rim", "straw"),
    [
        ("", None, None, None),
        ("lime", [("lime", "always")], None, None),
        ("1 lime; on request mint", [("lime", "always"), ("mint", "on_request")], None, None),
        ("none", [], None, None),
        ("-", [], None, None),
        ("no garnish; straw", [], None, True),
        ("no straw", None, None, False),
        ("salt rim", None, ("salt", None, False), None),
        ("half rim salt wet with lime; lime", [("lime", "always")], ("salt", "lime", True), None),
    ],
)
def test_the_finish_is_read_as_people_write_it(cell, garnish, rim, straw):
    found = read(ingredients="1 pour gin", garnish=cell)

    assert found.reasons == ()
    said = found.spec["garnish"]
    assert (said if said is None else [(g["item"], str(g["when"])) for g in said]) == garnish
    got = found.spec.get("rim")
    assert (got and (got["item"], got["wet_with"], got["half"])) == rim
    assert found.spec.get("straw") == straw


@pytest.mark.parametrize(
    ("cells", "said"),
    [
        ({"glass": "Highball"}, {"glass": "highball"}),
        ({"glass": "rocks glass"}, {"glass": "rocks"}),
        ({"glass": "house rules"}, {"glass": None}),
        ({"ice": "no ice"}, {"ice": Ice.NONE}),
        ({"ice": "cubes"}, {"ice": Ice.FULL}),
        ({"ice": ""}, {"ice": None}),
        ({"method": "Shaken"}, {"method": Method.SHAKE}),
        ({"method": "two_part"}, {"method": Method.TWO_PART}),
        ({"method": ""}, {"method": Method.BUILD}),
    ],
)
def test_glass_ice_and_method_are_read_as_people_write_them(cells, said):
    found = read(ingredients="1 pour gin", **cells)

    assert found.reasons == ()
    assert said.items() <= dict(found.spec).items()


@pytest.mark.parametrize(
    ("cells", "reasons"),
    [
        ({"name": " "}, [Reason.of("name_missing", line=2)]),
        ({"name": "x" * 81}, [Reason.of("name_too_long", line=2, most=80)]),
        ({"ingredients": ""}, [Reason.of("no_parts", line=2)]),
        ({"ingredients": "1 pour lime juce"},
         [Reason.of("misspelt_ingredient", said="lime juce", ingredient="lime-juice", line=2)]),
        ({"ingredients": "1 pour whalebone"},
         [Reason.of("unknown_ingredient", ingredient="whalebone", line=2)]),
        ({"ingredients": "vodka"}, [Reason.of("amount_missing", ingredient="vodka", line=2)]),
        ({"ingredients": "1 pint lager"}, [Reason.of("which_pint", line=2)]),
        ({"glass": "higball"}, [Reason.of("misspelt_glass", said="higball", glass="highball",
                                          line=2)]),
        ({"glass": "boot"}, [Reason.of("unknown_glass", glass="boot", line=2)]),
        ({"ice": "some"}, [Reason.of("unknown_ice", said="some", line=2)]),
        ({"method": "throw"}, [Reason.of("unknown_method", said="throw", line=2)]),
        ({"module": "Higballs"},
         [Reason.of("misspelt_module", said="Higballs", module="Highballs", line=2)]),
        ({"module": "Wine"},
         [Reason.of("unknown_module", said="Wine", modules="Highballs, Rocks, up", line=2)]),
        ({"garnish": "salt rim; moon"}, [Reason.of("unknown_ingredient", ingredient="moon",
                                                   line=2)]),
    ],
)  # fmt: skip
def test_what_cant_be_read_says_line_and_reason(cells, reasons):
    assert list(read(**{"ingredients": "1 pour gin"} | cells).reasons) == reasons


def test_every_reason_of_a_row_is_said_at_once():
    found = read(ingredients="1 pour whalebone; vodka", glass="boot", ice="some")

    assert [r.code for r in found.reasons] == [
        "unknown_ice", "unknown_glass", "unknown_ingredient", "amount_missing",
    ]  # fmt: skip


def test_equally_near_to_two_names_both():
    more = [kitchen.PANTRY["gin"].model_copy(update={"slug": s, "name": s.replace("-", " ")})
            for s in ("dark-porter", "dark-sorter")]  # fmt: skip
    found = read(with_ingredients(HOUSE, more), ingredients="1 pour dark morter")

    [reason] = found.reasons
    assert reason.code == "equally_near"
    assert (reason.values["one"], reason.values["other"]) == ("dark porter", "dark sorter")


def test_new_ingredients_are_those_that_tell_their_kind():
    rows = [
        row(ingredients="50 ml navy rum; 20 ml lime juce; 10 ml house secret"),
        row(ingredients="25 ml Navy Rum; top yuzu soda", garnish="orange peel"),
    ]
    found = new_ingredients(rows, HOUSE)

    assert [(i.name, i.kind.value) for i in found] == [
        ("navy rum", "rum"), ("yuzu soda", "soda_mixer"), ("orange peel", "fruit"),
    ]  # fmt: skip
    first, second = read_rows(rows, with_ingredients(HOUSE, found), adding=True)
    assert second.reasons == ()
    assert [(r.code, r.values.get("said")) for r in first.reasons] == [
        ("misspelt_ingredient", "lime juce"), ("kind_untold", "house secret"),
    ]  # fmt: skip


def back(build: BuildSpec, house: House, aliases: tuple[str, ...] = ()) -> BuildSpec:
    """The build after it was written into a sheet and read again."""
    text = write_sheet([written_row("It's here", "highballs", aliases, build, house.pantry)])
    [found] = read_rows(read_sheet(text).rows, house)
    assert found.reasons == ()
    assert (found.name, found.aliases, found.module) == ("It's here", aliases, "highballs")
    return BuildSpec.model_validate(found.spec)


def test_every_shipped_drink_comes_back_as_it_was():
    course = shipped_course()
    house = House(course.rules, course.pantry, {"highballs": "Highballs"})
    drinks = [d for m in course.modules for d in m.drinks]

    assert len(drinks) > 100
    for drink in drinks:
        assert back(drink.spec, house, drink.aliases) == drink.spec, drink.slug


POURED = [s for s, i in kitchen.PANTRY.items() if i.liquor_class.value != "solid"]
SOLID = [s for s, i in kitchen.PANTRY.items() if i.liquor_class.value == "solid"]
AMOUNTS = st.one_of(st.sampled_from([0.25, 0.5, 1, 1 / 3, 1.5, 2]), st.floats(0.01, 4999))


@st.composite
def _parts(draw):
    slugs = draw(st.lists(st.sampled_from(POURED + SOLID), min_size=1, max_size=6, unique=True))
    return tuple(draw(_part(slug)) for slug in slugs)


@st.composite
def _part(draw, slug):
    how = draw(st.sampled_from(How))
    if how is How.TOP:
        return Part(ingredient=slug, how=how, share=draw(st.sampled_from([1, 2, 0.5])))
    units = [Unit.DASH, Unit.SPLASH] if how is How.DASH else [u for u in Unit if u not in COUNTED]
    unit = draw(st.sampled_from(list(COUNTED) if slug in SOLID and how is not How.DASH else units))
    return Part(ingredient=slug, how=how, amount=draw(AMOUNTS), unit=unit)


@st.composite
def _builds(draw):
    items = draw(st.lists(st.sampled_from(SOLID), max_size=3, unique=True))
    garnish = tuple(Garnish(item=i, when=draw(st.sampled_from(When))) for i in items)
    rim = Rim(
        item=draw(st.sampled_from(["salt", "sugar"])),
        wet_with=draw(st.sampled_from([None, "lime", "orange"])),
        half=draw(st.booleans()),
    )
    return BuildSpec(
        glass=draw(st.sampled_from([None, *kitchen.RULES.glasses])),
        ice=draw(st.sampled_from([None, *Ice])),
        method=draw(st.sampled_from([m for m in Method if m is not Method.LAYER])),
        rim=draw(st.sampled_from([None, rim])),
        parts=draw(_parts()),
        garnish=draw(st.sampled_from([None, garnish])),
        straw=draw(st.sampled_from([None, True, False])),
        alcohol_free=draw(st.booleans()),
    )


NAMES = st.text(st.characters(exclude_categories=("Cs", "Cc", "Zl", "Zp")), max_size=20)
ALIASES = st.lists(NAMES.map(lambda n: " ".join(n.split())).filter(bool), max_size=3).map(tuple)


@given(_builds())
def test_any_build_comes_back_as_it_was(build):
    assert back(build, HOUSE) == build


@given(ALIASES)
def test_any_other_names_come_back_as_they_were(aliases):
    build = kitchen.MENU["madras"]

    assert back(build, HOUSE, aliases) == build


def test_awkward_names_of_ingredients_are_written_by_their_address():
    awkward = {
        f"odd-{n}": kitchen.PANTRY["gin"].model_copy(update={"slug": f"odd-{n}", "name": name})
        for n, name in enumerate(
            (
                "gin, dry",
                "a; b",
                "soda to top",
                "mint leaves",
                "up with it",
                "gin 50 ml",
                "no alcohol",
            )
        )
    }
    house = with_ingredients(HOUSE, awkward.values())
    build = BuildSpec(parts=tuple(kitchen.pour(slug) for slug in awkward))

    assert back(build, house) == build


def test_a_row_that_was_read_is_judged_like_any_other_recipe():
    found = read(ingredients="3 pours gin; top tonic water", glass="shot")

    with pytest.raises(CannotBuild):
        read_spec(found.spec, kitchen.RULES, kitchen.PANTRY)


# How it stands on the menu

STANDINGS = st.builds(
    Standing,
    price=st.none() | st.decimals(0, 9_999_999, places=2),
    share=st.none() | st.floats(0, 999_999, allow_nan=False),
    must_know=st.none() | st.booleans(),
    poured=st.none() | st.booleans(),
).filter(lambda s: not (s.must_know and s.poured is False))


@given(STANDINGS)
def test_how_a_drink_stands_is_written_and_read_back(standing):
    assert read_standing(written_standing(standing)) == (standing, ())


@pytest.mark.parametrize(
    ("cells", "standing"),
    [
        ({}, Standing()),
        ({"price": "9,5", "share": "½"}, Standing(Decimal("9.5"), 0.5)),
        ({"price": "$1,200.00"}, Standing(Decimal(1200))),
        ({"must_know": "Yes", "poured": "TRUE"}, Standing(must_know=True, poured=True)),
        ({"must_know": "no", "poured": "0"}, Standing(must_know=False, poured=False)),
    ],
)
def test_how_a_drink_stands_is_read_as_people_write_it(cells, standing):
    assert read_standing(cells) == (standing, ())


@pytest.mark.parametrize(
    ("cells", "reason"),
    [
        ({"price": "cheap"}, Reason.of("price_unreadable", said="cheap")),
        ({"price": "-5"}, Reason.of("price_unreadable", said="-5")),
        ({"price": "99999999"}, Reason.of("price_unreadable", said="99999999")),
        ({"share": "-1"}, Reason.of("share_unreadable", said="-1")),
        ({"share": "1e99"}, Reason.of("share_unreadable", said="1e99")),
        ({"poured": "maybe"}, Reason.of("not_yes_or_no", said="maybe", column="poured")),
        ({"must_know": "yes", "poured": "no"}, Reason.of("must_know_not_poured")),
    ],
)
def test_how_a_drink_stands_cannot_be_read(cells, reason):
    assert read_standing(cells)[1] == (reason,)
    assert read(ingredients="1 pour gin", **cells).reasons == (
        Reason.of(reason.code, **{**reason.values, "line": 2}),
    )


@pytest.mark.parametrize(
    "said", ["top cranberry juice", "1 pour gin", "2 dashes bitters", "float 15 ml cream",
             "cola to top"],
)  # fmt: skip
def test_what_slid_from_the_ingredients_into_the_garnish_is_noticed(said):
    found = read(ingredients="1 pour vodka", garnish=said)

    assert Reason.of("garnish_pours", said=said, line=2) in found.reasons
    assert new_ingredients([row(garnish=said)], HOUSE) == ()


@pytest.mark.parametrize("said", ["1 lime", "6 mint leaves", "half rim salt", "always lime wedge"])
def test_what_is_counted_or_dipped_is_garnish(said):
    assert "garnish_pours" not in {r.code for r in read(garnish=said).reasons}
