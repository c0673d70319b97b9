"""What was put on record about hands and no longer counts. Sealed: the row itself stays."""

from __future__ import annotations

from django.db import models

from assessments.models.kinds import OF_HANDS, any_of
from assessments.models.practical import PaceCheck, PourCheck, SpotMark, WatchedRound
from barcourse.people.models import Membership, Venue
from barcourse.people.sealed import SealedModel


class TakenBack(SealedModel):
    """One row about a hire's hands no longer counts, from `at` on. The reason is kept in words that
    can be erased; `reason_code` names them. Of one row there is one at most."""

    venue = models.ForeignKey(Venue, models.PROTECT, related_name="+")
    spot = models.OneToOneField(
        SpotMark, models.PROTECT, null=True, blank=True, related_name="void"
    )
    pours = models.OneToOneField(
        PourCheck, models.PROTECT, null=True, blank=True, related_name="void"
    )
    pace = models.OneToOneField(
        PaceCheck, models.PROTECT, null=True, blank=True, related_name="void"
    )
    round = models.OneToOneField(
        WatchedRound, models.PROTECT, null=True, blank=True, related_name="void"
    )
    hire = models.ForeignKey(Membership, models.PROTECT, related_name="+")
    by = models.ForeignKey(Membership, models.PROTECT, related_name="+")
    reason_code = models.CharField(max_length=20)
    at = models.DateTimeField()

    class Meta:
        constraints = (
            models.CheckConstraint(name="something_is_taken_back", condition=any_of(OF_HANDS)),
            models.CheckConstraint(
                name="nobody_takes_back_their_own", condition=~models.Q(hire=models.F("by"))
            ),
        )

    def __str__(self) -> str:
        return f"taken back by {self.by_id}: {self.reason_code}"
