"""The orders of the exports that count: how many there are, and how sure each is one of drinks."""

from __future__ import annotations

from decimal import Decimal

from django.db.models import Sum

from assessments.models.sales import DRINKS_SOLD, Place
from assessments.sales_in_force import InForce
from assessments.sales_receipts import IN_ORDERS, Orders


def orders_of(force: InForce) -> Orders | None:
    """None where no export tells orders apart."""
    every = force.orders()
    if every is None:
        return None
    told = force.receipts().aggregate(
        told=Sum("told"), drinks=Sum("drinks"), waiting=Sum("waiting")
    )
    kept = Orders(0, told["told"] or 0, told["drinks"] or Decimal(0), told["waiting"] or 0)
    return kept + Orders(every) + _of_before(force)


def _of_before(force: InForce) -> Orders:
    """Exports that came before receipts were kept tell how many drinks an order has only where
    nothing of them waits: nobody knows any more on which orders it stood."""
    telling = force.telling_orders()
    empty = {mix.pk for mix in telling.mixes if not mix.orders}
    old = telling.without({*force.receipts().values_list("mix_id", flat=True)} | empty)
    if not old:
        return Orders()
    waits = {*old.lines().filter(place=Place.WAITING).values_list("mix_id", flat=True)}
    sure = old.without(waits)
    unknown = (old.orders() or 0) - (sure.orders() or 0)
    drinks = Decimal(0)
    if sure:
        lines = sure.lines().filter(place__in=IN_ORDERS)
        drinks = lines.aggregate(n=Sum(DRINKS_SOLD))["n"] or drinks
    return Orders(told=sure.orders() or 0, drinks=drinks, unknown=unknown)


def waiting_by_hour(force: InForce) -> dict[object, int]:
    """Orders of nothing but what waits, by export, day and hour."""
    rows = force.receipts().filter(waiting__gt=0, hour__isnull=False)
    found: dict[object, int] = {}
    for mix, day, hour, n in rows.values_list("mix_id", "day", "hour", "waiting"):
        found[mix, day, hour] = n
    return found
