"""Bottles that a round needs for different things, picked up once wherever no drink's own order is
in the way: the syrup that lies under the ice of one drink and goes into the tin of another.

Steps are a graph: what must come before what in some drink. Two steps with one bottle become one
where the graph still has no circle. It is read off as near to the order before as can be: the
first step that waits for nothing, and what was joined no earlier than its last part stood.
"""

from collections.abc import Iterable, Mapping, Sequence

After = Mapping[int, frozenset[int]]
"""Of each step, by its place in the order before: the places of those that it comes after."""
Group = tuple[int, ...]


def joined(after: After, pairs: Iterable[tuple[int, int]]) -> list[Group]:
    """The places in their new order, those done at once together. `pairs` are tried in their order:
    two that would make a circle stay apart."""
    at_once: dict[int, Group] = {place: (place,) for place in after}
    for first, second in pairs:
        both = tuple(sorted({*at_once[first], *at_once[second]}))
        tried = at_once | dict.fromkeys(both, both)
        if _in_order(after, tried) is not None:
            at_once = tried
    return _in_order(after, at_once) or []


def _in_order(after: After, at_once: Mapping[int, Group]) -> list[Group] | None:
    """None where something would have to come before itself."""
    left = sorted(set(at_once.values()), key=lambda group: group[-1])
    waits = {group: {at_once[b] for place in group for b in after[place]} for group in left}
    order: list[Group] = []
    while left:
        free = _first_free(left, waits, order)
        if free is None:
            return None
        left.remove(free)
        order.append(free)
    return order


def _first_free(
    left: Sequence[Group], waits: Mapping[Group, set[Group]], done: Sequence[Group]
) -> Group | None:
    return next((group for group in left if waits[group] <= set(done)), None)
