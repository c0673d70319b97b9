"""What stands tapped and is not on record: kept for whoever taps it, and dropped.

None of it is in the log: nothing is sealed before it is put on record. What somebody who left had
begun is the one thing that others see; whoever drops it is named there.
"""

from __future__ import annotations

import datetime as dt
import json
import uuid
from collections.abc import Iterable
from typing import Any

from django.db import transaction

from assessments.models import OpenWatch
from assessments.open_watches import watches_here
from assessments.watch_places import Place
from barcourse.people import log
from barcourse.people.models import Membership
from barcourse.people.once import held_back
from barcourse.people.reasons import refuse


@transaction.atomic
def keep_watch(
    *,
    by: Membership,
    place: Place,
    forms: Iterable[uuid.UUID],
    kept: dict[str, Any],
    at: dt.datetime,
    after: str = "",
) -> OpenWatch | None:
    """The newest taps of a page in place of those before. `forms` are the keys of the forms that
    carry them, `after` the code of the row that they go on from: None, and nothing is kept, where
    one of the forms is on record or the row is gone. Whatever the house has kept for too long
    goes."""
    OpenWatch.objects.filter(venue=by.venue).stale(at).delete()
    own = OpenWatch.objects.of(by).at_address(place.where)
    if after and not own.filter(code=after).exists():
        return None
    with held_back(forms) as open_still:
        if open_still:
            OpenWatch.objects.bulk_create(
                [
                    OpenWatch(
                        venue=by.venue, trainer=by, where=place.where, kept=json.dumps(kept),
                        begun_at=at, at=at,
                    )
                ],
                update_conflicts=True,
                unique_fields=["trainer", "where"],
                update_fields=["kept", "at"],
            )  # fmt: skip
    return own.get() if open_still else None


@transaction.atomic
def drop_watch(*, by: Membership, code: str, at: dt.datetime) -> None:
    """Dropped unrecorded. Twice is once."""
    OpenWatch.objects.of(by).filter(code=code).delete()


@transaction.atomic
def drop_left_watch(*, by: Membership, code: str, at: dt.datetime) -> None:
    """What somebody had begun who no longer watches here, dropped unrecorded. Twice is once."""
    rows = OpenWatch.objects.in_house(by.venue).with_trainer()
    row = rows.filter(code=code).first()
    if row is None:
        return
    if watches_here(row.trainer, by.venue.business_day(at)):
        raise refuse("begun_by_somebody_here")
    row.delete()
    log.append(venue=by.venue, by=by, kind="watch_dropped", subject=row.trainer, at=at)


@transaction.atomic
def end_watch(*, by: Membership, where: str, at: dt.datetime) -> None:
    """It is on record, or begun afresh."""
    OpenWatch.objects.of(by).at_address(where).delete()
