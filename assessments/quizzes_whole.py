"""Do finished quizzes still fit their sealed results? Items and answers have no entry in the log
of their own: the result's digest, which the log knows, stands for all of them."""

from __future__ import annotations

import datetime as dt
from collections.abc import Iterable, Iterator
from itertools import groupby
from operator import attrgetter

from assessments.models import Answer, Item, Quiz, QuizResult
from barcourse.people.models import Venue
from barcourse.people.reasons import Reason
from recipes.grammar.aspects import fingerprint


def digest_of(quiz: Quiz, rows: Iterable[Item]) -> str:
    """Whose quiz, on which module, by which pass mark, and in order every item as asked with its
    answer. Give it rows as read from the database, each with its answer."""
    return fingerprint(
        [quiz.code, quiz.hire_id, quiz.module_id, quiz.pass_mark, [_plain(row) for row in rows]]
    )


def _plain(row: Item) -> list[object]:
    answer: Answer = row.answer
    return [
        row.position, row.kind, row.asked, row.recipe_id, row.revision_id, row.build, row.choices,
        row.critical, answer.choice, answer.came, answer.milliseconds,
        answer.at.astimezone(dt.UTC).isoformat(timespec="microseconds"),
        *([] if answer.said is None else [answer.said]),
    ]  # fmt: skip


def find(venue: Venue) -> list[Reason]:
    """Every quiz of the house that doesn't fit its result, in three queries."""
    results = QuizResult.objects.filter(venue=venue).select_related("quiz").order_by("quiz_id")
    rows = Item.objects.filter(venue=venue, quiz__result__isnull=False).select_related("answer")
    in_order = rows.order_by("quiz_id", "position").iterator(chunk_size=2000)
    found = [*_unfit(results.iterator(chunk_size=2000), groupby(in_order, attrgetter("quiz_id")))]
    bare = Quiz.objects.filter(venue=venue, finished_at__isnull=False, result__isnull=True)
    return found + [Reason.of("quiz_without_result", quiz=q.code) for q in bare.order_by("pk")]


def _unfit(
    results: Iterable[QuizResult], by_quiz: Iterator[tuple[int, Iterator[Item]]]
) -> Iterator[Reason]:
    """Both come in the order of their quizzes; a quiz without an item has no group."""
    nothing: tuple[int, Iterator[Item]] = (0, iter(()))
    number, items = next(by_quiz, nothing)
    for result in results:
        while number and number < result.quiz_id:
            number, items = next(by_quiz, nothing)
        rows = list(items) if number == result.quiz_id else []
        if not rows or not all(hasattr(row, "answer") for row in rows):
            yield Reason.of("quiz_answers_missing", quiz=result.quiz.code)
        elif digest_of(result.quiz, rows) != result.answers_digest:
            yield Reason.of("quiz_changed", quiz=result.quiz.code)
