"""Somebody's turn on a shared tablet: it begins with their PIN and ends soon after they let go.

By PIN one may do what a trainer may and no more, whatever one's role: four digits are enough to
sign off a drink, not to make somebody an owner.
"""

from __future__ import annotations

import datetime as dt

from django.conf import settings
from django.contrib.auth import login, logout
from django.http import HttpRequest, HttpResponse

from .codes import hash_of_token
from .models import Membership, Tablet
from .roles import ROLE_MAY, May, Role

COOKIE = "tablet"
IDLE = dt.timedelta(minutes=4)
"""Nothing asked for as long as that, and the next one has to enter their PIN (our own number)."""
_SEEN_EVERY = 15  # seconds: not every page writes the session anew
_TABLET, _SEEN, _BY_PIN = "tablet", "tablet_seen", "tablet_by_pin"
_FIVE_YEARS = 5 * 365 * 24 * 3600


def tablet_of(request: HttpRequest) -> Tablet | None:
    """The tablet that this browser was enrolled as, if it still is one."""
    token = request.get_signed_cookie(COOKIE, default="")
    return Tablet.objects.with_token(hash_of_token(token)) if token else None


def make_tablet(response: HttpResponse, token: str) -> None:
    response.set_signed_cookie(
        COOKIE,
        token,
        max_age=_FIVE_YEARS,
        httponly=True,
        samesite="Lax",
        secure=settings.SESSION_COOKIE_SECURE,
    )


def begin(request: HttpRequest, tablet: Tablet, membership: Membership, at: dt.datetime) -> None:
    """A turn by PIN."""
    login(request, membership.person)
    _mind(request, tablet, at, by_pin=True)


def mind_where(request: HttpRequest, at: dt.datetime) -> None:
    """Whoever signs in with a password on a shared tablet may do all that their role may, and is
    forgotten there just as soon."""
    if tablet := tablet_of(request):
        _mind(request, tablet, at, by_pin=False)


def _mind(request: HttpRequest, tablet: Tablet, at: dt.datetime, *, by_pin: bool) -> None:
    request.session[_TABLET] = tablet.code
    request.session[_SEEN] = at.timestamp()
    request.session[_BY_PIN] = by_pin
    request.session.set_expiry(0)


def is_a_turn(request: HttpRequest) -> bool:
    """Whether this is somebody's turn on a shared tablet."""
    return _TABLET in getattr(request, "session", {})


def is_by_pin(request: HttpRequest) -> bool:
    return is_a_turn(request) and bool(request.session[_BY_PIN])


def end_if_over(request: HttpRequest, at: dt.datetime) -> bool:
    """Ends a turn that was left idle or whose tablet was taken back; says whether it did."""
    if not is_a_turn(request):
        return False
    seen = dt.datetime.fromtimestamp(request.session[_SEEN], dt.UTC)
    tablet = tablet_of(request)
    if tablet is None or tablet.code != request.session[_TABLET] or at - seen > IDLE:
        logout(request)
        return True
    if (at - seen).total_seconds() > _SEEN_EVERY:
        request.session[_SEEN] = at.timestamp()
    return False


def end(request: HttpRequest) -> None:
    if is_a_turn(request):
        logout(request)


def may(request: HttpRequest, membership: Membership, ability: May) -> bool:
    """What the role may; by PIN never more than a trainer, and in the tablet's house alone."""
    if not is_by_pin(request):
        return membership.may(ability)
    return membership.may(ability) and ability in ROLE_MAY[Role.TRAINER]


def is_elsewhere(request: HttpRequest, membership: Membership) -> bool:
    """A PIN opens the pages of the tablet's own house, not of another that one works in."""
    if not is_by_pin(request):
        return False
    tablet = tablet_of(request)
    return tablet is None or tablet.venue_id != membership.venue_id
