"""What the model would have said of builds before they came, from what had been shown until then.

Every build of somebody is foretold from evidence strictly earlier: a fit of its own, on the trials
before it. That the trainer picked the drink is known before it is built, so it is used.
"""

from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from itertools import islice

import numpy as np
from scipy.special import expit, log_expit, ndtr

from assessments.measures.orders.fit import Fit, as_marked, fit
from assessments.measures.orders.history import BUILD, Menu, Shown, moments, trials
from assessments.measures.orders.outlook import points_of
from assessments.measures.orders.population import (
    ASKS,
    EXECUTES,
    FORGETS,
    HOLDS,
    MISMARKED,
    POPULATION,
    READS,
    Array,
    Population,
    log_recall,
    mismarks,
)

AT_A_TIME = 50
"""Builds: so many fit a processor's cache."""


@dataclass(frozen=True)
class Foretold:
    """One build by one of `people`: the chances of each mark beforehand, and what came."""

    person: int
    shown: Shown
    right: float
    ask: float
    wrong: float


@dataclass(frozen=True)
class _Before:
    person: int
    case: Shown
    earlier: list[Shown]


def replay(
    menu: Menu,
    people: Sequence[Iterable[Shown]],
    newest: Sequence[int],
    population: Population = POPULATION,
) -> list[Foretold]:
    """Of each person so many of the newest builds that count, in the order of time."""
    cases = _cases(people, newest)
    found: list[Foretold] = []
    while part := list(islice(cases, AT_A_TIME)):
        chances = _foretell(menu, part, population).tolist()
        found += [Foretold(b.person, b.case, *each) for b, each in zip(part, chances, strict=True)]
    return found


def _cases(people: Sequence[Iterable[Shown]], newest: Sequence[int]) -> Iterator[_Before]:
    for person, (shown, most) in enumerate(zip(people, newest, strict=True)):
        seen = [one for moment in moments(shown) for one in moment]
        builds = [s for s in seen if s.choices == BUILD and s.counts]
        for case in builds[max(0, len(builds) - most) :]:
            yield _Before(person, case, [s for s in seen if s.day < case.day])


def _foretell(menu: Menu, cases: Sequence[_Before], population: Population) -> Array:
    """(cases, 3): the chance that each build is marked right, ask, wrong."""
    found = trials(menu, [b.earlier for b in cases])
    for row, before in enumerate(cases):
        found.chosen[row, before.case.drink] |= before.case.chosen
        found.held[row, before.case.drink] &= not before.case.chosen
    return _marks(fit(found, population), menu, [b.case for b in cases])


def _marks(known: Fit, menu: Menu, cases: Sequence[Shown]) -> Array:
    each, drink = np.arange(len(cases)), np.array([c.drink for c in cases], dtype=np.intp)
    points = points_of(known)
    fades, unseen = _fading(known, menu, cases, np.exp(points[:, :, FORGETS]))
    away = points - known.mean[:, None, :]
    hold = points[:, :, HOLDS] + known.hold[each, drink, None]
    hold = hold + np.einsum("pik,pk->pi", away, known.slope[each, drink])
    holds = ndtr(hold / np.sqrt(1 + known.loose[each, drink, None]))
    recalls = holds * np.exp(fades + unseen[:, None] * log_expit(points[:, :, READS]))
    right = recalls * ndtr(points[:, :, EXECUTES])
    ask = (1 - recalls) * expit(points[:, :, ASKS])
    chances = np.stack([right, ask, 1 - right - ask], axis=2).reshape(-1, 3)
    said = as_marked(chances, mismarks(points[:, :, MISMARKED]).ravel())
    mean: Array = said.reshape(*points.shape[:2], 3).mean(axis=1)
    return mean


def _fading(known: Fit, menu: Menu, cases: Sequence[Shown], times: Array) -> tuple[Array, Array]:
    """By case and point the log of recall of the parts shown before; by case how many were not."""
    fades, unseen = np.zeros_like(times), np.zeros(len(cases))
    for row, case in enumerate(cases):
        topics = list(menu.topics[case.drink])
        firm, last = known.firm[row, topics], known.last[row, topics]
        seen = firm > 0
        ages = (case.day - last[seen]).clip(0) / firm[seen]
        fades[row] = log_recall(ages[None, :], times[row, :, None]).sum(axis=1)
        fades[row] += np.log(known.took[row, topics]).sum()
        unseen[row] = (~seen).sum()
    return fades, unseen


def how_many(
    newest_first: Iterable[int], evidence: Mapping[int, int], most: int, trials: int
) -> dict[int, int]:
    """Of whom to replay how many builds, by the person's key: the newest first, `most` in all, and
    no more than so many trials looked at. Whoever has shown much is read once more as a whole.

    `newest_first` has a person's key for each build; `evidence` says how much each has shown.
    """
    found: dict[int, int] = {}
    for person in newest_first:
        costs = (evidence.get(person, 0) + 1) * (1 if person in found else 2)
        if costs <= trials and most:
            found[person] = found.get(person, 0) + 1
            trials, most = trials - costs, most - 1
    return found
