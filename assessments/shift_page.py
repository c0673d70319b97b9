"""What *Next shift* shows one person, worked out once and kept until anything about them or their
house has changed: whoever opens the page again between two drinks waits for two short queries.
"""

from __future__ import annotations

import datetime as dt
from collections.abc import Callable
from dataclasses import dataclass, field, replace

from django.db import connection
from django.utils.translation import get_language

from assessments import ahead, board, reads
from assessments.due_cards import DueCard, RuleChange, due_cards, rule_changes
from assessments.measures.line_up import Why
from assessments.measures.waits import Reader
from assessments.models import (
    CallRun,
    DrillFor,
    Memory,
    PlanDecided,
    Quiz,
    Reading,
    ReadingTime,
    ReadyRow,
    ShiftAhead,
    TryOut,
)
from assessments.next_up import ToDo, to_do
from assessments.overrides import Stands, beside, elsewhere, standing_once
from assessments.reads import Planned
from assessments.shifts import About, about_next, reckoned
from assessments.showing import VerdictShown, show_rows
from assessments.showing_credit import CreditShown, latest_credit
from assessments.sign_offs import must_knows_proven
from assessments.study_time import Studied, studied
from assessments.to_look_at import plans_of
from assessments.under_way import UnderWay, under_way
from barcourse.people.models import Membership, Venue
from recipes.kept import stamp_of
from recipes.menu import Menu

LONGEST = dt.timedelta(minutes=1)
"""Recall falls by the hour; within a minute nobody could tell (our own number, no source)."""
MOST = 500
"""People whose page a process keeps; each takes some kilobytes beside what the menu takes."""


@dataclass(frozen=True)
class Waiting:
    """What a trainer has set for somebody, and they have not begun."""

    drills: list[DrillFor]
    try_out: TryOut | None

    def __bool__(self) -> bool:
        return bool(self.drills or self.try_out)


@dataclass(frozen=True)
class NextShift:
    is_new: bool
    todo: list[ToDo]
    cards: list[DueCard]
    rules: list[RuleChange]
    """Changed rules that these cards are about."""
    planned: Planned
    standing: list[tuple[board.Row, VerdictShown]]
    elsewhere: list[Stands]
    """Where they are let stand for a shift, beside the first station."""
    about: About | None
    """The shift that standing is reckoned for, the next one; now, where none was said."""
    studied: list[Studied]
    proven: int
    must_knows: int
    ahead: list[tuple[ahead.Coming, int]]
    later: int
    """So many more shifts stand after the next one."""
    waiting: Waiting
    under_way: list[UnderWay]
    credit: CreditShown | None
    """What a try-out of late showed."""
    plans: list[PlanDecided]
    menu: Menu
    html: dict[str, str] | None = field(default=None, compare=False)
    """Its markup as far as it was rendered already; none where the page may not be kept."""

    @property
    def tells_chances(self) -> bool:
        """Whether any card says how surely its drink is remembered."""
        return any(card.why is Why.FADING for card in self.planned.plan.cards)

    @property
    def minutes(self) -> int:
        return max(1, round(self.planned.plan.seconds / 60))


def next_shift_of(hire: Membership, menu: Menu) -> NextShift:
    """Worked out anew."""
    at = menu.at
    progress = reads.modules_of(hire, menu)
    planned = reads.planned(hire, menu, at, progress)
    due = planned.plan.cards
    cards = due_cards(menu, due, planned.known)
    stations = board.order_stations(menu.venue)
    about = about_next(hire.venue, planned.shift)
    then = reckoned(menu, about.reckoned if about else None)
    rows = board.rows_of(hire, stations, then.menu, then.asked)
    once = beside(standing_once(hire.venue, at), then.shift)
    begun = under_way(hire, at)
    return NextShift(
        is_new=not any(p.is_begun for p in progress),
        todo=to_do(progress, len(due)),
        cards=cards,
        rules=rule_changes(menu, cards, planned.known),
        planned=planned,
        standing=show_rows(rows, once, Reader(hire.code)),
        elsewhere=elsewhere(once, hire, stations[0] if stations else None),
        about=about,
        studied=studied(menu.venue, [hire], at, days=1),
        proven=must_knows_proven([hire], menu)[hire.pk],
        must_knows=len(menu.must_knows()),
        ahead=[(c, len(ahead.cards_due(hire, c, at, progress))) for c in ahead.coming(menu)],
        later=max(0, ShiftAhead.objects.of(hire).after(at).count() - 1),
        waiting=waiting_for(hire, begun),
        under_way=begun,
        credit=latest_credit(hire, menu),
        plans=plans_of(hire, at),
        menu=menu,
    )


def cards_beyond(hire: Membership, menu: Menu) -> list[DueCard]:
    """The cards of one more round, for whoever goes on after the day's minutes."""
    planned = reads.planned(hire, menu, menu.at, reads.modules_of(hire, menu), goes_on=True)
    return due_cards(menu, planned.plan.cards, planned.known)


def waiting_for(hire: Membership, begun: list[UnderWay]) -> Waiting:
    """Without what they are in the middle of."""
    lie_open = {b.quiz.drill_id for b in begun if b.quiz}
    drills = DrillFor.objects.of(hire).to_do().select_related("drill__one", "drill__other")
    try_out = TryOut.objects.of(hire).to_do().filter(quiz__isnull=True).first()
    return Waiting([d for d in drills if d.drill_id not in lie_open], try_out)


@dataclass(frozen=True)
class _Kept:
    stamp: tuple[object, ...]
    page: NextShift
    since: dt.datetime
    until: dt.datetime


_PAGES: dict[int, _Kept] = {}


def now_for(hire: Membership, read_menu: Callable[[], Menu], at: dt.datetime) -> NextShift:
    """The page as it stands; `read_menu` gives today's menu where it has to be worked out."""
    stamp, kept = _stamp(hire), _PAGES.get(hire.pk)
    if stamp and kept and kept.stamp == stamp and kept.since <= at < kept.until:
        return kept.page
    page = next_shift_of(hire, read_menu())
    if stamp:
        if len(_PAGES) >= MOST:
            _PAGES.clear()
        page = replace(page, html={})
        _PAGES[hire.pk] = _Kept(stamp, page, at, _until(hire.venue, page, at))
    return page


def _until(venue: Venue, page: NextShift, at: dt.datetime) -> dt.datetime:
    """A minute, or until the menu changes by itself, the shift begins, the day ends or the time of
    what was begun is up."""
    tomorrow = venue.business_day_begins(venue.business_day(at) + dt.timedelta(days=1))
    shift = [page.planned.shift.starts_at] if page.planned.shift else []
    ends = [b.ends_at for b in page.under_way if b.ends_at and not b.is_over]
    return min([at + LONGEST, tomorrow, *shift, *ends, *ahead.waiting_moments(venue, at)[:1]])


def _stamp(hire: Membership) -> tuple[object, ...]:
    """Another one as soon as anything that the page tells has changed: the house's log for all that
    is in it, and what a hire does alone, which no log holds."""
    house = stamp_of(hire.venue)
    return (house, get_language(), *own_of(hire)) if house else ()


def own_of(hire: Membership) -> tuple[object, ...]:
    """Reviews of cards, answers and builds; what was read, begun and said; in one query."""
    wanted = (
        (Memory, "SUM(reviews)"), (ReadyRow, "COALESCE(MAX(evidence), 0)"), (Reading, "MAX(id)"),
        (ReadingTime, "MAX(id)"),
        (Quiz, "MAX(id)"), (CallRun, "MAX(id)"), (ShiftAhead, "MAX(id)"),
    )  # fmt: skip
    asked = ", ".join(
        f'(SELECT {what} FROM "{model._meta.db_table}" WHERE hire_id = %s)'  # noqa: S608
        for model, what in wanted
    )
    with connection.cursor() as cursor:
        cursor.execute(f"SELECT {asked}", [hire.pk] * len(wanted))
        row: tuple[object, ...] = cursor.fetchone()
    return row
