"""What is said of an export: how it was read, which days it has, what it takes the place of."""

from __future__ import annotations

import datetime as dt
from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from decimal import Decimal
from itertools import groupby

from django.utils.formats import date_format, number_format
from django.utils.translation import gettext as _
from django.utils.translation import gettext_lazy, ngettext

from assessments.models import SalesMix
from assessments.sales_in_force import InForce, Lost
from assessments.sales_receipts import Orders
from assessments.sales_replacing import Beside, Replaced, Replacing
from recipes.grammar.till_sheet import Doubt, TillSheet

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
        said = number_format(found.drinks_an_order, 1)
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


HOLDS = {
    "item": gettext_lazy("What was sold"),
    "quantity": gettext_lazy("How many"),
    "size": gettext_lazy("Its size"),
    "date": gettext_lazy("The day"),
    "hour": gettext_lazy("The hour"),
    "order": gettext_lazy("The order"),
    "status": gettext_lazy("Void or sold"),
}


@dataclass(frozen=True)
class Column:
    """What a column of the file is read as: `name` is how the file calls it, "" where there is
    none; `by_cells` where it was known by what stands in it; `also` more of the same meaning."""

    what: str
    holds: str
    name: str
    by_cells: bool
    also: tuple[str, ...] = ()

    @property
    def names(self) -> str:
        return ", ".join(filter(None, (self.name, *self.also)))


def columns_of(sheet: TillSheet) -> list[Column]:
    return [
        Column(
            what, str(holds), sheet.columns.get(what, ""), what in sheet.by_cells,
            sheet.also_off if what == "status" else (),
        )
        for what, holds in HOLDS.items()
    ]  # fmt: skip


def unused_words(sheet: TillSheet) -> list[str]:
    """The columns that nothing was read from."""
    if not sheet.ignored:
        return []
    return [_("Not used: %(columns)s.") % {"columns": ", ".join(dict.fromkeys(sheet.ignored))}]


MOST_BELOW = 8
"""Rows that are told one by one."""


def laid_words(sheet: TillSheet) -> Iterator[str]:
    """How a sheet was laid out again before it was read."""
    if sheet.wide:
        columns = {"columns": ", ".join(sheet.wide)}
        days = _("These columns are read as days, each with how many were sold: %(columns)s.")
        sizes = _("These columns are read as sizes, each with how many were sold: %(columns)s.")
        yield (days if sheet.wide_as_days else sizes) % columns
    if sheet.other_moments:
        taken = [sheet.columns[what] for what in ("date", "hour") if what in sheet.columns]
        named = {"taken": ", ".join(dict.fromkeys(taken)), "others": ", ".join(sheet.other_moments)}
        yield _("When it was sold is read from %(taken)s, not from %(others)s.") % named
    if sheet.below:
        said = _("Rows without a name are read under the name above them: %(rows)s.")
        yield said % {"rows": _named_rows(sheet.below)}
    if sheet.shared_off:
        days = _("What was taken off isn't told by day. It comes off the busiest: %(rows)s.")
        sizes = _("What was taken off isn't told by size. It comes off what sold most: %(rows)s.")
        said = days if sheet.wide_as_days else sizes
        yield said % {"rows": _named_rows(sheet.shared_off)}


def _named_rows(rows: Sequence[tuple[int, str]]) -> str:
    told = ", ".join(f"{number} {name}" for number, name in rows[:MOST_BELOW])
    return told + (" …" if len(rows) > MOST_BELOW else "")


def unequal_words(sheet: TillSheet) -> Iterator[str]:
    """Which rows don't add up, and which of the two counts."""
    if not sheet.unequal:
        return
    if sheet.wide:
        said = _("These rows don't add up to their “%(sum)s”; what the columns say counts:")
    else:
        said = _("The columns beside it don't add up to “%(sum)s”, which counts:")
    row = _("row %(line)s, %(item)s: %(parts)s, not %(whole)s")
    rows = [
        row % {"line": x.line, "item": x.item, "parts": amount(x.parts), "whole": amount(x.whole)}
        for x in sheet.unequal[:MOST_BELOW]
    ]
    more = " …" if len(sheet.unequal) > MOST_BELOW else "."
    yield f"{said % {'sum': sheet.sum}} {'; '.join(rows)}{more}"


def row_numbers(rows: Sequence[int]) -> str:
    """ "2, 3, 9 …" """
    return ", ".join(map(str, rows[:MOST_BELOW])) + (" …" if len(rows) > MOST_BELOW else "")


def formula_words(sheet: TillSheet) -> Iterator[str]:
    if sheet.formulas:
        said = ngettext(
            "Row %(rows)s holds a formula whose result the file doesn't have: it can't be read. "
            "Open it in a spreadsheet, save it there, and send it once more.",
            "Rows %(rows)s hold formulas whose results the file doesn't have: they can't be read. "
            "Open it in a spreadsheet, save it there, and send it once more.",
            len(sheet.formulas),
        )
        yield said % {"rows": row_numbers(sheet.formulas)}


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


def doubts_words(doubts: Sequence[Doubt]) -> Iterator[str]:
    for doubt in doubts:
        is_day = isinstance(doubt.meant, dt.date)
        meant = date_format(doubt.meant) if is_day else amount(doubt.meant)  # type: ignore[arg-type]
        values = {"said": doubt.said, "meant": meant}
        if doubt.by_house:
            yield _("“%(said)s” is read as %(meant)s, as your country writes it.") % values
        else:
            yield _("“%(said)s” is read as %(meant)s, as the file's other rows say.") % values
