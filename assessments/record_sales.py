"""What the till sold, written: an export taken in or taken back, a name told once and for all."""

from __future__ import annotations

import datetime as dt
from collections import defaultdict
from collections.abc import Collection, Iterable, Mapping
from dataclasses import dataclass

from django.db import transaction
from django.utils.formats import date_format

from assessments import record_steps as steps
from assessments.models.sales import (
    CallMapping,
    Kept,
    OrdersByHour,
    Place,
    SalesDay,
    SalesLine,
    SalesMix,
    SalesReceipts,
)
from assessments.record_receipts import Moves, tell_receipts
from assessments.sales_counting import Counted, count
from assessments.sales_read_as import row_numbers
from assessments.sales_reading import Heard, heard
from assessments.sales_replacing import Replacing, replacing
from assessments.sales_told import Meanings, Meant, plain
from barcourse.people import log
from barcourse.people.models import Membership, Venue
from barcourse.people.reasons import refuse
from recipes.grammar.till_found import TillSheet
from recipes.grammar.till_kinds import Kind
from recipes.grammar.till_packs import several
from recipes.menu import Menu


@transaction.atomic
def import_sales(
    *, by: Membership, sheet: TillSheet, menu: Menu, at: dt.datetime, instead: bool = False,
    seen: str | None = None, sure: bool = False, beside: bool = False, less: bool = False,
    counted: Counted | None = None,
) -> SalesMix:  # fmt: skip
    """Takes an export in: every line that is certain as its drink, everything else set aside. With
    `instead` it takes the place of what came without days before.

    Refuses one without a single sale, the same one twice, one that takes off more of a drink than
    it sold or sold more than any bar does where nobody is `sure` of that, one that may have the
    sales of another that counts, as one of them has no days, where nobody said that it counts
    `beside` that, one that tells `less` of days than those it takes the place of, and where another
    one came since somebody looked at what it would replace (`seen`). `counted` is what `look_at`
    found of these rows before, when nobody had to wait for it."""
    venue = Venue.objects.select_for_update(no_key=True).get(pk=by.venue_id)
    counted, replaces = look_at(
        venue=venue, sheet=sheet, menu=menu, at=at, instead=instead, counted=counted
    )
    refuse_untold(
        counted, replaces, seen=seen, sure=sure, instead=instead, beside=beside, less=less
    )
    mix = SalesMix.objects.create(
        venue=venue, by=by, at=at, print_of_file=counted.print_of_file, instead=instead,
        first_day=min(counted.days, default=None), last_day=max(counted.days, default=None),
        quantity=counted.quantity, orders=counted.order_count,
        rows=sheet.rows,
        unreadable=sheet.rows_of(Kind.UNREADABLE), totals=sheet.rows_of(Kind.TOTAL),
    )  # fmt: skip
    SalesDay.objects.bulk_create(counted.day_rows(mix, venue.business_hour), batch_size=500)
    SalesLine.objects.bulk_create(counted.line_rows(mix), batch_size=500)
    OrdersByHour.objects.bulk_create(counted.hour_rows(mix), batch_size=500)
    SalesReceipts.objects.bulk_create(counted.receipt_rows(mix), batch_size=500)
    facts = {"sales": mix.code, "lines": len(sheet.lines)}
    log.append(venue=venue, by=by, kind="sales_imported", facts=facts, at=at)
    return mix


def refuse_untold(
    counted: Counted, replaces: Replacing, *, instead: bool, beside: bool = False,
    sure: bool = False, less: bool = False, seen: str | None = None,
) -> None:  # fmt: skip
    """Refuses what somebody has to say first, as `import_sales` does, and two that can't both be:
    that it counts beside what it takes the place of."""
    if seen is not None and replaces.print != seen:
        raise refuse("sales_came_meanwhile")
    if counted.is_nonsense:
        raise refuse("sales_nonsense")
    if counted.below_zero() and not sure:
        raise refuse("sales_below_zero")
    if counted.beyond() and not sure:
        raise refuse("sales_beyond")
    if instead and beside and replaces.undated and not replaces.beside:
        raise refuse("sales_both_ways")
    if replaces.beside and not beside:
        raise refuse("sales_twice")
    if replaces.tells_less and not less:
        raise refuse("sales_tell_less")


def look_at(
    *, venue: Venue, sheet: TillSheet, menu: Menu, at: dt.datetime, instead: bool = False,
    counted: Counted | None = None,
) -> tuple[Counted, Replacing]:  # fmt: skip
    """What would come of an export, and of those before it. Refuses what can't go in whatever is
    said of it. Rows `counted` before are counted anew where names were told meanwhile."""
    told, today = meanings(venue), venue.business_day(at)
    if counted is None or (counted.meant, counted.today) != (told, today):
        counted = count(sheet, menu, told, today)
    if not counted.lines and sheet.formulas:
        raise refuse("sales_are_formulas", "file", rows=row_numbers(sheet.formulas))
    if not counted.lines:
        raise refuse("no_sales_in_it", "file")
    if counted.ahead and not any(p is not Place.AHEAD for p in counted.sums()):
        raise refuse("sales_ahead", "file")
    before = SalesMix.objects.in_house(venue).standing()
    if same := before.filter(print_of_file=counted.print_of_file).first():
        day = date_format(venue.business_day(same.at), "DATE_FORMAT")
        raise refuse("sales_in_already", "file", day=day, name=same.by.name)
    return counted, replacing(venue, counted, at, instead=instead)


FORGET = ""
"""Told of a name: it is asked about once more."""


@dataclass(frozen=True)
class NamesTold:
    """How many names were told, those that somebody else told otherwise meanwhile, and exports
    whose hours go on counting what is no drink any more: they don't tell names apart by hour."""

    names: int
    meanwhile: tuple[str, ...] = ()
    hours_left: tuple[SalesMix, ...] = ()


@transaction.atomic
def tell_names(
    *, by: Membership, told: Mapping[str, str | None], menu: Menu, at: dt.datetime,
    seen: Mapping[str, str | None] | None = None, each: Mapping[str, int] | None = None,
    alike: Mapping[str, Collection[str]] | None = None,
) -> NamesTold:  # fmt: skip
    """What names on the till mean from now on, and in all that was taken in before: a drink by its
    slug, None for nothing that is taught, `FORGET` for what it is read as. A name that no longer
    means what it did when the page was shown (`seen`, as `meaning_of` says it) stays as it was told
    meanwhile. One sale of a name is `each` drinks, 1 where nothing is said; refuses a name that
    tells of several, told to be a drink without that. What is told of a name is told of those
    `alike` too, which nobody told before. Raises KeyError for a slug that is not on the menu."""
    venue = Venue.objects.select_for_update(no_key=True).get(pk=by.venue_id)
    before = meanings(venue)
    met = tuple(s for s in told if seen and s in seen and meaning_of(s, before) != seen[s])
    told = {said: to for said, to in told.items() if said not in met}
    if any(said not in (each or {}) for said in tell_of_several(told, menu, before)):
        raise refuse("till_name_of_several")
    for said, to in told.items():
        _keep(said, to, (each or {}).get(said, 1), menu, by, at)
    asked = len(told)
    told |= _alike_too(told, alike or {}, menu, before)
    for said in [*told][asked:]:
        _keep(said, told[said], 1, menu, by, at)
    moved: Moved = {}
    moves: Moves = defaultdict(list)
    after = meanings(venue)
    for said in sorted({*told, *_names_around(venue, told)}):
        was, now = (heard(said, menu, meant) for meant in (before, after))
        if said in told or (was.kept, was.recipe) != (now.kept, now.recipe):
            rows = list(SalesLine.objects.called(venue, said))
            moved[said] = (_places(rows), now.kept)
            for mix, place in {row.mix_id: Place(row.place) for row in rows}.items():
                moves[mix].append((place, now.place))
            _merge(rows, now)
    left = _those({*_tell_hours(venue, moved), *tell_receipts(moves)})
    if told:
        facts = {"names": asked}
        log.append(venue=venue, by=by, kind="till_names_told", facts=facts, at=at)
    return NamesTold(asked, met, left)


def _keep(
    said: str, to: str | None, each: int, menu: Menu, by: Membership, at: dt.datetime
) -> None:
    if to == FORGET:
        CallMapping.objects.filter(venue=menu.venue, said=said).delete()
        return
    recipe = menu.by_slug[to].recipe if to else None
    values = {"recipe": recipe, "each": each if recipe else 1, "by": by, "at": at}
    CallMapping.objects.update_or_create(venue=menu.venue, said=said, defaults=values)


def _alike_too(
    told: Mapping[str, str | None], alike: Mapping[str, Collection[str]], menu: Menu,
    before: Meanings,
) -> dict[str, str | None]:  # fmt: skip
    """Those alike that don't follow by themselves what was told; what was told before stays."""
    after = meanings(menu.venue)
    return {
        other: to
        for said, to in told.items()
        if to != FORGET
        for other in alike.get(said, ())
        if other not in told and other not in before
        if not (now := heard(other, menu, after)).by_word or now.slug != to
    }


def tell_of_several(told: Mapping[str, str | None], menu: Menu, before: Meanings) -> list[str]:
    """Of those that are told to be drinks, the names that tell of more than one."""
    others = {said: meant for said, meant in before.items() if said not in told}
    return [said for said, to in told.items() if to and heard(said, menu, others).each != 1]


def meaning_of(said: str, told: Meanings) -> str | None:
    """As a page keeps it to see whether somebody told otherwise meanwhile: "madras", "madras:6"
    where each sale is six, None for nothing that is taught, `FORGET` where nobody told."""
    if said not in told:
        return FORGET
    recipe, each = told[said].recipe, told[said].each
    if recipe is None:
        return None
    return recipe.slug if each == 1 else f"{recipe.slug}:{each}"


def _names_around(venue: Venue, told: Iterable[str]) -> set[str]:
    """Names in what was taken in that have one of these within them, or tell of as many."""
    within = [plain(said) for said in told]
    counts = {(m.each, plain(m.rest)) for said in told if (m := several(said))}
    names = SalesLine.objects.filter(venue=venue).values_list("said", flat=True).distinct()
    return {
        said
        for said in names.order_by("said")
        if any(w in plain(said) for w in within)
        or ((m := several(said)) and (m.each, plain(m.rest)) in counts)
    }


@transaction.atomic
def withdraw_sales(*, by: Membership, mix: SalesMix, at: dt.datetime) -> None:
    """An export that was the wrong one counts no longer. Its lines stay."""
    steps.refuse_other_house(by, mix)
    row = SalesMix.objects.select_for_update(no_key=True).get(pk=mix.pk)
    if row.withdrawn_at is not None:
        raise refuse("sales_out_already")
    row.withdrawn_by, row.withdrawn_at = by, at
    row.save(update_fields=["withdrawn_by", "withdrawn_at"])
    log.append(venue=by.venue, by=by, kind="sales_withdrawn", facts={"sales": row.code}, at=at)


def meanings(venue: Venue) -> Meanings:
    """What names were told to mean."""
    rows = CallMapping.objects.filter(venue=venue).select_related("recipe")
    return {row.said: Meant(row.recipe, row.each) for row in rows}


def _merge(rows: Iterable[SalesLine], now: Heard) -> None:
    """Lines of one name go to another place; two that meet there become one."""
    kept: dict[tuple[object, ...], SalesLine] = {}
    for row in rows:
        first = kept.setdefault((row.mix_id, row.shift_kind, row.day), row)
        if first is not row:
            first.quantity += row.quantity
            row.delete()
    for row in kept.values():
        row.place, row.recipe, row.each = now.place, now.recipe, now.kept.each
        row.save(update_fields=["place", "recipe", "quantity", "each"])


def _places(rows: Iterable[SalesLine]) -> dict[int, Kept]:
    """By export, of what has an hour; one name stands in one place there."""
    return {row.mix_id: Kept(Place(row.place), row.each) for row in rows if row.shift_kind}


Moved = dict[str, tuple[dict[int, Kept], Kept]]
"""By name: where it was in each export, and where it went."""


def _those(mixes: Iterable[int]) -> tuple[SalesMix, ...]:
    return tuple(SalesMix.objects.filter(pk__in=mixes).order_by("at", "pk"))


def _tell_hours(venue: Venue, moved: Moved) -> set[int]:
    """Returns the exports that count in their hours what went to another place, and don't say by
    name in which."""
    hourly = defaultdict(list)
    for row in OrdersByHour.objects.filter(venue=venue):
        hourly[row.mix_id].append(row)
    changed, left = [], set[int]()
    for said, (places, now) in moved.items():
        for mix, was in places.items():
            told = [row for row in hourly[mix] if row.tell(said, was, now)]
            changed += told
            if not told and was.drinks != now.drinks:
                left.add(mix)
    unique = {row.pk: row for row in changed}
    OrdersByHour.objects.bulk_update(unique.values(), ["drinks", "waiting", "told"], batch_size=500)
    return left
