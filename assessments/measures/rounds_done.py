"""A round as it was done, beside the best order."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from assessments.measures.rounds import DIE, Act, RoundStep
from recipes.grammar.reasons import Reason

CODES: dict[str, tuple[str, ...]] = {
    "round_as_best": (),
    "round_moved": ("count", "of"),
    "round_settle_late": (),
    "round_died": ("count",),
    "round_picked_up_again": ("count",),
}


@dataclass(frozen=True)
class OutOfTurn:
    """A step that belongs elsewhere: `late`, right before `beside`; else early, right after
    `beside`, and where that is so because it dies fast, `last`."""

    step: RoundStep
    late: bool
    beside: RoundStep

    @property
    def last(self) -> bool:
        return not self.late and self.step.act in DIE


@dataclass(frozen=True)
class Compared:
    """What was done beside the best order. `turns` are the fewest steps that would have to be
    taken out of it and put elsewhere, in the best order: whoever puts one after the other where it
    belongs ends at the best order."""

    turns: tuple[OutOfTurn, ...]
    reasons: tuple[Reason, ...]

    @property
    def moved(self) -> tuple[RoundStep, ...]:
        return tuple(turn.step for turn in self.turns)


def in_order(best: Sequence[RoundStep], tapped: Sequence[str]) -> tuple[str, ...]:
    """Keys of all steps: first those tapped, as they were tapped; the rest follows as is best.
    Raises ValueError for a key of another round, or one tapped twice."""
    keys = [step.key for step in best]
    if len(set(tapped)) < len(tapped) or not set(tapped) <= set(keys):
        raise ValueError("not the steps of this round")
    return (*tapped, *(key for key in keys if key not in tapped))


def compare(
    best: Sequence[RoundStep], done: Sequence[RoundStep], picked_up_again: int = 0
) -> Compared:
    """`done` holds the steps of `best` in the order in which they were done; raises ValueError
    where it holds others. `picked_up_again`: bottles taken a second time."""
    if sorted(s.key for s in best) != sorted(s.key for s in done) or picked_up_again < 0:
        raise ValueError("not the steps of this round")
    ranks = _ranks(best, done)
    kept = _longest_rising(ranks)
    turns = tuple(
        _out_of_turn(own, best, ranks, kept) for own in range(len(best)) if own not in kept
    )
    said = tuple(_said(best, ranks, turns, picked_up_again))
    return Compared(turns, said or (Reason.of("round_as_best"),))


def _ranks(best: Sequence[RoundStep], done: Sequence[RoundStep]) -> list[int]:
    """The place of each done step in the best order; what comes twice there, in turn."""
    places: dict[RoundStep, list[int]] = {}
    for n, step in enumerate(best):
        places.setdefault(step, []).append(n)
    return [places[step].pop(0) for step in done]


def _out_of_turn(
    own: int, best: Sequence[RoundStep], ranks: Sequence[int], kept: set[int]
) -> OutOfTurn:
    """Late, it goes before the next kept step. Early, it goes after the step just before it in the
    best order: that one is kept, or is put in its place first. Naming an earlier step, also one of
    the same drink, would say that it may come sooner than it may."""
    done_before = ranks[: ranks.index(own)]
    if passed := [r for r in done_before if r in kept and r > own]:
        return OutOfTurn(best[own], True, best[min(passed)])
    return OutOfTurn(best[own], False, best[own - 1])


def _said(
    best: Sequence[RoundStep], ranks: Sequence[int], turns: Sequence[OutOfTurn], again: int
) -> Iterator[Reason]:
    done = [best[rank] for rank in ranks]
    if turns:
        yield Reason.of("round_moved", count=len(turns), of=len(best))
    first = [s.act for s in done if s.act is not Act.GLASS][:1]
    if any(s.act is Act.SETTLE for s in done) and first != [Act.SETTLE]:
        yield Reason.of("round_settle_late")
    if waited := _waited(best, ranks):
        yield Reason.of("round_died", count=waited)
    if again:
        yield Reason.of("round_picked_up_again", count=again)


def _waited(best: Sequence[RoundStep], ranks: Sequence[int]) -> int:
    """Steps done while a drawn beer was losing its head that belong before it; what is for beers
    alone, or comes after them in the best order too, is none of them."""
    drawn = {n for n, s in enumerate(best) if s.act is Act.DRAUGHT}
    beers = {drink for n in drawn for drink in best[n].drinks}
    since = next((n for n, rank in enumerate(ranks) if rank in drawn), len(ranks))
    return sum(rank < min(drawn) and not set(best[rank].drinks) <= beers for rank in ranks[since:])


def _longest_rising(ranks: Sequence[int]) -> set[int]:
    """A longest part of it that rises; rounds are short, so the plain way does."""
    best: list[list[int]] = []
    for rank in ranks:
        before = max((run for run in best if run[-1] < rank), key=len, default=[])
        best.append([*before, rank])
    longest: list[int] = max(best, key=len, default=[])
    return set(longest)
