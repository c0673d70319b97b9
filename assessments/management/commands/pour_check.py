"""`manage.py pour_check 1.02 0.97 ... [--target 1] [--tolerance 0.125] [--unit floz] [--json]`

What several pours say, in the unit they are typed in: bias, spread, the share within tolerance
with its exact 95 % interval, the two-sided interval that holds 95 % of the hand's pours (95 %
sure) with its factor k, capability, and the verdict. `--measured-by stamped` is never under; every
other way is two-sided. Without `--target`, `--tolerance` or `--measured-by` the house's own pour of
spirits decides, and with `--venue` the house's rule of when a check is passed. Exit 2 with one line
on stderr where nobody can have poured that.
"""

from __future__ import annotations

import json
import math
from argparse import ArgumentParser
from dataclasses import replace
from typing import Any

from django.core.management.base import CommandParser
from django.utils import timezone

from assessments.doubts import is_doubtful_pour
from assessments.measures.pours import DEFAULT, PourPolicy, PourTarget, PourVerdict, check_pours
from assessments.pour_policy import policy_at, versions_of
from assessments.wording import word
from barcourse.people.management.asking import AskingCommand
from recipes.grammar.ingredients import LiquorClass
from recipes.grammar.rules import HouseRules, MeasuredBy
from recipes.grammar.units import ML, Unit, to_ml
from recipes.management.asking import house_named, menu_of, refused

UNITS = [unit.value for unit in ML if unit not in (Unit.DASH, Unit.SPLASH)]
DIGITS = 6
SMALLEST = 10.0**-DIGITS
"""What the answer's digits don't show is no pour."""
OF_THESE = ("n", "bias", "sd", "within", "within_low", "within_high")
OF_THOSE_TO_COME = ("tolerance_low", "tolerance_high", "k", "cp", "cpk")
LONGEST = 40
"""So many letters of what was typed are told back."""


class Command(AskingCommand):
    help = "Says what several pours against a target show, and what they don't show yet."

    def add_arguments(self, parser: CommandParser | ArgumentParser) -> None:
        parser.add_argument("pours", nargs="*", help="what was poured, each as it was read off")
        parser.add_argument("--target", help="what was wanted (default: the house's pour)")
        parser.add_argument("--tolerance", help="what it may be off by (default: the house's)")
        parser.add_argument("--unit", default=Unit.FLOZ.value, help=", ".join(UNITS))
        parser.add_argument(
            "--measured-by", default="", help=", ".join(by.value for by in MeasuredBy)
        )
        parser.add_argument("--venue", default="", help="slug of the house (default: the only one)")
        parser.add_argument("--json", action="store_true", dest="as_json")

    def handle(self, *args: Any, as_json: bool, **options: Any) -> None:
        if not options["pours"]:
            raise refused("Type in the pours, each as it was read off: pour_check 1.02 0.97 ...")
        unit = _unit(options["unit"])
        pours = [_number(said) for said in options["pours"]]
        try:
            aim = _aim(options, unit).read_in(pours, 1.0)
            verdict = check_pours(pours, aim, _policy(options, unit))
        except ValueError as bad:
            raise refused(f"Nobody can have poured that: {bad}.") from None
        said = _values(verdict, _doubts(pours, aim.target))
        if as_json:
            self.stdout.write(json.dumps(said, ensure_ascii=False))
        else:
            self.stdout.write(_text(said, unit, too_few=verdict.passed is None))


def _unit(said: str) -> Unit:
    if said not in UNITS:
        raise refused(f"No unit {said!r}; these do: {', '.join(UNITS)}.")
    return Unit(said)


def _number(said: str) -> float:
    try:
        number = float(said)
    except ValueError:
        number = math.nan
    if not math.isfinite(number) or 0 < abs(number) < SMALLEST:
        raise refused(f"{said[:LONGEST]!r} is no volume.")
    return number


def _aim(options: dict[str, Any], unit: Unit) -> PourTarget:
    """As said; what is left unsaid, and only then, by the house's rules."""
    target, tolerance, by = options["target"], options["tolerance"], options["measured_by"]
    if by and by not in list(MeasuredBy):
        raise refused(f"No way of measuring {by!r}; these do: {', '.join(MeasuredBy)}.")
    if target is not None and tolerance is not None:
        if options["venue"]:
            house_named(options["venue"])
        aim = PourTarget(_number(target), _number(tolerance))
    else:
        aim = _of_house(_rules(options["venue"]), unit, target, tolerance)
    return PourTarget(aim.target, aim.tolerance, MeasuredBy(by) if by else aim.measured_by)


def _policy(options: dict[str, Any], unit: Unit) -> PourPolicy:
    """By the house's own rule where the house is asked at all, else by the usual one."""
    if options["target"] is not None and options["tolerance"] is not None and not options["venue"]:
        return DEFAULT
    policy = policy_at(versions_of(house_named(options["venue"])), timezone.now())
    if policy.most_bias is None:
        return policy
    return replace(policy, most_bias=policy.most_bias / to_ml(1.0, unit))


def _rules(slug: str) -> HouseRules:
    return menu_of(house_named(slug), timezone.now()).rules


def _of_house(
    rules: HouseRules, unit: Unit, target: str | None, tolerance: str | None
) -> PourTarget:
    rule = rules.pours.get(LiquorClass.SPIRIT)
    if rule is None:
        raise refused("The house rules say no pour of spirits: say --target and --tolerance.")
    size = to_ml(1.0, unit)
    return PourTarget(
        _number(target) if target is not None else rule.ml / size,
        _number(tolerance) if tolerance is not None else rules.tolerance_ml / size,
        MeasuredBy.FREE_POUR if target is not None else rule.measured_by,
    )


def _doubts(pours: list[float], target: float) -> list[str]:
    """What the screen asks about before it puts it on record."""
    return [
        f"Look again: {pour:g} where {target:g} was to be poured?"
        for pour in pours
        if is_doubtful_pour(pour, target)
    ]


def _values(found: PourVerdict, doubts: list[str]) -> dict[str, Any]:
    """Of too few pours nothing is said of those to come: null, as on the screen."""
    values = {name: getattr(found, name) for name in (*OF_THESE, *OF_THOSE_TO_COME)}
    if found.passed is None:
        values |= dict.fromkeys(OF_THOSE_TO_COME)
    rounded = {n: round(v, DIGITS) if isinstance(v, float) else v for n, v in values.items()}
    return {**rounded, "verdict": " ".join((*doubts, *(word(r) for r in found.reasons)))}


def _text(said: dict[str, Any], unit: Unit, *, too_few: bool) -> str:
    """Of too few pours nothing is said of those to come."""

    def shown(name: str) -> str:
        return "not to be said" if said[name] is None else f"{said[name]:.3f}"

    of_all = f"{shown('within_low')} to {shown('within_high')} of all by that count, 95 % sure"
    within = f"{shown('within')} of these; {of_all}"
    ends = f"{shown('tolerance_low')} and {shown('tolerance_high')} (k {shown('k')})"
    of_these = f"{said['n']} pours in {unit.value}: bias {shown('bias')}, spread {shown('sd')}"
    share = f"within tolerance: {within}"
    if too_few:
        return "\n".join((said["verdict"], of_these, share))
    of_those_to_come = f"by average and spread 19 of 20 lie between {ends}, 95 % sure, if normal"
    return "\n".join(
        (
            said["verdict"],
            of_these,
            share,
            of_those_to_come if said["sd"] else "all read alike: nothing of those to come",
            f"capability {shown('cp')}, off centre {shown('cpk')}, as far as these tell",
        )
    )
