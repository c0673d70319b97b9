"""Who is ready where no orders are taken (bar back): side work signed for, safety, conduct."""

from __future__ import annotations

import datetime as dt
from collections import Counter, defaultdict
from collections.abc import Sequence
from dataclasses import dataclass

from assessments.asked import ANY_SHIFT, Asked
from assessments.facts import safety_of
from assessments.gate_facts import gates_of, gather_beside
from assessments.measures.marking import CONDUCT, RIGHT_DRINK
from assessments.measures.ready_facts import Safety
from assessments.measures.tasks import TaskFacts, TaskVerdict, judge_tasks
from assessments.models import WatchedBuild
from assessments.policy import book_at
from assessments.wording import word
from barcourse.people.models import Membership, SideDone, SideTask, Station
from recipes.models import Module

RULES = frozenset(step.key for step in CONDUCT) - {RIGHT_DRINK.key}
"""Of conduct, whatever somebody does; which drink was called is the business of orders."""


@dataclass(frozen=True)
class TaskRow:
    """One hire on the board of a station that takes no orders."""

    hire: Membership
    station: Station
    verdict: TaskVerdict

    @property
    def mends(self) -> list[tuple[str, str]]:
        """What is missing, each with the way to mend it."""
        pairs = zip(self.verdict.missing, self.verdict.next, strict=True)
        return [(word(missing), word(how)) for missing, how in pairs]


def task_rows(
    station: Station, hires: Sequence[Membership], at: dt.datetime, asked: Asked = ANY_SHIFT
) -> list[TaskRow]:
    """In the order given; in as many queries for one hire as for two hundred."""
    venue = station.venue
    policy = (asked.book or book_at(venue, at)).of(station, asked.shift)
    since = at - dt.timedelta(days=policy.task_days)
    modules = list(Module.objects.in_house(venue).gates())
    safety = safety_of(hires, modules, at)
    named = ", ".join(m.name for m in modules)
    tasks = list(SideTask.objects.in_house(venue).kept().at(station))
    done, slips = _done(hires, since, at), _slips(hires, since, at)
    beside = gather_beside(hires, [policy], at)
    on = asked.on or venue.local(at).date()

    def facts(hire: Membership) -> TaskFacts:
        return TaskFacts(
            person=hire.code,
            safety=safety.get(hire.pk, Safety.NOT_TAKEN),
            safety_module=named,
            policy=policy,
            tasks=len(tasks),
            undone=tuple(t.text for t in tasks if t.pk not in done[hire.pk]),
            slips=slips[hire.pk],
            gates=gates_of(hire, station, beside, at=at, on=on),
        )

    return [TaskRow(hire, station, judge_tasks(facts(hire))) for hire in hires]


def _done(hires: Sequence[Membership], since: dt.datetime, at: dt.datetime) -> dict[int, set[int]]:
    found: dict[int, set[int]] = defaultdict(set)
    for by, task in SideDone.objects.done_by(hires, since, at).values_list("by", "task"):
        found[by].add(task)
    return found


def _slips(hires: Sequence[Membership], since: dt.datetime, at: dt.datetime) -> Counter[int]:
    """Rules of conduct that were broken in builds that stand."""
    found: Counter[int] = Counter()
    builds = WatchedBuild.objects.of(*hires).standing(at).filter(at__gte=since)
    for hire, off in builds.values_list("hire", "off"):
        found[hire] += len(RULES.intersection(off))
    return found
