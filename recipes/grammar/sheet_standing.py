"""How a drink stands on the menu, as the cells of a sheet say it: price, share of sales, whether it
is a must-know, whether it is poured. An empty cell says nothing."""

from collections.abc import Mapping
from dataclasses import dataclass
from decimal import Decimal

from recipes.grammar.course import fold
from recipes.grammar.lines import read_amount
from recipes.grammar.menu_text import read_money
from recipes.grammar.reasons import Reason

CODES = frozenset({"price_unreadable", "share_unreadable", "not_yes_or_no", "must_know_not_poured"})
MOST_PRICE = Decimal(10_000_000)
MOST_SHARE = 1_000_000.0
_WORDS = {
    **dict.fromkeys(("yes", "y", "true", "1", "x"), True),
    **dict.fromkeys(("no", "n", "false", "0"), False),
}


@dataclass(frozen=True)
class Standing:
    """None: not said. `share` is what it sells, relative to the other drinks."""

    price: Decimal | None = None
    share: float | None = None
    must_know: bool | None = None
    poured: bool | None = None


NOTHING_SAID = Standing()


def read_standing(cells: Mapping[str, str]) -> tuple[Standing, tuple[Reason, ...]]:
    """What the cells say, and why not where they can't be read."""
    wrong: list[Reason] = []
    standing = Standing(
        price=_price(cells.get("price", ""), wrong),
        share=_share(cells.get("share", ""), wrong),
        must_know=_yes_or_no("must_know", cells, wrong),
        poured=_yes_or_no("poured", cells, wrong),
    )
    if standing.must_know and standing.poured is False:
        wrong.append(Reason.of("must_know_not_poured"))
    return standing, tuple(wrong)


def written_standing(standing: Standing) -> dict[str, str]:
    yes_or_no = {True: "yes", False: "no", None: ""}
    return {
        "price": "" if standing.price is None else str(standing.price),
        "share": "" if standing.share is None else _number(standing.share),
        "must_know": yes_or_no[standing.must_know],
        "poured": yes_or_no[standing.poured],
    }


def _number(value: float) -> str:
    return str(int(value)) if value == int(value) else repr(value)


def _price(said: str, wrong: list[Reason]) -> Decimal | None:
    if not said.strip():
        return None
    try:
        price = read_money(said)
    except ValueError:
        price = MOST_PRICE
    if price < MOST_PRICE and price == round(price, 2):
        return price
    wrong.append(Reason.of("price_unreadable", said=said[:40]))
    return None


def _share(said: str, wrong: list[Reason]) -> float | None:
    if not said.strip():
        return None
    try:
        share = read_amount(said)
    except ValueError:
        share = MOST_SHARE
    if share < MOST_SHARE:
        return share
    wrong.append(Reason.of("share_unreadable", said=said[:40]))
    return None


def _yes_or_no(column: str, cells: Mapping[str, str], wrong: list[Reason]) -> bool | None:
    said = cells.get(column, "")
    if not said.strip():
        return None
    if fold(said) not in _WORDS:
        wrong.append(Reason.of("not_yes_or_no", said=said[:40], column=column))
    return _WORDS.get(fold(said))
