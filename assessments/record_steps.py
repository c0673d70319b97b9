"""Steps that the verbs of `record` share: refusals, locks, quizzes drawn up and counted."""

from __future__ import annotations

import datetime as dt
from collections.abc import Mapping, Sequence
from dataclasses import asdict, replace
from typing import Any

from assessments import checklist, prints, quizzes_whole
from assessments.measures import quiz as quizzes
from assessments.models import Item, MeasuredPours, Quiz, QuizResult, Void, WatchedBuild
from barcourse.people import log
from barcourse.people.models import Membership
from barcourse.people.reasons import refuse
from recipes.grammar.steps import BuildStep
from recipes.menu import Menu, MenuDrink
from recipes.models import Module, Scenario


def refuse_other_house(by: Membership, row: Any) -> None:
    if row.venue_id != by.venue_id:
        raise refuse("other_house")


def refuse_watching(by: Membership, hire: Membership, at: dt.datetime) -> None:
    """Nobody watches their own build, or somebody of another house or who has left."""
    refuse_other_house(by, hire)
    if hire.pk == by.pk:
        raise refuse("nobody_signs_for_themselves")
    if not hire.is_here(by.venue.business_day(at)):
        raise refuse("has_left_already")


def refuse_changed(item: MenuDrink, seen: str | None) -> None:
    """The drink is no longer built as the screen showed it. None: no screen was involved."""
    if seen is not None and seen != prints.of_build(item.drink):
        raise refuse("drink_changed", drink=item.drink.name)


def lock_hire(hire: Membership) -> None:
    """Of two answers of one person at once, the second knows what the first taught them."""
    Membership.objects.select_for_update(no_key=True).get(pk=hire.pk)


def lock_build(watched: WatchedBuild) -> None:
    """Of a sign-off and a void at once, the second sees the first."""
    WatchedBuild.objects.select_for_update(no_key=True).get(pk=watched.pk)


def refuse_void(watched: WatchedBuild) -> None:
    if Void.objects.filter(watched=watched).exists():
        raise refuse("voided_already")


def keep_measured(
    watched: WatchedBuild,
    asked: Sequence[BuildStep],
    measured: Mapping[str, float],
    *,
    by: Membership,
    at: dt.datetime,
) -> None:
    """What was measured in the build, beside what was wanted; nothing where nothing was."""
    pours = {
        s.key: [round(checklist.wanted(s), 2), round(measured[s.key], 2)]
        for s in asked
        if s.key in measured and checklist.can_be_measured(s)
    }
    if pours:
        row = MeasuredPours.objects.create(venue=watched.venue, watched=watched, pours=pours)
        log.append(
            venue=by.venue, by=by, kind="pours_measured", subject=watched.hire, row=row, at=at
        )


def draw_up(
    by: Membership, menu: Menu, module: Module, seed: int, at: dt.datetime
) -> tuple[Quiz, list[Item]]:
    """A quiz and its items, unsaved; no items where the module has nothing to ask about."""
    drinks = [i.drink for i in menu.of_module(module)]
    scenarios = [_scenario(s) for s in Scenario.objects.filter(lesson__module=module)]
    plan = replace(quizzes.default_plan(len(drinks), len(scenarios)), pass_mark=by.venue.pass_mark)
    asked = quizzes.generate(
        plan=plan, drinks=drinks, pool=menu.drinks, scenarios=scenarios, seed=seed
    )
    quiz = Quiz(
        venue=by.venue, hire=by, module=module, rules_version=menu.rules_version, seed=seed,
        plan=asdict(plan), pass_mark=plan.pass_mark, started_at=at,
    )  # fmt: skip
    return quiz, [_item(quiz, n, i, menu) for n, i in enumerate(asked, start=1)]


def _scenario(row: Scenario) -> quizzes.Scenario:
    return quizzes.Scenario(
        slug=row.slug, question=row.question, choices=tuple(row.choices), right=row.right,
        critical=row.critical, why=row.why,
    )  # fmt: skip


def _item(quiz: Quiz, position: int, asked: quizzes.ItemAsked, menu: Menu) -> Item:
    of = menu.by_slug[asked.recipe] if asked.recipe else None
    return Item(
        venue=quiz.venue, quiz=quiz, position=position, kind=asked.kind.value,
        asked=asked.to_json(), critical=asked.critical, choices=len(asked.choices),
        recipe=of.recipe if of else None, revision=of.revision if of else None,
        build=prints.of_build(of.drink) if of else "",
    )  # fmt: skip


def finish(quiz: Quiz, *, by: Membership, at: dt.datetime) -> QuizResult:
    """Close a quiz of which every item is answered, with its sealed result and log entry."""
    rows = list(quiz.items.select_related("answer"))
    asked = [quizzes.ItemAsked.from_json(r.asked) for r in rows]
    came = quizzes.score(asked, {n: r.answer.choice for n, r in enumerate(rows)}, quiz.pass_mark)
    quiz.finished_at = at
    quiz.save(update_fields=["finished_at"])
    result = QuizResult.objects.create(
        venue=quiz.venue, quiz=quiz, hire=by, module=quiz.module, right=came.right,
        would_ask=came.asked_help, wrong=came.wrong, passed=came.passed, at=at,
        answers_digest=quizzes_whole.digest_of(quiz, rows),
    )  # fmt: skip
    facts = {"right": came.right, "ask": came.asked_help, "wrong": came.wrong}
    log.append(
        venue=quiz.venue, by=by, kind="quiz_finished", subject=by, row=result, facts=facts, at=at
    )
    return result
