"""What the house has published for later: it can be learned and signed off before it counts.

A coming menu is the menu of the moment at which something published earlier takes effect. Cards
and watched builds are marked against it, so what is known of it is known when it comes; until
then the board goes by today's.
"""

from __future__ import annotations

import datetime as dt
from collections.abc import Iterable
from dataclasses import dataclass
from functools import cached_property

from assessments import reads
from assessments.measures.shift_plan import CardDue, plan_cards
from assessments.met import Known, known_to
from assessments.models import Memory
from assessments.sales import as_sold
from barcourse.people.models import Membership, Venue
from recipes.grammar.aspects import Aspect
from recipes.menu import Menu, MenuDrink, menu_at
from recipes.models import Recipe, Revision, RulesVersion
from recipes.rehearsal import Change, changes

MOST = 3
"""So many coming moments are told of; what lies behind them can wait (our own number, no
source)."""


@dataclass(frozen=True)
class ComingLine:
    """A drink that changes in these aspects, is new, or else comes off the menu."""

    name: str
    aspects: tuple[Aspect, ...] = ()
    is_new: bool = False


@dataclass(frozen=True)
class Coming:
    """The menu from a moment on, beside the one that it takes over from."""

    before: Menu
    menu: Menu

    @property
    def moment(self) -> dt.datetime:
        return self.menu.at

    @property
    def code(self) -> str:
        return code_of(self.moment)

    @cached_property
    def changes(self) -> tuple[Change, ...]:
        return changes(self.before, self.menu)

    @cached_property
    def new(self) -> tuple[MenuDrink, ...]:
        return tuple(i for i in self.menu.items if i.drink.slug not in self.before.by_slug)

    @cached_property
    def leaving(self) -> tuple[MenuDrink, ...]:
        """Drinks that come off the menu at that moment."""
        return tuple(i for i in self.before.items if i.drink.slug not in self.menu.by_slug)

    @cached_property
    def to_learn(self) -> tuple[MenuDrink, ...]:
        """Drinks that are new or built otherwise, in the order of the menu."""
        slugs = {i.drink.slug for i in self.new} | set(self.aspects)
        return tuple(i for i in self.menu.items if i.drink.slug in slugs)

    @cached_property
    def aspects(self) -> dict[str, tuple[Aspect, ...]]:
        """In what each drink that is on both menus changes, by slug."""
        return {c.after.drink.slug: c.aspects for c in self.changes}

    @property
    def lines(self) -> list[ComingLine]:
        """Every drink that it is about: changed ones, new ones, then those that leave."""
        return [
            *(ComingLine(c.after.drink.name, c.aspects) for c in self.changes),
            *(ComingLine(i.drink.name, is_new=True) for i in self.new),
            *(ComingLine(i.drink.name) for i in self.leaving),
        ]

    @property
    def changes_nothing(self) -> bool:
        return not (self.to_learn or self.leaving)


def coming(today: Menu) -> tuple[Coming, ...]:
    """The next menus that differ from the one before them, soonest first."""
    found, before = [], today
    for moment in waiting_moments(today.venue, today.at)[:MOST]:
        menu = as_sold(menu_at(today.venue, moment))
        found.append(Coming(before, menu))
        before = menu
    return tuple(c for c in found if not c.changes_nothing)


def coming_at(today: Menu, moment: dt.datetime) -> Coming:
    """The menu of one waiting moment, beside the one just before it."""
    earlier = [m for m in waiting_moments(today.venue, today.at) if m < moment]
    before = as_sold(menu_at(today.venue, earlier[-1])) if earlier else today
    return Coming(before, as_sold(menu_at(today.venue, moment)))


def waiting_moments(venue: Venue, at: dt.datetime) -> list[dt.datetime]:
    """When something published earlier takes effect, or a drink retires, soonest first."""
    published = (
        rows.objects.in_house(venue).filter(takes_effect_at__gt=at).values_list("takes_effect_at")
        for rows in (RulesVersion, Revision)
    )
    retiring = Recipe.objects.in_house(venue).on_menu(at).filter(retires_at__gt=at)
    dates = {moment for rows in published for (moment,) in rows.distinct()}
    return sorted(dates | {recipe.retires_at for recipe in retiring if recipe.retires_at})


def waiting_moment(venue: Venue, at: dt.datetime, code: str) -> dt.datetime | None:
    """The waiting moment with this code, if there is one."""
    return next((m for m in waiting_moments(venue, at) if code_of(m) == code), None)


_CODE = "%Y%m%dT%H%M%SZ"


def code_of(moment: dt.datetime) -> str:
    """A moment as an address carries it, to the second in UTC: 20260312T170000Z."""
    return moment.astimezone(dt.UTC).strftime(_CODE)


def moment_of(code: str) -> dt.datetime | None:
    try:
        return dt.datetime.strptime(code, _CODE).replace(tzinfo=dt.UTC)
    except ValueError:
        return None


def cards_due(
    hire: Membership,
    ahead: Coming,
    at: dt.datetime,
    progress: Iterable[reads.ModuleProgress],
) -> tuple[CardDue, ...]:
    """Cards of what is coming, from the modules that the hire has begun."""
    return cards_of(hire, ahead, at, progress, known_to(hire, ahead.menu))


def cards_of(
    hire: Membership,
    ahead: Coming,
    at: dt.datetime,
    progress: Iterable[reads.ModuleProgress],
    known: Known,
) -> tuple[CardDue, ...]:
    """The same, of what they know otherwise than it is built then."""
    begun = {p.module.pk for p in progress if p.is_begun}
    return plan_cards(
        drinks=[i.drink for i in ahead.to_learn if i.recipe.module_id in begun],
        memories={m.topic: m.facts() for m in Memory.objects.of(hire)},
        otherwise=known.otherwise,
        at=at,
    )
