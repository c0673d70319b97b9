"""What the commands ask of the house: which one, and in whose name. Refusals exit with 2."""

from __future__ import annotations

import datetime as dt

from django.core.management.base import CommandError

from barcourse.people.models import Membership, Venue
from recipes.menu import Menu, NoRules, menu_at


def refused(sentence: str) -> CommandError:
    return CommandError(sentence, returncode=2)


def house_named(slug: str) -> Venue:
    """The house with this slug; without one the only house."""
    houses = list(Venue.objects.filter(slug=slug) if slug else Venue.objects.all())
    if len(houses) == 1:
        return houses[0]
    if slug:
        raise refused(f"There is no house {slug!r}.")
    choices = " or ".join(f"--venue {house.slug}" for house in houses)
    raise refused(f"Say which house: {choices}." if houses else "There is no house yet.")


def owner_of(house: Venue, at: dt.datetime) -> Membership:
    """In whose name a command writes: the owner who has been here longest."""
    owners = Membership.objects.in_house(house).owners().here(house.business_day(at))
    found = owners.select_related("person", "venue").order_by("start_day", "pk").first()
    if found is None:
        raise refused(f"{house.name} has no owner in whose name to write.")
    return found


def menu_of(house: Venue, at: dt.datetime) -> Menu:
    try:
        return menu_at(house, at)
    except NoRules:
        raise refused(f"{house.name} has no house rules, so nothing can be built there.") from None
