"""A build that two trainers marked: both their marks, step by step."""

from __future__ import annotations

from dataclasses import dataclass
from itertools import chain

from assessments.models import SecondMark
from assessments.showing import Naming, show_stored_steps
from barcourse.people.models import Membership, Venue
from barcourse.people.roles import May

NEWEST = 20
"""So many stand in the list; the agreement is reckoned over all."""


@dataclass(frozen=True)
class StepTwice:
    """A step and who marked it down."""

    does: str
    fails: bool
    first: bool
    second: bool

    @property
    def differs(self) -> bool:
        return self.first != self.second


@dataclass(frozen=True)
class Twice:
    mark: SecondMark
    steps: list[StepTwice]

    @property
    def alike(self) -> int:
        return sum(not step.differs for step in self.steps)


def find(venue: Venue, code: str) -> SecondMark | None:
    """The second marks of a build, or none where nobody has given them."""
    return SecondMark.objects.in_house(venue).with_people().filter(watched__code=code).first()


def may_see(member: Membership, mark: SecondMark) -> bool:
    """Both trainers, the hire, and whoever sees the log."""
    theirs = (mark.by_id, mark.watched.trainer_id, mark.watched.hire_id)
    return member.pk in theirs or member.may(May.SEE_LOG)


def show(mark: SecondMark, naming: Naming) -> Twice:
    second = frozenset(mark.off)
    steps = show_stored_steps(mark.watched, naming)
    return Twice(mark, [StepTwice(s.does, s.fails, s.off, s.key in second) for s in steps])


def seen_by(member: Membership) -> list[SecondMark]:
    """The newest that this member may see, newest first."""
    marks = SecondMark.objects.in_house(member.venue).with_people().newest_first()
    if member.may(May.SEE_LOG):
        return list(marks[:NEWEST])
    own = (marks.filter(by=member)[:NEWEST], marks.filter(watched__trainer=member)[:NEWEST])
    return sorted(chain(*own), key=lambda mark: (mark.at, mark.pk), reverse=True)[:NEWEST]
