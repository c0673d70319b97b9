"""The price list as a form: a line for everything that is poured, and what was typed in it."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from decimal import Decimal

from django.utils.translation import gettext as _

from barcourse.people.models import Venue
from recipes.grammar.ingredients import Kind, LiquorClass, liquor_class
from recipes.grammar.lines import read_amount
from recipes.grammar.menu_text import read_money
from recipes.models import Ingredient
from recipes.publish_prices import Priced
from recipes.wording import label

MOST_ML = 100_000.0
MOST_PRICE = Decimal(10_000_000)


@dataclass(frozen=True)
class Line:
    """`was` is what stood there when the page was shown: what nobody touched isn't written over
    what somebody else saved meanwhile."""

    slug: str
    name: str
    ml: str
    price: str
    was: str
    wrong: tuple[str, ...] = ()


@dataclass(frozen=True)
class Shelf:
    kind: str
    lines: tuple[Line, ...]

    @property
    def known(self) -> int:
        """How many lines have both."""
        return sum(bool(line.ml and line.price) for line in self.lines)

    @property
    def wrong(self) -> bool:
        return any(line.wrong for line in self.lines)


def price_list(venue: Venue, sent: Mapping[str, str] | None = None) -> list[Shelf]:
    """By kind in the grammar's order, by name in it; with `sent` as it was filled in."""
    of: dict[Kind, list[Line]] = {kind: [] for kind in Kind}
    for row in Ingredient.objects.in_house(venue).by_name():
        if liquor_class(Kind(row.kind)) is not LiquorClass.SOLID:
            of[Kind(row.kind)].append(_line(row, sent))
    return [Shelf(label(kind), tuple(lines)) for kind, lines in of.items() if lines]


def typed(venue: Venue, sent: Mapping[str, str]) -> dict[str, Priced]:
    """What was changed on the page; call it on a form without anything wrong."""
    lines = (line for shelf in price_list(venue, sent) for line in shelf.lines)
    return {
        line.slug: Priced(_ml(line.ml), _price(line.price))
        for line in lines
        if _joined(line.ml, line.price) != line.was
    }


def _line(row: Ingredient, sent: Mapping[str, str] | None) -> Line:
    ml = "" if row.bottle_ml is None else f"{row.bottle_ml:g}"
    price = "" if row.bottle_price is None else str(row.bottle_price)
    if sent is None or f"ml-{row.slug}" not in sent:
        return Line(row.slug, row.name, ml, price, _joined(ml, price))
    ml, price = (sent.get(f"{field}-{row.slug}", "").strip() for field in ("ml", "price"))
    was = sent.get(f"was-{row.slug}", "")
    return Line(row.slug, row.name, ml, price, was, tuple(_wrong(ml, price)))


def _joined(ml: str, price: str) -> str:
    return f"{ml}|{price}"


def _wrong(ml: str, price: str) -> list[str]:
    said = []
    try:
        _ml(ml)
    except ValueError:
        said.append(_("“%(said)s” is no size. Write millilitres, as in 700.") % {"said": ml[:20]})
    try:
        _price(price)
    except ValueError:
        said.append(_("“%(said)s” is no price. Write it as in 18.50.") % {"said": price[:20]})
    return said


def _ml(said: str) -> float | None:
    """Raises ValueError for what is no size of a bottle."""
    if not said:
        return None
    ml = read_amount(said.removesuffix("ml").strip())
    if not 1 <= ml <= MOST_ML:
        raise ValueError(said)
    return ml


def _price(said: str) -> Decimal | None:
    """Raises ValueError for what is no price."""
    if not said:
        return None
    price = read_money(said)
    if price >= MOST_PRICE:
        raise ValueError(said)
    return price.quantize(Decimal("0.01"))
