"""Who is ready: the facts from the tables, the verdict from `measures.readiness`.

The number of queries is the same for one hire and for two hundred.
"""

from __future__ import annotations

import datetime as dt
from collections import defaultdict
from collections.abc import Iterable, Sequence
from dataclasses import dataclass

from assessments.measures.evidence import Marked, Watched, tally
from assessments.measures.marking import HelpLevel, counts_as_passed
from assessments.measures.quiz import ItemAsked, ItemKind, outcome
from assessments.measures.readiness import Verdict, judge
from assessments.measures.ready_facts import DrinkFact, Facts, ReadyPolicy, Safety
from assessments.models import Answer, QuizResult, SignOff, WatchedBuild
from assessments.reads import Signed, sign_offs_by_recipe
from barcourse.people.models import Membership, Station, Venue
from recipes.grammar.aspects import fingerprint
from recipes.menu import Menu, MenuDrink, menu_at
from recipes.models import Module

WHOLE_DRINK = (ItemKind.WHOLE, ItemKind.NAME_IT)


@dataclass(frozen=True)
class Row:
    """One hire on the board."""

    hire: Membership
    verdict: Verdict


def board(station: Station, menu: Menu, hires: Sequence[Membership]) -> list[Row]:
    """Verdicts on several people for one station, in the order given."""
    drinks = menu.at_station(station)
    evidence = _evidence(hires, drinks)
    signed = sign_offs_by_recipe(hires, drinks)
    safety, module = _safety(menu.venue, hires)
    policy = policy_of(menu.venue)
    rows = []
    for hire in hires:
        facts = Facts(
            person=hire.code,
            drinks=tuple(_drink_fact(i, evidence[hire.pk], signed[hire.pk]) for i in drinks),
            safety=safety[hire.pk],
            safety_module=module,
            policy=policy,
            seed=_seed(hire, station),
        )
        rows.append(Row(hire, judge(facts)))
    return rows


def verdict_for(hire: Membership, station: Station, at: dt.datetime) -> Verdict:
    """One person's verdict at a station, as of `at`."""
    return board(station, menu_at(hire.venue, at), [hire])[0].verdict


def policy_of(venue: Venue) -> ReadyPolicy:
    return ReadyPolicy(
        least_right=venue.least_right / 100,
        most_wrong=venue.most_wrong / 100,
        second_right=venue.second_right / 100,
    )


def order_stations(venue: Venue) -> list[Station]:
    """Stations that take orders; bar back is judged on tasks, never on orders."""
    return [s for s in venue.stations.all() if s.takes_orders]


def hires_here(venue: Venue, at: dt.datetime) -> list[Membership]:
    here = Membership.objects.in_house(venue).hires().here(venue.business_day(at))
    return list(here.by_name())


def proving_sign_offs(hire: Membership, items: Iterable[MenuDrink]) -> list[SignOff]:
    """The sign-offs that prove these drinks as they are built today, in the order of the menu."""
    best = sign_offs_by_recipe([hire], items)[hire.pk]
    return [found.sign_off for i in items if (found := best.get(i.recipe.pk)) and found.proves]


def _evidence(
    hires: Sequence[Membership], items: Sequence[MenuDrink]
) -> dict[int, dict[str, tuple[float, float, float]]]:
    """Trials right, asked and wrong by hire and drink, on today's builds only."""
    today = {
        i.recipe.pk: (i.drink.slug, {a.value: f for a, f in i.drink.fingerprints.items()})
        for i in items
    }
    marked: dict[int, list[Marked]] = defaultdict(list)
    watched: dict[int, list[Watched]] = defaultdict(list)
    kinds = [k.value for k in WHOLE_DRINK]
    answers = Answer.objects.filter(item__quiz__hire__in=hires, item__kind__in=kinds)
    for answer in answers.select_related("item__quiz"):
        slug, prints = today.get(answer.item.recipe_id or 0, ("", None))
        asked = ItemAsked.from_json(answer.item.asked)
        if prints == dict(asked.fingerprints):
            trial = Marked(slug, outcome(asked, answer.choice), len(asked.choices))
            marked[answer.item.quiz.hire_id].append(trial)
    builds = WatchedBuild.objects.filter(hire__in=hires, void__isnull=True)
    for build in builds:
        slug, prints = today.get(build.recipe_id, ("", None))
        came = counts_as_passed(build.passed, HelpLevel(build.help_level))
        if came and prints == build.fingerprints:
            watched[build.hire_id].append(Watched(slug, came))
    return {
        h.pk: {
            slug: (e.right, e.ask, e.wrong)
            for slug, e in tally(marked[h.pk], watched[h.pk]).items()
        }
        for h in hires
    }


def _drink_fact(
    item: MenuDrink,
    trials: dict[str, tuple[float, float, float]],
    signed: dict[int, Signed],
) -> DrinkFact:
    right, ask, wrong = trials.get(item.drink.slug, (0.0, 0.0, 0.0))
    sign_off = signed.get(item.recipe.pk)
    return DrinkFact(
        slug=item.drink.slug,
        name=item.drink.name,
        share=item.drink.share,
        must_know=item.recipe.must_know,
        right=right,
        ask=ask,
        wrong=wrong,
        signed_off=sign_off is not None,
        sign_off_out_of_date=sign_off.changed if sign_off else (),
        module=item.recipe.module.name,
    )


def _safety(venue: Venue, hires: Sequence[Membership]) -> tuple[dict[int, Safety], str]:
    """Every gate module must have been passed once; the name is for the sentence about it."""
    gates = list(Module.objects.in_house(venue).gates())
    results = QuizResult.objects.filter(hire__in=hires, module__in=gates)
    tried: dict[int, set[int]] = defaultdict(set)
    passed: dict[int, set[int]] = defaultdict(set)
    for result in results:
        tried[result.hire_id].add(result.module_id)
        if result.passed:
            passed[result.hire_id].add(result.module_id)
    wanted = {g.pk for g in gates}
    state = {
        h.pk: Safety.PASSED
        if passed[h.pk] >= wanted
        else Safety.FAILED
        if tried[h.pk] - passed[h.pk]
        else Safety.NOT_TAKEN
        for h in hires
    }
    return state, ", ".join(g.name for g in gates)


def _seed(hire: Membership, station: Station) -> int:
    """The same person at the same station gets the same draws, on every page and machine."""
    return int(fingerprint([hire.code, station.slug])[:12], 16)
