"""Gates beside the figures: safety, permits, what is proven, pours, pace. None is outweighed.

What the law asks for (safety, permits) also bars from working second and is never lifted for one
shift; working age and hours are not known here, and no gate stands for them.
"""

from collections.abc import Iterator
from functools import lru_cache
from typing import Protocol

from assessments.measures import waits
from assessments.measures.drink_facts import Unproven
from assessments.measures.pace_check import whole_pace
from assessments.measures.ready_facts import Facts, Gates, Proof, ReadyPolicy, Safety
from recipes.grammar.aspects import Aspect
from recipes.grammar.reasons import Reason

CODES: dict[str, tuple[str, ...]] = {
    "safety_not_passed": ("module",),
    "permit_missing": ("permit",),
    "permit_ran_out": ("permit", "day"),
    "no_must_knows": (),
    "no_drinks": (),
    "not_signed_off": ("drink",),
    "sign_off_out_of_date": ("drink", "aspects"),
    "families_not_proven": ("count", "drinks"),
    "pours_not_checked": ("within",),
    "pours_not_passed": (),
    "pace_not_checked": ("within",),
    "pace_too_low": ("pace", "least"),
}

LAWFUL = ("safety_not_passed", "permit_missing", "permit_ran_out")
"""What no manager lifts, not even for one shift, by the code of what is missing."""


def missing_gates(facts: Facts) -> tuple[Reason, ...]:
    """Every gate that is shut, what the law asks for first."""
    return (*by_law(facts), *_proof(facts), *shut_by_hands(facts.policy, facts.gates))


class Lawful(Protocol):
    """What the law's gates are about, whether orders are taken or not."""

    @property
    def safety(self) -> Safety: ...
    @property
    def safety_module(self) -> str: ...
    @property
    def policy(self) -> ReadyPolicy: ...
    @property
    def gates(self) -> Gates: ...


def by_law(facts: Lawful) -> tuple[Reason, ...]:
    """What no manager lifts, not even for one shift: the safety module and permits."""
    permits = tuple(shut_by_permits(facts.policy, facts.gates))
    if facts.safety is Safety.PASSED:
        return permits
    return (Reason.of("safety_not_passed", module=facts.safety_module), *permits)


def shut_by_permits(policy: ReadyPolicy, gates: Gates) -> Iterator[Reason]:
    over = dict(gates.permits_over)
    for kind in policy.permits:
        if kind in gates.permits_held:
            continue
        if kind in over:
            yield Reason.of("permit_ran_out", permit=kind, day=over[kind])
        else:
            yield Reason.of("permit_missing", permit=kind)


def _proof(facts: Facts) -> tuple[Reason, ...]:
    if not facts.drinks:
        return (Reason.of("no_drinks"),)
    if not facts.known.has_must_knows:
        return (Reason.of("no_must_knows"),)
    if facts.policy.proof is Proof.FAMILIES:
        return tuple(_families(facts.gates.to_prove))
    return tuple(map(_sign_off, facts.known.unproven))


def _sign_off(drink: Unproven) -> Reason:
    if drink.waits:
        return waits.missing(drink.name, drink.waits)
    return _unproven(drink.name, drink.changed)


@lru_cache(maxsize=1000)
def _unproven(drink: str, out_of_date: tuple[Aspect, ...]) -> Reason:
    """The same for everybody, and a board has thousands."""
    if out_of_date:
        aspects = ",".join(out_of_date)
        return Reason.of("sign_off_out_of_date", drink=drink, aspects=aspects)
    return Reason.of("not_signed_off", drink=drink)


def _families(to_prove: tuple[str, ...]) -> Iterator[Reason]:
    if to_prove:
        yield Reason.of("families_not_proven", count=len(to_prove), drinks=", ".join(to_prove))


def shut_by_hands(policy: ReadyPolicy, gates: Gates) -> tuple[Reason, ...]:
    """By pours and pace."""
    return (*_pours(policy, gates), *_pace(policy, gates))


def _pours(policy: ReadyPolicy, gates: Gates) -> Iterator[Reason]:
    """The newest check decides: one that failed is not outweighed by an earlier one."""
    if policy.pour_days is None:
        return
    if gates.pours_days is None or gates.pours_days > policy.pour_days:
        yield Reason.of("pours_not_checked", within=policy.pour_days)
    elif not gates.pours_passed:
        yield Reason.of("pours_not_passed")


def _pace(policy: ReadyPolicy, gates: Gates) -> Iterator[Reason]:
    """What the newest ticket came to, as the policy words it: the low end of its interval would
    ask for half as much again and more on a ticket of twenty drinks."""
    if policy.least_pace is None or policy.pace_days is None:
        return
    if gates.pace is None or gates.pace_days is None or gates.pace_days > policy.pace_days:
        yield Reason.of("pace_not_checked", within=policy.pace_days)
    elif gates.pace < policy.least_pace:
        yield Reason.of("pace_too_low", pace=whole_pace(gates.pace), least=policy.least_pace)
