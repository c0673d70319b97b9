"""The shifts of a house: which one is on or comes next, which one somebody works, and what a
question about one is reckoned for. Said once, so that board, record and the hire's own pages agree.
"""

from __future__ import annotations

import datetime as dt
from dataclasses import dataclass

from django.utils.formats import date_format
from django.utils.translation import gettext as _

from assessments.asked import ANY_SHIFT, Asked
from assessments.measures.sales_mix import LATE_FROM, ShiftKind, kind_of
from assessments.models import ShiftAhead
from assessments.policy import Book, book_at
from assessments.sales import as_sold
from barcourse.people.models import Venue
from recipes.menu import Menu, menu_at

DAYS_OF_A_WEEK = 7

MIDDLE = dt.timedelta(hours=3)
"""So long after it begins a shift is what it mostly is: drinks are weighed as they sell then, and
what is asked then is asked (our own number, no source)."""


@dataclass(frozen=True)
class Shift:
    """One shift of the house: a business day, before ten in the evening or from then on. The
    kind goes with the day of the week."""

    day: dt.date
    kind: ShiftKind

    @classmethod
    def of(cls, venue: Venue, day: dt.date, *, late: bool) -> Shift:
        hour = LATE_FROM if late else LATE_FROM - 1
        return cls(day, kind_of(day, hour, venue.business_hour))

    @property
    def is_late(self) -> bool:
        return self.kind in (ShiftKind.WEEK_LATE, ShiftKind.WEEKEND_LATE)

    @property
    def when(self) -> str:
        """ "Saturday, March 14, 2026, from ten in the evening on"."""
        part = _("from ten in the evening on") if self.is_late else _("until ten")
        return _("%(day)s, %(part)s") % {"day": self.on, "part": part}

    @property
    def on(self) -> str:
        """ "Saturday, March 14, 2026"."""
        return day_words(self.day)

    def hours(self, venue: Venue) -> tuple[dt.datetime, dt.datetime]:
        """Its first moment and the one at which it is over, in UTC."""
        begins = venue.business_day_begins(self.day)
        ends = venue.business_day_begins(self.day + dt.timedelta(days=1))
        ten = dt.datetime.combine(self.day, dt.time(LATE_FROM), tzinfo=venue.zone)
        parted = ten.astimezone(dt.UTC)
        return (parted, ends) if self.is_late else (begins, parted)

    def last_day(self, venue: Venue) -> dt.date:
        """Of the calendar; to its end permits must hold."""
        return venue.local(self.hours(venue)[1] - dt.timedelta(seconds=1)).date()


def day_words(day: dt.date) -> str:
    """ "Saturday, March 14, 2026"."""
    said = {"weekday": date_format(day, "l"), "day": date_format(day)}
    return _("%(weekday)s, %(day)s") % said


def coming_shift(venue: Venue, at: dt.datetime, kind: ShiftKind) -> Shift:
    """The shift of this kind that is on at that moment, or else the next one."""
    today = venue.business_day(at)
    days = (today + dt.timedelta(days=n) for n in range(DAYS_OF_A_WEEK + 1))
    shifts = (Shift.of(venue, day, late=late) for day in days for late in (False, True))
    return next(s for s in shifts if s.kind is kind and s.hours(venue)[1] > at)


def moment_of(
    venue: Venue, at: dt.datetime, kind: ShiftKind | None, day: dt.date | None = None
) -> dt.datetime:
    """What a question about this kind of shift is reckoned for: its beginning where it is yet to
    come, else `at` itself. With a day the first such shift from then on; without a kind the
    beginning of that day."""
    is_later = day is not None and day > venue.business_day(at)
    since = venue.business_day_begins(day) if day and is_later else at
    if kind is None:
        return since
    return max(at, coming_shift(venue, since, kind).hours(venue)[0])


def shift_after(venue: Venue, shift: Shift) -> Shift:
    """The next of its kind."""
    return coming_shift(venue, shift.hours(venue)[1], shift.kind)


def in_address(kind: ShiftKind | None, day: dt.date | None) -> str:
    """What a page that reckons for a shift is asked for one; for now, whatever shift it is, where
    there is no kind."""
    return f"shift={kind or ''}" + (f"&day={day:%Y-%m-%d}" if day else "")


When = Shift | dt.date | None
"""What is reckoned for: a shift, a day to come on whatever shift, or now."""


def when_of(venue: Venue, at: dt.datetime, kind: ShiftKind | None, day: dt.date | None) -> When:
    """The shift of that kind that is on at that moment or comes next, with a day the first from
    then on; without a kind the day, where it is yet to come."""
    if kind is None:
        return day if day and day > venue.business_day(at) else None
    return coming_shift(venue, moment_of(venue, at, kind, day), kind)


def when_words(when: When) -> str:
    """Empty for now."""
    if isinstance(when, Shift):
        return when.when
    return day_words(when) if when else ""


def worked_from(venue: Venue, starts_at: dt.datetime) -> Shift:
    """The one that somebody works who begins then: what it mostly is."""
    middle = starts_at + MIDDLE
    day, hour = venue.business_day(middle), venue.local(middle).hour
    return Shift(day, kind_of(day, hour, venue.business_hour))


@dataclass(frozen=True)
class About:
    """What somebody's standing is reckoned for; the next shift that they work, None where none was
    said; and what addresses of the same pages go on asking, empty for that next one."""

    reckoned: When
    next: Shift | None = None
    asked: str = ""

    @property
    def is_theirs(self) -> bool:
        return self.next is not None and self.reckoned == self.next

    @property
    def when(self) -> str:
        return when_words(self.reckoned)


def about_next(venue: Venue, said: ShiftAhead | None) -> About | None:
    """The next shift that was said; None where there is none."""
    if said is None:
        return None
    shift = worked_from(venue, said.starts_at)
    return About(shift, shift)


def book_on(venue: Venue, shift: Shift, at: dt.datetime) -> Book:
    """The policies that will hold then, as they are set now."""
    return book_at(venue, max(at, shift.hours(venue)[0]))


def asked_on(venue: Venue, shift: Shift, at: dt.datetime) -> Asked:
    return Asked(shift.kind, book_on(venue, shift, at), shift.last_day(venue))


def asked_at(venue: Venue, at: dt.datetime, kind: ShiftKind | None) -> Asked:
    """What is asked on such a shift, which is on at that moment or comes next."""
    return asked_on(venue, coming_shift(venue, at, kind), at) if kind else ANY_SHIFT


@dataclass(frozen=True)
class Reckoned:
    """The menu, weighed by what is ordered, and what people are held against: for a shift or, where
    none is said, for the menu's moment, on whatever shift it is."""

    menu: Menu
    asked: Asked
    shift: Shift | None


def reckoned(menu: Menu, when: When) -> Reckoned:
    """`menu` is that of now. Held against what will be asked then, on the menu of then, with what
    is known now and how much of it will be left by the beginning of that shift."""
    venue, at = menu.venue, menu.at
    if when is None:
        return Reckoned(as_sold(menu), ANY_SHIFT, None)
    if not isinstance(when, Shift):
        day = menu_at(venue, venue.business_day_begins(when))
        return Reckoned(as_sold(day), ANY_SHIFT, None)
    then = menu_at(venue, max(at, when.hours(venue)[0]))
    return Reckoned(as_sold(then, when.kind), asked_on(venue, when, at), when)
