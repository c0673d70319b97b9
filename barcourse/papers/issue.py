"""Issuing certificates and revoking them: the only way to either. One transaction each, with its
entry in the log."""

from __future__ import annotations

import datetime as dt
from collections.abc import Sequence

from django.db import transaction

from assessments.board import board, proving_sign_offs
from assessments.measures.readiness import Standing, Verdict
from assessments.models import QuizResult
from assessments.sales import as_sold
from assessments.showing import show_verdict
from barcourse.people import log
from barcourse.people.models import Membership, Station, Venue
from barcourse.people.reasons import Reason, Refused, refuse
from recipes.grammar.reasons import Reason as Missing
from recipes.menu import Menu, menu_at
from recipes.models import Module

from .models import Certificate, Revocation
from .shown import OfHundred, PassedModule, Shown, SignedDrink


class NotReady(Refused):
    """The hire isn't ready for the station; `missing` is what stands between."""

    def __init__(self, missing: Sequence[Missing]) -> None:
        super().__init__(Reason.of("not_ready"))
        self.missing = tuple(missing)


@transaction.atomic
def issue_certificate(
    *, by: Membership, hire: Membership, station: Station, at: dt.datetime
) -> Certificate:
    """A certificate for somebody who is ready at the station right now.

    Raises `NotReady` with the reasons where they are not. Refuses one's own certificate, somebody
    of another house or who has left, and a station of another house.
    """
    # Nobody writes to the log from here on.
    venue = Venue.objects.select_for_update(no_key=True).get(pk=by.venue_id)
    hire = Membership.objects.select_related("person", "venue").get(pk=hire.pk)
    _refuse_issuing(by, hire, station, venue.business_day(at))
    menu = as_sold(menu_at(venue, at))
    verdict = board(station, menu, [hire])[0].verdict
    if verdict.standing is not Standing.READY:
        raise NotReady(verdict.missing)
    certificate = _certify(by, hire, station, menu, verdict)
    facts = {"station": station.slug, "until": certificate.valid_until.isoformat()}
    log.append(
        venue=venue, by=by, kind="certificate_issued", subject=hire, row=certificate,
        facts=facts, at=at,
    )  # fmt: skip
    return certificate


@transaction.atomic
def revoke(*, by: Membership, certificate: Certificate, reason: str, at: dt.datetime) -> Revocation:
    """The certificate no longer holds, from this moment. Needs a reason; can't be undone."""
    # Of two at once, the second is refused.
    Venue.objects.select_for_update(no_key=True).get(pk=by.venue_id)
    if certificate.venue_id != by.venue_id:
        raise refuse("other_house")
    if not reason.strip():
        raise refuse("revoke_needs_reason", "reason")
    if Revocation.objects.filter(certificate=certificate).exists():
        raise refuse("revoked_already")
    text = log.keep_text(about=certificate.hire, text=reason.strip())
    revocation = Revocation.objects.create(
        venue=certificate.venue, certificate=certificate, by=by, reason_code=text.code, at=at
    )
    log.append(
        venue=certificate.venue, by=by, kind="certificate_revoked", subject=certificate.hire,
        row=revocation, text=text, at=at,
    )  # fmt: skip
    return revocation


def _certify(
    by: Membership, hire: Membership, station: Station, menu: Menu, verdict: Verdict
) -> Certificate:
    """The row, with the head of the log as it is before its own entry."""
    head = log.head(menu.venue)
    today = menu.venue.business_day(menu.at)
    return Certificate.objects.create(
        venue=menu.venue, hire=hire, station=station, issued_by=by, issued_at=menu.at,
        valid_from=today, valid_until=last_day(today, menu.venue.certificate_days),
        shown=what_was_shown(hire, station, menu, verdict).to_json(),
        log_number=head.number, log_hash=head.hash, rules_version=menu.rules_version.number,
    )  # fmt: skip


def last_day(first: dt.date, days: int) -> dt.date:
    """The last of `days` days, the first among them."""
    return first + dt.timedelta(days=days - 1)


def what_was_shown(hire: Membership, station: Station, menu: Menu, verdict: Verdict) -> Shown:
    """Sign-offs that prove today's builds at the station, the modules nobody is ready without,
    and the verdict in whole orders of a hundred, as it stands on the board."""
    return Shown(
        station=station.name,
        drinks=_drinks(hire, station, menu),
        modules=_modules(hire),
        orders=_orders(verdict),
    )


def _drinks(hire: Membership, station: Station, menu: Menu) -> tuple[SignedDrink, ...]:
    names = {item.recipe.pk: item.drink for item in menu.items}
    return tuple(
        SignedDrink(
            slug=names[row.recipe_id].slug,
            name=names[row.recipe_id].name,
            revision=row.revision.number,
            day=menu.venue.business_day(row.at).isoformat(),
        )
        for row in proving_sign_offs(hire, menu.at_station(station), at=menu.at)
    )


def _modules(hire: Membership) -> tuple[PassedModule, ...]:
    """Each with the newest day on which it was passed."""
    gates = Module.objects.in_house(hire.venue).gates()
    passes = QuizResult.objects.of(hire).filter(passed=True, module__in=gates).newest_first()
    newest: dict[int, QuizResult] = {}
    for result in passes:
        if result.module_id is not None:
            newest.setdefault(result.module_id, result)
    return tuple(
        PassedModule(
            slug=module.slug,
            name=module.name,
            day=hire.venue.business_day(newest[module.pk].at).isoformat(),
        )
        for module in gates
        if module.pk in newest
    )


def _orders(verdict: Verdict) -> OfHundred:
    shown, policy = show_verdict(verdict), verdict.policy
    return OfHundred(
        right=shown.right,
        right_low=shown.low,
        right_high=shown.high,
        ask=shown.ask,
        wrong=shown.wrong,
        least_right=round(100 * policy.least_right),
        most_wrong=round(100 * policy.most_wrong),
        provisional=verdict.provisional,
    )


def _refuse_issuing(by: Membership, hire: Membership, station: Station, today: dt.date) -> None:
    if hire.venue_id != by.venue_id or station.venue_id != by.venue_id:
        raise refuse("other_house")
    if hire.pk == by.pk:
        raise refuse("nobody_issues_to_themselves")
    if not hire.is_here(today):
        raise refuse("has_left_already")
