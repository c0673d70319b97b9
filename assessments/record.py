"""Everything that is written about what a person can do.

Each verb is one transaction with its log entry where the row is sealed. Cards that people mark
themselves, and reading, move the schedule only and are not logged.
"""

from __future__ import annotations

import datetime as dt
from collections.abc import Iterable, Mapping
from dataclasses import asdict, replace
from typing import Any

from django.db import transaction

from assessments import checklist
from assessments.measures import memory as memories
from assessments.measures import quiz as quizzes
from assessments.measures.marking import HelpLevel, mark_build
from assessments.models import (
    Answer,
    CardMark,
    Item,
    Memory,
    Quiz,
    QuizResult,
    Reading,
    SignOff,
    Void,
    WatchedBuild,
)
from assessments.models.quiz import WOULD_ASK
from assessments.models.watch import Help, MadeWith
from barcourse.people import log
from barcourse.people.models import Membership
from barcourse.people.reasons import refuse
from recipes.grammar.aspects import Aspect, fingerprint
from recipes.menu import Menu, MenuDrink
from recipes.models import Module, Scenario


@transaction.atomic
def mark_read(*, by: Membership, module: Module, at: dt.datetime) -> Reading:
    """The hire has read a module's notes; saying so twice keeps the first time."""
    _of_house(by, module)
    reading, _new = Reading.objects.get_or_create(
        hire=by, module=module, defaults={"venue": by.venue, "at": at}
    )
    return reading


@transaction.atomic
def mark_card(
    *, by: Membership, menu: Menu, item: MenuDrink, missed: Iterable[Aspect], at: dt.datetime
) -> CardMark:
    """A hire turned a card and says which aspects they did not have. Moves the schedule only."""
    _of_house(by, item.recipe)
    missed = sorted(set(missed))
    card = CardMark.objects.create(
        venue=by.venue, hire=by, recipe=item.recipe, revision=item.revision,
        rules_version=menu.rules_version, fingerprints=_stored(item),
        missed=[a.value for a in missed], at=at,
    )  # fmt: skip
    _remember(by, {t.fingerprint: t.aspect not in missed for t in item.drink.topics}, at)
    return card


@transaction.atomic
def start_quiz(*, by: Membership, menu: Menu, module: Module, seed: int, at: dt.datetime) -> Quiz:
    """A quiz on a module, or the one still open on it. Refuses a module with nothing to ask."""
    _of_house(by, module)
    still_open = Quiz.objects.of(by).open().filter(module=module).first()
    if still_open:
        return still_open
    drinks = [i.drink for i in menu.of_module(module)]
    scenarios = [_scenario(s) for s in Scenario.objects.filter(lesson__module=module)]
    plan = replace(quizzes.default_plan(len(drinks), len(scenarios)), pass_mark=by.venue.pass_mark)
    items = quizzes.generate(
        plan=plan, drinks=drinks, pool=list(menu.drinks), scenarios=scenarios, seed=seed
    )
    if not items:
        raise refuse("quiz_has_nothing_to_ask", module=module.name)
    quiz = Quiz.objects.create(
        venue=by.venue, hire=by, module=module, rules_version=menu.rules_version, seed=seed,
        plan=asdict(plan), pass_mark=by.venue.pass_mark, started_at=at,
    )  # fmt: skip
    Item.objects.bulk_create(_item_row(quiz, n, i, menu) for n, i in enumerate(items, start=1))
    return quiz


@transaction.atomic
def answer_item(
    *,
    by: Membership,
    item: Item,
    choice: int,
    at: dt.datetime,
    milliseconds: int | None = None,
) -> Answer:
    """One answer; the first one counts. The last one of a quiz finishes it."""
    quiz = Quiz.objects.select_for_update().get(pk=item.quiz_id)
    if quiz.hire_id != by.pk:
        raise refuse("not_your_quiz")
    given = Answer.objects.filter(item=item).first()
    if given:
        return given
    asked = quizzes.ItemAsked.from_json(item.asked)
    if choice != WOULD_ASK and not 0 <= choice < len(asked.choices):
        raise refuse("no_such_choice")
    answer = Answer.objects.create(
        venue=by.venue, item=item, choice=choice, milliseconds=milliseconds, at=at
    )
    _remember(by, dict.fromkeys(asked.topics, choice == asked.right), at)
    if not quiz.items.filter(answer__isnull=True).exists():
        _finish_quiz(quiz, by=by, at=at)
    return answer


def _finish_quiz(quiz: Quiz, *, by: Membership, at: dt.datetime) -> QuizResult:
    rows = list(quiz.items.select_related("answer"))
    asked = [quizzes.ItemAsked.from_json(r.asked) for r in rows]
    given = {n: r.answer.choice for n, r in enumerate(rows)}
    score = quizzes.score(asked, given, pass_mark=quiz.pass_mark)
    quiz.finished_at = at
    quiz.save(update_fields=["finished_at"])
    result = QuizResult.objects.create(
        venue=quiz.venue, quiz=quiz, hire=by, module=quiz.module, right=score.right,
        would_ask=score.asked_help, wrong=score.wrong, passed=score.passed, at=at,
        answers_digest=fingerprint([[r.asked, r.answer.choice] for r in rows]),
    )  # fmt: skip
    facts = {"right": score.right, "ask": score.asked_help, "wrong": score.wrong}
    log.append(
        venue=quiz.venue, by=by, kind="quiz_finished", subject=by, row=result, facts=facts, at=at
    )
    return result


@transaction.atomic
def watch_build(
    *,
    by: Membership,
    hire: Membership,
    menu: Menu,
    item: MenuDrink,
    off: Iterable[str],
    help_level: HelpLevel,
    made_with: MadeWith = MadeWith.STOCK,
    seconds: int | None = None,
    note: str = "",
    at: dt.datetime,
) -> WatchedBuild:
    """A watched build with what went wrong. Every other step counts as done.

    Refuses one's own build, somebody of another house or who has left, and a checklist that is
    not this drink's of today (the house changed it meanwhile).
    """
    _of_house(by, item.recipe)
    _refuse_watching(by, hire, at)
    steps = checklist.steps_of(item.drink, menu.pantry)
    try:
        verdict = mark_build(steps, frozenset(off), help_level)
    except ValueError:
        raise refuse("checklist_changed", drink=item.drink.name) from None
    text = log.keep_text(about=hire, text=note.strip()) if note.strip() else None
    build = WatchedBuild.objects.create(
        venue=by.venue, hire=hire, trainer=by, recipe=item.recipe, revision=item.revision,
        rules_version=menu.rules_version, fingerprints=_stored(item),
        steps=[checklist.step_json(s) for s in steps], off=sorted(off),
        help_level=Help(help_level.value), made_with=made_with, seconds=seconds,
        passed=verdict.passed, note_code=text.code if text else "", at=at,
    )  # fmt: skip
    log.append(
        venue=by.venue, by=by, kind="build_watched", subject=hire, row=build, text=text, at=at
    )
    if help_level is HelpLevel.UNPROMPTED:
        _remember_build(hire, item, verdict.passed, {s.aspect for s in verdict.failed}, at)
    return build


@transaction.atomic
def sign_off(*, by: Membership, watched: WatchedBuild, at: dt.datetime) -> SignOff:
    """A passed build signed off by whoever watched it. Twice is once."""
    _of_house(by, watched)
    if watched.hire_id == by.pk:
        raise refuse("nobody_signs_for_themselves")
    if watched.trainer_id != by.pk:
        raise refuse("only_who_watched_signs")
    if not watched.passed:
        raise refuse("not_passed")
    if Void.objects.filter(watched=watched).exists():
        raise refuse("voided_already")
    done = SignOff.objects.filter(watched=watched).first()
    if done:
        return done
    row = SignOff.objects.create(
        venue=watched.venue, watched=watched, hire=watched.hire, trainer=by,
        recipe=watched.recipe, revision=watched.revision, rules_version=watched.rules_version,
        fingerprints=watched.fingerprints, help_level=watched.help_level,
        seconds=watched.seconds, at=at,
    )  # fmt: skip
    log.append(venue=by.venue, by=by, kind="signed_off", subject=watched.hire, row=row, at=at)
    return row


@transaction.atomic
def void_build(*, by: Membership, watched: WatchedBuild, reason: str, at: dt.datetime) -> Void:
    """A watched build, and its sign-off, no longer count. Needs a reason; nothing is deleted."""
    _of_house(by, watched)
    if watched.hire_id == by.pk:
        raise refuse("nobody_voids_their_own")
    if not reason.strip():
        raise refuse("void_needs_reason", "reason")
    if Void.objects.filter(watched=watched).exists():
        raise refuse("voided_already")
    text = log.keep_text(about=watched.hire, text=reason.strip())
    void = Void.objects.create(
        venue=watched.venue, watched=watched, by=by, reason_code=text.code, at=at
    )
    log.append(
        venue=by.venue, by=by, kind="build_voided", subject=watched.hire, row=void, text=text, at=at
    )
    return void


def _of_house(by: Membership, row: Any) -> None:
    if row.venue_id != by.venue_id:
        raise refuse("other_house")


def _refuse_watching(by: Membership, hire: Membership, at: dt.datetime) -> None:
    _of_house(by, hire)
    if hire.pk == by.pk:
        raise refuse("nobody_signs_for_themselves")
    if not hire.is_here(by.venue.business_day(at)):
        raise refuse("has_left_already")


def _stored(item: MenuDrink) -> dict[str, str]:
    return {aspect.value: mark for aspect, mark in item.drink.fingerprints.items()}


def _scenario(row: Scenario) -> quizzes.Scenario:
    return quizzes.Scenario(
        slug=row.slug, question=row.question, choices=tuple(row.choices), right=row.right,
        critical=row.critical, why=row.why,
    )  # fmt: skip


def _item_row(quiz: Quiz, position: int, asked: quizzes.ItemAsked, menu: Menu) -> Item:
    of = menu.by_slug.get(asked.recipe or "")
    return Item(
        venue=quiz.venue, quiz=quiz, position=position, kind=asked.kind.value,
        asked=asked.to_json(), critical=asked.critical,
        recipe=of.recipe if of else None, revision=of.revision if of else None,
    )  # fmt: skip


def _remember_build(
    hire: Membership, item: MenuDrink, passed: bool, failed: set[Aspect], at: dt.datetime
) -> None:
    """One watched build is one review: of every topic when passed, of the failed ones as wrong."""
    right = {t.fingerprint: t.aspect not in failed for t in item.drink.topics}
    _remember(hire, right if not passed else dict.fromkeys(right, True), at)


_FIGURES = ("stability", "difficulty", "due", "last", "reviews", "lapses")


def _remember(hire: Membership, right: Mapping[str, bool], at: dt.datetime) -> None:
    """One review of each topic, in one read and at most two writes."""
    rows = {m.topic: m for m in Memory.objects.of(hire).on(list(right))}
    new, old = [], []
    for topic, was_right in right.items():
        before = rows[topic].facts() if topic in rows else None
        after = memories.review(before, fingerprint=topic, right=was_right, at=at)
        row = rows.get(topic) or Memory(venue_id=hire.venue_id, hire=hire, topic=topic)
        for figure in _FIGURES:
            setattr(row, figure, getattr(after, figure))
        (old if topic in rows else new).append(row)
    Memory.objects.bulk_create(new)
    if old:
        Memory.objects.bulk_update(old, _FIGURES)
