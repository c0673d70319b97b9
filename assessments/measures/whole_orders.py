"""A hundred orders in whole ones: how many are right, would be asked about, or go out wrong."""

import math
from typing import NamedTuple

ORDERS = 100


class Orders(NamedTuple):
    """Whole orders of one hundred (or, inside a slot, of four)."""

    right: int
    ask: int
    wrong: int


def whole_orders(right: float, ask: float, wrong: float) -> Orders:
    """Share 100 whole orders in proportion (largest remainder).

    A tie in the remainders goes to wrong, then to ask: rounding never flatters.
    Raises ValueError where a share is negative, not finite, or nothing is shared at all.
    """
    shares = (right, ask, wrong)
    total = sum(shares)
    if not math.isfinite(total) or min(shares) < 0 or total == 0:
        raise ValueError(f"no shares of 100 orders: {shares}")
    exact = [share / total * ORDERS for share in shares]
    counts = [math.floor(share + 1e-9) for share in exact]
    # Remainders are rounded so that 0.1 + 0.2 and 0.3 tie as they should.
    by_need = sorted(range(3), key=lambda kind: (round(counts[kind] - exact[kind], 9), -kind))
    for kind in by_need[: ORDERS - sum(counts)]:
        counts[kind] += 1
    return Orders(*counts)
