"""Items about what goes into a drink: choose several, how much, put in order."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from math import log
from random import Random

from assessments.measures.quiz.items import AS_VOLUME, Choice
from recipes.grammar.aspects import Content
from recipes.grammar.drink import Drink
from recipes.grammar.house_spec import HousePart, HouseSpec
from recipes.grammar.ingredients import Pantry
from recipes.grammar.spec import How, Ice, Method
from recipes.grammar.units import US_FLOZ_ML, Unit

MOST_TICKS = 6
MOST_RIGHT = 4
FEWEST_WRONG = 2
FEWEST_STEPS, MOST_STEPS = 4, 6
"""Six at most fit a phone with one thumb (our own choice, no source)."""

TIMES = (0.5, 1.5, 2.0, 3.0)
"""Wrong amounts are so many times the right one: never a matter of a tolerance."""

FLOZ_SIZES = (0.25, 0.5, 0.75, 1, 1.25, 1.5, 2, 2.5, 3, 4, 5, 6, 7, 8, 10, 12, 14, 16, 20, 24)
ML_SIZES = (
    10, 15, 20, 25, 30, 35, 40, 50, 60, 70, 80, 100, 125, 150, 175, 200, 250, 284, 330, 375, 425,
    500, 568, 660,
)  # fmt: skip
"""What bars of one country or another call a pour, from a small measure to a pint and more (common
practice, no source): what somebody from another house would say."""

APART, NEAR = 0.11, 3
"""Two sizes of a pour are further apart than one ninth, more than any tolerance, and wrong ones
are among so many of the next smaller and the next larger (our own numbers, no source)."""

WHOLE_EIGHTH = 0.01
"""So near to a whole eighth of a fluid ounce a size is meant in ounces (our own number)."""

SAID_IN = frozenset({Unit.POUR, Unit.FLOZ, Unit.ML, Unit.CL})


def right_ingredients(drink: Drink) -> list[str]:
    return sorted({p.ingredient for p in drink.spec.parts})


def wrong_ingredients(drink: Drink, others: Sequence[Drink]) -> list[str]:
    """From the nearest drinks, nearest first. Left out is whatever somebody could call the same
    thing: dark rum where rum is in it, lime juice where a lime goes on it."""
    spec = drink.spec
    on_it = [g.item for g in spec.garnish] + ([spec.rim.item] if spec.rim else [])
    known = [*right_ingredients(drink), *on_it]
    found: list[str] = []
    for other in others:
        for slug in right_ingredients(other):
            if slug not in found and not any(akin(slug, k) for k in known):
                found.append(slug)
    return found


def akin(one: str, other: str) -> bool:
    """Whether one ingredient's slug says all that the other's says: rum and dark rum."""
    mine, theirs = set(one.split("-")), set(other.split("-"))
    return mine <= theirs or theirs <= mine


def can_ask_several(drink: Drink, others: Sequence[Drink]) -> bool:
    enough = len(wrong_ingredients(drink, others)) >= FEWEST_WRONG
    return enough and len(right_ingredients(drink)) >= 2


def several(
    drink: Drink, others: Sequence[Drink], random: Random
) -> tuple[tuple[Choice, ...], tuple[int, ...]]:
    """Ingredients to tick, and which of them are right."""
    right = right_ingredients(drink)
    right = random.sample(right, min(len(right), MOST_RIGHT))
    near = wrong_ingredients(drink, others)[: 2 * MOST_TICKS]
    wrong = random.sample(near, min(len(near), MOST_TICKS - len(right)))
    shown = [*right, *wrong]
    random.shuffle(shown)
    choices = tuple(Choice({"item": slug}, "") for slug in shown)
    return choices, tuple(n for n, slug in enumerate(shown) if slug in right)


def amounts_asked(drink: Drink) -> list[HousePart]:
    """Parts whose amount is measured; what is counted in dashes or leaves is no matter of ml."""
    parts = drink.spec.how(How.MEASURED, How.FLOAT, How.FIRST_IN)
    return [p for p in parts if p.amount and p.ml and p.unit in SAID_IN]


@dataclass(frozen=True)
class SizeAsked:
    """A pour of a drink that is asked by itself, and the fingerprint of how much its kind is: of a
    drink with pours of several kinds an amount alone doesn't say which was known."""

    part: HousePart
    topic: str


def sizes_asked(drink: Drink, pantry: Pantry) -> list[SizeAsked]:
    """Every house pour of the drink that can be asked, with its kind."""
    topics = {t.rule: t.fingerprint for t in drink.topics if t.is_pour_size}
    found = [
        (p, f"pour:{pantry[p.ingredient].liquor_class.value}")
        for p in amounts_asked(drink)
        if p.unit is Unit.POUR
    ]
    return [SizeAsked(part, topics[rule]) for part, rule in found if rule in topics]


def amount(
    drink: Drink, random: Random, asked: SizeAsked | None = None
) -> tuple[str, tuple[Choice, ...], int]:
    """The ingredient, amounts in rising order, and which is right."""
    any_part = random.choice(sorted(amounts_asked(drink), key=lambda p: p.ingredient))
    part = asked.part if asked else any_part
    other = _other_sizes(part.ml or 0.0) if part.unit is Unit.POUR else TIMES
    times = sorted([1.0, *random.sample(other, 3)])
    choices = tuple(Choice(_amount(part, t), "") for t in times)
    return part.ingredient, choices, times.index(1.0)


def _other_sizes(ml: float) -> Sequence[float]:
    """Times the right one: the next sizes of the same kind, ounces or millilitres."""
    eighths = ml / US_FLOZ_ML * 8
    is_ounces = abs(eighths - round(eighths)) < WHOLE_EIGHTH
    sizes = [size * US_FLOZ_ML for size in FLOZ_SIZES] if is_ounces else list(ML_SIZES)
    times = [size / ml for size in sizes if abs(log(size / ml)) > APART]
    near = [t for t in times if t < 1][-NEAR:] + [t for t in times if t > 1][:NEAR]
    return near if len(near) >= NEAR else TIMES


def is_sized(drink: Drink) -> bool:
    """Whether every amount that may be asked of it is one of house pours: whoever knows it knows
    how much a pour is."""
    parts = amounts_asked(drink)
    return bool(parts) and all(p.unit is Unit.POUR for p in parts)


def _amount(part: HousePart, times: float) -> Content:
    """House pours as a volume: "1 pour" among half and two of them would only be counted."""
    if part.unit is Unit.POUR:
        ml = round(times * (part.ml or 0), 3)
        return {"amount": ml, "unit": Unit.ML.value, "ml": ml, "as": AS_VOLUME}
    return {
        "amount": round(times * (part.amount or 0), 3),
        "unit": part.unit.value,
        "ml": round(times * (part.ml or 0), 3),
    }


def steps_in_order(spec: HouseSpec) -> list[Content]:
    """What a bartender does in an order that can't be argued about; empty where it could be.

    One step a stage of the trade's order. Shaken and stirred drinks leave out glass and serving
    ice, which may stand ready before or after.
    """
    if spec.method not in (Method.BUILD, Method.SHAKE, Method.STIR, Method.LAYER):
        return []
    mixed = spec.method in (Method.SHAKE, Method.STIR)
    under, muddled = spec.how(How.FIRST_IN), spec.how(How.MUDDLED)
    if under and (muddled or mixed):
        return []
    return [step for step in _steps(spec, mixed=mixed) if step]


def _steps(spec: HouseSpec, *, mixed: bool) -> Iterator[Content | None]:
    yield None if mixed else _step("glass", [spec.glass])
    yield _step("rim", [spec.rim.item]) if spec.rim else None
    yield _of("first_in", spec.how(How.FIRST_IN))
    yield _of("muddle", spec.how(How.MUDDLED))
    yield None if mixed or spec.ice is Ice.NONE else _step("ice", [spec.ice.value])
    if spec.method is Method.LAYER:
        yield from (_step("layer", [p.ingredient]) for p in spec.how(How.MEASURED))
    else:
        yield _of("pour", spec.how(How.MEASURED, How.DASH))
    yield _step(spec.method.value, []) if mixed else None
    yield _of("top", spec.mixers)
    yield _of("float", spec.how(How.FLOAT))
    yield _step("garnish", []) if spec.garnish else None


def _step(do: str, of: list[str]) -> Content:
    return {"do": do, "of": of}


def _of(do: str, parts: Sequence[HousePart]) -> Content | None:
    return _step(do, [p.ingredient for p in parts]) if parts else None


def can_ask_order(drink: Drink) -> bool:
    return len(steps_in_order(drink.spec)) >= FEWEST_STEPS


def order(drink: Drink, random: Random) -> tuple[tuple[Choice, ...], tuple[int, ...]]:
    """Steps, shuffled, and their right order as indices. Never shown in the right order."""
    steps = steps_in_order(drink.spec)
    kept = sorted(random.sample(range(len(steps)), min(len(steps), MOST_STEPS)))
    shown = kept[:]
    while shown == kept:
        random.shuffle(shown)
    choices = tuple(Choice(steps[n], "") for n in shown)
    return choices, tuple(shown.index(n) for n in kept)
