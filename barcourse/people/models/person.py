from __future__ import annotations

from typing import ClassVar

from django.contrib.auth.base_user import AbstractBaseUser, BaseUserManager
from django.db import models
from django.db.models import Q
from django.utils import timezone
from django.utils.translation import gettext_lazy as _

from barcourse.people.names import NAME_LENGTH, clean_sign_in
from barcourse.people.reasons import Refused


class PersonManager(BaseUserManager["Person"]):
    def get_by_natural_key(self, username: str | None) -> Person:
        """By the name typed to sign in, without regard to case."""
        try:
            return self.get(sign_in=clean_sign_in(username or ""))
        except Refused:
            raise Person.DoesNotExist from None

    def create_person(self, *, sign_in: str, name: str, password: str) -> Person:
        person = Person(sign_in=clean_sign_in(sign_in), name=name)
        person.set_password(password)
        person.save(force_insert=True)
        return person


class Person(AbstractBaseUser):
    """Somebody who can sign in. What they may do hangs on their memberships, never on this row.

    The name is the one thing here that says who somebody is; erasing empties it.
    """

    sign_in = models.CharField(_("sign-in name"), max_length=NAME_LENGTH, unique=True)
    name = models.CharField(_("name"), max_length=NAME_LENGTH, blank=True)
    is_active = models.BooleanField(default=True)
    date_joined = models.DateTimeField(default=timezone.now)
    erased_at = models.DateTimeField(null=True, blank=True)

    objects: ClassVar[PersonManager] = PersonManager()

    USERNAME_FIELD = "sign_in"
    REQUIRED_FIELDS: ClassVar[list[str]] = ["name"]

    class Meta:
        constraints = (
            models.CheckConstraint(
                name="person_erased_means_nameless_and_barred",
                condition=Q(erased_at__isnull=True) | Q(name="", is_active=False),
            ),
        )

    def __str__(self) -> str:
        return self.name or str(_("someone erased"))
