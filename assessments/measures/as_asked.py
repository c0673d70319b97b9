"""What is worked out no further than somebody looks."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from itertools import islice
from typing import TypeVar, overload

T = TypeVar("T")


class AsAsked(Sequence[T]):
    """The values of an iterable, drawn from it one by one as they are asked for and kept: of a list
    of steps a board shows the first, and the others take longest. Equal to a tuple of the same."""

    def __init__(self, source: Iterable[T]) -> None:
        self._left = iter(source)
        self._drawn: list[T] = []

    @overload
    def __getitem__(self, place: int) -> T: ...
    @overload
    def __getitem__(self, place: slice) -> Sequence[T]: ...
    def __getitem__(self, place: int | slice) -> T | Sequence[T]:
        if isinstance(place, int) and place >= 0:
            self._drawn.extend(islice(self._left, max(0, place + 1 - len(self._drawn))))
            return self._drawn[place]
        if not isinstance(place, int | slice):
            raise TypeError("a place in a sequence is a number")  # a template tries words first
        return tuple(self._all())[place]

    def __bool__(self) -> bool:
        self._drawn.extend(islice(self._left, 0 if self._drawn else 1))
        return bool(self._drawn)

    def __len__(self) -> int:
        return len(self._all())

    def __iter__(self) -> Iterator[T]:
        place, drawn = 0, self._drawn
        while True:  # two may look at once: each draws only what neither has drawn
            if place == len(drawn):
                drawn.extend(islice(self._left, 1))
                if place == len(drawn):
                    return
            yield drawn[place]
            place += 1

    def __eq__(self, other: object) -> bool:
        if isinstance(other, AsAsked | tuple | list):
            return tuple(self._all()) == tuple(other)
        return NotImplemented

    def __hash__(self) -> int:
        return hash(tuple(self._all()))

    def __repr__(self) -> str:
        return repr(tuple(self._all()))

    def _all(self) -> list[T]:
        self._drawn.extend(self._left)
        return self._drawn
