"""What the training record says of hands beside whole builds: marks in service, pours, pace,
rounds; oldest first."""

from __future__ import annotations

import datetime as dt
from collections.abc import Iterator
from dataclasses import dataclass

from django.utils.translation import gettext as _

from assessments import hands, round_words
from assessments.hands import PaceShown, PourShown
from assessments.models import SpotMark, WatchedRound
from assessments.models.practical import AboutHire
from barcourse.people.models import Membership
from recipes.menu import Menu


@dataclass(frozen=True)
class Checked:
    """A line: what was checked, on which drink or bottle or at which station, and how it came;
    `made_with` water or stock, where that was said."""

    day: dt.date
    what: str
    about: str
    by: str
    came: str
    made_with: str = ""
    is_void: bool = False


def checked(person: Membership, menu: Menu) -> tuple[Checked, ...]:
    found = hands.hands_of(person, menu)
    day = menu.venue.business_day
    lines = [
        *((row.at, _spot(row, day(row.at))) for row in found.spots),
        *((row.check.at, _pours(row, day(row.check.at))) for row in found.pours),
        *((row.check.at, _pace(row, day(row.check.at))) for row in found.paces),
        *((row.at, _round(row, menu, day(row.at))) for row in found.rounds),
    ]
    return tuple(line for _at, line in sorted(lines, key=lambda pair: pair[0]))


def _came(row: AboutHire, came: str) -> str:
    """How it came, said to be void where it was taken back."""
    return _("taken back, doesn't count: %(came)s") % {"came": came} if row.is_void else came


def _spot(spot: SpotMark, day: dt.date) -> Checked:
    came = str(spot.get_came_display())
    if spot.sent_back:
        came = _("sent back by a guest; %(came)s") % {"came": came}
    came = _came(spot, came)
    return Checked(
        day, _("in service"), spot.recipe.name, spot.trainer.name, came, is_void=spot.is_void
    )


def _pours(shown: PourShown, day: dt.date) -> Checked:
    bottle = shown.check.ingredient.name if shown.check.ingredient else ""
    about = ", ".join(filter(None, (bottle, shown.how)))
    came = _came(shown.check, shown.says[0])
    check = shown.check
    return Checked(
        day, _("pour check"), about, check.trainer.name, came,
        check.get_made_with_display(), check.is_void,
    )  # fmt: skip


def _pace(shown: PaceShown, day: dt.date) -> Checked:
    came = _came(shown.check, "; ".join((shown.said, *_errors(shown))))
    check = shown.check
    return Checked(
        day, _("pace check"), check.station.name, check.trainer.name, came, is_void=check.is_void
    )


def _errors(shown: PaceShown) -> Iterator[str]:
    for label, count in shown.errors:
        yield f"{label}: {count}"


def _round(row: WatchedRound, menu: Menu, day: dt.date) -> Checked:
    shown = round_words.show_round(row, menu)
    came = _came(row, shown.says[0])
    return Checked(day, _("round"), shown.drinks, row.trainer.name, came, is_void=row.is_void)
