"""What somebody practised by calls: every run with an answer in it, finished or not, since each
answer counts from the moment it was given."""

from __future__ import annotations

import datetime as dt
from collections.abc import Sequence
from dataclasses import dataclass

from django.db.models import Count, Max, Q, Sum
from django.utils.translation import gettext as _
from django.utils.translation import ngettext

from assessments.models import CallRun
from assessments.models.quiz import Came
from barcourse.people.models import Membership


@dataclass(frozen=True)
class Counts:
    """Calls, not drinks: a round is as good as its worst drink."""

    right: int
    ask: int
    wrong: int

    @property
    def words(self) -> str:
        return _("%(right)s right, %(ask)s asked, %(wrong)s wrong") % vars(self)


@dataclass(frozen=True)
class RunDone:
    """`at` is its last answer, `seconds` what its answers took together, None where that of one
    isn't known; `left` are the calls without one."""

    run: CallRun
    at: dt.datetime
    counts: Counts
    left: int
    seconds: int | None

    @property
    def minutes(self) -> int | None:
        """Begun ones count as whole."""
        return None if self.seconds is None else max(1, -(-self.seconds // 60))

    @property
    def stands(self) -> str:
        """What became of the calls without an answer; empty where there are none."""
        if not self.left:
            return ""
        if self.run.finished_at is None:
            return ngettext("%(n)s still open", "%(n)s still open", self.left) % {"n": self.left}
        return ngettext("%(n)s not answered", "%(n)s not answered", self.left) % {"n": self.left}


def runs_done(person: Membership) -> list[RunDone]:
    """The newest first."""

    def came(outcome: Came) -> Count:
        return Count("calls__answer", filter=Q(calls__answer__came=outcome))

    rows = CallRun.objects.of(person).annotate(
        n_right=came(Came.RIGHT), n_ask=came(Came.ASK), n_wrong=came(Came.WRONG),
        n_calls=Count("calls"), n_answers=Count("calls__answer"),
        n_timed=Count("calls__answer__milliseconds"), took=Sum("calls__answer__milliseconds"),
        last=Max("calls__answer__at"),
    )  # fmt: skip
    return [
        RunDone(
            run=row,
            at=row.last,
            counts=Counts(row.n_right, row.n_ask, row.n_wrong),
            left=row.n_calls - row.n_answers,
            seconds=round(row.took / 1000) if row.n_timed == row.n_answers else None,
        )
        for row in rows.filter(n_answers__gt=0).order_by("-last", "-pk")
    ]


def in_all(done: Sequence[RunDone]) -> Counts:
    return Counts(
        sum(d.counts.right for d in done),
        sum(d.counts.ask for d in done),
        sum(d.counts.wrong for d in done),
    )
