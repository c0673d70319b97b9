"""What ready takes, written: a new version of the policy; somebody let stand for one shift."""

from __future__ import annotations

import datetime as dt
from dataclasses import asdict

from django.db import transaction

from assessments import policy as policies
from assessments import record_steps as steps
from assessments.measures.ready_facts import ReadyPolicy
from assessments.measures.sales_mix import ShiftKind
from assessments.models import Override, OverrideEnd, PolicyVersion
from assessments.overrides import Never, why_never
from assessments.shifts import Shift
from barcourse.people import enrol, log
from barcourse.people.models import Membership, PersonalText, Station, Venue
from barcourse.people.reasons import refuse
from barcourse.people.roles import May

FURTHEST = dt.timedelta(days=31)
"""So far ahead somebody is let stand for a shift (our own number, no source)."""

LAST_START = dt.timedelta(days=366)
"""So far ahead a policy may begin (our own number, no source)."""


@transaction.atomic
def set_policy(
    *,
    by: Membership,
    station: Station | None,
    shift: ShiftKind | None,
    policy: ReadyPolicy | None,
    from_day: dt.date | None = None,
    upon: int | None = None,
    at: dt.datetime,
) -> PolicyVersion:
    """A new version for this station and kind of shift, None meaning all of them, from the
    beginning of a business day on or from now. Without a policy the scope follows the wider one
    from then on. Refuses a day that is past or over a year ahead, what changes nothing, and what
    was looked at `upon` a version that isn't the house's newest any more."""
    if station is not None:
        steps.refuse_other_house(by, station)
    venue = Venue.objects.select_for_update(no_key=True).get(pk=by.venue_id)
    newest = PolicyVersion.objects.in_house(venue).count()
    if upon is not None and upon != newest:
        raise refuse("policy_set_meanwhile")
    begins_at = _begins_at(venue, from_day, at)
    scope = (station.pk if station else None, str(shift or ""))
    before = policies.book_at(venue, begins_at)
    _refuse_policy(before, scope, policy)
    row = PolicyVersion.objects.create(
        venue=venue, number=newest + 1, station=station,
        shift_kind=scope[1], begins_at=begins_at, by=by, at=at, follows=policy is None,
        **_columns(policy or before.at(scope)),
    )  # fmt: skip
    facts = {
        "version": row.number, "station": station.slug if station else "", "shift": scope[1],
        "follows": row.follows,
    }  # fmt: skip
    log.append(venue=venue, by=by, kind="ready_policy_set", row=row, facts=facts, at=at)
    return row


def _begins_at(venue: Venue, from_day: dt.date | None, at: dt.datetime) -> dt.datetime:
    today = venue.business_day(at)
    refuse_start(from_day, today)
    if from_day is None or from_day == today:
        return at
    return venue.business_day_begins(from_day)


def refuse_start(from_day: dt.date | None, today: dt.date) -> None:
    """A day that is past, or so far ahead that nothing can be reckoned for it."""
    if from_day is not None and from_day < today:
        raise refuse("policy_day_is_past", "from_day")
    if from_day is not None and from_day > today + LAST_START:
        raise refuse("policy_day_too_far", "from_day")


def _refuse_policy(
    before: policies.Book, scope: policies.Scope, policy: ReadyPolicy | None
) -> None:
    if policy is None and scope not in before.policies:
        raise refuse("nothing_changed")
    if policy is None and scope == policies.EVERYWHERE:
        raise refuse("policy_follows_nothing")
    if policy is not None and policy.second_right > policy.least_right:
        raise refuse("second_above_ready", "second_right")
    if policy is not None and before.policies.get(scope) == policy:
        raise refuse("nothing_changed")


def _columns(policy: ReadyPolicy) -> dict[str, object]:
    shares = ("least_right", "most_wrong", "second_right")
    said = asdict(policy) | {name: round(100 * getattr(policy, name)) for name in shares}
    return said | {"proof": policy.proof.value, "permits": list(policy.permits)}


@transaction.atomic
def let_stand_once(
    *, by: Membership, hire: Membership, station: Station, shift: Shift, reason: str,
    at: dt.datetime,
) -> Override:  # fmt: skip
    """For that shift alone. Refuses oneself, a shift that is over or far ahead, no reason, twice
    the same, somebody who needs no word, and whoever the safety module or a permit keeps out:
    what the law decides is nobody's to lift."""
    steps.refuse_watching(by, hire, at)
    steps.refuse_other_house(by, station)
    steps.lock_hire(hire)
    _refuse_shift(by.venue, hire, station, shift, at)
    if not reason.strip():
        raise refuse("override_needs_reason", "reason")
    _refuse_never(why_never(hire, station, shift, at))
    text = log.keep_text(about=hire, text=reason.strip())
    row = Override.objects.create(
        venue=by.venue, hire=hire, station=station, day=shift.day, shift_kind=shift.kind.value,
        by=by, at=at, reason_code=text.code,
    )  # fmt: skip
    log.append(
        venue=by.venue, by=by, kind="let_stand_once", subject=hire, row=row, text=text,
        facts=_facts_of(row), at=at,
    )  # fmt: skip
    return row


def _facts_of(row: Override) -> dict[str, object]:
    return {"station": row.station.slug, "day": row.day.isoformat(), "shift": row.shift_kind}


def _refuse_shift(
    venue: Venue, hire: Membership, station: Station, shift: Shift, at: dt.datetime
) -> None:
    _begins, ends = shift.hours(venue)
    if ends <= at:
        raise refuse("override_shift_is_over", "day")
    if shift.day > venue.business_day(at) + FURTHEST:
        raise refuse("override_too_far", "day", days=FURTHEST.days)
    same = Override.objects.for_shift(hire, station, shift.day, shift.kind.value)
    if same.standing().exists():
        raise refuse("override_there_already")


def _refuse_never(why: Never | None) -> None:
    match why:
        case Never.SAFETY:
            raise refuse("override_not_safety")
        case Never.PERMIT:
            raise refuse("override_not_permit")
        case Never.READY:
            raise refuse("override_not_needed")


@transaction.atomic
def end_override(*, by: Membership, override: Override, at: dt.datetime) -> OverrideEnd:
    """Taken back, as long as the shift isn't over."""
    steps.refuse_other_house(by, override)
    steps.lock_hire(override.hire)
    if by.pk == override.hire_id:
        raise refuse("nobody_signs_for_themselves")
    if OverrideEnd.objects.filter(override=override).exists():
        raise refuse("override_ended_already")
    if Shift(override.day, ShiftKind(override.shift_kind)).hours(by.venue)[1] <= at:
        raise refuse("override_shift_is_over")
    row = OverrideEnd.objects.create(venue=by.venue, override=override, by=by, at=at)
    log.append(
        venue=by.venue, by=by, kind="override_ended", subject=override.hire, row=row,
        facts={"override": override.code, **_facts_of(override)}, at=at,
    )  # fmt: skip
    return row


@transaction.atomic
def erase_reason(*, by: Membership, override: Override, at: dt.datetime) -> None:
    """The words go and their entry comes; that somebody was let stand stays. Whoever wrote them
    may, and who sees the log. Refuses where they are gone already."""
    steps.refuse_other_house(by, override)
    if by.pk != override.by_id and not by.may(May.SEE_LOG):
        raise refuse("only_who_wrote_erases")
    text = PersonalText.objects.filter(venue=by.venue, code=override.reason_code).first()
    if text is None:
        raise refuse("no_words_there")
    enrol.erase_text(by=by, text=text, at=at)
