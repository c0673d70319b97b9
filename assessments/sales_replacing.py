"""What an export that is about to come takes the place of."""

from __future__ import annotations

import datetime as dt
from collections import defaultdict
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from decimal import Decimal

from assessments.measures.sales_days import Export, counting
from assessments.models.sales import NEVER_TOLD, SalesDay, SalesLine, SalesMix
from assessments.sales_counting import Counted
from assessments.sales_in_force import as_exports, standing
from barcourse.people.models import Venue
from recipes.grammar.aspects import fingerprint


@dataclass(frozen=True)
class Replaced:
    """Of an older export: the days that count no longer, how much they sold, and whether nothing of
    it counts then. No days: it has none, or they were not kept apart. `loses_hours` and
    `loses_orders`: it told hours of them, or orders apart, and the new one doesn't."""

    mix: SalesMix
    days: tuple[dt.date, ...]
    quantity: Decimal
    all_of_it: bool
    loses_hours: bool = False
    loses_orders: bool = False


@dataclass(frozen=True)
class Beside:
    """An older export that goes on counting although nobody can tell whether the new one has the
    same sales, since one of them has no days: `names` of the new one stand in it too, and `sold`
    is what the new one sold under them."""

    mix: SalesMix
    names: int
    sold: Decimal


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
    beside: tuple[Beside, ...] = ()

    @property
    def tells_less(self) -> bool:
        """Whether the new one takes the place of what tells more than it does."""
        return any(one.loses_hours or one.loses_orders for one in self.replaced)


def replacing(venue: Venue, counted: Counted, at: dt.datetime, *, instead: bool) -> Replacing:
    stood = standing(venue, at)
    exports = as_exports(stood, counted.days)
    new = counted.as_export(venue.business_hour, instead=instead)
    before, (own, *after) = counting(exports), counting([new, *exports])
    pieces = [part.day for n, part in enumerate(new.parts) if part.day and n not in own]
    found = [
        _replaced(mix, [parts[n] for n in was if n not in now], new, counted, all_of_it=not now)
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
    beside = [
        mix
        for (mix, _parts), export, now in zip(stood, exports, after, strict=True)
        if now and not (new.has_days and export.has_days)
    ]
    return Replacing(
        tuple(found), tuple(undated), tuple(sorted(pieces)), left_out, print_,
        tuple(_beside(beside, counted)),
    )  # fmt: skip


def _beside(mixes: Sequence[SalesMix], counted: Counted) -> Iterator[Beside]:
    """In one query; those without a name in common are told as well."""
    if not mixes:
        return
    rows = SalesLine.objects.filter(mix__in=mixes).exclude(place__in=NEVER_TOLD)
    names: dict[int, set[str]] = defaultdict(set)
    for of, said in rows.values_list("mix_id", "said").distinct():
        names[of].add(said)
    sold: dict[str, Decimal] = defaultdict(Decimal)
    for (said, _kind, place, _day), n in counted.lines.items():
        if place not in NEVER_TOLD:
            sold[said] += n
    for mix in mixes:
        both = names[mix.pk] & sold.keys()
        yield Beside(mix, len(both), sum((sold[said] for said in both), Decimal(0)))


def _replaced(
    mix: SalesMix, parts: list[SalesDay], new: Export, counted: Counted, *, all_of_it: bool
) -> Replaced:
    days = tuple(sorted(part.day for part in parts if part.day))
    told = {part.day for part in new.parts if part.hours}
    hours = any(p.day and p.first_hour is not None and p.day not in told for p in parts)
    orders = not counted.has_orders and any(p.day and p.orders is not None for p in parts)
    sold = sum((p.quantity for p in parts), Decimal(0))
    return Replaced(mix, days, sold, all_of_it, hours, orders)
