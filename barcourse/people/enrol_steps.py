"""The steps that the verbs of `enrol.py` are made of. Always inside one of their transactions."""

from __future__ import annotations

import datetime as dt

from django.contrib.auth.password_validation import validate_password
from django.core.exceptions import ValidationError
from django.db import IntegrityError, transaction
from django.utils.text import slugify
from django.utils.translation import gettext as _

from . import log
from .codes import hash_of_token, new_code, new_token
from .log_check import standing_facts
from .models import Invitation, Membership, Person, Pin, PinTry, Station, Venue
from .names import clean_name, clean_sign_in
from .reasons import Refused, refuse
from .roles import MAY_INVITE_AS, Role

INVITATION_HOLDS = dt.timedelta(days=7)


def check_settings(venue: Venue) -> None:
    """Refuses what an owner can mistype; ValidationError for what no form lets through."""
    try:
        venue.clean_fields()
    except ValidationError as error:
        if "timezone" in error.message_dict:
            raise refuse("timezone_unknown", "timezone") from error
        raise


def add_venue(venue: Venue) -> Venue:
    """Store a new house under its name as an address, numbered when another house has it."""
    stem = slugify(venue.name)[:50].strip("-") or "house"
    number = 1
    while not _stored_as(venue, stem if number == 1 else f"{stem}-{number}"):
        number += 1
    add_stations(venue)
    return venue


def _stored_as(venue: Venue, slug: str) -> bool:
    """False when the address is taken, also by somebody who took it a moment ago."""
    venue.slug = slug
    check_settings(venue)
    try:
        with transaction.atomic():
            venue.save(force_insert=True)
    except IntegrityError:
        if not Venue.objects.filter(slug=slug).exists():
            raise
        return False
    return True


def add_stations(venue: Venue) -> None:
    """The four places a bar has, to start with. Bar back takes no orders, and the service bar's
    come from the floor, where they are rung up."""
    stations = (
        ("well", _("Well"), True, True),
        ("service-bar", _("Service bar"), True, False),
        ("beer-point", _("Beer point"), True, True),
        ("bar-back", _("Bar back"), False, False),
    )
    Station.objects.bulk_create(
        Station(
            venue=venue,
            slug=slug,
            name=name,
            position=position,
            takes_orders=takes,
            rings_up=rings_up,
        )
        for position, (slug, name, takes, rings_up) in enumerate(stations)
    )


def sign_up(name: str, sign_in: str, password: str, name_field: str = "name") -> Person:
    name, sign_in = clean_name(name, name_field), clean_sign_in(sign_in)
    try:
        validate_password(password, Person(sign_in=sign_in, name=name))
    except ValidationError as error:
        raise refuse("password_weak", "password", why=" ".join(error.messages)) from error
    try:
        with transaction.atomic():
            return Person.objects.create_person(sign_in=sign_in, name=name, password=password)
    except IntegrityError as error:
        raise refuse("sign_in_taken", "sign_in") from error


def log_standing(kind: str, membership: Membership, *, by: Membership, at: dt.datetime) -> None:
    """The entry that says what the membership is from now on (`log_check` compares)."""
    facts = standing_facts(membership)
    log.append(venue=by.venue, by=by, kind=kind, subject=membership, facts=facts, at=at)


def send_invitation(
    by: Membership, name: str, role: str, at: dt.datetime
) -> tuple[Invitation, str]:
    may_give(by, role)
    token = new_token()
    invitation = Invitation.objects.create(
        venue=by.venue,
        name=clean_name(name),
        role=Role(role),
        token_hash=hash_of_token(token),
        expires_at=at + INVITATION_HOLDS,
        invited_by=by,
    )
    log_invitation("invited", invitation, by, at)
    return invitation, token


def may_give(by: Membership, role: str) -> None:
    if Role(role) not in MAY_INVITE_AS[Role(by.role)]:
        raise refuse("role_not_yours_to_give", "names", role=str(Role(role).label))


def log_invitation(kind: str, invitation: Invitation, by: Membership, at: dt.datetime) -> None:
    facts = {"invitation": invitation.code, "role": str(invitation.role)}
    log.append(venue=by.venue, by=by, kind=kind, facts=facts, at=at)


def waiting(by: Membership, invitation: Invitation) -> Invitation:
    """The invitation, locked, of this house and neither used nor taken back."""
    invitation = Invitation.objects.select_for_update(no_key=True).get(pk=invitation.pk)
    if invitation.venue_id != by.venue_id:
        raise refuse("other_house")
    if invitation.used_at is not None or invitation.withdrawn_at is not None:
        raise refuse("invitation_not_open")
    may_give(by, invitation.role)
    return invitation


def why_used(invitation: Invitation, at: dt.datetime) -> Refused:
    user = invitation.used_by
    if user is not None and not user.is_here(invitation.venue.business_day(at)):
        return refuse("invitation_of_someone_gone", house=invitation.venue.name)
    return refuse("invitation_used")


def take_in(invitation: Invitation, person: Person, at: dt.datetime) -> Membership:
    """A membership for the person, new or taken up again."""
    venue = invitation.venue
    membership = (
        Membership.objects.in_house(venue).of(person).select_for_update(no_key=True).first()
    )
    if membership is None:
        membership = Membership(
            venue=venue, person=person, role=invitation.role, start_day=venue.business_day(at)
        )
        kind = "joined"
    elif membership.left_day is None:
        raise refuse("already_here", house=venue.name)
    else:
        membership.role, membership.left_day = Role(invitation.role), None
        kind = "came_back"
    membership.save()
    log_standing(kind, membership, by=membership, at=at)
    return membership


def use_up(invitation: Invitation, membership: Membership, at: dt.datetime) -> None:
    """Of two at once the database lets one through; the other's transaction is undone."""
    open_ones = Invitation.objects.waiting().filter(
        pk=invitation.pk, token_hash=invitation.token_hash, expires_at__gt=at
    )
    if not open_ones.update(used_at=at, used_by=membership):
        raise refuse("invitation_used")


def of_this_house(by: Membership, membership: Membership) -> Membership:
    """The membership as it is now. The house is locked first: two owners who demote each other
    at the same moment must not both succeed."""
    Venue.objects.select_for_update(no_key=True).get(pk=by.venue_id)
    if membership.venue_id != by.venue_id:
        raise refuse("other_house")
    return Membership.objects.select_related("venue", "person").get(pk=membership.pk)


def refuse_left(membership: Membership) -> None:
    if membership.left_day is not None:
        raise refuse("has_left_already")


def refuse_last_owner(membership: Membership, code: str, field: str | None = None) -> None:
    if membership.role != Role.OWNER:
        return
    owners = Membership.objects.in_house(membership.venue).owners().filter(left_day=None)
    if not owners.exclude(pk=membership.pk).exists():
        raise refuse(code, field)


def forget(membership: Membership, at: dt.datetime) -> None:
    """Empty the person, or put a nameless one in their place here if they work elsewhere too."""
    PinTry.objects.of(membership).delete()
    Pin.objects.of(membership).delete()
    person = membership.person
    if Membership.objects.of(person).exclude(pk=membership.pk).exists():
        person = Person()
        membership.person = person
    person.sign_in, person.name = f"erased-{new_code()}", ""
    person.is_active, person.erased_at = False, at
    person.set_unusable_password()
    person.save()
    membership.save(update_fields=["person"])
