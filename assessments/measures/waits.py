"""Builds that are passed and wait for nothing but the sign-off of whoever watched them."""

import datetime as dt
from collections.abc import Callable, Collection, Iterable, Mapping, Sequence
from dataclasses import dataclass
from functools import cached_property
from typing import NamedTuple

from assessments.measures.as_asked import AsAsked
from recipes.grammar.reasons import Reason

CODES: dict[str, tuple[str, ...]] = {
    "sign_off_waits": ("drink", "trainer", "day"),
    "sign_off_waits_for_you": ("drink", "day"),
    "mend_sign_off_waits": ("drink", "trainer"),
    "mend_give_sign_off": ("drink",),
    "next_ask_sign_off": ("drink", "trainer", "day"),
    "next_give_sign_off": ("drink", "day"),
}


class Waits(NamedTuple):
    """A passed build of today's drink: its code, who watched it, by name and code, and the house's
    day of it."""

    build: str
    trainer: str
    by: str
    day: dt.date


@dataclass(frozen=True)
class Reader:
    """Who looks, by code; `kept` finds the builds whose marks are kept from them yet: asked for
    only where one of them might be told."""

    code: str = ""
    kept: Callable[[], Collection[str]] = frozenset

    @cached_property
    def blind(self) -> frozenset[str]:
        return frozenset(self.kept())


ANYBODY = Reader()


def missing(drink: str, waits: Waits) -> Reason:
    return Reason.of("sign_off_waits", drink=drink, trainer=waits.trainer, day=_day(waits))


def mend(reason: Reason) -> Reason:
    said = reason.values
    if reason.code == "sign_off_waits":
        return Reason.of("mend_sign_off_waits", drink=said["drink"], trainer=said["trainer"])
    return Reason.of("mend_give_sign_off", drink=said["drink"])


def step(drink: str, waits: Waits) -> Reason:
    return Reason.of("next_ask_sign_off", drink=drink, trainer=waits.trainer, day=_day(waits))


def _day(waits: Waits) -> str:
    return waits.day.isoformat()


def read_by(
    reader: Reader, waiting: Mapping[str, Waits], reasons: Iterable[Reason]
) -> Sequence[Reason]:
    """As this reader is told: whoever watched signs, and nobody learns of marks that are kept from
    them. `waiting` by the drink's name."""
    return AsAsked(_read(reader, waiting, reason) for reason in reasons)


def _read(reader: Reader, waiting: Mapping[str, Waits], reason: Reason) -> Reason:
    if reason.code not in ("sign_off_waits", "next_ask_sign_off"):
        return reason
    drink, is_step = str(reason.values["drink"]), reason.code == "next_ask_sign_off"
    waits = waiting[drink]
    if waits.build in reader.blind:
        untold = Reason.of("next_sign_off", drink=drink)
        return untold if is_step else Reason.of("not_signed_off", drink=drink)
    if waits.by == reader.code:
        yours = Reason.of("next_give_sign_off", drink=drink, day=_day(waits))
        told = Reason.of("sign_off_waits_for_you", drink=drink, day=_day(waits))
        return yours if is_step else told
    return reason
