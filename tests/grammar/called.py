"""A table of calls with what they mean to the trade, and what the reader makes of them."""

from __future__ import annotations

import tomllib
from collections.abc import Iterator
from functools import cache
from pathlib import Path
from typing import Any

from recipes.grammar import calls
from recipes.grammar.calls import Book, CalledDrink, Reading, What
from recipes.grammar.calls.tokens import words_of
from recipes.grammar.coursefile import read_course
from recipes.grammar.drink import make_drink
from recipes.grammar.ingredients import Step
from recipes.grammar.spec import How, When
from recipes.grammar.strength import strength
from recipes.grammar.units import Unit

COURSE = Path(__file__).parents[2] / "fixtures" / "course"
DATA = Path(__file__).parents[1] / "data"
TABLES = (DATA / "calls_of_the_trade.toml", DATA / "calls_of_a_shift.toml")
PRESETS = {"us": "us-classic", "gb": "great-britain", "europe": "europe"}
LEMONADE = {"us": "lemonade", "gb": "lemon-lime-soda", "europe": "lemon-lime-soda"}
"""Still in the United States, fizzy in Britain."""


@cache
def book(preset: str) -> Book:
    course = read_course(COURSE, preset)
    drinks = [
        make_drink(
            slug=d.slug, name=d.name, module=m.slug, spec=d.spec, rules=course.rules,
            pantry=course.pantry, aliases=d.aliases, share=d.share, must_know=d.must_know,
        )
        for m in course.modules
        for d in m.drinks
    ]  # fmt: skip
    return calls.vocabulary(course.rules, drinks, course.pantry)


@cache
def smaller_book(preset: str, *unsold: str) -> Book:
    """The shipped course at a house that doesn't sell these."""
    whole = book(preset)
    sold = [d for slug, d in whole.stock.drinks.items() if slug not in unsold]
    return calls.vocabulary(whole.rules, sold, whole.pantry)


BOTTLES = (
    ("quayside-gin", "Quayside gin", Step.PREMIUM, "gin"),
    ("lamplighter-vodka", "Lamplighter vodka", Step.CALL, "vodka"),
    ("breakwater-bourbon", "Breakwater bourbon", Step.PREMIUM, "bourbon"),
)
"""What the calls of the table speak of: their writer has a house, a call and a premium bottle."""


@cache
def stocked_book(preset: str) -> Book:
    """The shipped course at a house with a bottle on each step that the table calls for."""
    plain = book(preset)
    pantry = dict(plain.pantry)
    for slug, name, step, of in BOTTLES:
        said = {"slug": slug, "name": name, "aliases": (), "step": step, "bottle_of": of}
        pantry[slug] = pantry[of].model_copy(update=said)
    return calls.vocabulary(plain.rules, plain.stock.drinks.values(), pantry)


@cache
def table() -> tuple[dict[str, Any], ...]:
    return tuple(call for path in TABLES for call in tomllib.loads(path.read_text())["calls"])


def differences(call: dict[str, Any]) -> list[str]:
    """Every respect in which the call was understood otherwise than the table has it."""
    words = stocked_book(PRESETS[call["house"]])
    reading = calls.read(call["call"], words)
    return list(_differences(call, reading, words))


def is_silent(call: dict[str, Any]) -> bool:
    """Whether the hire would have built something else without a question."""
    words = stocked_book(PRESETS[call["house"]])
    reading = calls.read(call["call"], words)
    told = (d for d in _differences(call, reading, words) if ": named " not in d)
    return reading.status is calls.Status.READY and any(told)


def _differences(call: dict[str, Any], reading: Reading, words: Book) -> Iterator[str]:
    if reading.status.value != call["status"]:
        yield f"status {reading.status.value}"
    asked = sorted({q.about.value for q in reading.ask})
    if call["status"] == "ask" and asked != sorted(set(call["ask"])):
        yield f"asks {asked}"
    unplaced = [w.casefold() for w in reading.unplaced]
    if "unplaced" in call and unplaced != [w.casefold() for w in call["unplaced"]]:
        yield f"unplaced {unplaced}"
    wanted = call.get("drinks", [])
    if call["status"] != "unknown" and len(wanted) != len(reading.drinks):
        yield f"{len(reading.drinks)} drinks"
        return
    whole = call["status"] == "ready"
    for number, (want, drink) in enumerate(zip(wanted, reading.drinks, strict=False)):
        for said in _drink(want, drink, words, call["house"], whole):
            yield f"drink {number}: {said}"


def _drink(
    want: dict[str, Any], drink: CalledDrink, words: Book, house: str, whole: bool
) -> Iterator[str]:
    if want["count"] != drink.count:
        yield f"count {drink.count}"
    if "named" in want and not _is_named(want["named"], drink, words):
        yield f"named {drink.name}"
    steps = {c.what.value for c in drink.changes if c.what in (What.CALL, What.PREMIUM)}
    if steps != {want.get("tier", "house")} - {"house"}:
        yield f"a step up: {sorted(steps)}"
    if drink.spec is None:
        if whole:
            yield "nothing to build"
        return
    yield from _liquids(want.get("liquids"), drink, words, house, whole)
    yield from _served(want, drink, words)


def _is_named(name: str, drink: CalledDrink, words: Book) -> bool:
    """By its name or another one, or by one that says more: a virgin mojito is a mojito."""
    said = set(words_of(name)) - {"and"}
    if drink.recipe is None:
        return bool(said & set(words_of(drink.name))) or drink.spec is None
    known = words.stock.drinks[drink.recipe]
    names = [set(words_of(n)) for n in (known.name, *known.aliases)]
    entry = calls.read(name, words)
    return any(said <= n for n in names) or any(d.recipe == drink.recipe for d in entry.drinks)


def _liquids(
    want: dict[str, str] | None, drink: CalledDrink, words: Book, house: str, whole: bool
) -> Iterator[str]:
    if want is None or drink.spec is None:
        return
    left = [p for p in drink.spec.parts if p.how is not How.MUDDLED]
    for name, how in want.items():
        found = [p for p in left if _answers(p.ingredient, name, words, house)]
        if not found:
            yield f"no {name}"
            continue
        part = found[0]
        left.remove(part)
        pour = words.rules.pours[words.pantry[part.ingredient].liquor_class].ml \
            if words.pantry[part.ingredient].liquor_class in words.rules.pours else 0.0  # fmt: skip
        ml = part.ml or 0.0
        fits = {
            "1 pour": abs(ml - pour) < 0.1,
            "2 pours": abs(ml - 2 * pour) < 0.1,
            "measured": part.how is How.MEASURED,
            "top": part.how is How.TOP,
            "splash": part.unit in (Unit.SPLASH, Unit.DASH),
        }[how]
        if not fits:
            yield f"{name} {part.how.value} {ml:.0f} ml"
    if whole and left:
        yield f"also {', '.join(p.ingredient for p in left)}"


def _answers(slug: str, name: str, words: Book, house: str) -> bool:
    item = words.pantry[slug]
    if name == "lemonade":
        return slug == LEMONADE[house]
    spoken = (item.name, *item.aliases, item.kind.value)
    return words_of(name) in [words_of(s) for s in spoken]


def _served(want: dict[str, Any], drink: CalledDrink, words: Book) -> Iterator[str]:
    spec = drink.spec
    if spec is None:
        return
    glass = words.rules.glasses[spec.glass]
    fits = {
        "highball": spec.glass == "highball",
        "pint": spec.glass == "pint",
        "half pint": spec.glass == "half-pint",
        "rocks": spec.glass in ("rocks", "double-rocks"),
        "stemmed": glass.stemmed,
    }
    if "glass" in want and not fits[want["glass"]]:
        yield f"glass {spec.glass}"
    if want.get("glass_not") == spec.glass:
        yield f"glass {spec.glass}"
    if "ice" in want and spec.ice.value != want["ice"]:
        yield f"ice {spec.ice.value}"
    yield from _finished(want, drink, words)


def _finished(want: dict[str, Any], drink: CalledDrink, words: Book) -> Iterator[str]:
    spec = drink.spec
    if spec is None:
        return
    if "garnish" in want:
        on = {words.stock.cores[g.item] for g in spec.garnish if g.when is When.ALWAYS}
        on |= {f"{spec.rim.item} rim"} if spec.rim else set()
        if on != set(want["garnish"]):
            yield f"garnish {sorted(on)}"
    changes = {(c.what, words.stock.cores.get(c.item, c.item)) for c in drink.changes}
    for extra in want.get("extra", ()):
        if (What.EXTRA, extra) not in changes:
            yield f"no extra {extra}"
    if "back" in want and (What.BACK, want["back"]) not in changes:
        yield "no back"
    if want.get("alcohol") is False and strength(spec, words.pantry).ethanol_g:
        yield "alcohol in it"
