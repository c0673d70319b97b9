"""What the training record says of watched builds, oldest first: how each came, what went wrong,
what it was made with, and where it no longer counts, who said so and why."""

from __future__ import annotations

import datetime as dt
from collections.abc import Collection, Iterator
from dataclasses import dataclass

from django.utils.formats import date_format
from django.utils.translation import gettext as _

from assessments import reads
from assessments.showing import Naming, show_stored_steps
from barcourse.people.models import Membership, Venue
from recipes.menu import Menu


@dataclass(frozen=True)
class Voided:
    """Who said that a build no longer counts; no reason where its words were erased."""

    day: dt.date
    by: str
    reason: str


@dataclass(frozen=True)
class Watched:
    """A build that was watched; `came` in words: passed, not passed, signed off, or where it is
    `kept_back` from the reader, that it is, and then nothing of it is told. `slips` are the steps
    that went wrong, each with whether it fails a build; a build with `void` no longer counts,
    whatever it came to."""

    day: dt.date
    drink: str
    revision: int
    by: str
    help: str
    seconds: int | None
    came: str
    is_signed: bool = False
    made_with: str = ""
    slips: tuple[str, ...] = ()
    void: Voided | None = None
    kept_back: bool = False

    @property
    def void_words(self) -> str:
        """As the paper writes a day; empty where it counts."""
        if self.void is None:
            return ""
        return void_words(self.void, date_format(self.void.day, "SHORT_DATE_FORMAT"))


def watched(person: Membership, menu: Menu, blind: Collection[str]) -> Iterator[Watched]:
    naming = Naming.of(menu)
    for shown in reversed(reads.builds_of(person, menu)):
        build, hidden = shown.build, shown.build.code in blind
        yield Watched(
            day=menu.venue.business_day(build.at),
            drink=build.recipe.name,
            revision=build.revision.number,
            by=build.trainer.name,
            help=build.get_help_level_display(),
            seconds=build.seconds,
            came=_("kept back from you: waits for your own second look")
            if hidden
            else _came(shown),
            is_signed=shown.is_signed and not hidden,
            made_with=build.get_made_with_display(),
            slips=() if hidden else tuple(_slips(shown, naming)),
            void=None if hidden else _void(shown, menu.venue),
            kept_back=hidden,
        )


def _came(shown: reads.BuildShown) -> str:
    if shown.is_signed and shown.changed:
        return _("signed off, the house has changed it since")
    if shown.is_signed:
        return _("signed off")
    return _("passed") if shown.build.passed else _("not passed")


def _slips(shown: reads.BuildShown, naming: Naming) -> Iterator[str]:
    """As the checklist stood when it was watched, what fails a build first."""
    off = [step for step in show_stored_steps(shown.build, naming) if step.off]
    for step in sorted(off, key=lambda step: not step.fails):
        said = _("failed on: %(step)s") if step.fails else _("fault: %(step)s")
        yield said % {"step": step.does}


def _void(shown: reads.BuildShown, venue: Venue) -> Voided | None:
    if not shown.is_void:
        return None
    void = shown.build.void
    return Voided(venue.business_day(void.at), void.by.name, shown.void_reason)


def void_words(void: Voided, day: str) -> str:
    """`day` as the paper or the sheet writes one."""
    said = _("no longer counts: voided by %(by)s on %(day)s") % {"by": void.by, "day": day}
    return f"{said}. {void.reason}" if void.reason else said
