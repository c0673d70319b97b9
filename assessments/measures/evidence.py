"""Evidence of readiness: marked answers and watched builds, tallied by drink.

Only what the program marked or a trainer watched counts, on today's build of the drink. What
somebody says of their own card moves the schedule and nothing here.
"""

from collections import Counter
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from typing import Literal

Outcome = Literal["right", "ask", "wrong"]


@dataclass(frozen=True)
class Marked:
    """A whole-drink answer that the program marked; `choices` is how many there were to pick."""

    drink: str
    outcome: Outcome
    choices: int

    def __post_init__(self) -> None:
        if self.choices < 2:
            raise ValueError("a question has two choices or more")


@dataclass(frozen=True)
class Watched:
    """A build that a trainer watched; see `marking.counts_as`."""

    drink: str
    outcome: Outcome


@dataclass(frozen=True)
class Evidence:
    """Trials on one drink, corrected for guessing; fractions of a trial are usual."""

    drink: str
    right: float
    ask: float
    wrong: float


def tally(marked: Iterable[Marked], watched: Iterable[Watched] = ()) -> dict[str, Evidence]:
    """One person's evidence by drink. Right + ask + wrong is the number of trials.

    Formula scoring over all of the person's picks: somebody who picked wrong so often has also
    picked right by luck, 1/(k-1) times for every wrong pick among k choices. Nobody knows which
    right picks were the lucky ones, so each drink gives up the same part of its own to wrong.
    Corrected drink by drink, a blind guesser with one question a drink would keep a third of what
    luck gave. A watched build can't be guessed.
    """
    picks = list(marked)
    builds = list(watched)
    lucky = _lucky_part(picks)
    picked = Counter((p.drink, p.outcome) for p in picks)
    built = Counter((b.drink, b.outcome) for b in builds)
    drinks = dict.fromkeys([p.drink for p in picks] + [b.drink for b in builds])
    return {
        d: Evidence(
            drink=d,
            right=picked[d, "right"] * (1 - lucky) + built[d, "right"],
            ask=float(picked[d, "ask"] + built[d, "ask"]),
            wrong=picked[d, "wrong"] + picked[d, "right"] * lucky + built[d, "wrong"],
        )
        for d in drinks
    }


def _lucky_part(picks: Sequence[Marked]) -> float:
    """What part of the right picks was luck, 0 to 1."""
    right = sum(p.outcome == "right" for p in picks)
    luck = sum(1 / (p.choices - 1) for p in picks if p.outcome == "wrong")
    return min(1.0, luck / right) if right else 0.0
