"""Who somebody is, by sign-in name and password, with a brake on guessing.

Ten wrong tries in a quarter of an hour for one account on one device, and that device waits.
Sixty for one account over all devices that never signed in to it, and every such device waits:
so throwing the device's cookie away does not help, and nobody can keep an owner's own phone out.
(The numbers are common practice, no source.)
"""

from __future__ import annotations

import datetime as dt
import math

from django.contrib.auth import authenticate
from django.http import HttpRequest
from django.utils.crypto import salted_hmac

from .device import device_of
from .models import Membership, Person, SignInTry
from .names import clean_sign_in
from .once import afterwards
from .reasons import Refused, refuse

WINDOW = dt.timedelta(minutes=15)
TRIES_A_DEVICE = 10
TRIES_BY_STRANGE_DEVICES = 60


def recognise(request: HttpRequest, *, sign_in: str, password: str, at: dt.datetime) -> Person:
    """The person with this sign-in and password. Refuses wrong ones and too many tries."""
    account, device = _account(sign_in), device_of(request)
    if minutes := minutes_to_wait(account, device, at):
        raise refuse("sign_in_too_often", minutes=minutes)
    person = authenticate(request, username=sign_in, password=password)
    if not isinstance(person, Person):
        afterwards(request, lambda: _remember_wrong(account, device, at))
        raise refuse("sign_in_wrong")
    _remember_right(account, device, at)
    return person


def refuse_gone(person: Person, at: dt.datetime) -> None:
    """Somebody who has left every house they were in is told so at the door."""
    memberships = list(Membership.objects.of(person).select_related("venue").order_by("-left_day"))
    if memberships and not any(m.is_here(m.venue.business_day(at)) for m in memberships):
        raise refuse("sign_in_gone", house=memberships[0].venue.name)


def minutes_to_wait(account: str, device: str, at: dt.datetime) -> int:
    """0 when a try is free."""
    wrong = SignInTry.objects.for_account(account).wrong_since(at - WINDOW)
    here = wrong.on(device).order_by("-at")
    if wait := _minutes_until_free(here.values_list("at", flat=True), TRIES_A_DEVICE, at):
        return wait
    known = SignInTry.objects.for_account(account).that_worked()
    if known.on(device).exists():
        return 0
    strange = wrong.exclude(device__in=known.values("device")).order_by("-at")
    times = strange.values_list("at", flat=True)
    return _minutes_until_free(times, TRIES_BY_STRANGE_DEVICES, at)


def _minutes_until_free(newest_first: object, most: int, at: dt.datetime) -> int:
    times: list[dt.datetime] = list(newest_first[:most])  # type: ignore[index]
    if len(times) < most:
        return 0
    return max(1, math.ceil((times[-1] + WINDOW - at).total_seconds() / 60))


def _account(sign_in: str) -> str:
    try:
        name = clean_sign_in(sign_in)
    except Refused:
        name = ""
    return salted_hmac("people.signing_in", name, algorithm="sha256").hexdigest()


def _remember_wrong(account: str, device: str, at: dt.datetime) -> None:
    SignInTry.objects.stale(at - WINDOW).delete()
    SignInTry.objects.create(account=account, device=device, worked=False, at=at)


def _remember_right(account: str, device: str, at: dt.datetime) -> None:
    SignInTry.objects.for_account(account).on(device).delete()
    SignInTry.objects.create(account=account, device=device, worked=True, at=at)
