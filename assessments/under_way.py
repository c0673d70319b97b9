"""What a hire is in the middle of: whatever was begun and not finished, of every kind, so that a
closed tab, a dead phone or a session that has ended never hides it."""

from __future__ import annotations

import datetime as dt
from dataclasses import dataclass

from django.urls import reverse
from django.utils.translation import gettext_lazy as _

from assessments.models import CallRun, Quiz
from barcourse.people.models import Membership
from recipes.call_reader_shut import InTheMiddle


@dataclass(frozen=True)
class UnderWay:
    """One thing begun: exactly one of the two is set. The page of either goes on where it was;
    where its time was up by then (`is_over`), nothing is left but to see the result."""

    started_at: dt.datetime
    is_over: bool
    quiz: Quiz | None = None
    calls: CallRun | None = None

    @property
    def ends_at(self) -> dt.datetime | None:
        """When its time is up; None where it waits as long as it takes."""
        begun = self.quiz or self.calls
        return begun.ends_at if begun else None


def under_way(hire: Membership, at: dt.datetime) -> list[UnderWay]:
    """The newest first; a quiz of a plan out of use among them, and at the end what has its time
    up, until the result was seen."""
    quizzes = Quiz.objects.of(hire).open().select_related("module")
    begun = [UnderWay(q.started_at, q.is_over(at), quiz=q) for q in quizzes.newest_first()]
    runs = CallRun.objects.of(hire).open()
    begun += [UnderWay(r.started_at, r.is_over(at), calls=r) for r in runs]
    newest_first = sorted(begun, key=lambda b: b.started_at, reverse=True)
    return sorted(newest_first, key=lambda b: b.is_over)


def being_asked(hire: Membership, at: dt.datetime) -> InTheMiddle | None:
    """The newest quiz or run of calls that takes answers: nothing is read aloud to it meanwhile."""
    begun = next((b for b in under_way(hire, at) if not b.is_over), None)
    if begun is None:
        return None
    house = hire.venue.slug
    if begun.quiz:
        says = _("You are in the middle of a quiz: it goes on there. Lessons stay open.")
        return InTheMiddle(says, reverse("quiz", kwargs={"house": house, "code": begun.quiz.code}))
    return _practising(begun.calls) if begun.calls else None


def in_a_rush(hire: Membership, at: dt.datetime) -> InTheMiddle | None:
    """A rush that takes answers: against the clock nobody turns cards. It is over by itself."""
    rushes = (run for run in CallRun.objects.of(hire).open() if run.is_rush)
    return next((_practising(run) for run in rushes if not run.is_over(at)), None)


def _practising(run: CallRun) -> InTheMiddle:
    says = _("You are in the middle of call practice: it goes on there. Lessons stay open.")
    where = {"house": run.venue.slug, "code": run.code}
    return InTheMiddle(says, reverse("call_run", kwargs=where))
