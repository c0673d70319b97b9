"""Who is ready where no orders are taken: judged on side work, safety and conduct.

Somebody is ready who has passed the safety module, holds the permits that are asked for, has done
and signed every task of the station's list lately, and has broken no rule of conduct in a build
that was watched lately.
"""

from collections.abc import Iterator
from dataclasses import dataclass

from assessments.measures.gates import by_law
from assessments.measures.mending import NAMED, mend
from assessments.measures.readiness import Standing
from assessments.measures.ready_facts import NOTHING_BESIDE, Gates, ReadyPolicy, Safety
from recipes.grammar.reasons import Reason

CODES: dict[str, tuple[str, ...]] = {
    "no_tasks": (),
    "tasks_not_done": ("count", "within", "tasks"),
    "conduct_slipped": ("count", "within"),
}


@dataclass(frozen=True)
class TaskFacts:
    """`tasks` is how many the station's list has, `undone` those that this person has not signed
    in the last `policy.task_days` days, `slips` rules of conduct broken in builds since then."""

    person: str
    safety: Safety
    safety_module: str
    policy: ReadyPolicy
    tasks: int
    undone: tuple[str, ...]
    slips: int
    gates: Gates = NOTHING_BESIDE


@dataclass(frozen=True)
class TaskVerdict:
    """Where somebody stands; `missing` is everything between them and ready, `next` how to mend
    it, in the same order."""

    person: str
    standing: Standing
    missing: tuple[Reason, ...]
    next: tuple[Reason, ...]


def judge_tasks(facts: TaskFacts) -> TaskVerdict:
    """Second: the law's gates are open and no rule of conduct was broken; tasks are still to do."""
    law = by_law(facts)
    slips, tasks = tuple(_conduct(facts)), tuple(_tasks(facts))
    missing = (*law, *slips, *tasks)
    if not missing:
        standing = Standing.READY
    else:
        standing = Standing.NOT_YET if law or slips else Standing.SECOND
    return TaskVerdict(facts.person, standing, missing, tuple(mend(r) for r in missing))


def _conduct(facts: TaskFacts) -> Iterator[Reason]:
    if facts.slips:
        yield Reason.of("conduct_slipped", count=facts.slips, within=facts.policy.task_days)


def _tasks(facts: TaskFacts) -> Iterator[Reason]:
    if not facts.tasks:
        yield Reason.of("no_tasks")
    elif facts.undone:
        yield Reason.of(
            "tasks_not_done",
            count=len(facts.undone),
            within=facts.policy.task_days,
            tasks="; ".join(facts.undone[:NAMED]),
        )
