from __future__ import annotations

import datetime as dt
from collections.abc import Iterable
from enum import StrEnum
from typing import Self

from django.db import models
from django.db.models import Q
from django.utils.translation import gettext_lazy as _

from barcourse.people.codes import new_code
from barcourse.people.names import NAME_LENGTH
from barcourse.people.roles import Role

from .membership import Membership
from .venue import Venue


class InvitationState(StrEnum):
    PENDING = "pending"
    USED = "used"
    WITHDRAWN = "withdrawn"
    EXPIRED = "expired"


class InvitationQuerySet(models.QuerySet["Invitation"]):
    def in_house(self, venue: Venue) -> Self:
        return self.filter(venue=venue)

    def waiting(self) -> Self:
        """Neither used nor withdrawn: pending ones, and expired ones that a fresh link revives."""
        return self.filter(used_at__isnull=True, withdrawn_at__isnull=True)

    def with_codes(self, codes: Iterable[str]) -> Self:
        return self.filter(code__in=list(codes)).order_by("pk")

    def newest_first(self) -> Self:
        return self.order_by("-pk")


class Invitation(models.Model):
    """A link that lets one person in, once. The token itself is never stored, only its hash."""

    venue = models.ForeignKey(Venue, models.PROTECT, related_name="invitations")
    code = models.CharField(max_length=20, unique=True, default=new_code, editable=False)
    name = models.CharField(_("name"), max_length=NAME_LENGTH, blank=True)
    role = models.CharField(_("role"), max_length=8, choices=Role)
    token_hash = models.CharField(max_length=64, unique=True)
    expires_at = models.DateTimeField()
    invited_by = models.ForeignKey(Membership, models.PROTECT, related_name="invitations_made")
    used_at = models.DateTimeField(null=True, blank=True)
    used_by = models.ForeignKey(
        Membership, models.PROTECT, null=True, blank=True, related_name="invitations_used"
    )
    withdrawn_at = models.DateTimeField(null=True, blank=True)

    objects = InvitationQuerySet.as_manager()

    class Meta:
        constraints = (
            models.CheckConstraint(
                name="invitation_used_says_when_and_by_whom",
                condition=Q(used_at__isnull=True, used_by__isnull=True)
                | Q(used_at__isnull=False, used_by__isnull=False),
            ),
            models.CheckConstraint(
                name="invitation_used_or_withdrawn_not_both",
                condition=Q(used_at__isnull=True) | Q(withdrawn_at__isnull=True),
            ),
        )

    def __str__(self) -> str:
        return self.name or self.code

    def state(self, at: dt.datetime) -> InvitationState:
        if self.used_at is not None:
            return InvitationState.USED
        if self.withdrawn_at is not None:
            return InvitationState.WITHDRAWN
        return InvitationState.EXPIRED if self.expires_at <= at else InvitationState.PENDING
