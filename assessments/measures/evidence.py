"""Evidence of readiness: marked answers and watched builds, tallied by drink.

Only what the program marked or a trainer watched counts, on today's build of the drink. What
somebody says of their own card moves the schedule and nothing here.
"""

from collections.abc import Iterable
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
    """Evidence by drink. Right + ask + wrong is the number of trials.

    Formula scoring, drink by drink: somebody who picked wrong so often has also picked right by
    luck, 1/(k-1) times for every wrong pick among k choices. The lucky ones move from right to
    wrong, as far as there are right ones. A watched build can't be guessed.
    """
    picks = list(marked)
    builds = list(watched)
    drinks = dict.fromkeys([p.drink for p in picks] + [b.drink for b in builds])
    return {
        drink: _of(
            drink, [p for p in picks if p.drink == drink], [b for b in builds if b.drink == drink]
        )
        for drink in drinks
    }


def _of(drink: str, picks: list[Marked], builds: list[Watched]) -> Evidence:
    picked = [p.outcome for p in picks]
    built = [b.outcome for b in builds]
    luck = sum(1 / (p.choices - 1) for p in picks if p.outcome == "wrong")
    lucky = min(float(picked.count("right")), luck)
    return Evidence(
        drink=drink,
        right=picked.count("right") - lucky + built.count("right"),
        ask=float(picked.count("ask") + built.count("ask")),
        wrong=picked.count("wrong") + lucky + built.count("wrong"),
    )
