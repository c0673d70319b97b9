"""Calls put into words, as guests and tills say them."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from random import Random

from recipes.grammar.calls.entries import Entry
from recipes.grammar.calls.identified import Identity

Op = tuple[str, str]
FORWARD = ("double", "tall", "short")
SAID: dict[str, tuple[str, ...]] = {
    "double": ("double",),
    "tall": ("tall",),
    "short": ("short",),
    "neat": ("neat",),
    "rocks": ("on the rocks", "over ice"),
    "up": ("up", "served up"),
    "shot": ("shot",),
    "no_ice": ("no ice", "without ice", "hold the ice", "with no ice"),
    "light_ice": ("light ice", "easy ice", "easy on the ice", "with light ice"),
    "no_garnish": ("no garnish", "hold the garnish", "no fruit"),
    "no_straw": ("no straw", "without a straw"),
}
TILL = {"double": "DBL", "no_ice": "NO ICE", "light_ice": "LT ICE", "rocks": "RKS"}
_BEFORE = ("", "", "can I get ", "could I get ", "I'd like ", "may I have ", "hi, ", "gimme ")
_AFTER = ("", "", " please", " thanks", ", please", ", cheers")
_NUMBERS = {1: ("a", "one"), 2: ("two", "2", "a couple of"), 3: ("three", "3"), 4: ("four", "4"),
            5: ("five", "5"), 6: ("six", "6")}  # fmt: skip
_NEVER_PLURAL = frozenset(
    {"neat", "rocks", "up", "b", "poured", "black", "sparkling", "sour", "bitter"}
)


@dataclass(frozen=True, eq=False)
class Order:
    """One drink of a round: the phrases that name it, what joins them, and its changes."""

    entries: tuple[Entry, ...]
    joined: tuple[str, ...]
    identity: Identity
    count: int
    ops: tuple[Op, ...]
    names: Mapping[str, str]  # of what its changes are about


def utter(orders: list[Order], rng: Random) -> str:
    if rng.random() < 0.15:
        return "\n".join(_on_a_till(o, rng) for o in orders)
    said = [_by_a_guest(o, rng) for o in orders]
    text = said[0]
    for number, more in enumerate(said[1:], start=2):
        text += (rng.choice((" and ", ", and ", " plus ")) if number == len(said) else ", ") + more
    return rng.choice(_BEFORE) + text + rng.choice(_AFTER)


def _by_a_guest(order: Order, rng: Random) -> str:
    before = [rng.choice(SAID[code]) for code, _ in order.ops if code in FORWARD]
    after = [_change(op, order, rng) for op in order.ops if op[0] not in FORWARD]
    name = _name(order, rng)
    size = " ".join(before)
    if before and not after and rng.random() < 0.15 and len(order.entries) == 1:
        after, size = [size], ""
    words = [_number(order.count, rng), size, _many(name, order.count)]
    text = " ".join(w for w in words if w)
    for change in after:
        text += (" " if rng.random() < 0.4 else ", ") + change
    return text


def _on_a_till(order: Order, rng: Random) -> str:
    count = rng.choice((f"{order.count} ", f"{order.count}x ")) if order.count > 1 else ""
    before = [TILL.get(code, SAID[code][0]) for code, _ in order.ops if code in FORWARD]
    after = [TILL.get(op[0]) or _change(op, order, rng) for op in order.ops if op[0] not in FORWARD]
    return (count + " ".join([*before, _name(order, rng), *after])).upper()


def _number(count: int, rng: Random) -> str:
    return rng.choice(_NUMBERS[count])


def _name(order: Order, rng: Random) -> str:
    text = order.entries[0].phrase
    for entry, joined in zip(order.entries[1:], order.joined, strict=True):
        text += f" {rng.choice(('and', '&', 'with')) if joined == 'and' else ''} {entry.phrase}"
    return " ".join(text.split())


def _many(name: str, count: int) -> str:
    """ "Two gin tonics"; some names have no plural that anybody says."""
    last = name.rsplit(maxsplit=1)[-1]
    sayable = last.isalpha() and last not in _NEVER_PLURAL and not last.endswith(("s", "x", "y"))
    return f"{name}s" if count > 1 and sayable else name


def _change(op: Op, order: Order, rng: Random) -> str:
    code, item = op
    if not item:
        return rng.choice(SAID[code])
    thing = order.names[item]
    return {"with": f"with {thing}", "extra": f"extra {thing}", "splash": f"splash of {thing}"}[
        code
    ]
