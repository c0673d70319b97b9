"""What else the demo house has put on record: side work, refusals, an incident, permits."""

from __future__ import annotations

import datetime as dt
from collections.abc import Mapping
from functools import partial

from barcourse.demo.diary import Diary
from barcourse.demo.house import moment
from barcourse.people import permits, refusals, side_work
from barcourse.people.models import Membership, SideTask
from barcourse.people.models.permit import PermitKind
from barcourse.people.models.refusal import What
from barcourse.people.models.side_work import Moment

SIDE_WORK = (
    (1.15, "tamsin", "well", Moment.CLOSING),
    (1.14, "ines", "beer-point", Moment.CLOSING),
    (0.2, "noor", "well", Moment.OPENING),
    (0.19, "ines", "beer-point", Moment.OPENING),
    (0.18, "tomasz", "bar-back", Moment.OPENING),
)
"""Days before today, who, where, and which list."""
NOTED = (
    (8.3, "tamsin", What.UNWELL, "Pale by the door. A chair, water, the manager fetched."),
    (6.1, "ines", What.NO_PROOF, ""),
    (3.2, "tamsin", What.DRUNK, "Could not say the order. Water and a way home offered."),
    (1.1, "noor", What.UNDER_AGE, ""),
)
PERMITS = ((7.2, "tamsin", 25), (6.9, "ines", 300))
"""Days before today, who, and for how many days from today it holds."""

Cast = Mapping[str, Membership]


def plan_evenings(diary: Diary, cast: Cast, now: dt.datetime) -> None:
    """`cast` by sign-in name; it is filled as people come, before what they do."""
    for day, who, where, when in SIDE_WORK:
        diary.plan(moment(now, day), partial(_sign, cast, who, where, when))
    for day, who, what, words in NOTED:
        diary.plan(moment(now, day), partial(_note, cast, who, what, words))
    for day, who, holds in PERMITS:
        until = (now + dt.timedelta(days=holds)).date()
        diary.plan(moment(now, day), partial(_permit, cast, who, until))


def _sign(cast: Cast, who: str, where: str, when: Moment, at: dt.datetime) -> None:
    member = cast[who]
    station = member.venue.stations.get(slug=where)
    tasks = SideTask.objects.in_house(member.venue).kept().at(station)
    wanted = [task for task in tasks if task.when == when]
    if wanted:
        side_work.sign(by=member, tasks=wanted, at=at)


def _note(cast: Cast, who: str, what: What, words: str, at: dt.datetime) -> None:
    happened = at - dt.timedelta(minutes=2)
    refusals.note(by=cast[who], what=what, happened_at=happened, words=words, at=at)


def _permit(cast: Cast, who: str, until: dt.date, at: dt.datetime) -> None:
    permits.add_permit(
        by=cast["marek"], member=cast[who], kind=PermitKind.SERVING, number="invented",
        valid_until=until, at=at,
    )  # fmt: skip
