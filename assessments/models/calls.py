"""Calls as they were practised: what was heard, what was built of it, what came of it."""

from __future__ import annotations

import datetime as dt
from typing import Self

from django.db import models
from django.utils.translation import gettext_lazy as _

from assessments.models.begun import BegunQuerySet
from assessments.models.quiz import Came
from barcourse.people.codes import new_code
from barcourse.people.models import Membership, Venue
from barcourse.people.sealed import AppendOnlyModel, SealedModel, SealedQuerySet
from recipes.models import Recipe, RulesVersion


class RunKind(models.TextChoices):
    """A `measures.call_writing.CallKind`."""

    SINGLE = "single", _("one drink at a time")
    ROUND = "round", _("whole rounds")
    RUSH = "rush", _("a rush of twenty")


RUSH_LASTS = dt.timedelta(minutes=30)
"""From then on a rush takes no answer: a minute and a half a call, where a hire who is new to it
takes a third of that (our own number, no source)."""


class CallRun(models.Model):
    """Some calls in a row for one hire. The seed never leaves the server: with it and the menu of
    the moment the same calls can be made again. From `ends_at` on it takes no answer."""

    venue = models.ForeignKey(Venue, models.PROTECT, related_name="+")
    code = models.CharField(max_length=20, unique=True, default=new_code, editable=False)
    hire = models.ForeignKey(Membership, models.PROTECT, related_name="call_runs")
    kind = models.CharField(max_length=6, choices=RunKind)
    rules_version = models.ForeignKey(RulesVersion, models.PROTECT, related_name="+")
    seed = models.BigIntegerField()
    started_at = models.DateTimeField()
    finished_at = models.DateTimeField(null=True, blank=True)

    objects = BegunQuerySet["CallRun"].as_manager()

    class Meta:
        constraints = (
            models.UniqueConstraint(
                name="one_open_run_a_kind",
                fields=("hire", "kind"),
                condition=models.Q(finished_at__isnull=True),
            ),
        )

    def __str__(self) -> str:
        return self.code

    @property
    def is_rush(self) -> bool:
        return self.kind == RunKind.RUSH

    @property
    def ends_at(self) -> dt.datetime | None:
        """When its time is up; None where it waits as long as it takes."""
        return self.started_at + RUSH_LASTS if self.is_rush else None

    def is_over(self, at: dt.datetime) -> bool:
        """Whether its time had run out by then."""
        return self.ends_at is not None and at > self.ends_at

    @property
    def last_heard_of(self) -> dt.datetime:
        """When it was answered last, or begun."""
        last = self.calls.aggregate(at=models.Max("answer__at"))["at"]
        return last or self.started_at


class Call(AppendOnlyModel):
    """One call as it was put to somebody: `asked` is a `measures.call_writing.CallAsked`."""

    venue = models.ForeignKey(Venue, models.PROTECT, related_name="+")
    run = models.ForeignKey(CallRun, models.PROTECT, related_name="calls")
    position = models.PositiveSmallIntegerField()
    asked = models.JSONField()

    class Meta:
        ordering = ("position",)
        constraints = (
            models.UniqueConstraint(name="one_call_a_position", fields=("run", "position")),
        )

    def __str__(self) -> str:
        return f"{self.run_id}.{self.position}"


class CallAnswer(AppendOnlyModel):
    """What was built of a call, once; `milliseconds` is what the server saw pass.

    `said` is a list of one entry a drink: {"parts": [indexes or null], "ask": [...], "count": n}
    (no count in the first ones), or null where somebody would ask a colleague.
    """

    venue = models.ForeignKey(Venue, models.PROTECT, related_name="+")
    call = models.OneToOneField(Call, models.PROTECT, related_name="answer")
    said = models.JSONField()
    came = models.CharField(max_length=5, choices=Came)
    milliseconds = models.PositiveIntegerField(null=True, blank=True)
    at = models.DateTimeField()

    def __str__(self) -> str:
        return f"{self.call_id}: {self.came}"


class CallMarkQuerySet(SealedQuerySet["CallMark"]):
    def of(self, *hires: Membership) -> Self:
        return self.filter(hire__in=hires)

    def until(self, at: dt.datetime) -> Self:
        return self.filter(at__lte=at)

    def since(self, at: dt.datetime) -> Self:
        return self.filter(at__gte=at)


class CallMark(AppendOnlyModel):
    """How one drink of a call was built, as the server marked it: what was asked back and every
    part, but not how many were heard, which says nothing about the drink.

    `build` is the print of the build as called: where it is that of the recipe today, the mark is
    evidence on it; a double or a drink without ice is another build. `ways` is how many answers
    there were to guess among, `aspects` {aspect: came}, `mixed_up_with` the drink that was built
    instead, by slug, or empty.
    """

    venue = models.ForeignKey(Venue, models.PROTECT, related_name="+")
    hire = models.ForeignKey(Membership, models.PROTECT, related_name="call_marks")
    answer = models.ForeignKey(CallAnswer, models.PROTECT, related_name="marks")
    number = models.PositiveSmallIntegerField()
    recipe = models.ForeignKey(Recipe, models.PROTECT, null=True, blank=True, related_name="+")
    build = models.CharField(max_length=32, blank=True)
    came = models.CharField(max_length=5, choices=Came)
    ways = models.PositiveSmallIntegerField()
    aspects = models.JSONField()
    mixed_up_with = models.CharField(max_length=80, blank=True)
    at = models.DateTimeField()

    objects = CallMarkQuerySet.as_manager()  # type: ignore[misc]  # the base has its own

    class Meta:
        indexes = (models.Index(fields=("hire", "at")),)
        constraints = (
            models.UniqueConstraint(name="one_mark_a_called_drink", fields=("answer", "number")),
        )

    def __str__(self) -> str:
        return f"{self.answer_id}.{self.number}: {self.came}"


class CallResultQuerySet(SealedQuerySet["CallResult"]):
    def of(self, *hires: Membership) -> Self:
        return self.filter(hire__in=hires)

    def newest_first(self) -> Self:
        return self.order_by("-at", "-pk")

    def with_unanswered(self) -> Self:
        """Each with how many of its calls nobody answered before its time was up."""
        answered = models.F("right") + models.F("would_ask") + models.F("wrong")
        left = models.Count("run__calls") - answered
        return self.annotate(
            unanswered=models.ExpressionWrapper(left, output_field=models.IntegerField())
        )


class CallResult(SealedModel):
    """How a run of calls ended: `right`, `would_ask` and `wrong` are all that was answered.
    `seconds` is the time of its answers together, null where one of them has none;
    `answers_digest` a fingerprint of every call and answer (see `calls_whole`)."""

    venue = models.ForeignKey(Venue, models.PROTECT, related_name="call_results")
    run = models.OneToOneField(CallRun, models.PROTECT, related_name="result")
    hire = models.ForeignKey(Membership, models.PROTECT, related_name="call_results")
    right = models.PositiveSmallIntegerField()
    would_ask = models.PositiveSmallIntegerField()
    wrong = models.PositiveSmallIntegerField()
    seconds = models.PositiveIntegerField(null=True, blank=True)
    answers_digest = models.CharField(max_length=32)
    at = models.DateTimeField()

    objects = CallResultQuerySet.as_manager()  # type: ignore[misc]  # the base has its own

    def __str__(self) -> str:
        return f"{self.run_id}: {self.right} right"
