"""What every template may use on a house's page: `venue`, `membership`, `places`, `at_hand`,
`my_page` and `may`."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass

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
        "may": Abilities(request, membership),
    }


@dataclass(frozen=True, eq=False)
class Abilities(Mapping[str, bool]):
    """What one may here, by the ability's plain name; worked out where it is asked."""

    request: HttpRequest
    membership: Membership

    def __getitem__(self, name: str) -> bool:
        try:
            may = May(name)
        except ValueError:
            raise KeyError(name) from None
        return tablet_session.may(self.request, self.membership, may)

    def __iter__(self) -> Iterator[str]:
        return (may.value for may in May)

    def __len__(self) -> int:
        return len(May)
