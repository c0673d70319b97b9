"""The shared tablet: enrolled once by a manager, then everybody comes in with a PIN of their own.

Five wrong tries in a quarter of an hour and the person's PIN waits, on every tablet; five on one
tablet, whoever they were for, and the tablet waits. Fifteen for one person in a day and only a
manager lets them try again. (The numbers are common practice, no source.) The address a tablet
calls from is never looked at: everything in a bar shares one.

One transaction each; what a manager decides and a PIN that is set go into the log.
"""

from __future__ import annotations

import datetime as dt
import math

from django.contrib.auth.hashers import check_password, make_password
from django.db import transaction

from . import log
from .codes import hash_of_token, new_token
from .models import Membership, Pin, PinTry, Tablet
from .names import clean_name
from .reasons import refuse

SHORTEST, LONGEST = 4, 8
TRIES = 5
WINDOW = dt.timedelta(minutes=15)
TRIES_A_DAY = 15
DAY = dt.timedelta(days=1)
OBVIOUS = ("0123456789", "9876543210")
"""A PIN that runs along one of these, or repeats itself, is the first that anybody tries."""


@transaction.atomic
def enrol_tablet(*, by: Membership, name: str, at: dt.datetime) -> tuple[Tablet, str]:
    """A tablet, with the token for its cookie: the only time that it is to be had."""
    token = new_token()
    tablet = Tablet.objects.create(
        venue=by.venue, name=clean_name(name), token_hash=hash_of_token(token), enrolled_by=by,
        enrolled_at=at,
    )  # fmt: skip
    _log(by, "tablet_enrolled", tablet, at)
    return tablet, token


@transaction.atomic
def withdraw_tablet(*, by: Membership, tablet: Tablet, at: dt.datetime) -> None:
    """From now on it is a device like any other; whoever was in on it is out."""
    tablet = _locked(tablet)
    if tablet.venue_id != by.venue_id:
        raise refuse("other_house")
    if tablet.withdrawn_at is not None:
        raise refuse("tablet_withdrawn_already")
    tablet.withdrawn_at = at
    tablet.save(update_fields=["withdrawn_at"])
    _log(by, "tablet_withdrawn", tablet, at)


@transaction.atomic
def release_tablet(*, by: Membership, tablet: Tablet, at: dt.datetime) -> None:
    """Its wrong tries are forgiven: it may be used again at once."""
    if tablet.venue_id != by.venue_id:
        raise refuse("other_house")
    PinTry.objects.on(_locked(tablet)).delete()
    _log(by, "tablet_released", tablet, at)


@transaction.atomic
def release_person(*, by: Membership, membership: Membership, at: dt.datetime) -> None:
    """Their wrong tries are forgiven: they may try their PIN again at once."""
    if membership.venue_id != by.venue_id:
        raise refuse("other_house")
    PinTry.objects.of(membership).delete()
    log.append(venue=by.venue, by=by, kind="pin_released", subject=membership, at=at)


@transaction.atomic
def set_pin(*, by: Membership, pin: str, at: dt.datetime) -> Pin:
    """One's own PIN, in place of the one before. Refuses what anybody would try first."""
    check_shape(pin)
    row, _new = Pin.objects.update_or_create(
        membership=by, defaults={"venue": by.venue, "hash": make_password(pin), "set_at": at}
    )
    log.append(venue=by.venue, by=by, kind="pin_set", subject=by, at=at)
    return row


def check_shape(pin: str) -> None:
    if not (pin.isascii() and pin.isdigit() and SHORTEST <= len(pin) <= LONGEST):
        raise refuse("pin_shape", "pin", least=SHORTEST, most=LONGEST)
    if any(pin in run for run in OBVIOUS) or len(set(pin)) == 1 or pin[:2] * (len(pin) // 2) == pin:
        raise refuse("pin_obvious", "pin")


@transaction.atomic
def try_pin(*, tablet: Tablet, membership: Membership, pin: str, at: dt.datetime) -> bool:
    """Whether it is theirs. A wrong one counts; a right one forgives their wrong ones here.

    Refuses while the person or the tablet waits, without looking at the PIN. The row of the
    tablet is held meanwhile, so that tries sent at once are counted one after the other.
    """
    tablet = _locked(tablet)
    refuse_waiting(tablet, membership, at)
    row = Pin.objects.of(membership).here(tablet.venue.business_day(at)).first()
    if row is not None and row.venue_id == tablet.venue_id and check_password(pin, row.hash):
        PinTry.objects.on(tablet).of(membership).delete()
        return True
    PinTry.objects.stale(at - DAY).delete()
    PinTry.objects.create(venue=tablet.venue, tablet=tablet, membership=membership, at=at)
    return False


def refuse_waiting(tablet: Tablet, membership: Membership, at: dt.datetime) -> None:
    if PinTry.objects.of(membership).since(at - DAY).count() >= TRIES_A_DAY:
        raise refuse("pin_needs_manager")
    if minutes := minutes_for_person(membership, at):
        raise refuse("pin_waits", minutes=minutes)
    if minutes := minutes_for_tablet(tablet, at):
        raise refuse("tablet_waits", minutes=minutes)


def minutes_for_person(membership: Membership, at: dt.datetime) -> int:
    """0 when a try is free."""
    return _minutes(PinTry.objects.of(membership), at)


def minutes_for_tablet(tablet: Tablet, at: dt.datetime) -> int:
    return _minutes(PinTry.objects.on(tablet), at)


def _minutes(tries: object, at: dt.datetime) -> int:
    """Until the fifth newest of them is a quarter of an hour old."""
    newest = tries.since(at - WINDOW).order_by("-at")  # type: ignore[attr-defined]
    times: list[dt.datetime] = list(newest.values_list("at", flat=True)[:TRIES])
    if len(times) < TRIES:
        return 0
    return max(1, math.ceil((times[0] + WINDOW - at).total_seconds() / 60))


def _locked(tablet: Tablet) -> Tablet:
    return Tablet.objects.select_for_update(no_key=True).select_related("venue").get(pk=tablet.pk)


def _log(by: Membership, kind: str, tablet: Tablet, at: dt.datetime) -> None:
    log.append(venue=by.venue, by=by, kind=kind, facts={"tablet": tablet.code}, at=at)


def person_waits(membership: Membership, at: dt.datetime) -> bool:
    """Whether a manager may want to let them try again."""
    day = PinTry.objects.of(membership).since(at - DAY).count()
    return day >= TRIES_A_DAY or bool(minutes_for_person(membership, at))
