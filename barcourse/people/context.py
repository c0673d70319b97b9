"""What every template may use on a house's page: `venue`, `membership`, `places`, `at_hand`,
`my_page` and `may`."""

from __future__ import annotations

from django.http import HttpRequest

from .models import Membership
from .nav import at_hand, house_url, places
from .roles import May, Role, role_may


def house_context(request: HttpRequest) -> dict[str, object]:
    """Nothing at all outside a house. `may` is read as `{% if may.edit_book %}`."""
    membership: Membership | None = getattr(request, "membership", None)
    if membership is None:
        return {}
    return {
        "venue": membership.venue,
        "membership": membership,
        "places": places(membership, request.path),
        "at_hand": at_hand(membership, request.path),
        "my_page": house_url(membership, "my_record"),
        "may": abilities(membership),
    }


def abilities(membership: Membership) -> dict[str, bool]:
    return {may.value: role_may(Role(membership.role), may) for may in May}
