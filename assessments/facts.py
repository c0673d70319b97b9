"""What hires have shown on today's builds, gathered for the verdict on them.

Everything is as it stood at the moment of the menu: what came later, voids too, is not looked at.
The number of queries is the same for one hire and for two hundred.
"""

from __future__ import annotations

import datetime as dt
from collections import defaultdict
from collections.abc import Sequence
from dataclasses import dataclass
from typing import cast

from assessments import prints
from assessments.measures import quiz
from assessments.measures.drink_facts import DrinkFact
from assessments.measures.evidence import Evidence, Marked, Outcome, Watched, tally
from assessments.measures.marking import HelpLevel, counts_as_passed
from assessments.measures.ready_facts import Safety
from assessments.models import Answer, CallMark, QuizResult, WatchedBuild
from assessments.sign_offs import Best, Signed, best_sign_offs
from barcourse.people.models import Membership
from recipes.grammar.aspects import Aspect
from recipes.menu import Menu, MenuDrink
from recipes.models import Module

WHOLE_DRINK = tuple(sorted(kind.value for kind in quiz.WHOLE_DRINK))


@dataclass(frozen=True)
class Shown:
    """What several hires have shown on one menu."""

    evidence: dict[int, dict[str, Evidence]]
    signed: Best
    safety: dict[int, Safety]
    safety_module: str

    def on(self, hire: Membership, item: MenuDrink) -> DrinkFact:
        """The fact about one hire and one drink."""
        drink = item.drink
        trials = self.evidence[hire.pk].get(drink.slug) or Evidence(drink.slug, 0.0, 0.0, 0.0)
        signed = self.signed[hire.pk].get(item.recipe.pk)
        return DrinkFact(
            slug=drink.slug,
            name=drink.name,
            share=drink.share,
            must_know=item.recipe.must_know,
            right=trials.right,
            ask=trials.ask,
            wrong=trials.wrong,
            signed_off=signed is not None,
            sign_off_out_of_date=_changed(signed),
            module=item.recipe.module.name,
        )


def _changed(signed: Signed | None) -> tuple[Aspect, ...]:
    return signed.changed if signed else ()


def gather(menu: Menu, hires: Sequence[Membership]) -> Shown:
    gates = list(Module.objects.in_house(menu.venue).gates())
    return Shown(
        evidence=_evidence(menu, hires),
        signed=best_sign_offs(hires, menu.items, menu.at),
        safety=safety_of(hires, gates, menu.at),
        safety_module=", ".join(g.name for g in gates),
    )


def _evidence(menu: Menu, hires: Sequence[Membership]) -> dict[int, dict[str, Evidence]]:
    """Trials by hire and drink, on today's builds only."""
    marked, watched = _marked(menu, hires), _watched(menu, hires)
    return {h.pk: tally(marked[h.pk], watched[h.pk]) for h in hires}


def _marked(menu: Menu, hires: Sequence[Membership]) -> dict[int, list[Marked]]:
    """Answers about whole drinks and calls built, right or wrong by the program's own mark."""
    today = _builds_of(menu)
    found: dict[int, list[Marked]] = defaultdict(list)
    answers = Answer.objects.of(*hires).until(menu.at).to_kinds(WHOLE_DRINK).in_time()
    for hire, recipe, build, came, choices in answers.values_list(
        "item__quiz__hire_id", "item__recipe_id", "item__build", "came", "item__choices"
    ):
        if slug := today.get((recipe, build)):
            found[hire].append(Marked(slug, cast("Outcome", came), choices))
    for hire, recipe, build, came, ways in (
        CallMark.objects.of(*hires)
        .until(menu.at)
        .values_list("hire_id", "recipe_id", "build", "came", "ways")
    ):
        if slug := today.get((recipe, build)):
            found[hire].append(Marked(slug, cast("Outcome", came), ways))
    return found


def _watched(menu: Menu, hires: Sequence[Membership]) -> dict[int, list[Watched]]:
    """Builds that a trainer watched and that count for something."""
    today = _builds_of(menu)
    found: dict[int, list[Watched]] = defaultdict(list)
    builds = WatchedBuild.objects.of(*hires).standing(menu.at)
    for hire, recipe, aspects, passed, help_level in builds.values_list(
        "hire_id", "recipe_id", "fingerprints", "passed", "help_level"
    ):
        slug = today.get((recipe, prints.whole(aspects)))
        came = counts_as_passed(passed, HelpLevel(help_level))
        if slug and came:
            found[hire].append(Watched(slug, came))
    return found


def _builds_of(menu: Menu) -> dict[tuple[int, str], str]:
    """Slugs by recipe and print of today's build."""
    return {(i.recipe.pk, prints.of_build(i.drink)): i.drink.slug for i in menu.items}


def safety_of(
    hires: Sequence[Membership], gates: Sequence[Module], at: dt.datetime
) -> dict[int, Safety]:
    """Every gate module must have been passed once."""
    tried: dict[int, set[int]] = defaultdict(set)
    passed: dict[int, set[int]] = defaultdict(set)
    for result in QuizResult.objects.of(*hires).until(at).on(gates):
        if result.module_id is not None:
            tried[result.hire_id].add(result.module_id)
            if result.passed:
                passed[result.hire_id].add(result.module_id)
    wanted = {g.pk for g in gates}
    return {h.pk: _state(wanted, tried[h.pk], passed[h.pk]) for h in hires}


def _state(wanted: set[int], tried: set[int], passed: set[int]) -> Safety:
    if passed >= wanted:
        return Safety.PASSED
    return Safety.FAILED if tried - passed else Safety.NOT_TAKEN
