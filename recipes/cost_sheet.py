"""What a drink costs, in words."""

from __future__ import annotations

from dataclasses import dataclass
from decimal import ROUND_HALF_UP, Decimal

from django.utils.formats import number_format
from django.utils.translation import gettext as _
from django.utils.translation import ngettext

from barcourse.people.models import Venue
from barcourse.people.models.venue import Country
from recipes.grammar.cost import Bottle, Bottles, cost, pour_cost, pours_per_bottle
from recipes.grammar.house_spec import HouseSpec
from recipes.grammar.spec import How
from recipes.menu import Menu
from recipes.models import Ingredient
from recipes.wording import amount_words, volume_words

CENT = Decimal("0.01")
CURRENCY = {
    Country.US: "$", Country.GB: "£", Country.IE: "€", Country.CA: "$", Country.AU: "$",
    Country.NZ: "$",
}  # fmt: skip
"""What a house is paid in until its rules say otherwise; elsewhere nobody but the house knows."""


@dataclass(frozen=True)
class Line:
    label: str
    value: str
    note: str = ""


@dataclass(frozen=True)
class CostSheet:
    """`total` is empty while something is `missing`; then `so_far` is what the rest costs."""

    total: str
    so_far: str
    price: str
    pour_cost: str
    lines: tuple[Line, ...]
    missing: tuple[str, ...]
    uncounted: tuple[str, ...]


def bottles_of(venue: Venue) -> Bottles:
    """What is known of the house's bottles: those with a size and a price."""
    return {
        row.slug: Bottle(row.bottle_ml, row.bottle_price)
        for row in Ingredient.objects.in_house(venue).priced()
        if row.bottle_ml and row.bottle_price is not None
    }


def cost_sheet(spec: HouseSpec, menu: Menu, price: Decimal | None) -> CostSheet:
    bottles, currency = bottles_of(menu.venue), currency_of(menu)
    found = cost(spec, menu.pantry, bottles)
    lines = tuple(
        Line(
            menu.names[part.ingredient],
            money_words(part.cost, currency) if part.cost is not None else _("no price entered"),
            _amount(part.ingredient, part.ml, spec, menu, bottles),
        )
        for part in found.parts
    )
    share = pour_cost(found.total, price) if found.total is not None and price else None
    return CostSheet(
        total=money_words(found.total, currency) if found.total is not None else "",
        so_far=money_words(found.known, currency) if found.known else "",
        price=money_words(price, currency) if price is not None else "",
        pour_cost=_percent(share) if share is not None else "",
        lines=lines,
        missing=tuple(menu.names[slug] for slug in found.missing),
        uncounted=tuple(menu.names[slug] for slug in found.uncounted),
    )


def currency_of(menu: Menu) -> str:
    """As the house rules write it, else its country's."""
    return menu.rules.currency or CURRENCY.get(Country(menu.venue.country), "")


def money_words(amount: Decimal, currency: str) -> str:
    """ "$3.20", "3.20 EUR"; the bare number where the house hasn't said what it is paid in."""
    said = number_format(amount.quantize(CENT, ROUND_HALF_UP), 2)
    if not currency:
        return said
    told = {"amount": said, "currency": currency}
    if currency.isalpha():
        return _("%(amount)s %(currency)s") % told
    return _("%(currency)s%(amount)s") % told


def _amount(slug: str, ml: float, spec: HouseSpec, menu: Menu, bottles: Bottles) -> str:
    """A dash is a dash, not "0 fl oz", and nobody counts how many a bottle gives."""
    dashed = [p for p in spec.how(How.DASH) if p.ingredient == slug]
    if dashed:
        said = (amount_words(p.amount or 0.0, p.unit) for p in dashed)
        return ", ".join(said)
    volume = volume_words(ml, menu.rules.country)
    topped = any(part.ingredient == slug for part in spec.mixers)
    if slug not in bottles or topped or ml <= 0:
        return volume
    pours = pours_per_bottle(bottles[slug].ml, ml)
    text = ngettext("%(volume)s; a bottle gives %(n)s", "%(volume)s; a bottle gives %(n)s", pours)
    return text % {"volume": volume, "n": number_format(pours)}


def _percent(share: Decimal) -> str:
    percent = (share * 100).quantize(Decimal("0.1"), ROUND_HALF_UP)
    return _("%(n)s %%") % {"n": number_format(percent)}
