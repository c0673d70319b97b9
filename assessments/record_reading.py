"""Minutes spent on reading: what a page says of them, as far as its text takes to be read."""

from __future__ import annotations

import datetime as dt

from django.db import transaction
from django.db.models import Sum

from assessments import record_steps as steps
from assessments.measures.study import counted
from assessments.models import ReadingTime
from barcourse.people.models import Membership
from recipes.models import Lesson, Module


@transaction.atomic
def time_read(
    *, by: Membership, module: Module, lesson: Lesson | None, seconds: int, at: dt.datetime
) -> ReadingTime | None:
    """A hire had a lesson, or the module's notes, before them for so long and was at it.

    On one business day a text counts for as long as it takes to be read slowly, however often it
    is opened; beyond that nothing is written and None comes back.
    """
    steps.refuse_other_house(by, module)
    steps.lock_hire(by)
    text, slug = (lesson.body, lesson.slug) if lesson else (module.notes, "")
    today = by.venue.business_day_begins(by.venue.business_day(at))
    before = ReadingTime.objects.of(by).between(today, at).filter(module=module, text=slug)
    so_far = before.aggregate(seconds=Sum("seconds"))["seconds"] or 0
    counts = counted(seconds, text, so_far)
    if not counts:
        return None
    return ReadingTime.objects.create(
        venue=by.venue, hire=by, module=module, text=slug, seconds=counts, at=at
    )
