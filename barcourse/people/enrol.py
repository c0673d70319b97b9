"""Every change to a house and its people. One transaction each, with its entry in the log.

A verb that won't do it raises Refused with the reason and the form field it stands beside.
"""

from __future__ import annotations

import datetime as dt
from collections.abc import Collection, Iterable, Mapping

from django.db import transaction

from . import enrol_steps as steps
from . import log
from .codes import hash_of_token, new_token
from .enrol_steps import INVITATION_HOLDS
from .models import Invitation, Membership, Person, PersonalText, Station, Venue
from .models.invitation import InvitationState
from .names import clean_name
from .reasons import refuse
from .roles import Role
from .signals import house_opened


@transaction.atomic
def open_house(
    *,
    name: str,
    owner_name: str,
    sign_in: str,
    password: str,
    country: str,
    timezone: str,
    at: dt.datetime,
) -> Membership:
    """A new house with its stations and its owner, who is signed up on the way.

    Sends `house_opened`, upon which the other rooms bring in what a new house starts with.
    """
    name = clean_name(name)
    venue = steps.add_venue(Venue(name=name, country=country, timezone=timezone))
    person = steps.sign_up(owner_name, sign_in, password, name_field="owner_name")
    owner = Membership.objects.create(
        venue=venue, person=person, role=Role.OWNER, start_day=venue.business_day(at)
    )
    steps.log_standing("house_opened", owner, by=owner, at=at)
    house_opened.send(sender=Venue, venue=venue, by=owner, at=at)
    return owner


@transaction.atomic
def change_house(*, by: Membership, changes: Mapping[str, object], at: dt.datetime) -> Venue:
    """Set some of `Venue.SETTINGS`. The log says which, and from what to what unless it is the
    name. Refuses an unknown time zone, second above ready, and a change of nothing."""
    venue = Venue.objects.select_for_update(no_key=True).get(pk=by.venue_id)
    changed = [field for field in Venue.SETTINGS if field in changes]
    changed = [field for field in changed if getattr(venue, field) != changes[field]]
    if not changed:
        raise refuse("nothing_changed")
    facts: dict[str, object] = {}
    for field in changed:
        facts[field] = "" if field == "name" else [getattr(venue, field), changes[field]]
        setattr(venue, field, changes[field])
    venue.name = clean_name(venue.name)
    steps.check_settings(venue)
    venue.save(update_fields=changed)
    log.append(venue=venue, by=by, kind="house_changed", facts=facts, at=at)
    return venue


@transaction.atomic
def set_tills(*, by: Membership, ringing: Collection[str], at: dt.datetime) -> None:
    """Of the stations that take orders those of these slugs ring up, and no others. Refuses a slug
    of no such station, and a change of nothing."""
    Venue.objects.select_for_update(no_key=True).get(pk=by.venue_id)
    stations = list(Station.objects.in_house(by.venue).taking_orders())
    if not set(ringing) <= {s.slug for s in stations}:
        raise refuse("no_such_station")
    changed = [s for s in stations if s.rings_up != (s.slug in ringing)]
    if not changed:
        raise refuse("nothing_changed")
    for station in changed:
        station.rings_up = not station.rings_up
        station.save(update_fields=["rings_up"])
    facts = {s.slug: s.rings_up for s in changed}
    log.append(venue=by.venue, by=by, kind="tills_set", facts=facts, at=at)


@transaction.atomic
def invite(
    *, by: Membership, names: Iterable[tuple[str, str]], at: dt.datetime
) -> list[tuple[Invitation, str]]:
    """An invitation for each (name, role), with its token: the only time it is to be had.

    All or none. Refuses a role that `by` may not give.
    """
    return [steps.send_invitation(by, name, role, at) for name, role in names]


@transaction.atomic
def fresh_link(*, by: Membership, invitation: Invitation, at: dt.datetime) -> str:
    """A new token that holds a week from now; the old one is dead from this moment."""
    invitation = steps.waiting(by, invitation)
    token = new_token()
    invitation.token_hash = hash_of_token(token)
    invitation.expires_at = at + INVITATION_HOLDS
    invitation.save(update_fields=["token_hash", "expires_at"])
    steps.log_invitation("fresh_link", invitation, by, at)
    return token


@transaction.atomic
def withdraw_invitation(*, by: Membership, invitation: Invitation, at: dt.datetime) -> None:
    """Kill the link and forget the name that was typed: nobody came of it."""
    invitation = steps.waiting(by, invitation)
    invitation.withdrawn_at, invitation.name = at, ""
    invitation.save(update_fields=["withdrawn_at", "name"])
    steps.log_invitation("invitation_withdrawn", invitation, by, at)


def find_invitation(*, token: str, at: dt.datetime) -> Invitation:
    """The invitation that a link leads to, if it still lets somebody in.

    Otherwise Refused says which it is: unknown, used, expired, taken back, of someone gone.
    """
    found = Invitation.objects.select_related("venue", "used_by").filter(
        token_hash=hash_of_token(token)
    )
    invitation = found.first()
    if invitation is None:
        raise refuse("invitation_unknown")
    match invitation.state(at):
        case InvitationState.USED:
            raise steps.why_used(invitation, at)
        case InvitationState.EXPIRED:
            raise refuse("invitation_expired")
        case InvitationState.WITHDRAWN:
            raise refuse("invitation_withdrawn")
    return invitation


@transaction.atomic
def join(
    *,
    token: str,
    at: dt.datetime,
    person: Person | None = None,
    sign_in: str = "",
    password: str = "",
) -> Membership:
    """Use an invitation up: as `person`, or as somebody new with this sign-in and password.

    Who worked here before and left comes back, in the role of the invitation.
    """
    invitation = find_invitation(token=token, at=at)
    person = person or steps.sign_up(invitation.name, sign_in, password)
    membership = steps.take_in(invitation, person, at)
    steps.use_up(invitation, membership, at)
    return membership


@transaction.atomic
def change_role(*, by: Membership, membership: Membership, role: str, at: dt.datetime) -> None:
    """Refuses to leave a house without an owner."""
    membership = steps.of_this_house(by, membership)
    if membership.role == role:
        raise refuse("same_role", "role", role=str(Role(role).label))
    steps.refuse_left(membership)
    steps.refuse_last_owner(membership, "last_owner_demoted", field="role")
    membership.role = Role(role)
    membership.save(update_fields=["role"])
    steps.log_standing("role_changed", membership, by=by, at=at)


@transaction.atomic
def mark_left(
    *, by: Membership, membership: Membership, at: dt.datetime, day: dt.date | None = None
) -> None:
    """Gone from the start of `day`, today if none is said; never a day ahead, so that whoever
    is still here is still seen here."""
    membership = steps.of_this_house(by, membership)
    today = membership.venue.business_day(at)
    day = day or today
    steps.refuse_left(membership)
    steps.refuse_last_owner(membership, "last_owner_leaves")
    if day < membership.start_day:
        raise refuse("left_before_start", "day", start=membership.start_day.isoformat())
    if day > today:
        raise refuse("left_day_ahead", "day")
    membership.left_day = day
    membership.save(update_fields=["left_day"])
    steps.log_standing("left", membership, by=by, at=at)


@transaction.atomic
def come_back(*, by: Membership, membership: Membership, at: dt.datetime) -> None:
    """Take back somebody who left, in the role they had."""
    membership = steps.of_this_house(by, membership)
    if membership.left_day is None:
        raise refuse("has_not_left")
    if membership.person.erased_at is not None:
        raise refuse("erased")
    membership.left_day = None
    membership.save(update_fields=["left_day"])
    steps.log_standing("came_back", membership, by=by, at=at)


@transaction.atomic
def erase_person(*, by: Membership, membership: Membership, at: dt.datetime) -> None:
    """Forget who somebody was: their name, their sign-in, all words about them. The log stays
    whole, since it never held any of it. Only after they have left.

    Somebody who also works in another house keeps their sign-in there and is cut off from this.
    """
    membership = steps.of_this_house(by, membership)
    if membership.left_day is None:
        raise refuse("left_first")
    if membership.person.erased_at is not None:
        raise refuse("erased")
    for text in PersonalText.objects.filter(about=membership, erased_at=None):
        erase_text(by=by, text=text, at=at)
    Invitation.objects.filter(used_by=membership).update(name="")
    steps.forget(membership, at)
    log.append(venue=membership.venue, by=by, kind="person_erased", subject=membership, at=at)


@transaction.atomic
def erase_text(*, by: Membership, text: PersonalText, at: dt.datetime) -> None:
    """Empty words about somebody, and the salt without which their digest says nothing."""
    text = (
        PersonalText.objects.select_for_update(no_key=True).select_related("about").get(pk=text.pk)
    )
    if text.venue_id != by.venue_id:
        raise refuse("other_house")
    if text.erased_at is not None:
        raise refuse("text_erased_already")
    text.text, text.salt, text.erased_at = "", "", at
    text.save(update_fields=["text", "salt", "erased_at"])
    log.append(
        venue=text.about.venue, by=by, kind="text_erased", subject=text.about, text=text, at=at
    )
