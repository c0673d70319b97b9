"""Every field of a house spec stands in exactly one aspect, and its fingerprint says so."""

import dataclasses
import json
from enum import StrEnum

import pytest
from hypothesis import given

from recipes.grammar.aspects import (
    FIELDS,
    Aspect,
    aspect_fingerprints,
    changed_aspects,
    contents,
    fingerprint,
)
from recipes.grammar.house_spec import HouseGarnish, HousePart, HouseRim, HouseSpec, Origin, Origins
from recipes.grammar.ingredients import LiquorClass
from recipes.grammar.rules import MeasuredBy, PourRule
from recipes.grammar.spec import How, Method, Rim, When
from recipes.grammar.units import Unit
from tests.grammar.cocktails import recipes
from tests.grammar.kitchen import (
    MENU,
    RULES,
    build,
    dashed,
    first_in,
    floated,
    garnished,
    house,
    muddled,
    pour,
    top,
)

GROUPS = ("poured", "top", "muddled")

SAID_BY_ITS_GROUP = {
    # The same for every part of its group, so there is nothing that could change.
    "poured.share": 0.0,
    "top.how": How.TOP,
    "top.amount": None,
    "top.unit": Unit.POUR,
    "top.ml": None,
    "top.measured_by": None,
    "muddled.how": How.MUDDLED,
    "muddled.share": 0.0,
    "muddled.measured_by": None,
}
COMPOSED = {"rim", "parts", "garnish", "beside"}  # their own fields stand in the table
NOT_WHAT_IT_IS = {"origins"}  # whether rule or recipe said it changes nothing in the glass


def names(cls, prefix=""):
    return {f"{prefix}{f.name}" for f in dataclasses.fields(cls)}


def group(part):
    return {How.TOP: "top", How.MUDDLED: "muddled"}.get(part.how, "poured")


def test_every_field_stands_in_exactly_one_aspect():
    fields = names(HouseSpec) - COMPOSED - NOT_WHAT_IT_IS
    fields |= names(HouseRim, "rim.") | names(HouseGarnish, "garnish.")
    for prefix in GROUPS:
        fields |= names(HousePart, f"{prefix}.")
    assert FIELDS.keys() | SAID_BY_ITS_GROUP.keys() == fields
    assert not FIELDS.keys() & SAID_BY_ITS_GROUP.keys()


@given(spec=recipes())
def test_what_the_group_says_never_differs(spec):
    for part in house(spec).parts:
        for field, value in dataclasses.asdict(part).items():
            name = f"{group(part)}.{field}"
            if name in SAID_BY_ITS_GROUP:
                assert value == SAID_BY_ITS_GROUP[name]


RICH = house(
    build(
        first_in("grenadine", 10),
        pour("vodka"),
        dashed("bitters"),
        muddled("mint", 5, Unit.LEAF),
        muddled("sugar", 1, Unit.TSP),
        top("cola"),
        top("club-soda"),
        floated("cream", 10),
        rim=Rim(item="salt", wet_with="lime"),
        garnish=garnished("lime"),
    )
)
PARTS = {"poured": 1, "top": 5, "muddled": 4}  # the vodka, the cola, the sugar


def another(value):
    """A different value of the same kind."""
    match value:
        case StrEnum():
            members = list(type(value))
            return members[(members.index(value) + 1) % len(members)]
        case bool():
            return not value
        case float() | int():
            return value + 0.5
        case _:
            return f"{value}-other"


def changed(field):
    """RICH with one field changed."""
    owner, _dot, name = field.rpartition(".")
    if not owner:
        return dataclasses.replace(RICH, **{name: another(getattr(RICH, name))})
    if owner == "rim":
        return dataclasses.replace(RICH, rim=_with(RICH.rim, name))
    if owner == "garnish":
        return dataclasses.replace(RICH, garnish=(_with(RICH.garnish[0], name),))
    parts = list(RICH.parts)
    parts[PARTS[owner]] = _with(parts[PARTS[owner]], name)
    return dataclasses.replace(RICH, parts=tuple(parts))


def _with(thing, name):
    value = How.DASH if name == "how" else another(getattr(thing, name))
    return dataclasses.replace(thing, **{name: value})


@pytest.mark.parametrize("field", FIELDS)
def test_a_changed_field_changes_its_aspect_alone(field):
    was, now = aspect_fingerprints(RICH), aspect_fingerprints(changed(field))
    assert {a for a in Aspect if was[a] != now[a]} == {FIELDS[field]}


@pytest.mark.parametrize("change", [{"glass": "shot"}, {"parts": house("gin-tonic").parts[1:]}])
def test_what_stands_beside_a_drink_is_of_its_finish(change):
    back = house("bottled-lager")
    backed = dataclasses.replace(RICH, beside=(back,))
    other = dataclasses.replace(RICH, beside=(dataclasses.replace(back, **change),))

    assert changed_aspects(stored(RICH), backed) == (Aspect.FINISH,)
    assert changed_aspects(stored(backed), other) == (Aspect.FINISH,)


def test_a_place_is_named_by_its_liquid():
    parts = list(RICH.parts)
    parts[-1] = _with(parts[-1], "ingredient")
    other_float = dataclasses.replace(RICH, parts=tuple(parts))

    was, now = aspect_fingerprints(RICH), aspect_fingerprints(other_float)
    assert {a for a in Aspect if was[a] != now[a]} == {Aspect.POURS, Aspect.METHOD}


def test_who_said_it_changes_nothing():
    said = Origins(Origin.RECIPE, Origin.RECIPE, Origin.RECIPE, Origin.RECIPE, None)
    assert RICH.origins != said
    assert aspect_fingerprints(dataclasses.replace(RICH, origins=said)) == aspect_fingerprints(RICH)


def stored(spec):
    return {a.value: f for a, f in aspect_fingerprints(spec).items()}


def test_changed_aspects_names_them_in_order():
    sunrise, sunset = house("tequila-sunrise"), house("tequila-sunset")
    assert changed_aspects(stored(sunrise), sunset) == (Aspect.METHOD,)
    assert changed_aspects(stored(house("madras")), house("bay-breeze")) == (Aspect.MIXERS,)
    assert changed_aspects(stored(sunrise), sunrise) == ()


def test_an_aspect_that_was_never_stored_counts_as_changed():
    then = stored(RICH)
    del then["finish"]
    assert changed_aspects(then, RICH) == (Aspect.FINISH,)
    assert changed_aspects({}, RICH) == tuple(Aspect)


def test_what_is_changed_back_is_the_old_drink_again():
    """Through a different recipe and a different pour, and back, each time resolved anew."""
    was = stored(house("gin-tonic"))
    bigger = RULES.model_copy(update={"pours": {LiquorClass.SPIRIT: PourRule(amount=2)}})
    assert changed_aspects(was, house("gin-tonic", bigger)) == (Aspect.POURS,)
    assert changed_aspects(was, house("vodka-tonic")) == (Aspect.POURS,)
    assert changed_aspects(was, house(build(top("tonic-water"), pour("gin")))) == ()


def prints(*parts, **said):
    return aspect_fingerprints(house(build(*parts, **said)))


def test_the_order_of_pours_does_not_matter_in_a_built_drink():
    one = prints(pour("vodka"), pour("peach-schnapps"), top("cranberry-juice"), top("orange-juice"))
    other = prints(
        top("orange-juice"), pour("peach-schnapps"), pour("vodka"), top("cranberry-juice")
    )
    assert one == other


def test_the_order_of_what_ends_up_mixed_does_not_matter_below_a_float():
    one = prints(pour("vodka"), pour("coffee-liqueur"), floated("cream", 20))
    assert prints(pour("coffee-liqueur"), pour("vodka"), floated("cream", 20)) == one


def test_the_order_of_floats_matters():
    one = prints(pour("vodka"), floated("cream", 10), floated("irish-cream", 10))
    other = prints(pour("vodka"), floated("irish-cream", 10), floated("cream", 10))
    assert {a for a in Aspect if one[a] != other[a]} == {Aspect.METHOD}


def test_the_order_of_layers_is_the_drink():
    spec = MENU["three-layers"]
    turned = spec.model_copy(update={"parts": spec.parts[::-1]})
    assert changed_aspects(stored(house(spec)), house(turned)) == (Aspect.METHOD,)


def test_the_order_of_garnishes_does_not_matter():
    one, other = garnished("orange", "cherry"), garnished("cherry", "orange")
    assert prints(pour("bourbon"), garnish=one) == prints(pour("bourbon"), garnish=other)


def test_fingerprints_are_the_same_on_every_machine_and_in_every_release():
    """The first 32 digits that `sha256sum` prints for the text, `["lime",1]` in the first case."""
    assert fingerprint(["lime", 1]) == "f241796267d96ae522bcbaab51f7bc22"
    assert stored(house("gin-tonic")) == {
        "glass": "823f698b6dd0be4f07361ba5121f22a2",
        "pours": "4a9a2d4cfa1696dcf2c12119726d8711",
        "mixers": "8f5ad1b64754b40501fe3594d145cda5",
        "finish": "11778ae40b1943ed56dcab4bd7d02257",
        "method": "1bff369ab414c46142507a5de36b3a28",
    }


def test_noise_of_arithmetic_is_no_change():
    noisy = dataclasses.replace(RICH, glass_ml=RICH.glass_ml + 1e-9)
    assert aspect_fingerprints(noisy) == aspect_fingerprints(RICH)


@given(spec=recipes())
def test_content_is_the_same_after_json(spec):
    made = house(spec)
    for aspect, content in contents(made).items():
        assert fingerprint(json.loads(json.dumps(content))) == aspect_fingerprints(made)[aspect]


def test_enums_that_the_changes_walk_through_have_more_than_one_member():
    assert all(len(e) > 1 for e in (When, Method, Unit, MeasuredBy))
