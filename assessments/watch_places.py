"""The pages on which a hire is watched, known by their addresses."""

from __future__ import annotations

from dataclasses import dataclass, field
from urllib.parse import urlsplit

from django.http import QueryDict
from django.urls import Resolver404, resolve
from django.utils.translation import gettext as _

from assessments.models.open_watch import LONGEST_WHERE
from barcourse.people.models import Membership, Venue
from recipes.models import Recipe

PAGES = ("watch_build", "watch_round", "together", "pours", "pace")


@dataclass(frozen=True)
class Place:
    """A page of watching: its name, who is watched there, the drink where there is one."""

    where: str
    name: str
    hires: tuple[str, ...]
    drink: str = ""
    drinks: tuple[str, ...] = field(default=())

    @property
    def anew(self) -> str:
        """The same page for somebody else, who has taken no build of theirs back there."""
        split = urlsplit(self.where)
        said = QueryDict(split.query, mutable=True)
        said.pop("after", None)
        return address(split.path, said.urlencode())


def address(path: str, query: str) -> str:
    """One writing for one page: whoever asks for it by another gets the same."""
    said = QueryDict(query).urlencode()
    return f"{path}?{said}" if said else path


def place_of(venue: Venue, where: str) -> Place | None:
    """None for whatever is no page of watching in this house."""
    try:
        split = urlsplit(where)
        found = resolve(split.path)
    except (ValueError, Resolver404):
        return None
    if split.scheme or split.netloc or found.url_name not in PAGES:
        return None
    if found.kwargs["house"] != venue.slug:
        return None
    said, at = QueryDict(split.query), address(split.path, split.query)
    hire = found.kwargs.get("hire")
    hires = (hire,) if hire else (said.get("a", ""), said.get("b", ""))
    place = Place(
        at, found.url_name, hires, found.kwargs.get("drink", ""), tuple(said.getlist("d"))
    )
    return place if len(at) <= LONGEST_WHERE else None


@dataclass(frozen=True)
class Words:
    """What those pages are called, with the names of everybody and everything on them."""

    people: dict[str, str]
    drinks: dict[str, str]

    @classmethod
    def of(cls, venue: Venue, places: list[Place]) -> Words:
        codes = {code for place in places for code in place.hires}
        slugs = {place.drink for place in places}
        here = Membership.objects.in_house(venue).filter(code__in=codes).select_related("person")
        named = Recipe.objects.in_house(venue).filter(slug__in=slugs)
        return cls({m.code: m.name for m in here}, dict(named.values_list("slug", "name")))

    def about(self, place: Place) -> str:
        who = str(_(", ")).join(self.people.get(code, "") for code in place.hires)
        if place.name == "together":
            return _("Side by side: %(who)s") % {"who": who}
        return _("%(what)s by %(who)s") % {"what": self._what(place), "who": who}

    def _what(self, place: Place) -> str:
        match place.name:
            case "watch_build":
                return self.drinks.get(place.drink, place.drink)
            case "watch_round":
                return _("A round of %(count)s") % {"count": len(place.drinks)}
            case "pours":
                return _("Pour check")
            case _page:
                return _("Pace check")
