"""One person's drinks on a board, as columns: a board asks little of each of thousands."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from functools import cached_property, partial
from itertools import repeat
from typing import Any

import numpy as np
from numpy.typing import NDArray

from assessments.history import aspects_of
from assessments.measures.drink_facts import DrinkFact, Drinks, Unproven, sales_weights
from assessments.measures.waits import Waits
from recipes.menu import MenuDrink


@dataclass(frozen=True, eq=False)
class Poured:
    """What a station's drinks are to everybody, by their place there."""

    items: Sequence[MenuDrink]

    @cached_property
    def said(self) -> list[tuple[str, str, float, bool]]:
        """Slug, name, part of the sales, whether it is a must-know."""
        return [(i.drink.slug, i.drink.name, i.drink.share, i.recipe.must_know) for i in self.items]

    @cached_property
    def modules(self) -> list[str]:
        return [i.recipe.module.name for i in self.items]

    @cached_property
    def places(self) -> dict[str, int]:
        return {slug: place for place, (slug, *_rest) in enumerate(self.said)}

    @cached_property
    def must_knows(self) -> list[int]:
        return [place for place, item in enumerate(self.items) if item.recipe.must_know]

    @cached_property
    def weights(self) -> list[float]:
        return sales_weights([share for _slug, _name, share, _must in self.said])

    @cached_property
    def weighed(self) -> NDArray[np.float64]:
        return np.array(self.weights)


@dataclass(frozen=True, eq=False)
class DrinksInColumns(Drinks):
    """The same as `Drinks`: each is put together where somebody asks for it.

    By the drink's place at the station: `trials` are right, ask and wrong (n by 3); `signed` packed
    as in `ready_rows`; `now` and `shown` the chances that it comes out right. `waits` by slug.
    """

    poured: Poured
    trials: NDArray[np.floating[Any]]
    signed: NDArray[np.uint8]
    now: NDArray[np.float64]
    shown: NDArray[np.float64]
    waits: Mapping[str, Waits]

    def __len__(self) -> int:
        return len(self.poured.items)

    def _at(self, places: Sequence[int]) -> Iterator[DrinkFact]:
        poured, at = self.poured, list(places)
        said = [poured.said[place] for place in at]
        trials, signed = self.trials[at].tolist(), self.signed[at].tolist()
        modules = [poured.modules[place] for place in at]
        chances = self.now[at].tolist(), self.shown[at].tolist()
        waits = (self.waits.get(one[0]) for one in said) if self.waits else repeat(None, len(at))
        return (
            _made((*one, *came, *SEALED[sealed], module, now, shown, wait))
            for one, came, sealed, module, now, shown, wait in zip(
                said, trials, signed, modules, *chances, waits, strict=True
            )
        )

    def __iter__(self) -> Iterator[DrinkFact]:
        return self._at(range(len(self)))

    def by_slug(self, slug: str) -> DrinkFact:
        return next(self._at([self.poured.places[slug]]))

    @cached_property
    def must_knows(self) -> tuple[DrinkFact, ...]:
        return tuple(self._at(self.poured.must_knows))

    @property
    def has_must_knows(self) -> bool:
        return bool(self.poured.must_knows)

    @cached_property
    def unproven(self) -> tuple[Unproven, ...]:
        said, must, waits = self.poured.said, self.poured.must_knows, self.waits
        signed = zip(must, self.signed[must].tolist(), strict=True)
        return tuple(
            _unproven((slug, name, share, SEALED[byte][1], waits.get(slug)))
            for (slug, name, share, _must), byte in ((said[place], byte) for place, byte in signed)
            if not PROVES[byte]
        )

    @cached_property
    def waiting(self) -> dict[str, Waits]:
        said, places = self.poured.said, self.poured.places
        at = sorted(places[slug] for slug in self.waits if slug in places)
        return {said[place][1]: self.waits[said[place][0]] for place in at}

    @property
    def weights(self) -> list[float]:
        return self.poured.weights

    @cached_property
    def won(self) -> dict[str, float]:
        more = (self.shown - self.now).clip(0) * self.poured.weighed
        return dict(zip(self.poured.places, more.tolist(), strict=True))

    @cached_property
    def comes_right(self) -> dict[str, float]:
        return dict(zip(self.poured.places, self.now.tolist(), strict=True))

    @cached_property
    def seen(self) -> list[float]:
        is_seen: list[bool] = np.any(self.trials, axis=1).tolist()
        return [w for w, seen in zip(self.poured.weights, is_seen, strict=True) if seen]


_made = partial(tuple.__new__, DrinkFact)
_unproven = partial(tuple.__new__, Unproven)
"""As `_make`, in a third of the time: a board of a big house makes thousands."""

SEALED = [(packed > 0, aspects_of(packed)) for packed in range(256)]
"""What the byte of `signed` says: whether there is a sign-off, and what changed since."""

PROVES = [signed and not changed for signed, changed in SEALED]
"""By that byte, whether the sign-off proves the drink as it is built now."""
