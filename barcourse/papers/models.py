"""Certificates and their revocations. Sealed; a person's name is read from the person."""

from __future__ import annotations

from typing import Self

from django.db import models
from django.db.models import F, Q

from barcourse.people.codes import new_code
from barcourse.people.models import Membership, Station, Venue
from barcourse.people.sealed import SealedModel, SealedQuerySet

from .shown import Shown


class CertificateQuerySet(SealedQuerySet["Certificate"]):
    def in_house(self, venue: Venue) -> Self:
        return self.filter(venue=venue)

    def of(self, hire: Membership) -> Self:
        return self.filter(hire=hire)

    def with_all(self) -> Self:
        """With everything that the paper and a line about it say, in one query."""
        return self.select_related(
            "venue", "hire__person", "station", "issued_by__person", "revocation"
        )

    def newest_first(self) -> Self:
        return self.order_by("-issued_at", "-pk")

    def with_code(self, code: str) -> Certificate | None:
        """Codes are lower case; whoever types one off the paper may not be."""
        return self.filter(code=code.lower()).first()


class Certificate(SealedModel):
    """This person was ready for this station on the day of issue, and what they had shown.

    `code` stands in the public address of the paper. `valid_until` is the last business day on
    which it holds. `log_number` and `log_hash` are the head of the house's log just before its
    own entry: whoever keeps the paper can ask whether anything up to there was changed since.
    """

    venue = models.ForeignKey(Venue, models.PROTECT, related_name="certificates")
    code = models.CharField(max_length=20, unique=True, default=new_code, editable=False)
    hire = models.ForeignKey(Membership, models.PROTECT, related_name="certificates")
    station = models.ForeignKey(Station, models.PROTECT, related_name="certificates")
    issued_by = models.ForeignKey(Membership, models.PROTECT, related_name="certificates_issued")
    issued_at = models.DateTimeField()
    valid_from = models.DateField()
    valid_until = models.DateField()
    shown = models.JSONField()
    log_number = models.PositiveIntegerField()
    log_hash = models.CharField(max_length=64)
    rules_version = models.PositiveIntegerField()

    objects = CertificateQuerySet.as_manager()  # type: ignore[misc]  # the base has its own

    class Meta:
        indexes = (models.Index(fields=("venue", "issued_at")),)
        constraints = (
            models.CheckConstraint(
                name="nobody_issues_to_themselves", condition=~Q(hire=F("issued_by"))
            ),
            models.CheckConstraint(
                name="certificate_ends_after_it_begins",
                condition=Q(valid_until__gte=F("valid_from")),
            ),
        )

    def __str__(self) -> str:
        return self.code

    @property
    def what_was_shown(self) -> Shown:
        return Shown.from_json(self.shown)

    @property
    def revoked(self) -> Revocation | None:
        """The revocation, if there is one."""
        return getattr(self, "revocation", None)


class Revocation(SealedModel):
    """A certificate no longer holds. The reason is kept in words that can be erased;
    `reason_code` names them."""

    venue = models.ForeignKey(Venue, models.PROTECT, related_name="revocations")
    certificate = models.OneToOneField(Certificate, models.PROTECT, related_name="revocation")
    by = models.ForeignKey(Membership, models.PROTECT, related_name="revocations")
    reason_code = models.CharField(max_length=20)
    at = models.DateTimeField()

    def __str__(self) -> str:
        return f"revocation of {self.certificate_id}"
