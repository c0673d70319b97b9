"""Quizzes whose time is up and that nobody has closed yet: what was answered is told of wherever
results are, and opening a page writes nothing."""

from __future__ import annotations

import datetime as dt
from dataclasses import dataclass

from django.db.models import Count, Q, QuerySet

from assessments.models import Quiz
from assessments.models.quiz import Came
from barcourse.people.models import Membership, Venue


@dataclass(frozen=True)
class RunOut:
    """Questions by what came of them; `left` have no answer and never get one."""

    quiz: Quiz
    right: int
    ask: int
    wrong: int
    left: int
    hire: Membership | None = None
    """Where quizzes of several people stand in one list."""


def run_out_of(hire: Membership, at: dt.datetime) -> list[RunOut]:
    """The newest first."""
    return [_told(q) for q in _counted(Quiz.objects.of(hire)) if q.is_over(at)]


def run_out_in(venue: Venue, at: dt.datetime) -> list[RunOut]:
    """Planned quizzes and try-outs of everybody in the house, the newest first."""
    rows = _counted(Quiz.objects.in_house(venue)).select_related("hire__person")
    return [_told(q, q.hire) for q in rows if q.is_over(at)]


def _counted(quizzes: QuerySet[Quiz]) -> QuerySet[Quiz]:
    def came(outcome: Came) -> Count:
        return Count("items__answer", filter=Q(items__answer__came=outcome))

    rows = quizzes.filter(finished_at__isnull=True, ends_at__isnull=False)
    counted = rows.annotate(
        n_right=came(Came.RIGHT), n_ask=came(Came.ASK), n_wrong=came(Came.WRONG),
        n_items=Count("items"),
    )  # fmt: skip
    return counted.select_related("module").order_by("-ends_at", "-pk")


def _told(quiz: Quiz, hire: Membership | None = None) -> RunOut:
    counts: dict[str, int] = vars(quiz)
    right, ask, wrong = (counts[name] for name in ("n_right", "n_ask", "n_wrong"))
    return RunOut(quiz, right, ask, wrong, counts["n_items"] - right - ask - wrong, hire)
