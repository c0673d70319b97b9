from __future__ import annotations

import datetime as dt
from typing import Self

from django.db import models
from django.db.models import F, Q
from django.utils.translation import gettext_lazy as _

from barcourse.people.codes import new_code
from barcourse.people.roles import May, Role, role_may

from .person import Person
from .venue import Venue


class MembershipQuerySet(models.QuerySet["Membership"]):
    def in_house(self, venue: Venue) -> Self:
        return self.filter(venue=venue)

    def at_address(self, slug: str) -> Self:
        """In the house whose pages live under this slug."""
        return self.filter(venue__slug=slug)

    def of(self, person: Person) -> Self:
        return self.filter(person=person)

    def here(self, today: dt.date) -> Self:
        """Whoever has not left by this business day; on the left day itself one is gone."""
        return self.exclude(left_day__lte=today)

    def with_code(self, code: str) -> Membership | None:
        return self.select_related("venue", "person").filter(code=code).first()

    def gone(self, today: dt.date) -> Self:
        return self.filter(left_day__lte=today)

    def hires(self) -> Self:
        """Those who are being trained."""
        return self.filter(role=Role.TRAINEE)

    def owners(self) -> Self:
        return self.filter(role=Role.OWNER)

    def names_alone(self) -> Self:
        """Of the person no more than the name: a board of a big house reads thousands."""
        return self.select_related(None).annotate(called=F("person__name"))

    def by_name(self) -> Self:
        return self.select_related("person").order_by("person__name", "pk")


class Membership(models.Model):
    """One person in one house. Never deleted: who left and comes back is the same membership.

    A person has at most one in each house, so in a house "the same person" and "the same
    membership" mean the same. `code` is what addresses and the sealed log call them by.
    """

    venue = models.ForeignKey(Venue, models.PROTECT, related_name="memberships")
    person = models.ForeignKey(Person, models.PROTECT, related_name="memberships")
    role = models.CharField(_("role"), max_length=8, choices=Role)
    code = models.CharField(max_length=20, unique=True, default=new_code, editable=False)
    start_day = models.DateField(_("first day"))
    left_day = models.DateField(_("left on"), null=True, blank=True)

    objects = MembershipQuerySet.as_manager()

    class Meta:
        constraints = (
            models.UniqueConstraint(name="one_membership_a_house", fields=("venue", "person")),
            models.CheckConstraint(
                name="membership_leaves_after_it_starts",
                condition=Q(left_day__isnull=True) | Q(left_day__gte=F("start_day")),
            ),
            models.CheckConstraint(
                name="membership_role_is_known", condition=Q(role__in=Role.values)
            ),
        )

    def __str__(self) -> str:
        return f"{self.name} ({self.get_role_display()})"

    @property
    def name(self) -> str:
        called: str = self.__dict__.get("called", "")  # see `names_alone`
        return called or str(self.person)

    def is_here(self, today: dt.date) -> bool:
        return self.left_day is None or today < self.left_day

    def may(self, ability: May) -> bool:
        return role_may(self.role, ability)
