from __future__ import annotations

import datetime as dt
import zoneinfo
from typing import ClassVar, Self

from django.core.exceptions import ValidationError
from django.core.validators import MaxValueValidator, MinValueValidator
from django.db import models
from django.db.models import F, Q
from django.utils.translation import gettext_lazy as _

from barcourse.people.codes import new_code
from barcourse.people.names import NAME_LENGTH

_OF_A_HUNDRED = (MinValueValidator(0), MaxValueValidator(100))


def check_timezone(name: str) -> None:
    if name not in zoneinfo.available_timezones():
        raise ValidationError(
            _("We don't know the time zone “%(zone)s”. One looks like Europe/Lisbon."),
            params={"zone": name},
        )


class Country(models.TextChoices):
    """Presets for measures and standard drinks, not a claim about the law of the place."""

    US = "us", _("United States")
    GB = "gb", _("Great Britain")
    IE = "ie", _("Ireland")
    CA = "ca", _("Canada")
    AU = "au", _("Australia")
    NZ = "nz", _("New Zealand")
    EUROPE = "eu", _("elsewhere in Europe")
    OTHER = "other", _("elsewhere")


class PaperSize(models.TextChoices):
    LETTER = "letter", _("US Letter")
    A4 = "a4", _("A4")


class Venue(models.Model):
    """A house. Everything else hangs below one, and the database refuses links across two.

    `slug` stands in addresses and, like `code`, never changes: the log is chained to `code`.
    What ready takes until the house sets a policy is in orders of a hundred: at least
    `least_right` right (compared with the lower end of the interval) and at most `most_wrong`
    wrong; second needs `second_right`, with the lower end too. All common practice, no source.
    `legal_age` is used in questions about identity cards alone; until the house sets
    it, it is the highest that is usual anywhere. Who looks younger than `challenge_age` is asked
    for proof of age (25 is common practice, no source).
    """

    code = models.CharField(max_length=20, unique=True, default=new_code, editable=False)
    slug = models.SlugField(max_length=60, unique=True)
    name = models.CharField(_("name of the house"), max_length=NAME_LENGTH)
    country = models.CharField(_("country"), max_length=8, choices=Country)
    timezone = models.CharField(_("time zone"), max_length=64, validators=[check_timezone])
    business_hour = models.PositiveSmallIntegerField(
        _("hour at which the business day begins"), default=5, validators=[MaxValueValidator(12)]
    )
    paper_size = models.CharField(
        _("paper size"), max_length=8, choices=PaperSize, default=PaperSize.A4
    )
    certificate_days = models.PositiveSmallIntegerField(
        _("days a certificate holds"),
        default=180,
        validators=[MinValueValidator(1), MaxValueValidator(1826)],
    )
    least_right = models.PositiveSmallIntegerField(
        _("ready: of 100 orders at least this many right"),
        default=70,
        validators=_OF_A_HUNDRED,
    )
    most_wrong = models.PositiveSmallIntegerField(
        _("ready: of 100 orders at most this many wrong"),
        default=10,
        validators=_OF_A_HUNDRED,
    )
    second_right = models.PositiveSmallIntegerField(
        _("second: of 100 orders at least this many right"),
        default=50,
        validators=_OF_A_HUNDRED,
    )
    pass_mark = models.PositiveSmallIntegerField(
        _("pass mark of a quiz, in percent"),
        default=80,
        validators=[MinValueValidator(1), MaxValueValidator(100)],
    )
    legal_age = models.PositiveSmallIntegerField(
        _("age from which this house serves alcohol, as local law has it"),
        default=21,
        validators=[MinValueValidator(16), MaxValueValidator(25)],
    )

    challenge_age = models.PositiveSmallIntegerField(
        _("anybody who looks younger than this shows proof of age"),
        default=25,
        validators=[MinValueValidator(16), MaxValueValidator(99)],
    )

    study_is_paid = models.BooleanField(
        _("minutes spent on cards and quizzes are paid"), default=True
    )

    is_only_read = False
    """Whether this is the house of a page that only reads: nothing changes while it is made."""

    class Meta:
        constraints = (
            models.CheckConstraint(
                name="venue_business_hour_is_early", condition=Q(business_hour__lte=12)
            ),
            models.CheckConstraint(
                name="venue_numbers_of_a_hundred",
                condition=Q(least_right__lte=100, most_wrong__lte=100, pass_mark__lte=100),
            ),
            models.CheckConstraint(
                name="venue_second_asks_no_more_than_ready",
                condition=Q(second_right__lte=F("least_right")),
            ),
        )

    # The fields an owner sets on screen; `enrol.change_house` takes these and no others.
    SETTINGS: ClassVar[tuple[str, ...]] = (
        "name",
        "country",
        "timezone",
        "business_hour",
        "paper_size",
        "certificate_days",
        "pass_mark",
        "study_is_paid",
        "legal_age",
        "challenge_age",
    )

    def __str__(self) -> str:
        return self.name

    @property
    def zone(self) -> zoneinfo.ZoneInfo:
        return zoneinfo.ZoneInfo(self.timezone)

    def local(self, at: dt.datetime) -> dt.datetime:
        return at.astimezone(self.zone)

    def business_day(self, at: dt.datetime) -> dt.date:
        """The working day that a moment belongs to: at two in the morning it is still yesterday.

        Read off the house's clock on the wall, so that a night in which the clocks change still
        belongs to one day. Legal ages use the calendar, not this.
        """
        clock = self.local(at)
        if clock.hour >= self.business_hour:
            return clock.date()
        return clock.date() - dt.timedelta(days=1)

    def business_day_begins(self, day: dt.date) -> dt.datetime:
        """The first moment of a business day, in UTC.

        Where the clocks skip that hour the day begins as they jump; where they show it twice, at
        the first time.
        """
        wall = dt.datetime.combine(day, dt.time(self.business_hour), tzinfo=self.zone)
        return wall.astimezone(dt.UTC)


class StationQuerySet(models.QuerySet["Station"]):
    def in_house(self, venue: Venue) -> Self:
        return self.filter(venue=venue)

    def taking_orders(self) -> Self:
        return self.filter(takes_orders=True)


class Station(models.Model):
    """A place to stand. One that takes no orders (bar back) is judged on tasks. Where it rings up,
    an order is only done once it is paid."""

    venue = models.ForeignKey(Venue, models.PROTECT, related_name="stations")
    slug = models.SlugField(max_length=40)
    name = models.CharField(_("name"), max_length=NAME_LENGTH)
    position = models.PositiveSmallIntegerField(default=0)
    takes_orders = models.BooleanField(_("takes orders"), default=True)
    rings_up = models.BooleanField(_("rings up"), default=True)

    objects = StationQuerySet.as_manager()

    class Meta:
        ordering = ("position", "slug")
        constraints = (
            models.UniqueConstraint(name="one_station_a_slug", fields=("venue", "slug")),
        )

    def __str__(self) -> str:
        return self.name
