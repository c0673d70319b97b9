"""Where each role goes from the bottom bar, and where it starts."""

from __future__ import annotations

from dataclasses import dataclass
from functools import lru_cache
from typing import TYPE_CHECKING

from django.conf import settings
from django.urls import NoReverseMatch, get_script_prefix, reverse
from django.utils.translation import gettext_lazy as _

from .models import Membership
from .roles import Role

if TYPE_CHECKING:
    from django.utils.functional import _StrPromise

    Named = tuple[tuple[str, _StrPromise], ...]
    Addressed = tuple[_StrPromise, str]

_NEXT_SHIFT = ("next_shift", _("Next shift"))
_MODULES = ("modules", _("Modules"))
_CALLS = ("call_practice", _("Call practice"))
_MY_RECORD = ("my_record", _("My record"))
_WATCH = ("watch", _("Watch"))
_BOOK = ("book", _("House book"))
_MIX_UPS = ("mix_ups", _("Mix-ups"))
_READY = ("who_is_ready", _("Who is ready"))
_PAPERS = ("papers", _("Papers"))
_PEOPLE = ("people", _("People"))
_HOUSE = ("house", _("House"))

# The first of each is the role's start page.
PLACES: dict[Role, tuple[tuple[str, _StrPromise], ...]] = {
    Role.TRAINEE: (_NEXT_SHIFT, _MODULES, _CALLS, _MY_RECORD),
    Role.TRAINER: (_WATCH, _BOOK, _MIX_UPS, _READY),
    Role.MANAGER: (_READY, _WATCH, _BOOK, _PAPERS, _PEOPLE),
    Role.OWNER: (_PEOPLE, _HOUSE, _PAPERS, _READY, _BOOK),
}

# On every page, for every role: what somebody needs with a guest in front of them.
AT_HAND: tuple[tuple[str, _StrPromise], ...] = (
    ("allergens", _("Allergens")),
    ("off_tonight", _("Off tonight")),
    ("refusals", _("Refusals")),
)


@dataclass(frozen=True)
class Place:
    label: _StrPromise
    url: str
    current: bool


def places(membership: Membership, path: str = "", *, by_pin: bool = False) -> list[Place]:
    """The bar for this membership; the place whose address `path` lies under is the current one.
    By PIN, on a shared tablet, nobody has more of it than a trainer."""
    role = Role(membership.role)
    if by_pin and role is not Role.TRAINEE:
        role = Role.TRAINER
    return _bar(membership, PLACES[role], path)


def at_hand(membership: Membership, path: str = "") -> list[Place]:
    """What stands in the header of every page of the house."""
    return _bar(membership, AT_HAND, path)


def _bar(membership: Membership, named: Named, path: str) -> list[Place]:
    found = _addresses(named, membership.venue.slug, settings.ROOT_URLCONF, get_script_prefix())
    here = max((url for _, url in found if path.startswith(url)), key=len, default="")
    return [Place(label, url, url == here) for label, url in found]


@lru_cache(maxsize=1000)
def _addresses(named: Named, slug: str, _site: object, _prefix: str) -> tuple[Addressed, ...]:
    """Kept: the same on every page of a house. A place that this site doesn't have is left out."""
    found = ((label, _house_url(slug, name)) for name, label in named)
    return tuple((label, url) for label, url in found if url)


def start_url(membership: Membership, *, by_pin: bool = False) -> str:
    """The page a role begins its day on, or "" where this site has none of its places."""
    return next((place.url for place in places(membership, by_pin=by_pin)), "")


def house_url(membership: Membership, name: str) -> str:
    return _house_url(membership.venue.slug, name)


def _house_url(slug: str, name: str) -> str:
    try:
        return reverse(name, kwargs={"house": slug})
    except NoReverseMatch:
        return ""
