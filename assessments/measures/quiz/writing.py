"""Writing a quiz: the blueprint says how many of what, the seed says about which drinks."""

import datetime as dt
from collections import Counter, defaultdict
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from random import Random

from assessments.measures.quiz.asking_back import asked_about
from assessments.measures.quiz.blueprint import (
    Askable,
    Line,
    QuizPlan,
    Slot,
    blueprint,
    is_critical,
)
from assessments.measures.quiz.choices import can_ask, neighbours
from assessments.measures.quiz.drawing import pick_scenarios, pool_size, pooled
from assessments.measures.quiz.guests import Guests
from assessments.measures.quiz.items import ItemAsked, ItemKind, Scenario
from assessments.measures.quiz.one import CODES, card_item, drink_item, scenario_item
from recipes.grammar.aspects import Aspect
from recipes.grammar.calls import Book
from recipes.grammar.drink import Drink
from recipes.grammar.lookalikes import apart

__all__ = ["CODES", "House", "expected_hardness", "generate", "hardness", "how_many"]

WHOLE: Line = (ItemKind.WHOLE, None)

Near = dict[str, tuple[Drink, ...]]

DRAFTS = 12
"""Of so many drafts the fairest is taken (our own number, no source)."""


@dataclass(frozen=True)
class House:
    """What a quiz needs to know of the house beside its drinks: how it hears calls (None: nobody is
    asked what to ask back), its legal age, the day by the calendar (None: no cards), and whose
    `turn` it is among the subjects of situations: the same for two people of one evening."""

    book: Book | None = None
    legal_age: int = 21
    today: dt.date | None = None
    turn: int = 0

    @property
    def guests(self) -> Guests | None:
        """Those of one quiz."""
        return Guests(self.book) if self.book else None


NOWHERE = House()


def generate(
    *,
    plan: QuizPlan,
    drinks: Sequence[Drink],
    pool: Sequence[Drink],
    scenarios: Sequence[Scenario],
    seed: int,
    house: House = NOWHERE,
) -> tuple[ItemAsked, ...]:
    """A quiz on a module's `drinks`, wrong choices from `pool` (all drinks of the menu).

    The same arguments give the same quiz; another seed gives another one with as many items of
    each kind, aspect and criticality. Of several drafts it is the one whose drinks are about as
    hard as the module's are on average, so that two people side by side have as hard a quiz.
    Items for which no three distinct choices can be found are left out, so that a tiny menu gives
    a shorter quiz.
    """
    random = Random(seed)  # noqa: S311 - a quiz needs to be repeatable, not secret
    drinks = sorted(drinks, key=lambda d: d.slug)
    near = _near(drinks, pool)
    asked_about = pick_scenarios(plan, scenarios, house.turn, random)
    guests = house.guests
    askable = _askable(plan, drinks, near, guests)
    slots = _slots(plan, askable, len(asked_about))
    fits = _fits_of(slots, askable, plan)
    items = [scenario_item(s, random) for s in asked_about]
    if house.today:
        items += [card_item(n, house.legal_age, house.today, random) for n in range(plan.cards)]
    drafts = [
        list(_fill(slots, fits, Random(f"{seed} {n}")))  # noqa: S311 - as above
        for n in range(DRAFTS)
    ]
    hard = {d.slug: hardness(d, near[d.slug]) for d in drinks}
    target = expected_hardness(slots, fits, hard)
    chosen = min(drafts, key=lambda d: round(abs(sum(hard[x.slug] for _, x in d) - target), 9))
    items += [drink_item(drink, slot, near[drink.slug], guests, random) for slot, drink in chosen]
    random.shuffle(items)
    return tuple(items)


def how_many(
    *,
    plan: QuizPlan,
    drinks: Sequence[Drink],
    pool: Sequence[Drink],
    scenarios: Sequence[Scenario],
    house: House = NOWHERE,
) -> int:
    """Of how many items `generate` writes a quiz, whatever the seed."""
    near = _near(drinks, pool)
    situations = min(len(scenarios), plan.scenarios)
    slots = _slots(plan, _askable(plan, drinks, near, house.guests), situations)
    return situations + (plan.cards if house.today else 0) + slots.total()


def _near(drinks: Sequence[Drink], pool: Sequence[Drink]) -> Near:
    """Wrong answers come from the modules that are asked about, as far as they have any."""
    modules = {d.module for d in drinks}
    return {d.slug: neighbours(d, pool, modules) for d in drinks}


def _slots(plan: QuizPlan, askable: Askable, situations: int) -> Counter[Slot]:
    """The places for drinks; those that the modules have too few situations for are theirs."""
    places = plan.length - plan.cards - situations
    return blueprint(places, plan.mix, askable, plan.critical, whole_first=plan.whole_first)


def hardness(drink: Drink, near: Sequence[Drink]) -> float:
    """0 to 1: how near the nearest look-alike is. What is like nothing else is easy."""
    return 1 - apart(drink.traits, near[0].traits) if near else 0.0


def expected_hardness(
    slots: Counter[Slot], fits: Mapping[Slot, Sequence[Drink]], hard: Mapping[str, float]
) -> float:
    """What the drinks of all places sum to on average over everybody's quizzes."""
    total = 0.0
    for slot, count in slots.items():
        found = [hard[d.slug] for d in fits[slot]]
        total += min(count, len(found)) * sum(found) / len(found) if found else 0.0
    return total


def _askable(plan: QuizPlan, drinks: Sequence[Drink], near: Near, guests: Guests | None) -> Askable:
    def of(kind: ItemKind, aspect: Aspect | None) -> Sequence[Drink]:
        if kind is ItemKind.ASK_BACK:
            return asked_about(drinks, guests)
        return [d for d in drinks if can_ask(d, kind, aspect, near[d.slug])]

    return {line: of(*line) for line in dict.fromkeys((WHOLE, *plan.mix))}


def _fits_of(slots: Counter[Slot], askable: Askable, plan: QuizPlan) -> dict[Slot, list[Drink]]:
    """Which drinks may fill each place. A pool is of must-knows first, as a quiz is; critical
    drinks all have their places whatever it holds."""
    found = {}
    for slot, places in slots.items():
        fits = [d for d in askable[slot.kind, slot.aspect] if _fits(d, slot, plan)]
        if not slot.critical:
            name = f"{slot.kind.value} {slot.aspect}"
            musts, others = _parted(fits)
            few = pooled(musts, places, plan.pool, name)
            more = pooled(others, places, plan.pool, name)
            fits = [*few, *more[: max(0, pool_size(places) - len(few))]] if plan.pool else fits
        found[slot] = fits
    return found


def _parted(drinks: Sequence[Drink]) -> tuple[list[Drink], list[Drink]]:
    return [d for d in drinks if d.must_know], [d for d in drinks if not d.must_know]


def _fill(
    slots: Counter[Slot], fits: Mapping[Slot, Sequence[Drink]], random: Random
) -> Iterable[tuple[Slot, Drink]]:
    """Drinks for the places: every critical one somewhere, none twice in a slot, those asked about
    least so far first."""
    sure = _places_of_critical(slots, fits, random)
    times = Counter(slug for slugs in sure.values() for slug in slugs)
    for slot, count in slots.items():
        drinks = [d for d in fits[slot] if d.slug in sure[slot]]
        others = [d for d in fits[slot] if d.slug not in sure[slot]]
        random.shuffle(others)
        others.sort(key=lambda d: (times[d.slug], not d.must_know))
        for drink in others[: count - len(drinks)]:
            times[drink.slug] += 1
            drinks.append(drink)
        for drink in drinks:
            yield slot, drink


def _places_of_critical(
    slots: Counter[Slot], fits: Mapping[Slot, Sequence[Drink]], random: Random
) -> dict[Slot, list[str]]:
    """A place for each critical drink, by augmenting paths (Kuhn 1955, The Hungarian method for the
    assignment problem): the blueprint left one for each, so all find theirs."""
    held: dict[Slot, list[str]] = {slot: [] for slot in slots}
    open_to: dict[str, list[Slot]] = defaultdict(list)
    for slot in slots:
        for drink in fits[slot] if slot.critical else ():
            open_to[drink.slug].append(slot)

    def seat(slug: str, tried: set[Slot]) -> bool:
        for slot in random.sample(open_to[slug], len(open_to[slug])):
            if slot in tried:
                continue
            tried.add(slot)
            if len(held[slot]) < slots[slot]:
                held[slot].append(slug)
                return True
            for other in list(held[slot]):
                if seat(other, tried):
                    held[slot].remove(other)
                    held[slot].append(slug)
                    return True
        return False

    for slug in random.sample(sorted(open_to), len(open_to)):
        seat(slug, set())
    return held


def _fits(drink: Drink, slot: Slot, plan: QuizPlan) -> bool:
    if is_critical(drink, plan.critical) is not slot.critical:
        return False
    whole = slot.kind is ItemKind.WHOLE and plan.whole_first
    return not whole or drink.must_know is slot.must_know
