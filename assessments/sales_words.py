"""What is said of an export: how it was read, which days it has, what it takes the place of."""

from __future__ import annotations

import datetime as dt
from collections.abc import Iterable, Iterator, Mapping, Sequence
from decimal import Decimal
from itertools import groupby

from django.utils.formats import date_format, number_format
from django.utils.translation import gettext as _
from django.utils.translation import ngettext

from assessments.models import SalesMix
from assessments.sales_in_force import InForce, Lost
from assessments.sales_receipts import Orders
from assessments.sales_replacing import Beside, Replaced, Replacing

_DIGITS = 3


def amount(n: Decimal | float) -> str:
    """As many as are kept, and no zeros behind: one way for every count of sales."""
    said = f"{round(Decimal(str(n)), _DIGITS):f}"
    return number_format(said.rstrip("0").rstrip(".") if "." in said else said)


def spans(days: Sequence[dt.date]) -> list[str]:
    """Days in their order, those that follow one another as one."""
    runs = groupby(enumerate(days), key=lambda pair: pair[1].toordinal() - pair[0])
    return [_span([day for _n, day in run]) for _key, run in runs]


def _span(days: Sequence[dt.date]) -> str:
    one, other = (date_format(day, "DATE_FORMAT") for day in (days[0], days[-1]))
    return one if days[0] == days[-1] else _("%(one)s to %(other)s") % {"one": one, "other": other}


def export_name(mix: SalesMix) -> str:
    day = date_format(mix.venue.business_day(mix.at), "DATE_FORMAT")
    return _("taken in on %(day)s") % {"day": day}


def orders_words(found: Orders) -> list[tuple[str, str, str]]:
    """How many there are and how many drinks one has, each with what waits in it."""
    waiting = ngettext(
        "%(n)s of them has nothing but names that wait to be told: counted until then",
        "%(n)s of them have nothing but names that wait to be told: counted until then",
        found.waiting,
    ) % {"n": found.waiting}  # fmt: skip
    orders = (_("Orders of drinks"), amount(found.orders), waiting if found.waiting else "")
    return [orders, (_("Drinks an order"), *_drinks_an_order(found))] if found.orders else [orders]


def _drinks_an_order(found: Orders) -> tuple[str, str]:
    if found.drinks_an_order is None:
        said, known = _("not known yet"), []
    else:
        said = number_format(f"{found.drinks_an_order:.1f}")  # with places it cuts off
        known = [_("on those of which every name is told: %(n)s") % {"n": amount(found.told)}]
    if found.partly:
        known.append(_("on others a name waits to be told: %(n)s") % {"n": amount(found.partly)})
    if found.unknown:
        before = _("left out until all names of their export are told: %(n)s")
        known.append(before % {"n": amount(found.unknown)})
    return said, "; ".join(known if len(known) > 1 or not found.told else [])


def ways_words(ways: Iterable[tuple[str, Decimal]]) -> str:
    """How a name is written, with how often each was sold."""
    return ", ".join(f"{name} ({amount(n)})" for name, n in ways)


def below_zero_words(found: Mapping[str, Decimal]) -> list[str]:
    """Of which drinks or names more was taken off than sold."""
    said = _("%(name)s: %(n)s. More was taken off than sold.")
    return [said % {"name": name or _("no name"), "n": amount(n)} for name, n in found.items()]


def beyond_words(found: Mapping[str, Decimal]) -> list[str]:
    """What no bar sells so often."""
    said = _("%(name)s: %(n)s. No bar sells so much of one thing.")
    return [said % {"name": name or _("no name"), "n": amount(n)} for name, n in found.items()]


def hours_left_words(mixes: Sequence[SalesMix]) -> str:
    """Where a name was told that the hours of these exports don't tell apart."""
    said = _("What was %(exports)s keeps its orders by hour as they were: it didn't tell names "
             "apart by hour. Take it back and in once more to have them right.")  # fmt: skip
    return said % {"exports": ", ".join(dict.fromkeys(export_name(mix) for mix in mixes))}


def replaced_words(one: Replaced) -> str:
    """ "2 March to 4 March: 120 sold of what was taken in on 9 March count no longer."""
    values = {"n": amount(one.quantity), "export": export_name(one.mix)}
    if one.days:
        said = _("%(days)s: %(n)s sold of what was %(export)s count no longer.")
        said %= values | {"days": ", ".join(spans(one.days))}
    elif one.mix.first_day:
        said = _("What was %(export)s, %(n)s sold: its days were not kept apart.") % values
    else:
        said = _("What was %(export)s without days, %(n)s sold, counts no longer.") % values
    more = [said]
    if one.all_of_it and one.days:
        more.append(_("Nothing of it counts then."))
    if one.loses_hours:
        more.append(_("It told hours and this file doesn't: The night loses them."))
    if one.loses_orders:
        more.append(_("It told orders apart and this file doesn't."))
    return " ".join(more)


def beside_words(one: Beside) -> str:
    """Of an older export that goes on counting, though it may have the same sales."""
    mix = one.mix
    values = {"export": export_name(mix), "n": amount(mix.quantity), "sold": amount(one.sold)}
    if mix.first_day and mix.last_day:
        values["days"] = _span([mix.first_day, mix.last_day])
        said = _("What was %(export)s counts as well: %(days)s, %(n)s rung up.")
    else:
        said = _("What was %(export)s without days counts as well, %(n)s rung up.")
    both = ngettext(
        "%(names)s name of this file stands there too, with %(sold)s sold here.",
        "%(names)s names of this file stand there too, with %(sold)s sold here.", one.names,
    )  # fmt: skip
    return f"{said % values} {both % (values | {'names': one.names})}"


def outdone_words(replaces: Replacing) -> list[str]:
    """What of an export that is about to come won't count."""
    if not replaces.pieces:
        return []
    said = _("%(n)s of what this file rings up won't count, its piece of %(days)s: an export taken "
             "in before tells more hours of that evening and goes on counting there.")  # fmt: skip
    days = ", ".join(spans(replaces.pieces))
    return [said % {"n": amount(replaces.outdone), "days": days}]


def taken_in_words(mix: SalesMix, force: InForce) -> str:
    n = amount(mix.quantity)
    if mix.pk not in force.lost:
        return _("Taken in: %(n)s rung up.") % {"n": n}
    said = _("Taken in: %(n)s rung up; %(now)s.")
    return said % {"n": n, "now": counts_now_words(mix, force)}


def counts_now_words(mix: SalesMix, force: InForce) -> str:
    """How many of an export count, and why the others don't; "" where all do."""
    lost = force.lost.get(mix.pk)
    if lost is None:
        return ""
    why = " ".join(_whys(lost, any_left=mix in force.mixes))
    return _("%(n)s of them count now: %(why)s") % {
        "n": amount(force.counting_of(mix)), "why": why,
    }  # fmt: skip


def _whys(lost: Lost, *, any_left: bool) -> Iterator[str]:
    """An older export may count as well, where it tells more."""
    if lost.to_older:
        days = ", ".join(spans(lost.to_older))
        said = _("another export tells more of %(days)s") % {"days": days}
        yield f"{said}," if lost.to_newer else said
    if lost.to_newer and any_left:
        yield _("a newer one replaces its other days")
    elif lost.to_newer:
        yield (
            _("newer ones replaced the others")
            if lost.to_older
            else _("newer ones replaced all of it")
        )


def counts_words(counted: Mapping[str, tuple[int, Decimal]]) -> Iterator[str]:
    """Names with a count in them."""
    said = _("“%(said)s”, %(n)s sold: its name tells of %(each)s drinks, so it is asked about.")
    for name, (each, n) in counted.items():
        yield said % {"said": name, "n": amount(n), "each": each}


LONG_AGO = dt.timedelta(days=550)
"""A year and a half: nobody's mix of today (our own number)."""


def old_words(days: Sequence[dt.date], today: dt.date) -> Iterator[str]:
    old = [day for day in days if today - day > LONG_AGO]
    if old:
        said = _("Long ago: %(days)s. Look whether the year is right.")
        yield said % {"days": ", ".join(spans(old))}
