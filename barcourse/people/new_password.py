"""A new password for somebody who forgot theirs: a manager or the owner hands them a link, face to
face, that opens once. No mail is sent. Each verb is one transaction with its entry in the log.

Whoever makes such a link could use it, so it is made only for people whose role one may give, and
for nobody who also works in another house: it would open that house as well.
"""

from __future__ import annotations

import datetime as dt

from django.contrib.auth.password_validation import validate_password
from django.core.exceptions import ValidationError
from django.db import transaction

from . import enrol_steps as steps
from . import log
from .codes import hash_of_token, new_token
from .models import Membership, PasswordLink
from .reasons import Refused, refuse
from .roles import MAY_INVITE_AS, Role

LINK_HOLDS = dt.timedelta(hours=24)


@transaction.atomic
def make_link(
    *, by: Membership, membership: Membership, at: dt.datetime
) -> tuple[PasswordLink, str]:
    """The link with its token: the only time it is to be had. Older ones are dead from now on."""
    membership = steps.of_this_house(by, membership)
    if why := why_not(by, membership, at):
        raise why
    PasswordLink.objects.waiting_for(membership).update(expires_at=at)
    token = new_token()
    link = PasswordLink.objects.create(
        venue=by.venue,
        membership=membership,
        token_hash=hash_of_token(token),
        made_by=by,
        expires_at=at + LINK_HOLDS,
    )
    log.append(venue=by.venue, by=by, kind="password_link_made", subject=membership, at=at)
    return link, token


def why_not(by: Membership, membership: Membership, at: dt.datetime) -> Refused | None:
    """What keeps `by` from making a link for this person."""
    today = by.venue.business_day(at)
    if not membership.is_here(today):
        return refuse("has_left_already")
    if membership.person_id == by.person_id:
        return refuse("password_of_ones_own")
    if Role(membership.role) not in MAY_INVITE_AS[Role(by.role)] or not by.is_here(today):
        return refuse("password_not_yours_to_renew")
    others = Membership.objects.of(membership.person).exclude(pk=membership.pk)
    if others.filter(left_day=None).exists():
        return refuse("password_opens_another_house")
    return None


def find_link(*, token: str, at: dt.datetime) -> PasswordLink:
    """The link of this token if it still opens: unused, in time, and such as could be made now."""
    rows = PasswordLink.objects.select_related("venue", "membership__person", "made_by")
    link = rows.filter(token_hash=hash_of_token(token)).first()
    if link is None or link.used_at or link.expires_at <= at:
        raise refuse("password_link_dead")
    link.membership.venue = link.made_by.venue = link.venue
    if why_not(link.made_by, link.membership, at):
        raise refuse("password_link_dead")
    return link


@transaction.atomic
def set_password(*, token: str, password: str, at: dt.datetime) -> Membership:
    """Use the link up. Whoever was signed in with the old password is signed out everywhere."""
    link = find_link(token=token, at=at)
    person = link.membership.person
    try:
        validate_password(password, person)
    except ValidationError as error:
        raise refuse("password_weak", "password", why=" ".join(error.messages)) from error
    unused = PasswordLink.objects.filter(pk=link.pk, used_at__isnull=True, expires_at__gt=at)
    if not unused.update(used_at=at):
        raise refuse("password_link_dead")
    person.set_password(password)
    person.save(update_fields=["password"])
    log.append(
        venue=link.venue, by=link.membership, kind="password_renewed", subject=link.membership,
        at=at,
    )  # fmt: skip
    return link.membership
