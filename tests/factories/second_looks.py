"""What others said to the records of a house: answers, second marks, plans, builds handed over."""

from __future__ import annotations

import datetime as dt
from collections.abc import Callable
from typing import Any

from assessments import record, record_second
from assessments.measures.marking import RIGHT_DRINK, HelpLevel
from assessments.models import WatchedBuild
from barcourse.people.models import Membership
from recipes.menu import menu_at


def watched(
    by: Membership, hire: Membership, at: dt.datetime, *, which: int = 0, off: tuple[str, ...] = ()
) -> WatchedBuild:
    menu = menu_at(hire.venue, at)
    return record.watch_build(
        by=by, hire=hire, menu=menu, item=menu.must_knows()[which], off=off,
        help_level=HelpLevel.PROMPTED, at=at,
    )  # fmt: skip


def left_behind(gone: Membership, fellow: Membership, at: dt.datetime) -> list[WatchedBuild]:
    """Two passed builds that nobody signed, before their trainer leaves."""
    return [watched(gone, fellow, at) for _ in range(2)]


def looked_at(
    manager: Membership, trainer: Membership, hire: Membership, fellow: Membership,
    left: list[WatchedBuild], at: dt.datetime, now: dt.datetime, words: Callable[[str], str],
) -> dict[str, Any]:  # fmt: skip
    """One answer waits and one is settled; one of two fresh builds was marked twice; the fellow
    failed three times running; of two builds left open one was handed over."""
    answered, settled = (watched(trainer, hire, at, which=1) for _ in range(2))
    for build in (answered, settled):
        record_second.answer_record(
            by=hire, watched=build, words=words("It was the house glass."), disagrees=True, at=at
        )
    record_second.let_stand(by=manager, reply=settled.reply, at=at)
    fresh, twice = (watched(trainer, hire, now - dt.timedelta(minutes=m)) for m in (5, 60))
    record_second.mark_too(by=manager, watched=twice, off=(), at=now)
    record_second.see_marks(by=manager, watched=answered, at=now)
    for _fail in range(3):
        failed = watched(trainer, fellow, at, which=1, off=(RIGHT_DRINK.key,))
    record_second.decide_plan(by=manager, hire=fellow, recipe=failed.recipe, plan="show", at=now)
    record_second.hand_over(by=manager, watched=left[1], to=trainer, at=at)
    return {"answered": answered, "left_open": left[0], "fresh": fresh, "twice": twice}
