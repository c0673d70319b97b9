"""The steps of a build in trade order, each with its reason and what missing it means.

Which misses fail a build and which are faults is common practice, no source: wrong drink, base or
size, a pour off or not by the house's way of measuring, hand or glass in the ice, a chipped or
dirty glass fail; garnish, straw, short ice and sequence are faults, unless the sequence is the
drink.
"""

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from enum import StrEnum

from recipes.grammar.aspects import Aspect
from recipes.grammar.house_spec import HousePart, HouseSpec
from recipes.grammar.ingredients import Pantry
from recipes.grammar.reasons import Reason, Value
from recipes.grammar.spec import How, Ice, Method, When


class Stage(StrEnum):
    """Trade order. A stage never comes before one that stands above it."""

    GLASS = "glass"
    RIM = "rim"
    FIRST_IN = "first_in"
    ICE = "ice"
    POUR = "pour"
    METHOD = "method"
    TOP = "top"
    FLOAT = "float"
    FINISH = "finish"
    SERVE = "serve"


CHOICE = " / "
"""Stands between the names of garnishes that the guest chooses from."""


@dataclass(frozen=True)
class BuildStep:
    """One thing to do. `key` is the same for the same step of the same house spec.

    `does` and `why` are worded by the catalogue; `fails` says that missing it fails the build.
    """

    key: str
    stage: Stage
    aspect: Aspect
    does: Reason
    why: Reason
    fails: bool


def build_steps(spec: HouseSpec, pantry: Pantry) -> tuple[BuildStep, ...]:
    """All steps of this drink, in the order in which a bartender does them."""
    return (
        *_glass(spec),
        *_rim(spec, pantry),
        *_first_in(spec, pantry),
        *_muddle(spec, pantry),
        *_work(spec, pantry),
        *_top(spec, pantry),
        *_float(spec, pantry),
        *_finish(spec, pantry),
        *_serve(spec),
    )


def _step(  # a step has as many properties as this, and a builder would only hide them
    key: str,
    stage: Stage,
    aspect: Aspect,
    why: str,
    values: Mapping[str, Value] | None = None,
    *,
    fails: bool,
    does: str = "",
) -> BuildStep:
    code = does or key.partition(":")[0]
    does_it = Reason.of(f"do_{code}", **(values or {}))
    return BuildStep(key, stage, aspect, does_it, Reason.of(f"why_{why}"), fails)


def _name(pantry: Pantry, slug: str) -> str:
    return pantry[slug].name


def _named(pantry: Pantry, part: HousePart) -> dict[str, Value]:
    """What a bartender says ("1 pour"), and the millilitres that this is here (0: not liquid)."""
    return {
        "item": _name(pantry, part.ingredient),
        "amount": part.amount or 0.0,
        "unit": part.unit.value,
        "ml": round(part.ml or 0.0, 1),
        "by": part.measured_by.value if part.measured_by else "",
    }


def _share(pantry: Pantry, part: HousePart) -> dict[str, Value]:
    """A top-up and its share of the room in percent."""
    return {"item": _name(pantry, part.ingredient), "share": round(100 * part.share)}


def _glass(spec: HouseSpec) -> Iterator[BuildStep]:
    g = Stage.GLASS
    if spec.method is Method.OPEN:
        yield _step("bottle", g, Aspect.GLASS, "right_bottle", {"glass": spec.glass}, fails=True)
        return
    size: dict[str, Value] = {"glass": spec.glass, "ml": round(spec.glass_ml)}
    yield _step("glass", g, Aspect.GLASS, "right_glass", size, fails=True)
    yield _step("clean_glass", g, Aspect.GLASS, "clean_glass", fails=True)
    if spec.method in (Method.DRAUGHT, Method.TWO_PART):
        yield _step("rinse", g, Aspect.METHOD, "rinse", fails=False)


def _rim(spec: HouseSpec, pantry: Pantry) -> Iterator[BuildStep]:
    if spec.rim is None:
        return
    yield _step(
        "rim",
        Stage.RIM,
        Aspect.FINISH,
        "rim_before_ice",
        {"item": _name(pantry, spec.rim.item), "wet_with": _name(pantry, spec.rim.wet_with)},
        fails=False,
        does="half_rim" if spec.rim.half else "rim",
    )


def _first_in(spec: HouseSpec, pantry: Pantry) -> Iterator[BuildStep]:
    for p in spec.how(How.FIRST_IN):
        yield _step(
            f"first_in:{p.ingredient}",
            Stage.FIRST_IN,
            Aspect.METHOD,
            "under_the_ice",
            _named(pantry, p),
            fails=True,  # in this drink the sequence is the drink
        )


def _muddle(spec: HouseSpec, pantry: Pantry) -> Iterator[BuildStep]:
    for p in spec.how(How.MUDDLED):
        yield _step(
            f"muddle:{p.ingredient}",
            Stage.FIRST_IN,
            Aspect.METHOD,
            "muddle_gently",
            _named(pantry, p),
            fails=False,
        )


def _work(spec: HouseSpec, pantry: Pantry) -> Iterator[BuildStep]:
    """Ice and pours. What is shaken or stirred gets its serving ice after the pours."""
    if spec.method in (Method.SHAKE, Method.STIR):
        yield from _pours(spec, pantry)
        yield _scoop(Stage.METHOD)
        yield _step(spec.method.value, Stage.METHOD, Aspect.METHOD, spec.method.value, fails=True)
        yield from _serving_ice(spec, Stage.METHOD)
        yield _step("strain", Stage.METHOD, Aspect.METHOD, "strain", fails=False)
    elif spec.method is Method.BLEND:
        yield from _pours(spec, pantry)
        yield _scoop(Stage.METHOD)
        yield _step("blender_ice", Stage.METHOD, Aspect.METHOD, "blender_ice", fails=True)
        yield _step("blend", Stage.METHOD, Aspect.METHOD, "blend", fails=True)
    else:
        if spec.ice is not Ice.NONE:
            yield _scoop(Stage.ICE)
        yield from _serving_ice(spec, Stage.ICE)
        yield from _pours(spec, pantry)


def _scoop(stage: Stage) -> BuildStep:
    return _step("scoop", stage, Aspect.METHOD, "ice_is_food", fails=True)


def _serving_ice(spec: HouseSpec, stage: Stage) -> Iterator[BuildStep]:
    if spec.ice is Ice.NONE:
        return
    does = f"ice_{spec.ice.value}"
    yield _step(f"ice:{spec.ice.value}", stage, Aspect.METHOD, does, fails=False, does=does)


_POURED_AS = {Method.LAYER: ("layer", "layer"), Method.OPEN: ("open", "opened")}


def _pours(spec: HouseSpec, pantry: Pantry) -> Iterator[BuildStep]:
    """Measured pours, base first as the recipe lists them, then dashes."""
    for p in spec.how(How.MEASURED):
        plain = ("pour", "measured" if pantry[p.ingredient].abv else "balance")
        does, why = _POURED_AS.get(spec.method, plain)
        yield _step(
            f"pour:{p.ingredient}",
            Stage.POUR,
            Aspect.POURS,
            why,
            _named(pantry, p),
            fails=True,
            does=does,
        )
    for p in spec.how(How.DASH):
        yield _step(
            f"dash:{p.ingredient}",
            Stage.POUR,
            Aspect.POURS,
            "dash",
            _named(pantry, p),
            fails=False,
        )


def _top(spec: HouseSpec, pantry: Pantry) -> Iterator[BuildStep]:
    if spec.method in (Method.DRAUGHT, Method.TWO_PART):
        yield from _draught(spec, pantry)
        return
    several = len(spec.mixers) > 1
    for number, p in enumerate(spec.mixers, start=1):
        last = number == len(spec.mixers)
        yield _step(
            f"top:{p.ingredient}",
            Stage.TOP,
            Aspect.MIXERS,
            "leave_room" if several and not last else "to_the_top",
            _share(pantry, p),
            fails=True,
            does="top_part" if several else "top",
        )


def _draught(spec: HouseSpec, pantry: Pantry) -> Iterator[BuildStep]:
    for p in spec.mixers:
        key = f"draw:{p.ingredient}"
        yield _step(key, Stage.TOP, Aspect.MIXERS, "tilt", _share(pantry, p), fails=True)
    yield _step("nozzle", Stage.TOP, Aspect.METHOD, "nozzle", fails=True)
    if spec.method is Method.TWO_PART:
        yield _step("settle", Stage.TOP, Aspect.METHOD, "settle", fails=True)
    yield _step("head", Stage.TOP, Aspect.METHOD, "head", fails=False)


def _float(spec: HouseSpec, pantry: Pantry) -> Iterator[BuildStep]:
    for p in spec.how(How.FLOAT):
        yield _step(
            f"float:{p.ingredient}",
            Stage.FLOAT,
            Aspect.METHOD,
            "float_last",
            _named(pantry, p),
            fails=True,  # in this drink the sequence is the drink
        )


def _finish(spec: HouseSpec, pantry: Pantry) -> Iterator[BuildStep]:
    f = Stage.FINISH
    if spec.straw:
        yield _step("straw", f, Aspect.FINISH, "straw", fails=False)
    asked = [g for g in spec.garnish if g.when is When.ASK]
    for g in spec.garnish:
        if g.when is not When.ASK:
            does = f"garnish_{g.when.value}"
            item: dict[str, Value] = {"item": _name(pantry, g.item)}
            yield _step(f"garnish:{g.item}", f, Aspect.FINISH, does, item, fails=False, does=does)
    if asked:
        item = {"item": CHOICE.join(_name(pantry, g.item) for g in asked)}
        does = "garnish_ask"
        yield _step("garnish:ask", f, Aspect.FINISH, does, item, fails=False, does=does)
    if not spec.garnish and spec.method not in (Method.DRAUGHT, Method.TWO_PART, Method.OPEN):
        yield _step("no_garnish", f, Aspect.FINISH, "no_garnish", fails=False)
    for back in spec.beside:
        inside = [p.ingredient for p in back.parts]
        told: dict[str, Value] = {
            "item": ", ".join(_name(pantry, slug) for slug in inside),
            "glass": back.glass,
        }
        yield _step(f"back:{':'.join(inside)}", f, Aspect.FINISH, "back", told, fails=False)


def _serve(spec: HouseSpec) -> Iterator[BuildStep]:
    yield _step("serve", Stage.SERVE, Aspect.FINISH, "say_the_name", fails=False)
