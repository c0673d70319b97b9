"""A ticket of orders on paper, for a pace check without a screen in the way."""

from __future__ import annotations

import datetime as dt
from dataclasses import dataclass

from django.utils.translation import gettext as _

from assessments.tickets import Drawn
from assessments.wording_practical import ERRORS
from recipes.menu import Menu

from .pdf import Paper, to_pdf


@dataclass(frozen=True)
class TicketFacts:
    """`orders`: each with its drinks as (how many, name). `as_of`: when what it was drawn from
    took effect."""

    house: str
    station: str
    number: int
    rung_up: bool
    orders: tuple[tuple[tuple[int, str], ...], ...]
    errors: tuple[str, ...]
    as_of: dt.datetime
    size: str = "a4"

    @property
    def drinks(self) -> int:
        return sum(count for order in self.orders for count, _name in order)


def facts_of(drawn: Drawn, menu: Menu, size: str = "") -> TicketFacts:
    """`size` is "letter" or "a4"; the house's own paper unless said."""
    dates = [menu.rules_version.takes_effect_at, *(i.revision.takes_effect_at for i in menu.items)]
    return TicketFacts(
        house=menu.venue.name,
        station=drawn.station.name,
        number=drawn.seed,
        rung_up=drawn.rung_up,
        orders=tuple(
            tuple((n, menu.by_slug[slug].drink.name) for slug, n in order.drinks)
            for order in drawn.orders
        ),
        errors=tuple(
            str(words) for kind, words in ERRORS.items() if drawn.rung_up or kind != "rung_up"
        ),
        as_of=menu.venue.local(max(dates)),
        size=size or menu.venue.paper_size,
    )


def ticket_pdf(facts: TicketFacts) -> bytes:
    title = _("Ticket %(number)s, %(station)s: %(house)s") % {
        "number": facts.number, "station": facts.station, "house": facts.house,
    }  # fmt: skip
    return to_pdf(
        Paper(
            template="papers/paper/ticket.html",
            styles=("ticket.css",),
            size=facts.size,
            title=title,
            dated=facts.as_of.isoformat(timespec="seconds"),
            context={"facts": facts, "house": facts.house},
        )
    )
