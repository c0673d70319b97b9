"""What others say to a record: the hire's answer, a second trainer's marks, what a person decided.
All sealed; words lie where they can be erased."""

from __future__ import annotations

from typing import Self

from django.db import models
from django.utils.translation import gettext_lazy as _

from assessments.measures.stuck import Plan
from assessments.models.heard import not_settled_by_a_void
from assessments.models.watch import WatchedBuild
from barcourse.people.models import Membership, Venue
from barcourse.people.sealed import SealedModel, SealedQuerySet
from recipes.models import Recipe


class ReplyQuerySet(SealedQuerySet["Reply"]):
    def in_house(self, venue: Venue) -> Self:
        return self.filter(venue=venue)

    def disagreeing(self) -> Self:
        """Those that nobody has settled, by their word or by a void."""
        open_ones = self.filter(disagrees=True, settled__isnull=True)
        return open_ones.filter(not_settled_by_a_void("watched"))

    def to(self, watched: WatchedBuild) -> Self:
        return self.filter(watched=watched)

    def of(self, hire: Membership) -> Self:
        return self.filter(hire=hire)

    def with_all(self) -> Self:
        """With what they are about, voided or not, and who settled them; oldest first."""
        rows = self.select_related(
            "watched__recipe", "watched__void__by__person", "settled__by__person"
        )
        return rows.order_by("at", "pk")


class Reply(SealedModel):
    """What a hire says to a watched build of theirs, once."""

    venue = models.ForeignKey(Venue, models.PROTECT, related_name="replies")
    watched = models.OneToOneField(WatchedBuild, models.PROTECT, related_name="reply")
    hire = models.ForeignKey(Membership, models.PROTECT, related_name="replies")
    disagrees = models.BooleanField()
    text_code = models.CharField(max_length=20)
    at = models.DateTimeField()

    objects = ReplyQuerySet.as_manager()  # type: ignore[misc]  # the base has its own

    def __str__(self) -> str:
        return f"reply to {self.watched_id}"


class Settled(SealedModel):
    """A manager has heard both: the record stands, or stays void where it was by then. A void
    settles the answer too, where it is a manager's (`heard`)."""

    venue = models.ForeignKey(Venue, models.PROTECT, related_name="+")
    reply = models.OneToOneField(Reply, models.PROTECT, related_name="settled")
    by = models.ForeignKey(Membership, models.PROTECT, related_name="+")
    at = models.DateTimeField()

    def __str__(self) -> str:
        return f"settled {self.reply_id}"


class SecondMarkQuerySet(SealedQuerySet["SecondMark"]):
    def in_house(self, venue: Venue) -> Self:
        return self.filter(venue=venue)

    def with_builds(self) -> Self:
        return self.select_related("watched").order_by("at", "pk")

    def with_people(self) -> Self:
        return self.select_related(
            "by__person", "watched__recipe", "watched__hire__person", "watched__trainer__person"
        )

    def newest_first(self) -> Self:
        return self.order_by("-at", "-pk")


class SecondMark(SealedModel):
    """What a second trainer marked at the same build, without seeing the first one's marks.

    It changes nothing about the hire's record: it says how far two trainers see the same.
    """

    venue = models.ForeignKey(Venue, models.PROTECT, related_name="second_marks")
    watched = models.OneToOneField(WatchedBuild, models.PROTECT, related_name="second_mark")
    by = models.ForeignKey(Membership, models.PROTECT, related_name="second_marks")
    off = models.JSONField(default=list)
    at = models.DateTimeField()

    objects = SecondMarkQuerySet.as_manager()  # type: ignore[misc]  # the base has its own

    def __str__(self) -> str:
        return f"second mark of {self.watched_id}"


class MarksSeen(SealedModel):
    """Somebody opened the first marks of a build before giving their own: the second look at it is
    no longer theirs."""

    venue = models.ForeignKey(Venue, models.PROTECT, related_name="+")
    watched = models.ForeignKey(WatchedBuild, models.PROTECT, related_name="marks_seen")
    by = models.ForeignKey(Membership, models.PROTECT, related_name="+")
    at = models.DateTimeField()

    class Meta:
        constraints = (models.UniqueConstraint(name="marks_seen_once", fields=("watched", "by")),)

    def __str__(self) -> str:
        return f"{self.by_id} saw {self.watched_id}"


class PlanChoice(models.TextChoices):
    """What may come after fails; the words of `measures.stuck.Plan`."""

    SHOW = Plan.SHOW.value, _("show it once more, slowly, step by step")
    ONE_STEP = Plan.ONE_STEP.value, _("practise the one step alone, then the whole drink")
    STUDY = Plan.STUDY.value, _("cards and a quiz on the drink first")
    STATION = Plan.STATION.value, _("another station for now")


class PlanDecidedQuerySet(SealedQuerySet["PlanDecided"]):
    def in_house(self, venue: Venue) -> Self:
        return self.filter(venue=venue)

    def of(self, hire: Membership) -> Self:
        return self.filter(hire=hire)

    def about(self, recipe: Recipe) -> Self:
        return self.filter(recipe=recipe)

    def newest_last(self) -> Self:
        return self.select_related("by__person", "recipe").order_by("at", "pk")


class PlanDecided(SealedModel):
    """How a person goes on with somebody who failed one drink three times running."""

    venue = models.ForeignKey(Venue, models.PROTECT, related_name="plans")
    hire = models.ForeignKey(Membership, models.PROTECT, related_name="plans")
    recipe = models.ForeignKey(Recipe, models.PROTECT, related_name="+")
    plan = models.CharField(max_length=8, choices=PlanChoice)
    by = models.ForeignKey(Membership, models.PROTECT, related_name="+")
    at = models.DateTimeField()

    objects = PlanDecidedQuerySet.as_manager()  # type: ignore[misc]  # the base has its own

    def __str__(self) -> str:
        return f"{self.plan} for {self.hire_id}"


class HandedOverQuerySet(SealedQuerySet["HandedOver"]):
    def of_build(self, watched: WatchedBuild) -> Self:
        return self.filter(watched=watched)


class HandedOver(SealedModel):
    """A passed build that was never signed because its trainer left: `to` watches it once more.
    Nobody signs what they haven't seen."""

    venue = models.ForeignKey(Venue, models.PROTECT, related_name="handed_over")
    watched = models.OneToOneField(WatchedBuild, models.PROTECT, related_name="handed_over")
    to = models.ForeignKey(Membership, models.PROTECT, related_name="taken_over")
    by = models.ForeignKey(Membership, models.PROTECT, related_name="+")
    at = models.DateTimeField()

    objects = HandedOverQuerySet.as_manager()  # type: ignore[misc]  # the base has its own

    def __str__(self) -> str:
        return f"{self.watched_id} to {self.to_id}"
