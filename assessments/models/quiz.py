"""Quizzes as they were asked and answered."""

from __future__ import annotations

import datetime as dt
from collections.abc import Iterable
from typing import Self

from django.db import models
from django.utils.translation import gettext_lazy as _

from assessments.models.begun import BegunQuerySet
from assessments.models.sheet import Drill, QuizSheet
from barcourse.people.codes import new_code
from barcourse.people.models import Membership, Venue
from barcourse.people.sealed import AppendOnlyModel, SealedModel, SealedQuerySet
from recipes.models import Module, Recipe, Revision, RulesVersion

WOULD_ASK = -1
"""The answer "I'd ask": always there, neither right nor wrong."""


class Quiz(models.Model):
    """One quiz of one hire. Plan and seed give the same items again.

    It is on one `module`, or by a trainer's `sheet`, or for a `drill`, or a try-out; `name` is
    what it was called where it is not on one module alone. From `ends_at` on it takes no answer.
    """

    venue = models.ForeignKey(Venue, models.PROTECT, related_name="quizzes")
    code = models.CharField(max_length=20, unique=True, default=new_code, editable=False)
    hire = models.ForeignKey(Membership, models.PROTECT, related_name="quizzes")
    module = models.ForeignKey(
        Module, models.PROTECT, null=True, blank=True, related_name="quizzes"
    )
    sheet = models.ForeignKey(
        QuizSheet, models.PROTECT, null=True, blank=True, related_name="quizzes"
    )
    drill = models.ForeignKey(Drill, models.PROTECT, null=True, blank=True, related_name="quizzes")
    name = models.CharField(max_length=120, blank=True)
    rules_version = models.ForeignKey(RulesVersion, models.PROTECT, related_name="+")
    seed = models.BigIntegerField()
    plan = models.JSONField()
    pass_mark = models.PositiveSmallIntegerField()
    started_at = models.DateTimeField()
    ends_at = models.DateTimeField(null=True, blank=True)
    finished_at = models.DateTimeField(null=True, blank=True)

    objects = BegunQuerySet["Quiz"].as_manager()

    class Meta:
        constraints = (
            # Two open quizzes on one module would let a hire look one up in the other.
            models.UniqueConstraint(
                name="one_open_quiz_a_module",
                fields=("hire", "module"),
                condition=models.Q(finished_at__isnull=True),
            ),
            models.UniqueConstraint(
                name="one_open_quiz_a_sheet",
                fields=("hire", "sheet"),
                condition=models.Q(finished_at__isnull=True),
            ),
            models.UniqueConstraint(
                name="one_open_quiz_a_drill",
                fields=("hire", "drill"),
                condition=models.Q(finished_at__isnull=True),
            ),
        )

    def __str__(self) -> str:
        return self.code

    @property
    def title(self) -> str:
        """What the quiz is called on screen."""
        return self.name or (self.module.name if self.module else "")

    @property
    def is_try_out(self) -> bool:
        """Nobody passes or fails one."""
        return getattr(self, "try_out", None) is not None

    def is_over(self, at: dt.datetime) -> bool:
        """Whether its time had run out by then."""
        return self.ends_at is not None and at > self.ends_at


class Item(AppendOnlyModel):
    """One question as asked: `asked` holds prompt, choices in order and the right one.

    `build` is the print of the drink's build at that moment (see `prints`), empty for a situation;
    `choices` is how many there were. Both stand in `asked` too: as columns they let the board be
    drawn without reading every question.
    """

    venue = models.ForeignKey(Venue, models.PROTECT, related_name="+")
    quiz = models.ForeignKey(Quiz, models.PROTECT, related_name="items")
    position = models.PositiveSmallIntegerField()
    kind = models.CharField(max_length=20)
    asked = models.JSONField()
    recipe = models.ForeignKey(Recipe, models.PROTECT, null=True, blank=True, related_name="+")
    revision = models.ForeignKey(Revision, models.PROTECT, null=True, blank=True, related_name="+")
    build = models.CharField(max_length=32, blank=True)
    choices = models.PositiveSmallIntegerField()
    critical = models.BooleanField(default=False)

    class Meta:
        ordering = ("position",)
        constraints = (
            models.UniqueConstraint(name="one_item_a_position", fields=("quiz", "position")),
        )

    def __str__(self) -> str:
        return f"{self.quiz_id}.{self.position}"


class Came(models.TextChoices):
    """What an answer is worth; `measures.quiz.outcome` says which."""

    RIGHT = "right", _("right")
    ASK = "ask", _("would ask")
    WRONG = "wrong", _("wrong")


class AnswerQuerySet(SealedQuerySet["Answer"]):
    def of(self, *hires: Membership) -> Self:
        return self.filter(item__quiz__hire__in=hires)

    def until(self, at: dt.datetime) -> Self:
        return self.filter(at__lte=at)

    def to_kinds(self, kinds: Iterable[str]) -> Self:
        return self.filter(item__kind__in=kinds)

    def in_try_outs(self) -> Self:
        """In those that are over."""
        return self.filter(item__quiz__try_out__finished_at__isnull=False)

    def in_time(self) -> Self:
        """Without what was left open when a quiz's time was up: it shows nothing."""
        late = models.Q(item__quiz__ends_at__isnull=False, at__gte=models.F("item__quiz__ends_at"))
        return self.exclude(late)


class Answer(AppendOnlyModel):
    """What was answered, once; `milliseconds` is what the server saw pass.

    `said` holds the choices of an item that takes several, in the order in which its kind reads
    them; `choice` is then 0, or -1 for "I'd ask".
    """

    venue = models.ForeignKey(Venue, models.PROTECT, related_name="+")
    item = models.OneToOneField(Item, models.PROTECT, related_name="answer")
    choice = models.SmallIntegerField()
    said = models.JSONField(null=True, blank=True)
    came = models.CharField(max_length=5, choices=Came)
    milliseconds = models.PositiveIntegerField(null=True, blank=True)
    at = models.DateTimeField()

    objects = AnswerQuerySet.as_manager()  # type: ignore[misc]  # the base has its own

    class Meta:
        constraints = (
            models.CheckConstraint(
                name="answer_is_a_choice_or_would_ask",
                condition=models.Q(choice__gte=WOULD_ASK),
            ),
        )

    def __str__(self) -> str:
        return f"{self.item_id}: {self.choice}"

    @property
    def is_in_time(self) -> bool:
        """False for what was left open when the quiz's time was up, as in `in_time`."""
        ends = self.item.quiz.ends_at
        return ends is None or self.at < ends

    @property
    def given(self) -> int | tuple[int, ...]:
        """The answer as the measures read it."""
        return self.choice if self.said is None else tuple(self.said)


class QuizResultQuerySet(SealedQuerySet["QuizResult"]):
    def of(self, *hires: Membership) -> Self:
        return self.filter(hire__in=hires)

    def until(self, at: dt.datetime) -> Self:
        return self.filter(at__lte=at)

    def on(self, modules: Iterable[Module]) -> Self:
        return self.filter(module__in=modules)

    def by_sheets(self, sheets: Iterable[int]) -> Self:
        return self.filter(quiz__sheet__in=sheets)

    def newest_first(self) -> Self:
        return self.order_by("-at", "-pk")

    def with_left_open(self) -> Self:
        """With how many questions (`left_open`) had no answer when the time was up."""
        late = models.Q(quiz__items__answer__at__gte=models.F("quiz__ends_at"))
        return self.annotate(left_open=models.Count("quiz__items", filter=late))


class QuizResult(SealedModel):
    """How a quiz ended. `answers_digest` is a fingerprint of whose quiz it was, on what, and of
    every item and answer in it (see `quizzes_whole`). What was left open when the time was up is
    among `would_ask`; read it `with_left_open` to tell the two apart."""

    left_open: int

    venue = models.ForeignKey(Venue, models.PROTECT, related_name="quiz_results")
    quiz = models.OneToOneField(Quiz, models.PROTECT, related_name="result")
    hire = models.ForeignKey(Membership, models.PROTECT, related_name="quiz_results")
    module = models.ForeignKey(
        Module, models.PROTECT, null=True, blank=True, related_name="quiz_results"
    )
    right = models.PositiveSmallIntegerField()
    would_ask = models.PositiveSmallIntegerField()
    wrong = models.PositiveSmallIntegerField()
    passed = models.BooleanField()
    answers_digest = models.CharField(max_length=32)
    at = models.DateTimeField()

    objects = QuizResultQuerySet.as_manager()  # type: ignore[misc]  # the base has its own

    def __str__(self) -> str:
        return f"{self.quiz_id}: {self.right} right"

    @property
    def asked(self) -> int:
        """What somebody said that they would ask about."""
        return self.would_ask - self.left_open
