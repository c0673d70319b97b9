"""What one person has shown of each drink on a menu."""

from collections.abc import Iterable, Iterator, Sequence
from functools import cached_property
from typing import Any, NamedTuple, Self, overload

from assessments.measures.waits import Waits
from recipes.grammar.aspects import Aspect


class _DrinkFact(NamedTuple):
    slug: str
    name: str
    share: float
    must_know: bool
    right: float
    ask: float
    wrong: float
    signed_off: bool
    sign_off_out_of_date: tuple[Aspect, ...] = ()
    module: str = ""  # its name, for "take the quiz on ..."
    now: float = 0.0
    shown: float = 1.0
    waits: Waits | None = None


class DrinkFact(_DrinkFact):
    """One drink and what this person has shown of it on today's build.

    `share` is its part of all sales, 0 to 1; `right`, `ask` and `wrong` are tallied trials (see
    `evidence.tally`). `signed_off`: there is a sign-off in force; `sign_off_out_of_date` names
    the aspects that the house has changed since, none where it still proves the whole drink.
    `now` is the chance that an order of it comes out right, `shown` the chance once all of it has
    been shown again. `waits`: a passed build to which only the sign-off is missing.

    A tuple, since a board makes thousands; `_make` and `tuple.__new__` make them and ask nothing.
    """

    __slots__ = ()

    def __new__(cls, *args: Any, **said: Any) -> Self:
        found = super().__new__(cls, *args, **said)
        if min(found.share, found.right, found.ask, found.wrong) < 0:
            raise ValueError(f"{found.slug}: shares and trials are not below 0")
        return found

    @property
    def is_proven(self) -> bool:
        return self.signed_off and not self.sign_off_out_of_date


class Unproven(NamedTuple):
    """A must-know that no sign-off proves as it is built now. `changed`: what the house has changed
    since there was one, empty where there was none; `waits` and `share` as in `DrinkFact`."""

    slug: str
    name: str
    share: float
    changed: tuple[Aspect, ...]
    waits: Waits | None


def sales_weights(shares: Sequence[float]) -> list[float]:
    """Each drink's part of the orders, summing to 1; all alike where the house has no sales."""
    total = sum(shares)
    return [s / total for s in shares] if total > 0 else [1 / len(shares) for _ in shares]


class Drinks(Sequence[DrinkFact]):
    """Of one person, in the menu's order. No two have the same slug."""

    @overload
    def __getitem__(self, place: int) -> DrinkFact: ...
    @overload
    def __getitem__(self, place: slice) -> Sequence[DrinkFact]: ...
    def __getitem__(self, place: int | slice) -> DrinkFact | Sequence[DrinkFact]:
        return tuple(self)[place]

    def __eq__(self, other: object) -> bool:
        return isinstance(other, Sequence) and tuple(self) == tuple(other)

    def __hash__(self) -> int:
        return hash(tuple(self))

    def by_slug(self, slug: str) -> DrinkFact:
        """KeyError where there is none."""
        return self._by_slug[slug]

    @cached_property
    def _by_slug(self) -> dict[str, DrinkFact]:
        return {d.slug: d for d in self}

    @property
    def has_must_knows(self) -> bool:
        return bool(self.must_knows)

    @cached_property
    def must_knows(self) -> tuple[DrinkFact, ...]:
        return tuple(d for d in self if d.must_know)

    @cached_property
    def unproven(self) -> tuple[Unproven, ...]:
        """In the menu's order."""
        return tuple(
            Unproven(d.slug, d.name, d.share, d.sign_off_out_of_date, d.waits)
            for d in self.must_knows
            if not d.is_proven
        )

    @cached_property
    def waiting(self) -> dict[str, Waits]:
        """By the drink's name."""
        return {d.name: d.waits for d in self if d.waits}

    @cached_property
    def weights(self) -> list[float]:
        """See `sales_weights`."""
        return sales_weights([d.share for d in self])

    @cached_property
    def won(self) -> dict[str, float]:
        """By slug, the share of all orders that is won by showing all of this drink once more."""
        return {
            d.slug: weight * (d.shown - d.now) if d.shown > d.now else 0.0
            for d, weight in zip(self, self.weights, strict=True)
        }

    @cached_property
    def comes_right(self) -> dict[str, float]:
        """By slug, the chance that an order of it comes out right."""
        return {d.slug: d.now for d in self}

    @cached_property
    def seen(self) -> list[float]:
        """The parts of the orders that drinks have of which anything is known."""
        pairs = zip(self, self.weights, strict=True)
        return [weight for d, weight in pairs if d.right or d.ask or d.wrong]


class ListedDrinks(Drinks):
    """Each put together beforehand."""

    def __init__(self, facts: Iterable[DrinkFact]) -> None:
        self._facts = tuple(facts)

    def __len__(self) -> int:
        return len(self._facts)

    def __iter__(self) -> Iterator[DrinkFact]:
        return iter(self._facts)
