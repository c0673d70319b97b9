"""The house's rule of a pour check, set anew: one transaction with its entries in the log."""

from __future__ import annotations

import datetime as dt

from django.db import transaction

from assessments import pour_policy
from assessments.measures.pours import PourPolicy
from assessments.models import HousePourPolicy
from barcourse.people import log
from barcourse.people.models import Membership, Venue
from barcourse.people.reasons import refuse
from recipes.menu import menu_at
from recipes.publish import publish_rules


@transaction.atomic
def set_pour_policy(
    *, by: Membership, policy: PourPolicy, tolerance: float, at: dt.datetime
) -> None:
    """What a check must show from now on, and what a pour may be off by, in the unit that the
    house rules count it in. Checks on record keep their verdict. Refuses a change of nothing."""
    Venue.objects.select_for_update(no_key=True).get(pk=by.venue_id)
    versions = pour_policy.versions_of(by.venue)
    rules = menu_at(by.venue, at).rules
    same = pour_policy.policy_at(versions, at) == policy
    if same and rules.tolerance == tolerance:
        raise refuse("nothing_changed")
    if rules.tolerance != tolerance:
        publish_rules(by=by, rules=rules.model_copy(update={"tolerance": tolerance}), at=at)
    if same:
        return
    row = HousePourPolicy.objects.create(
        venue=by.venue, number=len(versions) + 1, least_pours=policy.least_pours,
        least_within=round(100 * policy.least_within), most_bias_ml=policy.most_bias, by=by, at=at,
    )  # fmt: skip
    log.append(venue=by.venue, by=by, kind="pour_policy_set", row=row, at=at)
