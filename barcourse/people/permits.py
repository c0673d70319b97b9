"""Permits that people of the house hold: seen, dated, and told in time that they run out."""

from __future__ import annotations

import datetime as dt
from collections.abc import Iterable
from dataclasses import dataclass

from django.db import transaction

from . import enrol, log
from .models import Membership, Permit, PersonalText, Venue
from .models.permit import PermitKind
from .reasons import refuse

SOON = dt.timedelta(days=30)
"""So long before its last day a permit is pointed out (our own number, no source)."""


@transaction.atomic
def add_permit(
    *,
    by: Membership,
    member: Membership,
    kind: str,
    number: str = "",
    valid_until: dt.date | None = None,
    at: dt.datetime,
) -> Permit:
    """What somebody showed. Nobody enters their own, save a house's owner."""
    if member.venue_id != by.venue_id:
        raise refuse("other_house")
    if member.pk == by.pk and not _is_owner(by):
        raise refuse("permit_of_ones_own", "member")
    text = log.keep_text(about=member, text=number.strip()) if number.strip() else None
    row = Permit.objects.create(
        venue=by.venue, member=member, kind=PermitKind(kind), valid_until=valid_until,
        number_code=text.code if text else "", seen_by=by, at=at,
    )  # fmt: skip
    until = valid_until.isoformat() if valid_until else ""
    facts = {"permit": row.code, "kind": str(row.kind), "until": until}
    log.append(
        venue=by.venue, by=by, kind="permit_added", subject=member, text=text, facts=facts, at=at
    )
    return row


@transaction.atomic
def remove_permit(*, by: Membership, permit: Permit, at: dt.datetime) -> None:
    """Out of the list, its number erased."""
    permit = Permit.objects.select_for_update(no_key=True).get(pk=permit.pk)
    if permit.venue_id != by.venue_id:
        raise refuse("other_house")
    if permit.removed_at is not None:
        raise refuse("permit_gone")
    permit.removed_at = at
    permit.save(update_fields=["removed_at"])
    text = PersonalText.objects.filter(code=permit.number_code, erased_at=None).first()
    if text is not None:
        enrol.erase_text(by=by, text=text, at=at)
    facts = {"permit": permit.code}
    log.append(
        venue=by.venue, by=by, kind="permit_removed", subject=permit.member, facts=facts, at=at
    )


def _is_owner(member: Membership) -> bool:
    from .roles import Role

    return member.role == Role.OWNER


@dataclass(frozen=True)
class PermitShown:
    permit: Permit
    number: str
    holds: bool
    soon: bool  # it runs out within a month


def permits_in(venue: Venue, today: dt.date) -> list[PermitShown]:
    """Of everybody who is here, the soonest to run out first. `today` is the calendar's."""
    rows = Permit.objects.in_house(venue).kept().soonest_first()
    return _shown([p for p in rows if p.member.is_here(today)], today)


def _shown(rows: Iterable[Permit], today: dt.date) -> list[PermitShown]:
    rows = list(rows)
    texts = PersonalText.objects.filter(code__in=[p.number_code for p in rows if p.number_code])
    words = dict(texts.values_list("code", "text"))
    return [
        PermitShown(
            permit=p,
            number=words.get(p.number_code, ""),
            holds=p.holds_on(today),
            soon=p.holds_on(today) and p.valid_until is not None and p.valid_until - today <= SOON,
        )
        for p in rows
    ]
