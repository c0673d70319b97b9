"""What hires have shown on a menu, as trials for the forecast of orders.

Everything that the program marked or a trainer saw: answers on drinks, whole or in part, calls
built, watched builds, marks in service. Nobody's mark of their own card.
"""

from __future__ import annotations

import datetime as dt
from collections import defaultdict
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from functools import cached_property
from typing import cast

from assessments import prints
from assessments.measures import orders
from assessments.measures.marking import HelpLevel, counts_as_passed
from assessments.measures.orders.history import BUILD, Outcome
from assessments.measures.quiz.items import sizes_unshown
from assessments.models import Answer, CallMark, SpotMark, WatchedBuild
from assessments.models.practical import Came
from barcourse.people.models import Membership
from recipes.grammar.aspects import Aspect, fingerprint
from recipes.grammar.drink import Drink
from recipes.kept import Kept
from recipes.menu import Menu, MenuDrink

EPOCH = dt.datetime(2020, 1, 1, tzinfo=dt.UTC)
DAY_S = 86400.0

CAME: dict[str, Outcome] = {Came.RIGHT: "right", Came.MENDED: "ask", Came.WRONG: "wrong"}
"""A drink mended in time was neither right unaided nor sent out wrong."""


def day_of(at: dt.datetime) -> float:
    return (at - EPOCH).total_seconds() / DAY_S


@dataclass(frozen=True)
class Numbers:
    """The drinks and topics of a menu by number, in an order that hangs on the menu alone."""

    items: tuple[MenuDrink, ...]

    @cached_property
    def drinks(self) -> list[Drink]:
        return sorted((i.drink for i in self.items), key=lambda d: d.slug)

    @cached_property
    def places(self) -> dict[str, int]:
        """By slug."""
        return {d.slug: n for n, d in enumerate(self.drinks)}

    @cached_property
    def topics(self) -> dict[str, int]:
        found: dict[str, int] = {}
        for drink in self.drinks:
            for topic in drink.topics:
                found.setdefault(topic.fingerprint, len(found))
        return found

    @cached_property
    def sizes(self) -> frozenset[str]:
        """Topics that are how much a pour is, which few answers show."""
        return frozenset(t.fingerprint for d in self.drinks for t in d.topics if t.is_pour_size)

    @cached_property
    def by_recipe(self) -> dict[int, int]:
        return {i.recipe.pk: self.places[i.drink.slug] for i in self.items}

    @cached_property
    def builds(self) -> list[str]:
        return [prints.of_build(d) for d in self.drinks]

    @cached_property
    def for_orders(self) -> orders.Menu:
        return orders.Menu(tuple(self.of(d) for d in self.drinks), len(self.topics))

    @cached_property
    def by_call(self) -> list[tuple[int, ...]]:
        """By drink, the topics that building it of a call shows."""
        sizes = {self.topics[t] for t in self.sizes}
        return [tuple(t for t in of if t not in sizes) for of in self.for_orders.topics]

    @cached_property
    def print(self) -> str:
        """Another where any drink, build or topic is."""
        return fingerprint(
            [[d.slug, b, self.of(d)] for d, b in zip(self.drinks, self.builds, strict=True)]
        )

    def of(self, drink: Drink) -> tuple[int, ...]:
        return tuple(dict.fromkeys(self.topics[t.fingerprint] for t in drink.topics))

    def known(self, topics: Sequence[str]) -> tuple[int, ...]:
        """Those of the topics that are part of this menu."""
        return tuple(self.topics[t] for t in topics if t in self.topics)


@dataclass(frozen=True)
class Numbered:
    """A menu at its moment, and its numbers, which are kept as long as its items are."""

    menu: Menu

    @cached_property
    def numbers(self) -> Numbers:
        return _NUMBERS.get(id(self.menu.items), lambda: Numbers(self.menu.items))

    @property
    def drinks(self) -> list[Drink]:
        return self.numbers.drinks

    @property
    def places(self) -> dict[str, int]:
        return self.numbers.places

    @property
    def topics(self) -> dict[str, int]:
        return self.numbers.topics

    @property
    def by_recipe(self) -> dict[int, int]:
        return self.numbers.by_recipe

    @property
    def builds(self) -> list[str]:
        return self.numbers.builds

    @property
    def for_orders(self) -> orders.Menu:
        return self.numbers.for_orders

    @property
    def print(self) -> str:
        return self.numbers.print

    def known(self, topics: Sequence[str]) -> tuple[int, ...]:
        return self.numbers.known(topics)


_NUMBERS = Kept[int, Numbers](most=50)
"""By the items, which they hold: while they are kept no others can have their id."""

Shown = dict[int, list[orders.Shown]]


def shown_by(hires: Sequence[Membership], numbered: Numbered) -> Shown:
    """By hire, until the menu's moment; in as many queries for one as for two hundred."""
    found: Shown = defaultdict(list)
    _answers(hires, numbered, found)
    _calls(hires, numbered, found)
    _builds(hires, numbered, found)
    _spot_marks(hires, numbered, found)
    return found


def _answers(hires: Sequence[Membership], numbered: Numbered, found: Shown) -> None:
    rows = Answer.objects.of(*hires).until(numbered.menu.at).in_time()
    for hire, recipe, kind, asked, said_as, came, choices, at in rows.values_list(
        "item__quiz__hire_id", "item__recipe_id", "item__kind", "item__asked__topics",
        "item__asked__choices__0__content__as", "came", "item__choices", "at",
    ):  # fmt: skip
        drink = numbered.by_recipe.get(recipe)
        shown, alone = _shown_of(kind, asked or (), said_as, numbered.numbers.sizes)
        if drink is None or not shown:
            continue
        topics = numbered.known(shown)
        whole = len(topics) == len(shown) and set(topics) <= set(numbered.for_orders.topics[drink])
        one = orders.Shown(
            drink, topics, day_of(at), cast("Outcome", came), choices, counts=whole,
            alone=numbered.known(alone),
        )  # fmt: skip
        found[hire].append(one)


def _shown_of(
    kind: str, asked: Sequence[str], said_as: str | None, sizes: frozenset[str]
) -> tuple[list[str], list[str]]:
    """The topics that an answer shows, and those among them that it is about by themselves."""
    of_pours = [t for t in asked if t in sizes]
    unshown = sizes_unshown(kind, of_pours, said_as)
    shown = [t for t in asked if t not in unshown]
    return shown, [t for t in of_pours if t not in unshown]


def _calls(hires: Sequence[Membership], numbered: Numbered, found: Shown) -> None:
    """Drinks called just as the house builds them today. They are called by what sells, so they
    are a random sample, as orders are. How much a pour is they don't show."""
    rows = CallMark.objects.of(*hires).until(numbered.menu.at)
    for hire, recipe, build, came, ways, at in rows.values_list(
        "hire_id", "recipe_id", "build", "came", "ways", "at"
    ):
        drink = numbered.by_recipe.get(recipe)
        if drink is not None and build == numbered.builds[drink]:
            topics = numbered.numbers.by_call[drink]
            found[hire].append(orders.Shown(drink, topics, day_of(at), cast("Outcome", came), ways))


def _builds(hires: Sequence[Membership], numbered: Numbered, found: Shown) -> None:
    rows = WatchedBuild.objects.of(*hires).standing(numbered.menu.at)
    for hire, recipe, then, passed, help_level, at in rows.values_list(
        "hire_id", "recipe_id", "fingerprints", "passed", "help_level", "at"
    ):
        came = counts_as_passed(passed, HelpLevel(help_level))
        if (drink := numbered.by_recipe.get(recipe)) is not None:
            found[hire].append(_built(numbered, drink, then, came, at, chosen=True))


def _spot_marks(hires: Sequence[Membership], numbered: Numbered, found: Shown) -> None:
    rows = SpotMark.objects.of(*hires).standing(numbered.menu.at)
    for mark in cast("Iterable[SpotMark]", rows):
        came: Outcome = "wrong" if mark.sent_back else CAME[mark.came]
        if (drink := numbered.by_recipe.get(mark.recipe_id)) is not None:
            built = _built(numbered, drink, mark.fingerprints, came, mark.at, chosen=False)
            found[mark.hire_id].append(built)


def _built(
    numbered: Numbered,
    place: int,
    then: Mapping[str, str],
    came: Outcome | None,
    at: dt.datetime,
    *,
    chosen: bool,
) -> orders.Shown:
    """A build of today's drink is a trial; of a drink that has changed since, at most a showing of
    what is still the same; one that was shown to the hire is a showing."""
    drink = numbered.drinks[place]
    changed = prints.changed_since(then, drink)
    topics = numbered.known([t.fingerprint for t in drink.topics if t.aspect not in changed])
    counts = came is not None and not changed
    return orders.Shown(
        place, tuple(dict.fromkeys(topics)), day_of(at), came or "ask", BUILD, chosen, counts,
        told=came is None,
    )  # fmt: skip


def aspects_bits(changed: Sequence[Aspect]) -> int:
    """Aspects as one small number; see `aspects_of`."""
    return sum(1 << n for n, aspect in enumerate(Aspect) if aspect in changed)


def _aspects(bits: int) -> tuple[Aspect, ...]:
    return tuple(aspect for n, aspect in enumerate(Aspect) if bits & 1 << n)


_ASPECTS = [_aspects(bits) for bits in range(256)]


def aspects_of(bits: int) -> tuple[Aspect, ...]:
    return _ASPECTS[bits]
