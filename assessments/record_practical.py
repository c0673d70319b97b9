"""What is written about hands beside whole builds: marks in service, pours, pace, rounds.

As in `record`: each verb is one transaction with its log entry. Nobody marks themselves.
"""

from __future__ import annotations

import datetime as dt
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass

from django.db import transaction
from django.utils.translation import gettext as _

from assessments import prints, record, slips, tickets
from assessments import record_steps as steps
from assessments.measures import pace_check, rounds, rounds_done
from assessments.measures.density import density_of
from assessments.measures.marking import HelpLevel
from assessments.measures.pours import PourTarget
from assessments.measures.pours import check_pours as judge_pours
from assessments.measuring import sizes_read
from assessments.models import (
    PaceCheck,
    PourCheck,
    SpotMark,
    Void,
    WatchedBuild,
    WatchedRound,
)
from assessments.models.practical import Came
from assessments.models.watch import MadeWith
from assessments.pour_policy import policy_at, versions_of
from assessments.remember import remember, topics_of_spot
from barcourse.people import log
from barcourse.people.models import Membership, Station
from barcourse.people.reasons import Refused, refuse
from recipes.grammar.units import Unit, to_ml
from recipes.menu import Menu, MenuDrink
from recipes.models import Ingredient


@transaction.atomic
def mark_spot(
    *,
    by: Membership,
    hire: Membership,
    menu: Menu,
    item: MenuDrink,
    came: Came,
    sent_back: bool = False,
    at: dt.datetime,
    seen: str | None = None,
) -> SpotMark:
    """A drink in service: right, mended or wrong. `seen` as for a watched build."""
    steps.refuse_other_house(by, item.recipe)
    steps.refuse_watching(by, hire, at)
    steps.refuse_changed(item, seen)
    steps.lock_hire(hire)
    mark = SpotMark.objects.create(
        venue=by.venue, hire=hire, trainer=by, recipe=item.recipe, revision=item.revision,
        rules_version=menu.rules_version, fingerprints=prints.by_aspect(item.drink), came=came,
        sent_back=sent_back, at=at,
    )  # fmt: skip
    facts = {"came": came.value, "sent_back": sent_back}
    log.append(
        venue=by.venue, by=by, kind="spot_marked", subject=hire, row=mark, facts=facts, at=at
    )
    remember(hire, topics_of_spot(item.drink, right=came is Came.RIGHT), at)
    return mark


@dataclass(frozen=True)
class Poured:
    """What the trainer read off: amounts in millilitres, fluid ounces or, weighed, in grams.
    `pours` is how many house pours each was to be."""

    amounts: Sequence[float]
    unit: str
    pours: int = 1
    made_with: MadeWith = MadeWith.STOCK
    pours_a_week: int | None = None


GRAMS = "g"


@dataclass(frozen=True)
class Read:
    """Poured in millilitres, beside what it was to be; the density where it was weighed."""

    ml: list[float]
    aim: PourTarget
    density: float | None


@transaction.atomic
def check_pours(
    *,
    by: Membership,
    hire: Membership,
    menu: Menu,
    ingredient: Ingredient,
    poured: Poured,
    at: dt.datetime,
) -> PourCheck:
    """Several pours of one bottle, against the house's pour of its kind and by its way of
    measuring."""
    steps.refuse_other_house(by, ingredient)
    steps.refuse_watching(by, hire, at)
    read = in_ml(menu, ingredient, poured)
    aim = read.aim
    try:
        verdict = judge_pours(read.ml, aim, policy_at(versions_of(by.venue), at))
    except ValueError:
        raise refuse("pours_impossible") from None
    row = PourCheck.objects.create(
        venue=by.venue, hire=hire, trainer=by, ingredient=ingredient, made_with=poured.made_with,
        measured_by=aim.measured_by.value, target_ml=aim.target, tolerance_ml=aim.tolerance,
        pours_ml=read.ml, weighed=poured.unit == GRAMS, density=read.density,
        pours_a_week=poured.pours_a_week, passed=verdict.passed, at=at,
    )  # fmt: skip
    log.append(venue=by.venue, by=by, kind="pours_checked", subject=hire, row=row, at=at)
    return row


def in_ml(menu: Menu, ingredient: Ingredient, poured: Poured) -> Read:
    """What was read off, against the house's pour of that bottle; refused where it has none."""
    facts = menu.pantry[ingredient.slug]
    rule = menu.rules.pours.get(facts.liquor_class)
    if rule is None:
        raise refuse("no_house_pour", "ingredient", item=ingredient.name)
    heavy, _how = density_of(None if poured.made_with == MadeWith.WATER else facts)
    density = heavy if poured.unit == GRAMS else None
    # Rounded to a nanolitre, so that a fluid ounce stays one.
    ml = [
        round(amount / density if density else to_ml(amount, Unit(poured.unit)), 6)
        for amount in poured.amounts
    ]
    aim = PourTarget(rule.ml * poured.pours, menu.rules.tolerance_ml, rule.measured_by)
    return Read(ml, aim.read_in(ml, *sizes_read(density)), density)


@dataclass(frozen=True)
class Timed:
    """What came of a ticket."""

    seconds: int
    errors: Mapping[pace_check.Error, int]


@transaction.atomic
def check_pace(
    *,
    by: Membership,
    hire: Membership,
    menu: Menu,
    drawn: tickets.Drawn,
    timed: Timed,
    at: dt.datetime,
    seen: str | None = None,
) -> PaceCheck:
    """A ticket made against the clock. `seen` is the print of the ticket that was on the screen:
    refused where the menu now gives another."""
    station: Station = drawn.station
    steps.refuse_other_house(by, station)
    steps.refuse_watching(by, hire, at)
    if seen is not None and seen != drawn.print_:
        raise refuse("ticket_changed")
    try:
        pace_check.judge_pace(drawn.count, timed.seconds, timed.errors, rung_up=drawn.rung_up)
    except ValueError:
        raise refuse("pace_impossible") from None
    row = PaceCheck.objects.create(
        venue=by.venue, hire=hire, trainer=by, station=station, rules_version=menu.rules_version,
        seed=drawn.seed, ticket=drawn.to_json(), rung_up=drawn.rung_up, seconds=timed.seconds,
        errors={kind.value: n for kind, n in timed.errors.items() if n}, at=at,
    )  # fmt: skip
    log.append(venue=by.venue, by=by, kind="pace_checked", subject=hire, row=row, at=at)
    return row


@dataclass(frozen=True)
class BuildOf:
    """One drink of a round, what went wrong with it, the print that the screen showed, and what was
    measured and noted, as for a watched build."""

    item: MenuDrink
    off: Iterable[str]
    seen: str | None = None
    note: str = ""
    measured: Mapping[str, float] | None = None


@dataclass(frozen=True)
class RoundDone:
    """`done` are keys of the round's steps, as they were done."""

    builds: Sequence[BuildOf]
    done: Sequence[str]
    picked_up_again: int = 0
    help_level: HelpLevel = HelpLevel.UNPROMPTED
    made_with: MadeWith = MadeWith.STOCK
    seconds: int | None = None


@transaction.atomic
def watch_round(
    *, by: Membership, hire: Membership, menu: Menu, said: RoundDone, at: dt.datetime
) -> WatchedRound:
    """Several drinks made at once: a watched build of each, and the order in which it was done."""
    try:
        best = rounds.best_order([b.item.drink.spec for b in said.builds], menu.pantry)
        order = {step.key: step for step in best}
        rounds_done.compare(best, [order[key] for key in said.done], said.picked_up_again)
    except (KeyError, ValueError):
        raise refuse("round_changed") from None
    builds = [
        record.watch_build(
            by=by, hire=hire, menu=menu, item=build.item, off=build.off,
            help_level=said.help_level, made_with=said.made_with, at=at, seen=build.seen,
            note=build.note, measured=build.measured,
        )
        for build in said.builds
    ]  # fmt: skip
    row = WatchedRound.objects.create(
        venue=by.venue, hire=hire, trainer=by, builds=[b.code for b in builds],
        steps=[[s.act.value, s.item, list(s.drinks)] for s in best], done=list(said.done),
        picked_up_again=said.picked_up_again, seconds=said.seconds, at=at,
    )  # fmt: skip
    log.append(venue=by.venue, by=by, kind="round_watched", subject=hire, row=row, at=at)
    return row


@transaction.atomic
def take_back(*, by: Membership, watched: WatchedBuild, at: dt.datetime) -> Void:
    """A slip of the thumb: whoever watched the build takes it back at once, as `slips` says."""
    steps.refuse_other_house(by, watched)
    steps.lock_build(watched)
    refused = slips.why_no_slip(slips.since(by, watched, at))
    if refused is not None:
        raise Refused(refused)
    reason = _("A slip of the thumb, taken back before it was signed off.")
    return record.void_build(by=by, watched=watched, reason=reason, at=at, kind=slips.TAKEN_BACK)
