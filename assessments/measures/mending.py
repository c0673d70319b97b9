"""How to mend what is missing: for each reason why somebody isn't ready, what to do about it."""

from assessments.measures import waits
from recipes.grammar.reasons import Reason

CODES: dict[str, tuple[str, ...]] = {
    "mend_safety": ("module",),
    "mend_permit": ("permit",),
    "mend_permit_again": ("permit",),
    "mend_must_knows": (),
    "mend_menu": (),
    "mend_sign_off": ("drink",),
    "mend_renew": ("drink", "aspects"),
    "mend_families": ("drinks",),
    "mend_pours": (),
    "mend_pours_again": (),
    "mend_pace": (),
    "mend_pace_low": ("least",),
    "mend_right": (),
    "mend_wrong": (),
    "mend_wrong_own": (),
    "mend_pour_missed": (),
    "mend_task_list": (),
    "mend_tasks": ("count",),
    "mend_tasks_first": (),
    "mend_conduct": (),
}


NAMED = 3
"""Tasks named at once; the count says how many there are (our own choice, no source)."""


def mend(reason: Reason, *, is_own: bool = False) -> Reason:
    """The way to mend it, told to whoever it is about where `is_own`. Raises KeyError for what is
    no reason to be kept from ready."""
    said = reason.values
    match reason.code:
        case "safety_not_passed":
            return Reason.of("mend_safety", module=said["module"])
        case "permit_missing":
            return Reason.of("mend_permit", permit=said["permit"])
        case "permit_ran_out":
            return Reason.of("mend_permit_again", permit=said["permit"])
        case "not_signed_off":
            return Reason.of("mend_sign_off", drink=said["drink"])
        case "sign_off_waits" | "sign_off_waits_for_you":
            return waits.mend(reason)
        case "sign_off_out_of_date":
            return Reason.of("mend_renew", drink=said["drink"], aspects=said["aspects"])
        case "families_not_proven":
            return Reason.of("mend_families", drinks=said["drinks"])
        case "tasks_not_done":
            return _tasks(int(str(said["count"])))
        case "pace_too_low":
            return Reason.of("mend_pace_low", least=said["least"])
        case code:
            return (_OWN if is_own else _PLAIN)[code]


def _tasks(count: int) -> Reason:
    """Those that the reason names; where there are more, to begin with."""
    if count > NAMED:
        return Reason.of("mend_tasks_first")
    return Reason.of("mend_tasks", count=count)


_PLAIN = {
    "no_must_knows": Reason.of("mend_must_knows"),
    "no_drinks": Reason.of("mend_menu"),
    "pours_not_checked": Reason.of("mend_pours"),
    "pours_not_passed": Reason.of("mend_pours_again"),
    "pace_not_checked": Reason.of("mend_pace"),
    "right_too_low": Reason.of("mend_right"),
    "right_below_second": Reason.of("mend_right"),
    "wrong_too_high": Reason.of("mend_wrong"),
    "pour_missed": Reason.of("mend_pour_missed"),
    "no_tasks": Reason.of("mend_task_list"),
    "conduct_slipped": Reason.of("mend_conduct"),
}
"""Where what to do needs nothing of what was said."""

_OWN = _PLAIN | {"wrong_too_high": Reason.of("mend_wrong_own")}
