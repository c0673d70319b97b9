"""The shortest things to do next on the way to ready."""

from collections import defaultdict
from collections.abc import Sequence

from assessments.measures.ready_facts import DrinkFact, Facts, Safety, sales_weights
from recipes.grammar.reasons import Reason

CODES: dict[str, tuple[str, ...]] = {
    "next_take_safety": ("module",),
    "next_retake_safety": ("module",),
    "next_mark_must_knows": (),
    "next_renew_sign_off": ("drink", "aspects"),
    "next_sign_off": ("drink",),
    "next_sign_offs_left": ("count",),
    "next_quiz": ("module",),
    "next_drinks": ("drinks",),
}

SIGN_OFFS = 3
DRINKS = 3
"""No more than a shift has time for (our own choice, no source)."""


def next_steps(facts: Facts) -> tuple[Reason, ...]:
    """What to do, shortest first: safety, renewed sign-offs, sign-offs, then learning."""
    return (*_safety(facts), *_sign_offs(facts), *_learning(facts))


def _safety(facts: Facts) -> tuple[Reason, ...]:
    match facts.safety:
        case Safety.NOT_TAKEN:
            return (Reason.of("next_take_safety", module=facts.safety_module),)
        case Safety.FAILED:
            return (Reason.of("next_retake_safety", module=facts.safety_module),)
        case Safety.PASSED:
            return ()


def _sign_offs(facts: Facts) -> tuple[Reason, ...]:
    """A renewed sign-off first: the trainer looks at the changed part. Then what sells most."""
    if not facts.must_knows:
        return (Reason.of("next_mark_must_knows"),)
    open_ones = [d for d in facts.must_knows if not d.is_proven]
    open_ones.sort(key=lambda d: (not d.sign_off_out_of_date, -d.share, d.slug))
    steps = [_sign_off(d) for d in open_ones[:SIGN_OFFS]]
    left = len(open_ones) - len(steps)
    if left:
        steps.append(Reason.of("next_sign_offs_left", count=left))
    return tuple(steps)


def _sign_off(drink: DrinkFact) -> Reason:
    if drink.sign_off_out_of_date:
        aspects = ",".join(drink.sign_off_out_of_date)
        return Reason.of("next_renew_sign_off", drink=drink.name, aspects=aspects)
    return Reason.of("next_sign_off", drink=drink.name)


def _learning(facts: Facts) -> tuple[Reason, ...]:
    """The module and the drinks on which most orders would still not come out right."""
    lost = _lost(facts.drinks)
    by_module: dict[str, float] = defaultdict(float)
    for drink in facts.drinks:
        if drink.module:
            by_module[drink.module] += lost[drink.slug]
    weakest = sorted(by_module, key=lambda m: (-by_module[m], m))[:1]
    drinks = sorted(facts.drinks, key=lambda d: (-lost[d.slug], d.slug))[:DRINKS]
    names = ", ".join(d.name for d in drinks)
    quiz = tuple(Reason.of("next_quiz", module=m) for m in weakest)
    return (*quiz, Reason.of("next_drinks", drinks=names)) if names else quiz


def _lost(drinks: Sequence[DrinkFact]) -> dict[str, float]:
    """By slug, the share of all orders expected to be this drink and not right.

    Jeffreys' prior: a drink without evidence counts as half known.
    """
    return {
        drink.slug: weight * (1 - (0.5 + drink.right) / (1 + drink.right + drink.ask + drink.wrong))
        for drink, weight in zip(drinks, sales_weights(drinks), strict=True)
    }
