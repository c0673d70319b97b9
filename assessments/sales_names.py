"""The names on a house's till: those asked about, and those told, by whom."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, replace
from decimal import Decimal

from django.db.models import Sum
from django.utils.translation import gettext as _

from assessments.models import CallMapping, SalesLine
from assessments.models.sales import NEVER_TOLD, Place
from assessments.record_sales import meaning_of, meanings
from assessments.sales import Summary
from assessments.sales_alike import One, bare
from assessments.sales_in_force import InForce
from assessments.sales_reading import NOTHING_TOLD, heard
from assessments.sales_told import Meanings, Meant
from recipes.grammar.till_names import without_and
from recipes.menu import Menu

NOTHING_TAUGHT = "-"
"""What a form sends for a name that is nothing that is taught."""
MOST_OFFERED = 3
"""Drinks that may be meant by a name; the others are typed (our own number)."""


@dataclass(frozen=True)
class Asked:
    """A name on the till, the drinks that it may mean, and whether the first has a tick to it.
    `picked` is which of them is, a slug, `typed` what stands in the field; `was` what the name
    meant, as `record_sales.meaning_of` says it; `wrong` what is to be mended in what was sent,
    `wrong_each` in how many drinks one sale is. `tells` is how many drinks its name tells of
    (`sales_reading.SOME` where it doesn't say how many), `each` what stands in its field. `written`
    are the ways in which it is written with how often each was sold, where it isn't this alone."""

    said: str
    quantity: Decimal
    proposed: list[tuple[str, str]]
    likely: bool
    picked: str = ""
    typed: str = ""
    was: str | None = ""
    wrong: str = ""
    wrong_each: bool = False
    tells: int = 1
    each: str = ""
    written: tuple[tuple[str, Decimal], ...] = ()

    @property
    def offered(self) -> list[tuple[str, str]]:
        """What stands there to be tapped: the likely one alone, else a few, and what is picked."""
        few = self.proposed[: 1 if self.likely else MOST_OFFERED]
        return few + [pair for pair in self.proposed if pair[0] == self.picked and pair not in few]

    @property
    def asks_how_many(self) -> bool:
        return self.tells != 1 or self.each not in ("", "1")


@dataclass(frozen=True)
class Told:
    """What a name means; `drink` is None for nothing that is taught."""

    said: str
    drink: str | None
    by: str
    mapping: CallMapping

    @property
    def was(self) -> str | None:
        recipe, each = self.mapping.recipe, self.mapping.each
        return meaning_of(self.said, {self.said: Meant(recipe, each)})


def asked(said: str, quantity: Decimal, menu: Menu, told: Meanings = NOTHING_TOLD) -> Asked:
    """A name that waits; what is read by now where it was not when it came in is likely."""
    one = heard(said, menu, told)
    found = (one.slug,) if one.slug else one.proposed
    proposed = [slug for slug in found if slug in menu.by_slug]
    named = [(slug, menu.by_slug[slug].drink.name) for slug in proposed]
    likely = bool(named) and (one.likely or one.recipe is not None)
    each = str(one.each) if one.each > 1 else ""
    return Asked(said, quantity, named, likely, tells=one.each, each=each)


def asked_once(one: One, menu: Menu, told: Meanings = NOTHING_TOLD) -> Asked:
    """A name that waits in any size."""
    written = one.written if one.names != (one.said,) else ()
    return replace(asked(one.said, one.quantity, menu, told), written=written)


def asked_with(
    said: str, others: Iterable[str], menu: Menu, told: Meanings, force: InForce
) -> Asked:
    """A name as it was asked about, with `others` that are told along with it."""
    sold_so = _by_name(force)
    written = tuple((name, sold_so[name]) for name in (said, *others) if name in sold_so)
    one = One(said, sum((n for _name, n in written), Decimal(0)), written)
    return asked_once(one, menu, told)


def drink_called(said: str, menu: Menu) -> str | None:
    """The slug of the drink on the menu that is called so, by its name before its other names; None
    where none or more than one is."""
    if said in menu.by_slug:
        return said
    for names in (lambda d: [d.name], lambda d: d.aliases):
        drinks = (item.drink for item in menu.items)
        found = [d.slug for d in drinks if without_and(said) in map(without_and, names(d))]
        if found:
            return found[0] if len(found) == 1 else None
    return None


def otherwise(said: str, menu: Menu, force: InForce) -> Asked | None:
    """A name that was told or read, to be told otherwise, with what it means picked."""
    mapping = CallMapping.objects.filter(venue=menu.venue, said=said).first()
    if mapping is None and not are_known(menu, [said]):
        return None
    told = meanings(menu.venue)
    before = {name: meant for name, meant in told.items() if name != said}
    one = replace(asked(said, sold(said, force), menu, before), likely=False)
    now = heard(said, menu, told)
    was, each = meaning_of(said, told), str(now.each) if mapping and now.recipe else one.each
    one = replace(one, was=was, each=each)
    if now.slug not in menu.by_slug:
        return replace(one, picked=NOTHING_TAUGHT if was is None else "")
    first = (now.slug, menu.by_slug[now.slug].drink.name)
    rest = [pair for pair in one.proposed if pair != first]
    return replace(one, proposed=[first, *rest], picked=now.slug)


@dataclass(frozen=True)
class ReadName:
    """A name that the program read by itself, and the drink it was counted as."""

    said: str
    drink: str
    quantity: Decimal
    each: int = 1


def read_names(menu: Menu, found: Summary | None) -> list[ReadName]:
    """Those that nobody told, what sold most first."""
    if found is None:
        return []
    told_names = set(CallMapping.objects.filter(venue=menu.venue).values_list("said", flat=True))
    names = {slug: item.drink.name for slug, item in menu.by_slug.items()}
    return [
        ReadName(one.said, names.get(one.recipe, one.recipe), one.quantity, one.each)
        for one in found.places[Place.MAPPED]
        if one.said not in told_names
    ]


def sold(said: str, force: InForce) -> Decimal:
    """Where the till never writes it so, in all sizes."""
    names = _by_name(force)
    if said in names:
        return names[said]
    return sum((n for name, n in names.items() if bare(name) == said), Decimal(0))


def _by_name(force: InForce) -> dict[str, Decimal]:
    rows = force.lines().exclude(place__in=NEVER_TOLD).values_list("said")
    return dict(rows.annotate(n=Sum("quantity")))


def told(menu: Menu) -> list[Told]:
    rows = CallMapping.objects.filter(venue=menu.venue).order_by("said")
    return [
        Told(row.said, _drink(row, menu), row.by.name, row)
        for row in rows.select_related("recipe", "by__person")
    ]


def _drink(row: CallMapping, menu: Menu) -> str | None:
    if row.recipe is None:
        return None
    slug = row.recipe.slug
    if slug in menu.by_slug:
        return menu.by_slug[slug].drink.name
    return _("%(drink)s, no longer on the menu") % {"drink": row.recipe.name}


def are_known(menu: Menu, names: Iterable[str]) -> bool:
    """Whether each of these was sold, in whatever size, or was told."""
    lines = SalesLine.objects.filter(venue=menu.venue).exclude(place__in=NEVER_TOLD)
    rows = CallMapping.objects.filter(venue=menu.venue, said__in=names)
    left = set(names) - set(rows.values_list("said", flat=True))
    left -= set(lines.filter(said__in=left).values_list("said", flat=True))
    if not left:
        return True
    return left <= {bare(said) for said in lines.values_list("said", flat=True).distinct()}
