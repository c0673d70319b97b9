"""What an export that is about to come takes the place of."""

from __future__ import annotations

import datetime as dt
from dataclasses import dataclass
from decimal import Decimal

from assessments.measures.sales_days import counting
from assessments.models.sales import SalesDay, SalesMix
from assessments.sales_counting import Counted
from assessments.sales_in_force import as_export, standing
from barcourse.people.models import Venue
from recipes.grammar.aspects import fingerprint


@dataclass(frozen=True)
class Replaced:
    """Of an older export: the days that count no longer, how much they sold, and whether nothing of
    it counts then. No days: it has none, or they were not kept apart."""

    mix: SalesMix
    days: tuple[dt.date, ...]
    quantity: Decimal
    all_of_it: bool


@dataclass(frozen=True)
class Replacing:
    """`undated` are older exports without days that count now; `pieces` the days of which an older
    export tells more hours and goes on counting, `outdone` what the new one sold then.
    `print` is of all that stands."""

    replaced: tuple[Replaced, ...]
    undated: tuple[SalesMix, ...]
    pieces: tuple[dt.date, ...]
    outdone: Decimal
    print: str


def replacing(venue: Venue, counted: Counted, at: dt.datetime, *, instead: bool) -> Replacing:
    stood = standing(venue, at)
    exports = [as_export(mix, parts) for mix, parts in stood]
    new = counted.as_export(venue.business_hour, instead=instead)
    before, (own, *after) = counting(exports), counting([new, *exports])
    pieces = [part.day for n, part in enumerate(new.parts) if part.day and n not in own]
    found = [
        _replaced(mix, [parts[n] for n in was if n not in now], all_of_it=not now)
        for (mix, parts), was, now in zip(stood, before, after, strict=True)
        if set(was) - set(now)
    ]
    undated = [
        mix
        for (mix, _parts), export, was in zip(stood, exports, before, strict=True)
        if was and not export.has_days
    ]
    print_ = fingerprint([mix.code for mix, _parts in stood])
    left_out = counted.on(pieces)
    return Replacing(tuple(found), tuple(undated), tuple(sorted(pieces)), left_out, print_)


def _replaced(mix: SalesMix, parts: list[SalesDay], *, all_of_it: bool) -> Replaced:
    days = tuple(sorted(part.day for part in parts if part.day))
    return Replaced(mix, days, sum((p.quantity for p in parts), Decimal(0)), all_of_it)
