from __future__ import annotations

from typing import Self

from django.db import models
from django.db.models import F, Q

from .membership import Membership
from .venue import Venue


class PasswordLinkQuerySet(models.QuerySet["PasswordLink"]):
    def waiting_for(self, membership: Membership) -> Self:
        return self.filter(membership=membership, used_at__isnull=True)


class PasswordLink(models.Model):
    """A link by which somebody who forgot their password sets a new one, once. The token itself is
    never stored, only its hash; a newer link kills the older one (`expires_at` is then past)."""

    venue = models.ForeignKey(Venue, models.PROTECT, related_name="+")
    membership = models.ForeignKey(Membership, models.PROTECT, related_name="password_links")
    token_hash = models.CharField(max_length=64, unique=True)
    made_by = models.ForeignKey(Membership, models.PROTECT, related_name="+")
    expires_at = models.DateTimeField()
    used_at = models.DateTimeField(null=True, blank=True)

    objects = PasswordLinkQuerySet.as_manager()

    class Meta:
        constraints = (
            models.CheckConstraint(
                name="nobody_makes_their_own_password_link",
                condition=~Q(membership=F("made_by")),
            ),
        )

    def __str__(self) -> str:
        return f"{self.membership_id} until {self.expires_at:%Y-%m-%d %H:%M}"
