"""Every code that a measure can give, with the parameters that its sentence needs."""

from assessments.measures import (
    drift,
    gates,
    itemstats,
    marking,
    mending,
    next_steps,
    own_record,
    pace_check,
    policy_sense,
    pours,
    readiness,
    rounds_done,
    shift_plan,
    staffing,
    tasks,
    tryout_calls,
    waits,
)
from assessments.measures.quiz import scoring, writing

CODES: dict[str, tuple[str, ...]] = {
    **marking.CODES,
    **writing.CODES,
    **scoring.CODES,
    **shift_plan.CODES,
    **gates.CODES,
    **readiness.CODES,
    **tasks.CODES,
    **mending.CODES,
    **next_steps.CODES,
    **pours.CODES,
    **drift.CODES,
    **pace_check.CODES,
    **rounds_done.CODES,
    **itemstats.CODES,
    **staffing.CODES,
    **own_record.CODES,
    **policy_sense.CODES,
    **tryout_calls.CODES,
    **waits.CODES,
}
