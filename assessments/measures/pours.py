"""A pour check: several pours against a target, what they say, and what they can't say yet.

Everything is in one unit, whichever: the pours, the target and the tolerance. That a check needs
five pours and that nine in ten must be within tolerance is common practice, no source, until the
house sets its own rule; a free pour may be off by an eighth of a fluid ounce (common practice), and
a stamped measure is never under. Capability: NIST/SEMATECH e-Handbook 6.1.6.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from decimal import Decimal
from math import inf, isfinite, sqrt
from statistics import NormalDist

from assessments.measures.intervals import (
    exact_share,
    least_hits,
    mean_interval,
    tolerance_factor,
)
from recipes.grammar.cost import Bottle
from recipes.grammar.reasons import Reason
from recipes.grammar.rules import MeasuredBy

CODES: dict[str, tuple[str, ...]] = {
    "pours_too_few": ("n", "least"),
    "pours_hold": ("n",),
    "pours_pass": ("n",),
    "pours_pass_alike": ("n",),
    "pours_pass_most": ("n", "of"),
    "pours_pass_unsure": ("n", "of", "miss"),
    "pours_off": ("count", "of"),
    "pours_lean": (),
    "pours_short": ("count",),
    "pours_run_over": (),
    "pours_run_under": (),
    "pours_uneven": (),
    "pours_no_bias": (),
}

HAIR = 1e-6
SHOWS = 0.005
"""No bar measure tells less than this share of the target apart (our own number, no source)."""
COARSEST = 0.05
"""A last digit worth more of the target than this is a round number, not a coarse measure (our own
number, no source)."""
DIGITS = 4
"""Digits after the point that anybody reads off."""
MOST = 200
"""Pours in one check; nobody pours more in a day of training."""
FULLEST = 1e6
"""More of whichever unit is a slip of the keys: a million millilitres are a thousand litres."""


@dataclass(frozen=True)
class PourTarget:
    """What is to be poured, what it may be off by, and how it is measured. `grain` is half the
    last digit that was read off: less than that is the reading's, not the hand's."""

    target: float
    tolerance: float
    measured_by: MeasuredBy = MeasuredBy.FREE_POUR
    grain: float = 0.0

    @property
    def never_under(self) -> bool:
        return self.measured_by is MeasuredBy.STAMPED

    @property
    def limits(self) -> tuple[float, float]:
        under = 0.0 if self.never_under else self.tolerance
        return self.target - under, self.target + self.tolerance

    @property
    def least_bias(self) -> float:
        """On average no further off than this is on target: the measure shows no less."""
        return max(self.grain, SHOWS * self.target) + HAIR * max(1.0, self.target)

    def read_in(self, pours: Sequence[float], *sizes: float) -> PourTarget:
        """The same target with the grain of these pours, read off in a unit of one of `sizes`: the
        coarsest last digit that gives just these."""
        grain = min(_grain(pours, sizes), COARSEST * self.target)
        return replace(self, grain=grain)


def _grain(pours: Sequence[float], sizes: Sequence[float]) -> float:
    steps = sorted((size / 10**n for size in sizes for n in range(DIGITS)), reverse=True)
    if not all(isfinite(p) for p in pours):
        return 0.0
    fits = (s for s in steps if all(abs(p - round(p / s) * s) < 2 * HAIR for p in pours))
    return next(fits, 0.0) / 2


LEAST_POURS = (3, 20)
LEAST_WITHIN = (0.5, 1.0)


@dataclass(frozen=True)
class PourPolicy:
    """The house's rule: fewer than `least_pours` say nothing, a share of `least_within` must do,
    and on average they are no more than `most_bias` off; None: the average isn't judged by itself.

    Raises ValueError for less or more than the bounds above, or a bias not above 0.
    """

    least_pours: int = 5
    least_within: float = 0.9
    most_bias: float | None = None

    def __post_init__(self) -> None:
        few, many = LEAST_POURS
        low, high = LEAST_WITHIN
        if not (few <= self.least_pours <= many and low <= self.least_within <= high):
            raise ValueError("a rule that nobody can pour by")
        if self.most_bias is not None and not 0 < self.most_bias < inf:
            raise ValueError("what the average may be off by is above 0")


@dataclass(frozen=True)
class PourVerdict:
    """What came of a check. `within` is a share, 0 to 1, with its exact interval.

    `tolerance_low` to `tolerance_high` holds 95 % of this hand's pours, 95 % sure, if they are
    normal. What needs a spread is None for a single pour; where all pours are alike, so are the
    capabilities and the interval of the bias. `passed` is None where there are too few pours to
    say. `reasons`: the verdict, then what else is to be said.
    """

    n: int
    mean: float
    bias: float
    bias_low: float | None
    bias_high: float | None
    sd: float | None
    hits: int
    within: float
    within_low: float
    within_high: float
    tolerance_low: float | None
    tolerance_high: float | None
    k: float | None
    cp: float | None
    cpk: float | None
    passed: bool | None
    reasons: tuple[Reason, ...]


DEFAULT = PourPolicy()


def check_pours(
    pours: Sequence[float], aim: PourTarget, policy: PourPolicy = DEFAULT
) -> PourVerdict:
    """The verdict on these pours. Raises ValueError for pours that nobody can have poured."""
    _refuse_impossible(pours, aim)
    n, mean = len(pours), sum(pours) / len(pours)
    sd = _spread(pours, mean) if n > 1 else None
    hits = sum(is_within(p, aim) for p in pours)
    low, high = exact_share(hits, n)
    k = tolerance_factor(n) if n > 1 else None
    bias = _bias(mean - aim.target, sd, n)
    cp, cpk = capability(aim.limits, mean, sd) if sd else (None, None)
    said = _reasons(pours, aim, policy, hits)
    verdict = PourVerdict(
        n=n, mean=mean, bias=mean - aim.target, bias_low=bias[0], bias_high=bias[1], sd=sd,
        hits=hits, within=hits / n, within_low=low, within_high=high,
        tolerance_low=mean - k * sd if k and sd is not None else None,
        tolerance_high=mean + k * sd if k and sd is not None else None,
        k=k, cp=cp, cpk=cpk, passed=_passed(said[0]), reasons=(),
    )  # fmt: skip
    return _with_reasons(verdict, aim, policy, said)


def is_within(pour: float, aim: PourTarget) -> bool:
    """A stamped measure isn't short by what the reading rounds away."""
    low, high = aim.limits
    hair = HAIR * max(1.0, aim.target)
    under = max(hair, aim.grain) if aim.never_under else hair
    return low - under <= pour <= high + hair


def capability(limits: tuple[float, float], mean: float, sd: float) -> tuple[float, float]:
    """Cp and Cpk: how often the hand's spread fits between the limits, and once it is off centre.
    Below 1 is not enough (Ekvall and Juran 1974). `sd` above 0."""
    low, high = limits
    return (high - low) / (6 * sd), min(high - mean, mean - low) / (3 * sd)


def week_cost(bias_ml: float, pours_a_week: int, bottle: Bottle) -> Decimal:
    """What pouring so much too much costs a week; below 0 where guests are poured short."""
    return bottle.of(bias_ml) * pours_a_week


def _refuse_impossible(pours: Sequence[float], aim: PourTarget) -> None:
    if not 0 < len(pours) <= MOST:
        raise ValueError(f"a check is of 1 to {MOST} pours")
    if not all(isfinite(x) for x in (*pours, aim.target, aim.tolerance)):
        raise ValueError("a pour is a finite volume")
    if min(pours) < 0 or aim.target <= 0 or aim.tolerance < 0:
        raise ValueError("the target is above 0, pours and the tolerance are not below")
    if max(*pours, aim.target, aim.tolerance) > FULLEST:
        raise ValueError(f"no pour is more than {FULLEST:.0f}")


def _spread(pours: Sequence[float], mean: float) -> float:
    """The sample's standard deviation; pours that differ by rounding alone are alike."""
    sd = sqrt(sum((p - mean) ** 2 for p in pours) / (len(pours) - 1))
    return sd if sd > HAIR * max(1.0, mean) else 0.0


def _bias(bias: float, sd: float | None, n: int) -> tuple[float | None, float | None]:
    """None where there is no spread to reckon chance from."""
    return mean_interval(bias, sd, n) if sd else (None, None)


def _reasons(
    pours: Sequence[float], aim: PourTarget, policy: PourPolicy, hits: int
) -> tuple[Reason, ...]:
    """The verdict by the house's rule. A stamped measure that is short once has failed."""
    n = len(pours)
    short = sum(p < aim.target and not is_within(p, aim) for p in pours)
    if n < policy.least_pours:
        return (Reason.of("pours_too_few", n=n, least=policy.least_pours),)
    if aim.never_under and short:
        return (Reason.of("pours_short", count=short),)
    if hits < least_hits(n, policy.least_within):
        return (Reason.of("pours_off", count=n - hits, of=n),)
    if policy.most_bias is not None and _leans(pours, aim, policy.most_bias):
        return (Reason.of("pours_lean"),)
    if hits < n:
        return (Reason.of("pours_pass_most", n=hits, of=n),)
    return (Reason.of("pours_pass", n=n),)


def _leans(pours: Sequence[float], aim: PourTarget, most: float) -> bool:
    bias = sum(pours) / len(pours) - aim.target
    return abs(bias) > most + HAIR * max(1.0, aim.target)


def _passed(verdict: Reason) -> bool | None:
    if verdict.code == "pours_too_few":
        return None
    return verdict.code in ("pours_pass", "pours_pass_most")


def _with_reasons(
    found: PourVerdict, aim: PourTarget, policy: PourPolicy, said: tuple[Reason, ...]
) -> PourVerdict:
    """A pass whose whole tolerance interval lies between the limits holds, but pours that all read
    alike say nothing of those to come; nor is a pass steady where too many to come would miss, by
    the same average and spread. Then what else."""
    if found.passed and not found.sd:
        said = (Reason.of("pours_pass_alike", n=found.n),)
    elif found.passed and found.hits == found.n and _holds(found, aim):
        said = (Reason.of("pours_hold", n=found.n),)
    elif found.passed and (miss := would_miss(found, aim)) > 1 - policy.least_within:
        hundredths = max(1, round(100 * miss))
        said = (Reason.of("pours_pass_unsure", n=found.hits, of=found.n, miss=hundredths),)
    more = () if found.passed is None else _besides(found, aim)
    return PourVerdict(**{**vars(found), "reasons": (*said, *more)})


def _holds(found: PourVerdict, aim: PourTarget) -> bool:
    low, high = aim.limits
    ends = (found.tolerance_low, found.tolerance_high)
    return all(end is not None and low - HAIR <= end <= high + HAIR for end in ends)


def would_miss(found: PourVerdict, aim: PourTarget) -> float:
    """The share of a normal hand with this average and this spread, above 0, that is out of
    tolerance: an estimate, without its uncertainty. What the reading rounds away is no miss."""
    low, high = aim.limits
    hand = NormalDist(found.mean, found.sd or 0.0)
    under = aim.grain if aim.never_under else 0.0
    return 1 - hand.cdf(high) + hand.cdf(low - under)


def _besides(found: PourVerdict, aim: PourTarget) -> tuple[Reason, ...]:
    """Whether the hand runs over or under, beyond chance and beyond what the measure shows, and
    whether it is too uneven."""
    lean = _lean_of_stamped(found, aim) if aim.never_under else (_lean(found, aim),)
    if found.cp is not None and found.cp < 1:
        return (*lean, Reason.of("pours_uneven"))
    return lean


def _lean(found: PourVerdict, aim: PourTarget) -> Reason:
    low = found.bias if found.bias_low is None else found.bias_low
    high = found.bias if found.bias_high is None else found.bias_high
    if found.bias > aim.least_bias and low > 0:
        return Reason.of("pours_run_over")
    if found.bias < -aim.least_bias and high < 0:
        return Reason.of("pours_run_under")
    return Reason.of("pours_no_bias")


def _lean_of_stamped(found: PourVerdict, aim: PourTarget) -> tuple[Reason, ...]:
    """A measure that is never under is rightly poured a little over: shorter is said only beyond
    what it may be over, and longer as soon as it is under."""
    reads = max(HAIR * max(1.0, aim.target), aim.grain)
    if found.bias > aim.tolerance + reads:
        return (Reason.of("pours_run_over"),)
    return (Reason.of("pours_run_under"),) if found.bias < -reads else ()
