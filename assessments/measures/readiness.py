"""Who is ready: of a hundred orders, how many right, how many asked, how many wrong, how sure.

First version, and its figures are provisional: every drink stands for itself, nothing is
forgotten between the evidence and the shift, and marks are taken to be without error.
"""

from collections.abc import Sequence
from dataclasses import dataclass
from enum import StrEnum
from functools import lru_cache
from math import ceil, floor

import numpy as np
from numpy.typing import NDArray
from scipy.special import betaincinv

from assessments.measures.next_steps import next_steps
from assessments.measures.ready_facts import DrinkFact, Facts, Safety, sales_weights
from recipes.grammar.reasons import Reason

CODES: dict[str, tuple[str, ...]] = {
    "safety_not_passed": ("module",),
    "no_must_knows": (),
    "no_drinks": (),
    "not_signed_off": ("drink",),
    "sign_off_out_of_date": ("drink", "aspects"),
    "right_too_low": ("low", "least"),
    "wrong_too_high": ("wrong", "most"),
    "mostly_a_guess": ("count", "of"),
}

DRAWS = 4000
LEVEL = 0.9
"""Of the interval: nine times in ten the expected share lies in it, if the model holds."""

PRIOR = 0.5
"""Beta(0.5, 0.5), Jeffreys' prior: half a trial each way before anything is known."""

FEW = 0.2
"""Where less than this share of the orders is for drinks with any evidence, the figures are mostly
the prior's (our own choice, no source)."""

Shares = NDArray[np.float64]


class Standing(StrEnum):
    READY = "ready"
    SECOND = "second"
    NOT_YET = "not_yet"


@dataclass(frozen=True)
class Share:
    """An expected share of orders, 0 to 1, with its interval."""

    mean: float
    low: float
    high: float


@dataclass(frozen=True)
class Verdict:
    """Where somebody stands. The means of right, ask and wrong sum to 1.

    `missing` is everything between them and ready; `next` what to do about it, shortest first.
    `seen` of `of` drinks have any evidence on today's build; `seen_share` is their part of the
    orders, 0 to 1.
    """

    person: str
    standing: Standing
    right: float
    right_low: float
    right_high: float
    ask: float
    ask_low: float
    ask_high: float
    wrong: float
    wrong_low: float
    wrong_high: float
    provisional: bool
    missing: tuple[Reason, ...]
    next: tuple[Reason, ...]
    seen: int
    of: int
    seen_share: float

    @property
    def guess(self) -> Reason | None:
        """A caution to stand beside the figures while they rest on hardly any drink."""
        if self.seen_share >= FEW:
            return None
        return Reason.of("mostly_a_guess", count=self.seen, of=self.of)


def judge(facts: Facts, *, draws: int = DRAWS) -> Verdict:
    """The verdict on one person. Gates are no figures: none of them is outweighed.

    Ready: nothing missing, that is the safety module passed, every must-know signed off on
    today's build, the low end of right at least `least_right` and wrong at most `most_wrong`.
    Second: safety passed and the low end of right at least `second_right`; by the mean, one beer
    would do, since what nobody has seen counts as half right. The same facts and seed give the
    same verdict, whatever the order of the drinks.
    """
    right, ask, wrong = (spread(s) for s in draw_shares(facts.drinks, facts.seed, draws))
    missing = (*_gates(facts), *_figures(facts, right, wrong))
    return Verdict(
        person=facts.person,
        standing=_standing(facts, right, missing),
        right=right.mean,
        right_low=right.low,
        right_high=right.high,
        ask=ask.mean,
        ask_low=ask.low,
        ask_high=ask.high,
        wrong=wrong.mean,
        wrong_low=wrong.low,
        wrong_high=wrong.high,
        provisional=True,
        missing=missing,
        next=next_steps(facts) if missing else (),
        seen=sum(d.is_seen for d in facts.drinks),
        of=len(facts.drinks),
        seen_share=_seen_share(facts.drinks),
    )


def _seen_share(drinks: Sequence[DrinkFact]) -> float:
    pairs = zip(drinks, sales_weights(drinks) if drinks else (), strict=True)
    return sum(weight for drink, weight in pairs if drink.is_seen)


def _standing(facts: Facts, right: Share, missing: tuple[Reason, ...]) -> Standing:
    if not missing:
        return Standing.READY
    if facts.safety is Safety.PASSED and right.low >= facts.policy.second_right:
        return Standing.SECOND
    return Standing.NOT_YET


def _gates(facts: Facts) -> tuple[Reason, ...]:
    found = []
    if facts.safety is not Safety.PASSED:
        found.append(Reason.of("safety_not_passed", module=facts.safety_module))
    if not facts.drinks:
        found.append(Reason.of("no_drinks"))
    elif not facts.must_knows:
        found.append(Reason.of("no_must_knows"))
    return (*found, *(r for d in facts.must_knows if (r := _sign_off(d))))


def _sign_off(drink: DrinkFact) -> Reason | None:
    if drink.sign_off_out_of_date:
        aspects = ",".join(drink.sign_off_out_of_date)
        return Reason.of("sign_off_out_of_date", drink=drink.name, aspects=aspects)
    return None if drink.signed_off else Reason.of("not_signed_off", drink=drink.name)


def _figures(facts: Facts, right: Share, wrong: Share) -> tuple[Reason, ...]:
    """Whole orders of a hundred, rounded so that what falls short never reads as enough."""
    policy = facts.policy
    found = []
    if right.low < policy.least_right:
        low, least = floor(100 * right.low), ceil(100 * policy.least_right - 1e-9)
        found.append(Reason.of("right_too_low", low=low, least=least))
    if wrong.mean > policy.most_wrong:
        most = floor(100 * policy.most_wrong + 1e-9)
        found.append(Reason.of("wrong_too_high", wrong=ceil(100 * wrong.mean), most=most))
    return tuple(found)


def draw_shares(
    drinks: Sequence[DrinkFact], seed: int, draws: int = DRAWS
) -> tuple[Shares, Shares, Shares]:
    """Draws of the shares of orders built right, asked about and wrong; they sum to 1.

    A drink is right with a chance from Beta(.5 + right, .5 + ask + wrong); of the rest, asked
    with a chance from Beta(.5 + ask, .5 + wrong). Drinks are weighted by what the house sells,
    all alike where it has no sales. A menu without drinks is one drink nobody knows about.
    """
    ordered = sorted(drinks, key=lambda d: d.slug) or [_UNKNOWN]
    weights = np.array(sales_weights(ordered))
    slugs = [d.slug for d in ordered]
    right = _columns(slugs, [(d.right, d.ask + d.wrong) for d in ordered], draws, seed, "right")
    asked = _columns(slugs, [(d.ask, d.wrong) for d in ordered], draws, seed, "asked")
    right_share = weights @ right
    ask_share = weights @ ((1 - right) * asked)
    return right_share, ask_share, 1 - right_share - ask_share


_UNKNOWN = DrinkFact("", "", 1.0, False, 0.0, 0.0, 0.0, signed_off=False)


def _columns(
    slugs: Sequence[str], counts: Sequence[tuple[float, float]], draws: int, seed: int, of: str
) -> Shares:
    """One row of draws a drink: its quantiles at even steps, in an order of its own.

    Even steps (a Latin hypercube) and an order that the evidence has no say in: one more right
    build can only raise the figure, never lower it by the luck of the draw. The order hangs on
    seed and drink alone, so people of one house are compared on the same draws.
    """
    return np.stack(
        [
            _quantiles(PRIOR + yes, PRIOR + no, draws)[_order(seed, slug, of, draws)]
            for slug, (yes, no) in zip(slugs, counts, strict=True)
        ]
    )


@lru_cache(maxsize=4096)
def _order(seed: int, slug: str, of: str, draws: int) -> NDArray[np.intp]:
    """A permutation of the draws; shuffling afresh for each person was most of the time."""
    random = np.random.default_rng([seed, *f"{of} {slug}".encode()])
    found: NDArray[np.intp] = random.permutation(draws)
    found.flags.writeable = False
    return found


@lru_cache(maxsize=2048)
def _quantiles(a: float, b: float, draws: int) -> Shares:
    steps = (np.arange(draws) + 0.5) / draws
    found: Shares = betaincinv(a, b, steps)
    found.flags.writeable = False  # shared by every person with this evidence
    return found


def spread(values: Shares, level: float = LEVEL) -> Share:
    """Mean and central interval of draws."""
    tail = (1 - level) / 2
    low, high = np.quantile(values, [tail, 1 - tail])
    return Share(float(values.mean()), float(low), float(high))
