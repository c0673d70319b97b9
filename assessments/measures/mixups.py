"""Which build is given for which drink."""

from collections import Counter
from collections.abc import Iterable
from dataclasses import dataclass


@dataclass(frozen=True)
class MixUp:
    """How often the build or name of `given` was picked for `asked` (slugs)."""

    asked: str
    given: str
    times: int


def mix_ups(pairs: Iterable[tuple[str | None, str | None]]) -> tuple[MixUp, ...]:
    """Pairs of asked and given drinks, most frequent first, ties by slug.

    Pairs without a drink on either side (scenarios) and a drink with itself are no mix-up.
    """
    counts: Counter[tuple[str, str]] = Counter()
    for asked, given in pairs:
        if asked and given and asked != given:
            counts[asked, given] += 1
    found = [MixUp(asked, given, n) for (asked, given), n in counts.items()]
    return tuple(sorted(found, key=lambda m: (-m.times, m.asked, m.given)))
