from __future__ import annotations

from django.db import models
from django.db.models import Q

from barcourse.people.codes import new_code
from barcourse.people.sealed import SealedModel

from .membership import Membership
from .venue import Venue


class LogEntry(SealedModel):
    """One link in a house's chain. Holds opaque codes and digests; no names, no free text.

    Written only by `log.append`, in the transaction of what it records. `log.py` says how `hash`
    is made.
    """

    venue = models.ForeignKey(Venue, models.PROTECT, related_name="log_entries")
    number = models.PositiveIntegerField()
    kind = models.CharField(max_length=40)
    at = models.DateTimeField()
    by_code = models.CharField(max_length=20, blank=True)
    subject_code = models.CharField(max_length=20, blank=True)
    row_table = models.CharField(max_length=63, blank=True)
    row_id = models.CharField(max_length=36, blank=True)
    row_digest = models.CharField(max_length=64, blank=True)
    text_code = models.CharField(max_length=20, blank=True)
    text_digest = models.CharField(max_length=64, blank=True)
    facts = models.JSONField(default=dict)
    previous = models.CharField(max_length=64)
    hash = models.CharField(max_length=64)

    class Meta:
        ordering = ("venue", "number")
        constraints = (
            models.UniqueConstraint(name="one_log_entry_a_number", fields=("venue", "number")),
        )

    def __str__(self) -> str:
        return f"{self.number}:{self.hash}"


class PersonalText(models.Model):
    """Words about somebody, erasable. The log holds only sha256(salt + text).

    Erasing empties text and salt; without the salt the digest tells nothing about the words.
    """

    venue = models.ForeignKey(Venue, models.PROTECT, related_name="personal_texts")
    code = models.CharField(max_length=20, unique=True, default=new_code, editable=False)
    about = models.ForeignKey(Membership, models.PROTECT, related_name="texts_about")
    text = models.TextField(blank=True)
    salt = models.CharField(max_length=32, blank=True)
    erased_at = models.DateTimeField(null=True, blank=True)

    class Meta:
        constraints = (
            models.CheckConstraint(
                name="personal_text_erased_means_empty",
                condition=Q(erased_at__isnull=True) & ~Q(salt="") & ~Q(text="")
                | Q(erased_at__isnull=False, salt="", text=""),
            ),
        )

    def __str__(self) -> str:
        return self.code
