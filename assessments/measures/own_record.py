"""The house's own record held against what was said beforehand: how often builds stated at so much
really came right.

The score is Brier's (1950), its parts are Murphy's (1973); what is more than chance is told in
`house_miss`.
"""

from collections import defaultdict
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from math import sqrt

import numpy as np

from assessments.measures.house_miss import (
    CHANCE,
    LEAST,
    Case,
    Floats,
    Miss,
    apart,
    arrays,
    miss_of,
    sums_of,
)
from assessments.measures.intervals import exact_share
from recipes.grammar.reasons import Reason

CODES: dict[str, tuple[str, ...]] = {
    "record_too_small": ("builds", "least"),
    "record_bears_out": ("builds", "stated", "came"),
    "record_too_hopeful": ("builds", "stated", "came"),
    "record_too_careful": ("builds", "stated", "came"),
    "record_uneven": ("builds",),
}


@dataclass(frozen=True)
class Bin:
    """Cases stated alike, as the mean of what was stated; the exact interval of what came."""

    count: int
    stated: float
    came: float
    low: float
    high: float


@dataclass(frozen=True)
class Record:
    """What was stated against what came. `brier` is the mean square of the difference, 0 best; of
    it `unreliable` could be mended, `uncertain` is the question's own, `resolved` is what telling
    cases apart has won."""

    count: int
    stated: float
    came: float
    low: float
    high: float
    bins: tuple[Bin, ...]
    brier: float
    unreliable: float
    resolved: float
    uncertain: float
    miss: Miss
    says: Reason


def hold_against(cases: Sequence[Case]) -> Record | Reason:
    """The reason alone where there are too few cases to say anything."""
    if len(cases) < LEAST:
        return too_small(len(cases))
    stated, came = arrays(cases)
    unreliable, resolved, uncertain = murphy(stated, came)
    low, high = exact_share(int(came.sum()), len(came))
    return Record(
        count=len(cases),
        stated=float(stated.mean()),
        came=float(came.mean()),
        low=low,
        high=high,
        bins=bins_of(cases),
        brier=float(((stated - came) ** 2).mean()),
        unreliable=unreliable,
        resolved=resolved,
        uncertain=uncertain,
        miss=miss_of(cases),
        says=_says(cases),
    )


def too_small(builds: int) -> Reason:
    return Reason.of("record_too_small", builds=builds, least=LEAST)


def bins_of(cases: Iterable[Case]) -> tuple[Bin, ...]:
    """By tenth of the stated chance of right, from the lowest; empty ones are left out."""
    found: dict[int, list[Case]] = defaultdict(list)
    for case in cases:
        found[min(int(case.right * 10), 9)].append(case)
    return tuple(_bin(found[n]) for n in sorted(found))


def _bin(cases: Sequence[Case]) -> Bin:
    stated, came = arrays(cases)
    low, high = exact_share(int(came.sum()), len(came))
    return Bin(len(cases), float(stated.mean()), float(came.mean()), low, high)


def murphy(stated: Floats, came: Floats) -> tuple[float, float, float]:
    """Unreliability, resolution, uncertainty: the score is the first less the second plus the
    third, exactly where cases of one tenth were all stated alike."""
    tenths = np.minimum((stated * 10).astype(int), 9)
    whole = float(came.mean())
    unreliable = resolved = 0.0
    for tenth in sorted(set(tenths.tolist())):
        of = tenths == tenth
        unreliable += float(of.mean() * (stated[of].mean() - came[of].mean()) ** 2)
        resolved += float(of.mean() * (came[of].mean() - whole) ** 2)
    return unreliable, resolved, whole * (1 - whole)


def _says(cases: Sequence[Case]) -> Reason:
    sums, (stated, came) = sums_of(cases), arrays(cases)
    off = sums.all_off / sqrt(sums.all_varies)
    n, said, was = len(cases), round(100 * float(stated.mean())), round(100 * float(came.mean()))
    if off < -CHANCE:
        return Reason.of("record_too_hopeful", builds=n, stated=said, came=was)
    if off > CHANCE:
        return Reason.of("record_too_careful", builds=n, stated=said, came=was)
    if apart(sums) > 0:
        return Reason.of("record_uneven", builds=n)
    return Reason.of("record_bears_out", builds=n, stated=said, came=was)
