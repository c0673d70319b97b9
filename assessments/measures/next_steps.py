"""The shortest things to do next on the way to ready."""

from collections import defaultdict
from collections.abc import Callable, Iterable, Iterator, Mapping, Sequence
from dataclasses import replace
from typing import TypeVar

from assessments.measures import waits
from assessments.measures.as_asked import AsAsked
from assessments.measures.drink_facts import DrinkFact, Unproven
from assessments.measures.gates import missing_gates
from assessments.measures.mending import mend
from assessments.measures.ready_facts import Facts, Proof, RuleFact, Safety
from assessments.measures.shortest_list import (
    DRINK_MINUTES,
    RULE_MINUTES,
    Listed,
    left_of,
    shortest_list,
)
from assessments.measures.waits import Reader, Waits
from recipes.grammar.reasons import Reason

CODES: dict[str, tuple[str, ...]] = {
    "next_take_safety": ("module",),
    "next_retake_safety": ("module",),
    "next_mark_must_knows": (),
    "next_renew_sign_off": ("drink", "aspects"),
    "next_sign_off": ("drink",),
    "next_sign_offs_left": ("count",),
    "next_quiz": ("module",),
    "next_rule": ("says", "drink", "count", "orders"),
    "next_drinks": ("drinks", "minutes", "orders"),
    "next_more": ("count", "minutes"),
    "next_again": (),
    "next_not_enough": ("minutes",),
}

SIGN_OFFS = 3
DRINKS = 3
"""Named at once; no more than a shift has time for (our own choice, no source)."""

RULES = 2
"""Likewise."""

LEAST = 0.0005
"""Of all orders: what wins less would be told as winning none."""

PERMITS = ("permit_missing", "permit_ran_out")
HANDS = ("pours_not_checked", "pours_not_passed", "pace_not_checked", "pace_too_low")
"""Gates that a check opens, by the code of what is missing."""

T = TypeVar("T")


def next_steps(facts: Facts, gates: Sequence[Reason] | None = None) -> Sequence[Reason]:
    """What to do, shortest first: safety, permits (others issue them), sign-offs of what is passed,
    renewed ones, the others, pours and pace, then learning. Somebody who has shown nothing learns
    first: nobody builds unprompted what they never met. `gates` are those that are shut, where
    they have been looked at already. Learning takes longest to work out, and a board shows the
    first step alone."""
    return AsAsked(_steps(facts, missing_gates(facts) if gates is None else gates))


def _steps(facts: Facts, gates: Sequence[Reason]) -> Iterator[Reason]:
    yield from _safety(facts)
    yield from (mend(r) for r in gates if r.code in PERMITS)
    is_new = _is_new(facts)
    if is_new:
        yield from _quiz(facts)  # no gains made of nothing
    yield from _sign_offs(facts)
    yield from (mend(r) for r in gates if r.code in HANDS)
    if not is_new:
        yield from _quiz(facts)
        yield from _learning(facts)


def next_told(facts: Facts, steps: Iterable[Reason], reader: Reader) -> Sequence[Reason]:
    """These steps of that person as `reader` is told. What is passed in builds whose marks are kept
    from them stands where it would without: a step's place tells as much as its words."""
    waiting = facts.known.waiting
    if not waiting or reader.blind.isdisjoint(w.build for w in waiting.values()):
        return waits.read_by(reader, waiting, steps)
    untold = [
        d._replace(waits=None) if d.waits and d.waits.build in reader.blind else d
        for d in facts.known
    ]
    facts = replace(facts, drinks=untold)
    return waits.read_by(reader, facts.known.waiting, next_steps(facts))


def _is_new(facts: Facts) -> bool:
    if facts.known.seen or not facts.known.has_must_knows:
        return False
    return not any(
        d.signed_off or d.waits or d.sign_off_out_of_date for d in facts.known.must_knows
    )


def _safety(facts: Facts) -> tuple[Reason, ...]:
    match facts.safety:
        case Safety.NOT_TAKEN:
            return (Reason.of("next_take_safety", module=facts.safety_module),)
        case Safety.FAILED:
            return (Reason.of("next_retake_safety", module=facts.safety_module),)
        case Safety.PASSED:
            return ()


def _sign_offs(facts: Facts) -> tuple[Reason, ...]:
    """What is passed already first: a word is missing. Then a renewed one: the trainer looks at the
    changed part. Then what sells most."""
    if not facts.known.has_must_knows:
        return (Reason.of("next_mark_must_knows"),)
    if facts.policy.proof is Proof.FAMILIES:
        names = sorted(facts.gates.to_prove, key=lambda d: d not in facts.known.waiting)
        return _signed(names, lambda d: _build(d, facts.known.waiting.get(d)))
    open_ones = sorted(
        facts.known.unproven,
        key=lambda d: (not d.waits, not d.changed, -d.share, d.slug),
    )
    return _signed(open_ones, _sign_off)


def _signed(drinks: Sequence[T], step: Callable[[T], Reason]) -> tuple[Reason, ...]:
    """The first of them, and how many are left."""
    steps = tuple(step(d) for d in drinks[:SIGN_OFFS])
    left = len(drinks) - SIGN_OFFS
    return steps if left <= 0 else (*steps, Reason.of("next_sign_offs_left", count=left))


def _sign_off(drink: Unproven) -> Reason:
    if drink.changed and not drink.waits:
        aspects = ",".join(drink.changed)
        return Reason.of("next_renew_sign_off", drink=drink.name, aspects=aspects)
    return _build(drink.name, drink.waits)


def _build(drink: str, passed: Waits | None) -> Reason:
    return waits.step(drink, passed) if passed else Reason.of("next_sign_off", drink=drink)


def _quiz(facts: Facts) -> Iterator[Reason]:
    """On the module on which most is won; none where the figures are over the bar already."""
    if facts.short > 0:
        won = facts.known.won
        yield from (Reason.of("next_quiz", module=m) for m in _weakest(facts.drinks, won))


def _learning(facts: Facts) -> Iterator[Reason]:
    """The shortest list of rules and drinks that takes them over the bar: what wins most first, a
    few by name, then how much is left of it. Where no list is enough what wins most a minute, and
    that it isn't enough. Nothing where the figures are over the bar already."""
    if facts.short <= 0:
        return
    won = facts.known.won
    winning = (d for d in facts.drinks if won[d.slug] >= LEAST)
    drinks = sorted(winning, key=lambda d: (-won[d.slug], d.slug))
    if not drinks:
        yield from (Reason.of("next_again"),) if facts.drinks else ()
        return
    telling = (rule for rule in facts.rules if rule.gain >= LEAST)
    rules = sorted(telling, key=lambda r: (-r.gain, r.drink, r.aspect))
    gains, whole = [won[d.slug] for d in drinks], sum(won.values())
    found = shortest_list([r.gain for r in rules], gains, facts.short)
    listed = found or Listed(_better_a_minute(rules, gains[0]), len(drinks))
    rules, drinks = rules[: listed.rules], drinks[: listed.drinks]
    named = rules[:RULES]
    yield from map(_rule, named)
    left = left_of(sum(r.gain for r in (rules if found else named)), whole)
    yield from _drinks(drinks[:DRINKS], {slug: gain * left for slug, gain in won.items()})
    if not found:
        yield Reason.of("next_not_enough", minutes=DRINK_MINUTES * len(drinks))
    elif more := len(rules[RULES:]) + len(drinks[DRINKS:]):
        yield Reason.of("next_more", count=more, minutes=found.minutes)


def _better_a_minute(rules: Sequence[RuleFact], best: float) -> int:
    """How many of the rules that are named win more a minute than the drink that wins most."""
    a_minute = best / DRINK_MINUTES
    return sum(rule.gain / RULE_MINUTES > a_minute for rule in rules[:RULES])


def _rule(rule: RuleFact) -> Reason:
    return Reason.of(
        "next_rule", says=rule.says, drink=rule.drink, count=rule.drinks, orders=_of_100(rule.gain)
    )


def _drinks(wanted: Sequence[DrinkFact], won: Mapping[str, float]) -> tuple[Reason, ...]:
    if not wanted:
        return ()
    names, gained = ", ".join(d.name for d in wanted), sum(won[d.slug] for d in wanted)
    minutes = DRINK_MINUTES * len(wanted)
    return (Reason.of("next_drinks", drinks=names, minutes=minutes, orders=_of_100(gained)),)


def _of_100(gain: float) -> str:
    """Orders won of a hundred, to say: whole ones, or a tenth where it isn't one."""
    return f"{100 * gain:.0f}" if gain >= 0.01 else f"{100 * gain:.1f}"


def _weakest(drinks: Sequence[DrinkFact], won: Mapping[str, float]) -> list[str]:
    by_module: dict[str, float] = defaultdict(float)
    for drink in drinks:
        if drink.module:
            by_module[drink.module] += won[drink.slug]
    return sorted(by_module, key=lambda m: (-by_module[m], m))[:1]
