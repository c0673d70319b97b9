"""Who may do what in a house. One table; pages and menus both read it.

Each role may do everything the role below it may: owner > manager > trainer > trainee.
"""

from __future__ import annotations

from enum import StrEnum

from django.db.models import TextChoices
from django.utils.translation import gettext_lazy as _


class Role(TextChoices):
    OWNER = "owner", _("owner")
    MANAGER = "manager", _("manager")
    TRAINER = "trainer", _("trainer")
    TRAINEE = "trainee", _("trainee")


class May(StrEnum):
    """Abilities. SEE_RECORDS and SEE_READY are about other people: one's own are under LEARN."""

    LEARN = "learn"
    SEE_BOOK = "see_book"
    EDIT_BOOK = "edit_book"
    WATCH = "watch"
    VOID = "void"
    SEE_RECORDS = "see_records"
    SEE_READY = "see_ready"
    SET_READY = "set_ready"
    TAKE_IN_SALES = "take_in_sales"
    SEE_PAPERS = "see_papers"
    ISSUE_PAPERS = "issue_papers"
    SEE_LOG = "see_log"
    INVITE = "invite"
    CHANGE_PEOPLE = "change_people"
    SET_HOUSE = "set_house"


_TRAINEE = frozenset({May.LEARN})
_TRAINER = _TRAINEE | {
    May.SEE_BOOK,
    May.EDIT_BOOK,
    May.WATCH,
    May.VOID,
    May.SEE_RECORDS,
    May.SEE_READY,
}
_MANAGER = _TRAINER | {
    May.SET_READY,
    May.TAKE_IN_SALES,
    May.SEE_PAPERS,
    May.ISSUE_PAPERS,
    May.SEE_LOG,
    May.INVITE,
}
_OWNER = _MANAGER | {May.CHANGE_PEOPLE, May.SET_HOUSE}

ROLE_MAY: dict[Role, frozenset[May]] = {
    Role.TRAINEE: _TRAINEE,
    Role.TRAINER: _TRAINER,
    Role.MANAGER: _MANAGER,
    Role.OWNER: _OWNER,
}

# A manager fills the rota but does not make managers: that is the owner's word.
MAY_INVITE_AS: dict[Role, tuple[Role, ...]] = {
    Role.TRAINEE: (),
    Role.TRAINER: (),
    Role.MANAGER: (Role.TRAINEE, Role.TRAINER),
    Role.OWNER: (Role.TRAINEE, Role.TRAINER, Role.MANAGER, Role.OWNER),
}


def role_may(role: str, ability: May) -> bool:
    return ability in ROLE_MAY[Role(role)]
