from __future__ import annotations

import datetime as dt
from typing import Self

from django.db import models

from .person import Person


class SentForm(models.Model):
    """A form that was sent and answered with a redirect; sent again, it gets the same redirect.

    `location` is empty only while the first answer is being made, inside its transaction.
    `device` is the browser's own cookie: it stays the same when somebody signs in, which is when
    the session changes.
    """

    key = models.UUIDField(unique=True)
    person = models.ForeignKey(Person, models.CASCADE, null=True, blank=True)
    device = models.CharField(max_length=20)
    body_digest = models.CharField(max_length=64)
    location = models.CharField(max_length=2000, blank=True)
    at = models.DateTimeField()

    def __str__(self) -> str:
        return str(self.key)


class SignInTryQuerySet(models.QuerySet["SignInTry"]):
    def for_account(self, account: str) -> Self:
        return self.filter(account=account)

    def on(self, device: str) -> Self:
        return self.filter(device=device)

    def wrong_since(self, at: dt.datetime) -> Self:
        return self.filter(worked=False, at__gt=at)

    def that_worked(self) -> Self:
        return self.filter(worked=True)

    def stale(self, at: dt.datetime) -> Self:
        return self.filter(worked=False, at__lte=at)


class SignInTry(models.Model):
    """One try to sign in, kept to slow down guessing; by account and device, never by address,
    because everyone in a bar shares one.

    `account` is a keyed digest of what was typed: a password may land in the wrong field.
    """

    account = models.CharField(max_length=64)
    device = models.CharField(max_length=20)
    worked = models.BooleanField()
    at = models.DateTimeField()

    objects = SignInTryQuerySet.as_manager()

    class Meta:
        indexes = (models.Index(fields=("account", "at")),)

    def __str__(self) -> str:
        return f"{self.device} {self.at:%Y-%m-%d %H:%M}"
