"""Who is ready: the gates (`gates`), the house's bar, and the figures held against it.

The figures are those of `orders`: of a hundred orders, how many right, asked about and wrong, and
how sure that is.
"""

from collections.abc import Sequence
from dataclasses import dataclass
from enum import StrEnum
from math import ceil, floor

from assessments.measures.gates import by_law, missing_gates
from assessments.measures.next_steps import next_steps
from assessments.measures.ready_facts import Facts, Orders, ReadyPolicy
from assessments.measures.whole_orders import whole_orders
from recipes.grammar.reasons import Reason

CODES: dict[str, tuple[str, ...]] = {
    "right_too_low": ("low", "least"),
    "right_below_second": ("low", "least", "second"),
    "wrong_too_high": ("wrong", "most"),
    "pour_missed": ("says", "count"),
    "mostly_a_guess": ("count", "of"),
    "nothing_seen": (),
}

FEW = 0.2
"""Where less than this share of the orders is for drinks with any evidence, the figures are mostly
what is assumed of anybody (our own choice, no source)."""


class Standing(StrEnum):
    READY = "ready"
    SECOND = "second"
    NOT_YET = "not_yet"


@dataclass(frozen=True)
class Verdict:
    """Where somebody stands. The means of right, ask and wrong sum to 1.

    `missing` is everything between them and ready; `next` what to do about it, shortest first.
    `seen` of `of` drinks have any evidence on today's build; `seen_share` is their part of the
    orders, 0 to 1. `policy` is what it was held against.
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
    next: Sequence[Reason]
    seen: int
    of: int
    seen_share: float
    policy: ReadyPolicy

    @property
    def bar(self) -> int:
        """Of a hundred orders, how many right ready takes."""
        return round(100 * self.policy.least_right)

    @property
    def guess(self) -> Reason | None:
        """A caution to stand beside the figures while they rest on hardly any drink."""
        if self.seen_share >= FEW:
            return None
        if not self.seen:
            return Reason.of("nothing_seen")
        return Reason.of("mostly_a_guess", count=self.seen, of=self.of)


def judge(facts: Facts) -> Verdict:
    """The verdict on one person. Gates are no figures: none of them is outweighed.

    Ready: nothing missing, that is every gate open that the policy sets, the low end of right at
    least `least_right` and wrong at most `most_wrong`. Second: safety passed, permits held and
    the low end of right at least `second_right`.
    """
    orders = facts.orders
    law, gates = by_law(facts), missing_gates(facts)
    missing = (*gates, *_figures(facts))
    return Verdict(
        person=facts.person,
        standing=standing(facts.policy, len(law), len(gates), orders.right.low, orders.wrong.mean),
        right=orders.right.mean,
        right_low=orders.right.low,
        right_high=orders.right.high,
        ask=orders.ask.mean,
        ask_low=orders.ask.low,
        ask_high=orders.ask.high,
        wrong=orders.wrong.mean,
        wrong_low=orders.wrong.low,
        wrong_high=orders.wrong.high,
        provisional=False,
        missing=missing,
        next=next_steps(facts, gates) if missing else (),
        seen=len(facts.known.seen),
        of=len(facts.drinks),
        seen_share=sum(facts.known.seen),
        policy=facts.policy,
    )


def standing(policy: ReadyPolicy, law: int, gaps: int, right_low: float, wrong: float) -> Standing:
    """Where that leaves somebody on whom so many gates are shut, `law` of them the law's; the same
    for one verdict and for a whole board, which counts them before it names any."""
    if not gaps and right_low >= policy.least_right and wrong <= policy.most_wrong:
        return Standing.READY
    if not law and right_low >= policy.second_right:
        return Standing.SECOND
    return Standing.NOT_YET


def _figures(facts: Facts) -> tuple[Reason, ...]:
    """Whole orders of a hundred, rounded so that what falls short never reads as enough; then the
    pours on which many orders hang at once."""
    policy, right, wrong = facts.policy, facts.orders.right, facts.orders.wrong
    found = []
    if right.low < policy.least_right:
        found.append(_too_low(right.low, policy))
    if wrong.mean > policy.most_wrong:
        most = floor(100 * policy.most_wrong + 1e-9)
        found.append(Reason.of("wrong_too_high", wrong=_wrong_said(facts.orders, most), most=most))
    missed = facts.pours_missed if found else ()
    return (*found, *(Reason.of("pour_missed", says=p.says, count=p.drinks) for p in missed))


def _too_low(right_low: float, policy: ReadyPolicy) -> Reason:
    """Where it isn't enough for second either, that line is told too."""
    low, least = floor(100 * right_low), ceil(100 * policy.least_right - 1e-9)
    if right_low >= policy.second_right:
        return Reason.of("right_too_low", low=low, least=least)
    second = ceil(100 * policy.second_right - 1e-9)
    return Reason.of("right_below_second", low=low, least=least, second=second)


def _wrong_said(orders: Orders, most: int) -> int | str:
    """As the rack shows it; where that would read as no more than `most`, with a decimal, rounded
    up."""
    shown = whole_orders(100 * orders.right.mean, 100 * orders.ask.mean, 100 * orders.wrong.mean)
    return shown.wrong if shown.wrong > most else f"{ceil(1000 * orders.wrong.mean) / 10:.1f}"
