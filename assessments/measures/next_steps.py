"""The shortest things to do next on the way to ready."""

from collections import defaultdict
from collections.abc import Callable, Iterator, Mapping, Sequence
from typing import TypeVar

from assessments.measures import waits
from assessments.measures.as_asked import AsAsked
from assessments.measures.drink_facts import DrinkFact
from assessments.measures.gates import missing_gates
from assessments.measures.mending import mend
from assessments.measures.ready_facts import Facts, Proof, RuleFact, Safety
from assessments.measures.waits import Waits
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
}

SIGN_OFFS = 3
DRINKS = 3
"""Named at once; no more than a shift has time for (our own choice, no source)."""

RULES = 2
DRINK_MINUTES, RULE_MINUTES = 4, 1
"""To look at all of a drink, or to say one rule to oneself (our own choice, no source)."""

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
    learning = _learning(facts) if is_new else ()
    yield from (step for step in learning if step.code == "next_quiz")  # no gains made of nothing
    yield from _sign_offs(facts)
    yield from (mend(r) for r in gates if r.code in HANDS)
    if not is_new:
        yield from _learning(facts)


def _is_new(facts: Facts) -> bool:
    begun = (d.signed_off or d.waits or d.sign_off_out_of_date for d in facts.known.must_knows)
    return bool(facts.known.must_knows) and not facts.known.seen and not any(begun)


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
    if not facts.known.must_knows:
        return (Reason.of("next_mark_must_knows"),)
    if facts.policy.proof is Proof.FAMILIES:
        names = sorted(facts.gates.to_prove, key=lambda d: d not in facts.known.waiting)
        return _signed(names, lambda d: _build(d, facts.known.waiting.get(d)))
    open_ones = [d for d in facts.known.must_knows if not d.is_proven]
    open_ones.sort(key=lambda d: (not d.waits, not d.sign_off_out_of_date, -d.share, d.slug))
    return _signed(open_ones, _sign_off)


def _signed(drinks: Sequence[T], step: Callable[[T], Reason]) -> tuple[Reason, ...]:
    """The first of them, and how many are left."""
    steps = tuple(step(d) for d in drinks[:SIGN_OFFS])
    left = len(drinks) - SIGN_OFFS
    return steps if left <= 0 else (*steps, Reason.of("next_sign_offs_left", count=left))


def _sign_off(drink: DrinkFact) -> Reason:
    if drink.sign_off_out_of_date and not drink.waits:
        aspects = ",".join(drink.sign_off_out_of_date)
        return Reason.of("next_renew_sign_off", drink=drink.name, aspects=aspects)
    return _build(drink.name, drink.waits)


def _build(drink: str, passed: Waits | None) -> Reason:
    return waits.step(drink, passed) if passed else Reason.of("next_sign_off", drink=drink)


def _learning(facts: Facts) -> tuple[Reason, ...]:
    """The rules and drinks that win most orders a minute, no more of them than it takes to be over
    the bar, and the module on which most is won. Each drink takes as long to look at, and a rule a
    part of that. Nothing where the figures are over the bar already."""
    won = facts.known.won
    in_order = sorted((-won[d.slug], d.slug, d) for d in facts.drinks if won[d.slug])
    by_wins = [drink for _less, _slug, drink in in_order]
    if not _over_the_bar(by_wins, won, facts):
        return ()
    rules = _rules(facts, won)
    left = _without(won, sum(r.gain for r in rules))
    wanted = _over_the_bar(by_wins, left, facts, sum(r.gain for r in rules))
    quiz = tuple(Reason.of("next_quiz", module=m) for m in _weakest(facts.drinks, won))
    named = (
        Reason.of("next_rule", says=r.says, drink=r.drink, count=r.drinks, orders=_of_100(r.gain))
        for r in rules
    )
    return (*quiz, *named, *_drinks(wanted[:DRINKS], left))


def _drinks(wanted: Sequence[DrinkFact], won: Mapping[str, float]) -> tuple[Reason, ...]:
    if not wanted:
        return ()
    names, gained = ", ".join(d.name for d in wanted), sum(won[d.slug] for d in wanted)
    minutes = DRINK_MINUTES * len(wanted)
    return (Reason.of("next_drinks", drinks=names, minutes=minutes, orders=_of_100(gained)),)


def _of_100(gain: float) -> str:
    """Orders won of a hundred, to say: whole ones, or a tenth where it isn't one."""
    return f"{100 * gain:.0f}" if gain >= 0.01 else f"{100 * gain:.1f}"


def _rules(facts: Facts, won: Mapping[str, float]) -> list[RuleFact]:
    """Rules that win more a minute than the drink that wins most; no more than what is missing."""
    short = facts.policy.least_right - facts.orders.right.low
    best = max(won.values(), default=0.0) / DRINK_MINUTES
    found: list[RuleFact] = []
    for rule in sorted(facts.rules, key=lambda r: (-r.gain, r.drink, r.aspect))[:RULES]:
        if rule.gain / RULE_MINUTES > best and sum(r.gain for r in found) < short:
            found.append(rule)
    return found


def _without(won: Mapping[str, float], gained: float) -> dict[str, float]:
    """What drinks still win once rules were gone over: a rule's part of it is won already. Each
    drink gives up as much of its own, for which rules it goes by isn't looked at."""
    whole = sum(won.values())
    left = max(0.0, 1 - gained / whole) if whole else 1.0
    return {slug: gain * left for slug, gain in won.items()}


def _over_the_bar(
    by_wins: Sequence[DrinkFact], won: Mapping[str, float], facts: Facts, gained: float = 0.0
) -> list[DrinkFact]:
    """The first drinks that together win what is missing once so much is gained; all where that is
    not enough. `by_wins` in order; those that win nothing any more are left out.

    Where too much goes out wrong though enough is right, the first few.
    """
    short = facts.policy.least_right - facts.orders.right.low - gained
    if short <= 0 and facts.orders.wrong.mean <= facts.policy.most_wrong:
        return []
    winning = [d for d in by_wins if won[d.slug]]
    if short <= 0:
        return winning[:DRINKS]
    found = []
    for drink in winning:
        if short <= 0:
            break
        found.append(drink)
        short -= won[drink.slug]
    return found


def _weakest(drinks: Sequence[DrinkFact], won: Mapping[str, float]) -> list[str]:
    by_module: dict[str, float] = defaultdict(float)
    for drink in drinks:
        if drink.module:
            by_module[drink.module] += won[drink.slug]
    return sorted(by_module, key=lambda m: (-by_module[m], m))[:1]
