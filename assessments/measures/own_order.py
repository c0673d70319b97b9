"""In which order things are picked up, so that each drink still gets its own in its own order."""

from collections.abc import Callable, Iterable, Iterator, Mapping, Sequence
from heapq import heappop, heappush


def shortest_supersequence(
    sequences: Iterable[Sequence[str]], prefer: Callable[[str], int] = lambda _item: 0
) -> tuple[str, ...]:
    """The shortest order in which every sequence can be read off from left to right. Of several as
    short it is the one that has what `prefer` puts lower first.

    Exact: the shortest way through the places reached, best bound first. The bound is the most
    that any one item is still needed in one sequence, summed over the items.
    """
    sequences = list(dict.fromkeys(tuple(s) for s in sequences))
    goal = tuple(len(s) for s in sequences)
    start = (0,) * len(sequences)
    queue: list[tuple[int, int, tuple[tuple[int, str], ...], tuple[int, ...]]] = []
    heappush(queue, (_still(start, sequences), 0, (), start))
    seen: set[tuple[int, ...]] = set()
    while queue:
        _, steps, path, place = heappop(queue)
        if place == goal:
            return tuple(item for _, item in path)
        if place in seen:
            continue
        seen.add(place)
        for item in _next(place, sequences):
            then = _after(item, place, sequences)
            bound = steps + 1 + _still(then, sequences)
            path_on = (*path, (prefer(item), item))
            heappush(queue, (bound, steps + 1, path_on, then))
    raise AssertionError("every sequence has an end")


def _next(place: Sequence[int], sequences: Sequence[Sequence[str]]) -> list[str]:
    return list(dict.fromkeys(s[p] for s, p in zip(sequences, place, strict=True) if p < len(s)))


def _after(item: str, place: Sequence[int], sequences: Sequence[Sequence[str]]) -> tuple[int, ...]:
    pairs = zip(sequences, place, strict=True)
    return tuple(p + (p < len(s) and s[p] == item) for s, p in pairs)


def _still(place: Sequence[int], sequences: Sequence[Sequence[str]]) -> int:
    most: dict[str, int] = {}
    for sequence, start in zip(sequences, place, strict=True):
        left = list(sequence[start:])
        for item in left:
            most[item] = max(most.get(item, 0), left.count(item))
    return sum(most.values())


def each_once(sequences: Iterable[Sequence[str]]) -> tuple[str, ...]:
    """Every item once. What stands before another in each sequence that holds both stays before it;
    where sequences contradict each other the one listed first has its way."""
    left = [list(s) for s in sequences]
    order: list[str] = []
    while any(left):
        waiting = {item for s in left for item in s[1:]}
        heads = [s[0] for s in left if s]
        order.append(next((item for item in heads if item not in waiting), heads[0]))
        left = [[item for item in s if item != order[-1]] for s in left]
    return tuple(order)


def across(
    order: Sequence[str], wanted: Mapping[int, Sequence[str]]
) -> Iterator[tuple[str, tuple[int, ...]]]:
    """For which drinks each item of the order is, where each drink takes its own as they come."""
    place = dict.fromkeys(wanted, 0)
    for item in order:
        now = tuple(n for n, own in wanted.items() if own[place[n] : place[n] + 1] == (item,))
        for n in now:
            place[n] += 1
        yield item, now
