"""A round as it was done, beside the best order."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from assessments.measures.rounds import Act, RoundStep
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
    """A step that belongs elsewhere: `late`, before `beside`; else early, after `beside`."""

    step: RoundStep
    late: bool
    beside: RoundStep


@dataclass(frozen=True)
class Compared:
    """What was done beside the best order. `turns` are the fewest steps that would have to be
    taken out of it and put elsewhere, as they were done."""

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
    rank = {step: n for n, step in enumerate(best)}
    kept = _longest_rising([rank[s] for s in done])
    turns = tuple(
        _out_of_turn(n, done, rank, kept) for n, s in enumerate(done) if rank[s] not in kept
    )
    said = tuple(_said(done, turns, picked_up_again, len(best)))
    return Compared(turns, said or (Reason.of("round_as_best"),))


def _out_of_turn(
    n: int, done: Sequence[RoundStep], rank: dict[RoundStep, int], kept: set[int]
) -> OutOfTurn:
    """The nearest kept step on whose wrong side it was done, of the same drink if there is one:
    what another drink waits for tells nobody why. There is one, or it would be kept; and never one
    on either side, since the kept ones rise."""
    step, own = done[n], rank[done[n]]
    before = [s for s in done[:n] if rank[s] in kept and rank[s] > own]
    if before:
        return OutOfTurn(step, True, min(_of_the_same(step, before), key=lambda s: rank[s]))
    after = [s for s in done[n + 1 :] if rank[s] in kept and rank[s] < own]
    return OutOfTurn(step, False, max(_of_the_same(step, after), key=lambda s: rank[s]))


def _of_the_same(step: RoundStep, others: Sequence[RoundStep]) -> Sequence[RoundStep]:
    return [s for s in others if set(s.drinks) & set(step.drinks)] or others


def _said(
    done: Sequence[RoundStep], turns: Sequence[OutOfTurn], again: int, of: int
) -> Iterator[Reason]:
    if turns:
        yield Reason.of("round_moved", count=len(turns), of=of)
    first = [s.act for s in done if s.act is not Act.GLASS][:1]
    if any(s.act is Act.SETTLE for s in done) and first != [Act.SETTLE]:
        yield Reason.of("round_settle_late")
    if waited := _waited(done):
        yield Reason.of("round_died", count=waited)
    if again:
        yield Reason.of("round_picked_up_again", count=again)


def _waited(done: Sequence[RoundStep]) -> int:
    """Steps done while a drawn beer was losing its head; what goes onto a beer is none of them."""
    drawn = next((n for n, s in enumerate(done) if s.act is Act.DRAUGHT), None)
    if drawn is None:
        return 0
    quick = (Act.DRAUGHT, Act.TOP_UP, Act.SERVE)
    beers = {n for s in done if s.act is Act.DRAUGHT for n in s.drinks}
    return sum(s.act not in quick and not set(s.drinks) <= beers for s in done[drawn:])


def _longest_rising(ranks: Sequence[int]) -> set[int]:
    """A longest part of it that rises; rounds are short, so the plain way does."""
    best: list[list[int]] = []
    for rank in ranks:
        before = max((run for run in best if run[-1] < rank), key=len, default=[])
        best.append([*before, rank])
    longest: list[int] = max(best, key=len, default=[])
    return set(longest)
