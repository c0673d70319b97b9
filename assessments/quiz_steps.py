"""Quizzes drawn up and counted: steps of `record` and `record_quiz`, in their transaction."""

from __future__ import annotations

import datetime as dt
from collections.abc import Iterable, Sequence
from dataclasses import asdict, replace
from typing import Any

from assessments import prints, quizzes_whole
from assessments.measures import quiz as quizzes
from assessments.measures.quiz import ItemAsked, ItemKind, QuizPlan
from assessments.measures.quiz.blueprint import Line
from assessments.measures.quiz.lines import read_mix
from assessments.models import DrillFor, Item, Quiz, QuizResult, QuizSheet, TryOut
from barcourse.people import log
from barcourse.people.models import Membership, Venue
from recipes.grammar.drink import Drink
from recipes.grammar.lookalikes import nearest
from recipes.hearing import book_of
from recipes.menu import Menu
from recipes.models import Module, Scenario

BESIDE_A_PAIR = 2
"""A drill's choices are the pair and so many look-alikes more: always four."""

MOST_WAYS = 32_767
"""What the column holds; of so many answers nobody guesses the right one."""


def on_module(by: Membership, menu: Menu, module: Module, seed: int, at: dt.datetime) -> Drawn:
    """A quiz on a module and its items, unsaved; no items where there is nothing to ask about."""
    drinks = [i.drink for i in menu.of_module(module)]
    scenarios = situations([module])
    critical = sum(s.critical for s in scenarios)
    plan = quizzes.default_plan(len(drinks), len(scenarios), critical)
    plan = replace(plan, pass_mark=by.venue.pass_mark)
    quiz = _quiz(by, menu, plan, seed, at, module=module)
    return _drawn(quiz, plan, menu, drinks, menu.drinks, scenarios)


def written_by(sheets: Iterable[QuizSheet], menu: Menu) -> dict[int, int]:
    """By sheet: how many questions its quizzes have on this menu. A plan may ask for more than
    its modules give."""
    return {sheet.pk: _written(sheet, menu) for sheet in sheets}


def _written(sheet: QuizSheet, menu: Menu) -> int:
    modules = list(sheet.modules.all())
    return quizzes.how_many(
        plan=plan_of(sheet), drinks=_of(modules, menu), pool=menu.drinks,
        scenarios=situations(modules), house=house_of(menu, menu.at),
    )  # fmt: skip


def _of(modules: Sequence[Module], menu: Menu) -> list[Drink]:
    return [i.drink for i in menu.items if i.recipe.module in modules]


def by_sheet(by: Membership, menu: Menu, sheet: QuizSheet, seed: int, at: dt.datetime) -> Drawn:
    """A quiz by a trainer's sheet, unsaved. Seed and plan give the same items again."""
    modules = list(sheet.modules.all())
    plan, drinks = plan_of(sheet, small=is_small(by.venue, at)), _of(modules, menu)
    ends = at + dt.timedelta(minutes=sheet.minutes) if sheet.minutes else None
    quiz = _quiz(by, menu, plan, seed, at, sheet=sheet, name=sheet.name, ends_at=ends)
    return _drawn(quiz, plan, menu, drinks, menu.drinks, situations(modules))


def for_drill(by: Membership, menu: Menu, task: DrillFor, seed: int, at: dt.datetime) -> Drawn:
    """The two drinks of a drill, each in three ways, unsaved; nothing where one is off the menu."""
    drill = task.drill
    both = [menu.by_slug[r.slug].drink for r in (drill.one, drill.other) if r.slug in menu.by_slug]
    plan = QuizPlan(len(DRILL_MIX) * 2, pass_mark=100, mix=DRILL_MIX, whole_first=False)
    name = f"{drill.one.name} / {drill.other.name}"
    quiz = _quiz(by, menu, plan, seed, at, drill=drill, name=name)
    if len(both) < 2:
        return quiz, []
    pool = [*both, *_beside(both, menu.drinks)]
    return _drawn(quiz, plan, menu, both, pool, [])


DRILL_MIX: tuple[Line, ...] = (
    (ItemKind.WHOLE, None),
    (ItemKind.NAME_IT, None),
    (ItemKind.BUILD, None),
)

Drawn = tuple[Quiz, list[Item]]


SMALL = 40
"""In a house of fewer people a plan draws from a pool: of all that could be asked no question would
ever have ten answers, and nobody could tell a good one from a bad one (our own number)."""


def is_small(venue: Venue, at: dt.datetime) -> bool:
    return Membership.objects.in_house(venue).here(venue.business_day(at)).count() < SMALL


def plan_of(sheet: QuizSheet, *, small: bool = False) -> QuizPlan:
    mix = read_mix(sheet.mix)
    said: dict[str, Any] = {"mix": mix, "whole_first": False} if mix else {}
    return QuizPlan(
        sheet.length,
        pass_mark=sheet.pass_mark,
        scenarios=sheet.scenarios,
        cards=sheet.cards,
        critical=tuple(sheet.critical),
        pool=sheet.code if small else "",
        **said,
    )


def situations(modules: Iterable[Module]) -> list[quizzes.Scenario]:
    rows = Scenario.objects.filter(lesson__module__in=list(modules)).select_related("lesson")
    return [
        quizzes.Scenario(
            slug=row.slug, question=row.question, choices=tuple(row.choices), right=row.right,
            critical=row.critical, why=row.why, subject=_subject(row),
        )
        for row in rows
    ]  # fmt: skip


def _subject(row: Scenario) -> str:
    """A lesson is about one thing; in the order of the course."""
    return f"{row.lesson.position:03} {row.lesson.slug}"


def house_of(menu: Menu, at: dt.datetime) -> quizzes.House:
    """What a quiz needs to know of the house. The day of a card is the calendar's."""
    venue = menu.venue
    turn = venue.business_day(at).toordinal()
    return quizzes.House(book_of(menu), venue.legal_age, venue.local(at).date(), turn)


def _beside(both: Sequence[Drink], drinks: Sequence[Drink]) -> list[Drink]:
    near = nearest(both[0], [d for d in drinks if d.slug != both[1].slug], 2 * BESIDE_A_PAIR)
    return list(near[:BESIDE_A_PAIR])


def _quiz(
    by: Membership, menu: Menu, plan: QuizPlan, seed: int, at: dt.datetime, **said: Any
) -> Quiz:
    return Quiz(
        venue=by.venue, hire=by, rules_version=menu.rules_version, seed=seed, plan=asdict(plan),
        pass_mark=plan.pass_mark, started_at=at, **said,
    )  # fmt: skip


def _drawn(
    quiz: Quiz,
    plan: QuizPlan,
    menu: Menu,
    drinks: Sequence[Drink],
    pool: Sequence[Drink],
    scenarios: Sequence[quizzes.Scenario],
) -> Drawn:
    asked = quizzes.generate(
        plan=plan, drinks=drinks, pool=pool, scenarios=scenarios, seed=quiz.seed,
        house=house_of(menu, quiz.started_at),
    )  # fmt: skip
    return quiz, [item_row(quiz, n, i, menu) for n, i in enumerate(asked, start=1)]


def item_row(quiz: Quiz, position: int, asked: ItemAsked, menu: Menu) -> Item:
    of = menu.by_slug[asked.recipe] if asked.recipe else None
    return Item(
        venue=quiz.venue, quiz=quiz, position=position, kind=asked.kind.value,
        asked=asked.to_json(), critical=asked.critical, choices=min(asked.ways, MOST_WAYS),
        recipe=of.recipe if of else None, revision=of.revision if of else None,
        build=prints.of_build(of.drink) if of else "",
    )  # fmt: skip


def finish(quiz: Quiz, *, by: Membership, at: dt.datetime) -> QuizResult:
    """Close a quiz of which every item is answered, with its sealed result and log entry."""
    hire = quiz.hire
    rows = list(quiz.items.select_related("answer"))
    asked = [ItemAsked.from_json(r.asked) for r in rows]
    came = quizzes.score(asked, {n: r.answer.given for n, r in enumerate(rows)}, quiz.pass_mark)
    quiz.finished_at = at
    quiz.save(update_fields=["finished_at"])
    result = QuizResult.objects.create(
        venue=quiz.venue, quiz=quiz, hire=hire, module=quiz.module, right=came.right,
        would_ask=came.asked_help, wrong=came.wrong, passed=came.passed, at=at,
        answers_digest=quizzes_whole.digest_of(quiz, rows),
    )  # fmt: skip
    if quiz.drill_id and came.passed:
        DrillFor.objects.of(hire).to_do().filter(drill=quiz.drill).update(done_at=at)
    if quiz.plan.get("try_out"):
        TryOut.objects.filter(quiz=quiz).update(finished_at=at)
    facts = {"right": came.right, "ask": came.asked_help, "wrong": came.wrong}
    log.append(
        venue=quiz.venue, by=by, kind="quiz_finished", subject=hire, row=result, facts=facts, at=at
    )
    return result
