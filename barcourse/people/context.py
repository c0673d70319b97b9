"""What every template may use on a house's page: `venue`, `membership`, `places`, `at_hand`,
`my_page` and `may`."""

from __future__ import annotations

from django.http import HttpRequest

from . import tablet_session
from .models import Membership
from .nav import at_hand, house_url, places
from .roles import May


def house_context(request: HttpRequest) -> dict[str, object]:
    """Nothing at all outside a house. `may` is read as `{% if may.edit_book %}`."""
    membership: Membership | None = getattr(request, "membership", None)
    if membership is None:
        return {}
    on_tablet = tablet_session.is_a_turn(request)
    return {
        "venue": membership.venue,
        "membership": membership,
        "on_tablet": on_tablet,
        "places": places(membership, request.path, by_pin=tablet_session.is_by_pin(request)),
        "at_hand": at_hand(membership, request.path),
        "my_page": house_url(membership, "my_record"),
        "may": abilities(request, membership),
    }


def abilities(request: HttpRequest, membership: Membership) -> dict[str, bool]:
    return {may.value: tablet_session.may(request, membership, may) for may in May}
