"""What there is to read and to be asked about it: notes, lessons and their questions.

Every verb is one transaction with its log entry, and refuses with `Refused` (words in
`words_editing`). Quizzes hold their questions as they were asked, so nothing here changes one
that was taken.
"""

from __future__ import annotations

import datetime as dt
from dataclasses import dataclass

from django.db import transaction

from barcourse.people import log
from barcourse.people.models import Membership, Venue
from barcourse.people.reasons import refuse
from recipes.grammar.course import fold
from recipes.models import Lesson, Module, Scenario
from recipes.naming import free_slug

CODES = frozenset(
    {"too_few_choices", "too_many_choices", "choice_twice", "no_such_choice", "last_of_a_gate"}
)
FEWEST_CHOICES, MOST_CHOICES = 2, 5


@dataclass(frozen=True)
class Question:
    """`right` counts the choices from 0. `critical`: a wrong answer can hurt somebody."""

    question: str
    choices: tuple[str, ...]
    right: int
    why: str
    critical: bool = False


@transaction.atomic
def change_notes(*, by: Membership, module: Module, notes: str, at: dt.datetime) -> bool:
    """Whether that changed them."""
    venue, row = _lock(by), Module.objects.get(pk=module.pk)
    if row.notes == notes:
        return False
    row.notes = notes
    row.save(update_fields=["notes"])
    log.append(venue=venue, by=by, kind="notes_changed", facts={"module": row.slug}, at=at)
    return True


@transaction.atomic
def add_lesson(*, by: Membership, module: Module, name: str, body: str, at: dt.datetime) -> Lesson:
    """The last of its module."""
    venue = _lock(by)
    row = Lesson.objects.create(
        venue=venue, module=module, slug=free_slug(Lesson, venue, name, "lesson"), name=name,
        body=body, position=_last_place(module),
    )  # fmt: skip
    log.append(venue=venue, by=by, kind="lesson_added", facts=_facts(row), at=at)
    return row


@transaction.atomic
def change_lesson(
    *, by: Membership, lesson: Lesson, module: Module, name: str, body: str, at: dt.datetime
) -> Lesson:
    """Under another module it becomes the last one there, with its questions."""
    venue, row = _lock(by), _fresh(lesson)
    if (row.module, row.name, row.body) == (module, name, body):
        return row
    if row.module != module:
        _refuse_empty_gate(row, losing=row.scenarios.count())
        if module.lessons.filter(slug=row.slug).exists():
            row.slug = free_slug(Lesson, venue, name, "lesson")
        row.position = _last_place(module)
    row.module, row.name, row.body = module, name, body
    row.save()
    log.append(venue=venue, by=by, kind="lesson_changed", facts=_facts(row), at=at)
    return row


@transaction.atomic
def move_lesson(*, by: Membership, lesson: Lesson, up: bool, at: dt.datetime) -> bool:
    """One place up or down in its module; False where it stands at that end already."""
    venue, row = _lock(by), _fresh(lesson)
    rows = list(row.module.lessons.all())
    here = rows.index(row)
    there = here + (-1 if up else 1)
    if not 0 <= there < len(rows):
        return False
    rows[here], rows[there] = rows[there], rows[here]
    for position, one in enumerate(rows, start=1):
        one.position = position
    Lesson.objects.bulk_update(rows, ["position"])
    log.append(venue=venue, by=by, kind="lesson_moved", facts=_facts(row), at=at)
    return True


@transaction.atomic
def remove_lesson(*, by: Membership, lesson: Lesson, at: dt.datetime) -> None:
    """With its questions. A gate must keep something to be asked about."""
    venue, row = _lock(by), _fresh(lesson)
    questions = row.scenarios.count()
    _refuse_empty_gate(row, losing=questions)
    facts = {**_facts(row), "questions": questions}
    row.scenarios.all().delete()
    row.delete()
    log.append(venue=venue, by=by, kind="lesson_removed", facts=facts, at=at)


@transaction.atomic
def add_question(
    *, by: Membership, lesson: Lesson, question: Question, at: dt.datetime
) -> Scenario:
    venue = _lock(by)
    _refuse_odd(question)
    row = Scenario(venue=venue, lesson=lesson, slug=_question_slug(venue, question.question))
    _write(row, question)
    row.save()
    log.append(venue=venue, by=by, kind="scenario_added", facts=_facts(lesson, row), at=at)
    return row


@transaction.atomic
def change_question(
    *, by: Membership, scenario: Scenario, question: Question, at: dt.datetime
) -> bool:
    """Whether that changed it. Changed, it is a new question: nobody has answered it yet."""
    venue = _lock(by)
    _refuse_odd(question)
    row = Scenario.objects.select_related("lesson__module").get(pk=scenario.pk)
    if question_of(row) == question:
        return False
    _write(row, question)
    row.save()
    log.append(venue=venue, by=by, kind="scenario_changed", facts=_facts(row.lesson, row), at=at)
    return True


@transaction.atomic
def remove_question(*, by: Membership, scenario: Scenario, at: dt.datetime) -> None:
    """It is asked no more. Quizzes that asked it keep it as it was asked."""
    venue = _lock(by)
    row = Scenario.objects.select_related("lesson__module").get(pk=scenario.pk)
    _refuse_empty_gate(row.lesson, losing=1)
    row.delete()
    facts = _facts(row.lesson, row)
    log.append(venue=venue, by=by, kind="scenario_removed", facts=facts, at=at)


def question_of(row: Scenario) -> Question:
    return Question(
        question=row.question, choices=tuple(row.choices), right=row.right, why=row.why,
        critical=row.critical,
    )  # fmt: skip


def _lock(by: Membership) -> Venue:
    return Venue.objects.select_for_update(no_key=True).get(pk=by.venue_id)


def _fresh(lesson: Lesson) -> Lesson:
    return Lesson.objects.select_related("module").get(pk=lesson.pk)


def _last_place(module: Module) -> int:
    last = module.lessons.order_by("-position").first()
    return last.position + 1 if last else 1


def _facts(lesson: Lesson, scenario: Scenario | None = None) -> dict[str, object]:
    facts: dict[str, object] = {"module": lesson.module.slug, "lesson": lesson.slug}
    return {**facts, "question": scenario.slug} if scenario else facts


def _question_slug(venue: Venue, question: str) -> str:
    """Of its first words: an address has no room for all of them."""
    return free_slug(Scenario, venue, " ".join(question.split()[:6]), "question")


def _write(row: Scenario, question: Question) -> None:
    row.question, row.choices = question.question, list(question.choices)
    row.right, row.critical, row.why = question.right, question.critical, question.why


def _refuse_odd(question: Question) -> None:
    choices = question.choices
    if len(choices) < FEWEST_CHOICES:
        raise refuse("too_few_choices", "choices", fewest=FEWEST_CHOICES)
    if len(choices) > MOST_CHOICES:
        raise refuse("too_many_choices", "choices", most=MOST_CHOICES)
    if len({fold(choice) for choice in choices}) < len(choices):
        raise refuse("choice_twice", "choices")
    if not 0 <= question.right < len(choices):
        raise refuse("no_such_choice", "right", choices=len(choices))


def _refuse_empty_gate(lesson: Lesson, losing: int) -> None:
    """Nobody could pass a gate that has nothing to ask about."""
    module = lesson.module
    if not losing or not module.is_gate or module.recipes.exists():
        return
    if Scenario.objects.of_module(module).count() <= losing:
        raise refuse("last_of_a_gate", module=module.name)
