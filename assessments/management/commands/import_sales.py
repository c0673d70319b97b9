"""`manage.py import_sales FILE [--venue SLUG] [--dry-run] [--instead] [--fewer] [--beside]
[--sure] [--encoding NAME] [--json]`

Takes in what a till exported (CSV, XLSX or ODS): columns item and quantity, and if there are any
date, hour, size, status and an order's number, in whatever words and order the till has them. Every
name is read as a guest's call would be; what is not certain is set aside, waiting to be told once,
with what was probably meant, and of how many drinks a name tells (`tells_of`: a pack, "2 x"); names
that differ in a size alone are asked about once (`written`: each, with how often it was sold).
Columns of voids, returns and refunds are all taken off; those that nothing was read from are told
(`columns_unused`). Quantities in are those mapped and those set aside, as they were rung up; of
`drinks` and `drinks_mapped` each glass of a pack is one. Of a business day the newest export
counts, or an older one that tells more hours of it: what either loses is said (`not_counting` of
the file itself). With `--instead` it takes the place of what came without days before, and, as
with `--fewer` alone, of days of which an older export tells hours or orders that it doesn't;
without either such a file is refused.
Where nobody can tell whether two exports have the same sales, since one of them has no days, it is
refused too unless `--beside` says that these are others. What was taken off more often than sold,
or sold more often than any bar does, goes in with `--sure` alone. A dry run says each of them
(`may_count_twice`, `below_zero`, `beyond`, `needs`) and refuses none of these. An order is a
receipt with drinks or names that wait on it; `drinks_per_order` is of the `orders_told`, those on
which no name waits. Exit 0 with what became of it, 2 with one line on stderr where it can't go in.
It is written in the name of the house's owner.
"""

from __future__ import annotations

import datetime as dt
import json
from argparse import ArgumentParser
from collections.abc import Iterator, Mapping, Sequence
from contextlib import contextmanager
from pathlib import Path
from typing import Any

from django.core.management.base import CommandParser
from django.db import transaction
from django.utils import timezone

from assessments import record_sales, sales
from assessments.models.sales import SalesMix
from assessments.sales_counting import Counted
from assessments.sales_flags import needs, why
from assessments.sales_in_force import only
from assessments.sales_preview import read_as_words, uncounted_rows
from assessments.sales_read_as import unused_words
from assessments.sales_replacing import Replacing
from assessments.sales_values import read_values, values
from assessments.sales_words import (
    amount,
    below_zero_words,
    beside_words,
    beyond_words,
    orders_words,
    outdone_words,
    replaced_words,
    ways_words,
)
from assessments.till_file import till_received, till_sheet
from barcourse.people.management.asking import AskingCommand
from barcourse.people.models import Membership
from barcourse.people.reasons import Refused
from recipes.grammar.reasons import CannotBuild
from recipes.grammar.till_found import TillSheet
from recipes.grammar.till_kinds import Kind
from recipes.import_words import sheet_problems
from recipes.importing import ENCODINGS, Received
from recipes.management.asking import house_named, menu_of, owner_of, refused
from recipes.menu import Menu

FLAGS = ("instead", "fewer", "beside", "sure")


class Command(AskingCommand):
    help = "Takes in what the till sold: as drinks of the house, or set aside and why."

    def add_arguments(self, parser: CommandParser | ArgumentParser) -> None:
        parser.add_argument("file", type=Path)
        parser.add_argument("--venue", default="", help="slug of the house (default: the only one)")
        parser.add_argument("--dry-run", action="store_true", help="only say what would come of it")
        parser.add_argument(
            "--instead", action="store_true",
            help="takes the place of what came without days, and of what tells more of its days",
        )  # fmt: skip
        parser.add_argument(
            "--fewer", action="store_true",
            help="takes the place of what tells more of its days, and of nothing without days",
        )  # fmt: skip
        parser.add_argument(
            "--beside", action="store_true",
            help="these are other sales than those that count already, though one has no days",
        )  # fmt: skip
        parser.add_argument(
            "--sure", action="store_true",
            help="so many were really taken off, or sold",
        )  # fmt: skip
        parser.add_argument("--encoding", choices=ENCODINGS, help="where it is found out wrongly")
        parser.add_argument("--json", action="store_true", dest="as_json")

    def handle(self, *args: Any, as_json: bool, **options: Any) -> None:
        house, at = house_named(options["venue"]), timezone.now()
        menu, by = menu_of(house, at), owner_of(house, at)
        with _in_words(options["file"]):
            came, sheet, counted, replaces = _looked_at(options, menu, at)
            with transaction.atomic():  # what takes long was done before anybody has to wait
                mix = _taken_in(options, menu, by, at, sheet, counted, replaces)
                found, shares = sales.summary(menu, only(mix)), sales.as_sold(menu)
                transaction.set_rollback(options["dry_run"])
        read = _read_as(menu, at, came, sheet, counted, replaces)
        said = values(found, shares) | {"dry_run": options["dry_run"]}
        said["needs"] = needs(counted, replaces, [flag for flag in FLAGS if options[flag]])
        said |= read_values(sheet, counted, replaces)
        words = [*read, *(replaced_words(one) for one in replaces.replaced)]
        words += [f"{label}: {n}{f' ({note})' if note else ''}." for label, n, note in
                  (orders_words(found.orders) if found.orders else [])]  # fmt: skip
        self.stdout.write(json.dumps(said, ensure_ascii=False) if as_json else _text(said, words))


@contextmanager
def _in_words(path: Path) -> Iterator[None]:
    try:
        yield
    except OSError as bad:
        raise refused(f"{path}: {bad.strerror}.") from None
    except CannotBuild as bad:
        raise refused(f"{path}: {' '.join(sheet_problems(bad.reasons))}") from None
    except Refused as bad:
        raise refused(f"{path}: {why(bad)}") from None


def _looked_at(
    options: dict[str, Any], menu: Menu, at: dt.datetime
) -> tuple[Received, TillSheet, Counted, Replacing]:
    """What came, its rows, these added up, and what they replace."""
    came = till_received(options["file"].read_bytes())
    sheet = till_sheet(came, menu.venue, options["encoding"])
    return (
        came,
        sheet,
        *record_sales.look_at(
            venue=menu.venue, sheet=sheet, menu=menu, at=at, instead=options["instead"]
        ),
    )


def _taken_in(
    options: dict[str, Any], menu: Menu, by: Membership, at: dt.datetime, sheet: TillSheet,
    counted: Counted, replaces: Replacing,
) -> SalesMix:  # fmt: skip
    instead, dry = options["instead"], options["dry_run"]
    return record_sales.import_sales(
        by=by,
        sheet=sheet,
        menu=menu,
        at=at,
        instead=instead,
        sure=options["sure"] or dry,
        beside=options["beside"] or (dry and bool(replaces.beside)),
        less=instead or options["fewer"] or dry,
        counted=counted,
    )


def _read_as(
    menu: Menu, at: dt.datetime, came: Received, sheet: TillSheet, counted: Counted,
    replaces: Replacing,
) -> list[str]:  # fmt: skip
    read = [*_sheet_words(came), *read_as_words(sheet, counted, menu.venue.business_day(at))]
    read += unused_words(sheet)
    read += below_zero_words(counted.below_zero()) + beyond_words(counted.beyond())
    if rows := uncounted_rows(sheet):
        n = sheet.rows_of(Kind.UNREADABLE)
        read.append(f"Rows that can't be read, not counted: {n}. These: {rows}.")
    read += outdone_words(replaces)
    return read + [f"May count twice: {beside_words(one)}" for one in replaces.beside]


def _sheet_words(came: Received) -> list[str]:
    others = f" Left out: {', '.join(came.others)}." if came.others else ""
    return [f"Read from the sheet {came.name}.{others}"] if came.name else []


NAMED = 8
"""Drinks of a list that nobody asked for, so that it stays a line (our own number)."""


def _some(slugs: Sequence[str]) -> str:
    """All of them stand in the JSON."""
    more = len(slugs) - NAMED
    said = ", ".join(slugs[:NAMED]) or "none"
    return f"{len(slugs)} ({said} and {more} more; --json has them all)" if more > 0 else said


def _line(called: Mapping[str, Any]) -> str:
    return f"{amount(called['quantity'])} {called['item']}"


def _ways(asked: Mapping[str, Any]) -> str:
    """Where it is written in several ways."""
    written = asked["written"]
    return f" ({ways_words(written.items())})" if len(written) > 1 else ""


def _text(said: dict[str, Any], words: Sequence[str]) -> str:
    head = "Would come in" if said["dry_run"] else "Taken in"
    mapped, aside = said["mapped"], said["set_aside"]
    rung_up, ours, others = (amount(n) for n in (said["quantity"], mapped, aside))
    sums = f"{rung_up} rung up: {ours} mapped and {others} set aside"
    if said["drinks_mapped"] != mapped:
        sums += f"; those mapped are {amount(said['drinks_mapped'])} drinks, as some are several"
    waiting = [
        f"{_line(c)}{_ways(c)}: which drink? {' or '.join(c['did_you_mean']) or 'no idea'}"
        for c in said["ask"]
    ]
    untaught = [f"{_line(c)}: not taught" for c in said["sold_not_taught"]]
    nameless = [f"{amount(n)} without a name: set aside"] if (n := said["without_a_name"]) else []
    never = _some(said["taught_not_sold"])
    asks = [f"Refused without {' and '.join(said['needs'])}."] if said["needs"] else []
    ahead = [f"{_line(c)}: dated after today" for c in said["ahead"]]
    return "\n".join(
        [
            f"{head}: {sums}.",
            *words,
            *asks,
            *ahead,
            *nameless,
            *waiting,
            *untaught,
            f"Taught, never sold: {never}.",
        ]
    )
