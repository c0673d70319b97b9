"""Do finished runs of calls still fit their sealed results? As quizzes do (`quizzes_whole`): the
result's digest, which the log knows, stands for every call and answer."""

from __future__ import annotations

import datetime as dt
from collections import defaultdict
from collections.abc import Iterable, Iterator

from assessments.models import Call, CallResult, CallRun
from barcourse.people.models import Venue
from barcourse.people.reasons import Reason
from recipes.grammar.aspects import fingerprint


def digest_of(run: CallRun, rows: Iterable[Call]) -> str:
    """Whose run, of which kind, and in order every call with its answer and its marks, or with none
    where its time was up before. Give it rows as read from the database."""
    return fingerprint([run.code, run.hire_id, run.kind, [_plain(row) for row in rows]])


def is_answered(row: Call) -> bool:
    return hasattr(row, "answer")


def _plain(row: Call) -> list[object]:
    if not is_answered(row):
        return [row.position, row.asked, None]
    answer = row.answer
    marks = [
        [m.number, m.recipe_id, m.build, m.came, m.ways, m.aspects, m.mixed_up_with]
        for m in sorted(answer.marks.all(), key=lambda m: m.number)
    ]
    at = answer.at.astimezone(dt.UTC).isoformat(timespec="microseconds")
    return [row.position, row.asked, answer.said, answer.came, answer.milliseconds, at, marks]


def find(venue: Venue) -> list[Reason]:
    """Every run of the house that doesn't fit its result."""
    results = CallResult.objects.filter(venue=venue).select_related("run").order_by("run_id")
    rows = Call.objects.filter(venue=venue, run__result__isnull=False)
    of_run: dict[int, list[Call]] = defaultdict(list)
    for row in rows.select_related("answer").prefetch_related("answer__marks"):
        of_run[row.run_id].append(row)
    bare = CallRun.objects.filter(venue=venue, finished_at__isnull=False, result__isnull=True)
    missing = [Reason.of("calls_without_result", run=r.code) for r in bare.order_by("pk")]
    return [*_unfit(results, of_run), *missing]


def _unfit(results: Iterable[CallResult], of_run: dict[int, list[Call]]) -> Iterator[Reason]:
    """How many were answered stands in the result itself: a rush may end before its last call."""
    for result in results:
        rows = of_run[result.run_id]
        counted = result.right + result.would_ask + result.wrong
        if not rows or sum(map(is_answered, rows)) < counted:
            yield Reason.of("call_answers_missing", run=result.run.code)
        elif digest_of(result.run, rows) != result.answers_digest:
            yield Reason.of("calls_changed", run=result.run.code)
