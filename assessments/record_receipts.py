"""The orders of exports, as they follow what names are told to mean."""

from __future__ import annotations

from collections import Counter, defaultdict
from collections.abc import Iterator, Mapping
from decimal import Decimal

from assessments.models.sales import (
    NEVER_TOLD,
    Kept,
    OrdersByHour,
    Place,
    SalesDay,
    SalesLine,
    SalesMix,
    SalesReceipts,
)
from assessments.sales_receipts import IN_ORDERS, Alike, Means, judged_all

Moves = dict[int, list[tuple[Place, Place]]]
"""By export, where each name that was told stood and where it went."""
_BY = 500


def tell_receipts(moves: Moves) -> set[int]:
    """Judges the receipts of these exports anew. Returns those that count orders, didn't keep their
    receipts, and have names that make orders now and didn't, or no longer do."""
    rows = SalesReceipts.objects.filter(mix__in=moves)
    by_mix = defaultdict[int, list[SalesReceipts]](list)
    for row in rows:
        by_mix[row.mix_id].append(row)
    means = _means(by_mix)
    for mix, receipts in by_mix.items():
        for row in receipts:
            found = judged_all(_alike(row), means[mix])
            row.orders, row.told = found.orders, found.told
            row.drinks, row.waiting = found.drinks, found.waiting
    told = [row for receipts in by_mix.values() for row in receipts]
    fields = ["orders", "told", "drinks", "waiting"]
    SalesReceipts.objects.bulk_update(told, fields, batch_size=_BY)
    _count_anew(by_mix)
    old = {mix for mix in moves if mix not in by_mix and any(map(_changes, moves[mix]))}
    of_orders = SalesMix.objects.filter(pk__in=old, orders__gt=0)
    return {*of_orders.values_list("pk", flat=True)}


def _changes(move: tuple[Place, Place]) -> bool:
    was, now = (place in IN_ORDERS for place in move)
    return was != now


def _alike(row: SalesReceipts) -> Iterator[Alike]:
    for n, names in row.names:
        yield n, tuple((said, Decimal(quantity)) for said, quantity in names.items())


def _means(mixes: Mapping[int, object]) -> Mapping[int, Mapping[str, Means]]:
    """What each name stands for in each of these exports, in one query."""
    found = defaultdict[int, dict[str, Means]](dict)
    lines = SalesLine.objects.filter(mix__in=mixes).exclude(place__in=NEVER_TOLD)
    rows = lines.values_list("mix_id", "said", "place", "each", "recipe__slug").distinct()
    for mix, said, place, each, slug in rows:
        found[mix][said] = Means(slug or said, Kept(Place(place), each))
    return found


def _count_anew(by_mix: Mapping[int, list[SalesReceipts]]) -> None:
    """The orders of exports, their days and hours, from their receipts."""
    every, days, hours = Counter[int](), Counter[object](), Counter[object]()
    for row in (row for receipts in by_mix.values() for row in receipts):
        every[row.mix_id] += row.orders
        days[row.mix_id, row.day] += row.orders
        hours[row.mix_id, row.day, row.hour] += row.orders
    mixes = list(SalesMix.objects.filter(pk__in=by_mix))
    for mix in mixes:
        mix.orders = every[mix.pk]
    SalesMix.objects.bulk_update(mixes, ["orders"], batch_size=_BY)
    parts = list(SalesDay.objects.filter(mix__in=by_mix))
    for part in parts:
        part.orders = days[part.mix_id, part.day]
    SalesDay.objects.bulk_update(parts, ["orders"], batch_size=_BY)
    by_hour = list(OrdersByHour.objects.filter(mix__in=by_mix))
    for one in by_hour:
        one.orders = hours[one.mix_id, one.day, one.hour]
    OrdersByHour.objects.bulk_update(by_hour, ["orders"], batch_size=_BY)
