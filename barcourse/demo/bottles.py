"""What stands on the demo house's upper shelf. The makers are as invented as the house."""

from __future__ import annotations

import datetime as dt

from barcourse.people.models import Membership
from recipes.grammar.ingredients import Kind, Step
from recipes.publish_ingredients import Stock, add_ingredient

BOTTLES = (
    Stock("Quayside gin", Kind.GIN, abv=43, aliases=("Quayside",), step=Step.PREMIUM,
          bottle_of="gin"),
    Stock("Lamplighter vodka", Kind.VODKA, abv=40, aliases=("Lamplighter",), step=Step.CALL,
          bottle_of="vodka"),
    Stock("Breakwater bourbon", Kind.WHISKEY, abv=45, aliases=("Breakwater",), colour="#b5722f",
          step=Step.PREMIUM, bottle_of="bourbon"),
    Stock("Old Pier bourbon", Kind.WHISKEY, abv=50, aliases=("Old Pier",), colour="#a9652a",
          step=Step.PREMIUM, bottle_of="bourbon"),
)  # fmt: skip
"""One premium gin, so that it is poured; two premium bourbons, so that it is asked which."""


def fill_the_shelf(trainer: Membership, at: dt.datetime) -> None:
    for stock in BOTTLES:
        add_ingredient(by=trainer, stock=stock, at=at)
