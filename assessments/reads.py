"""What a hire's own pages show, where that takes more than one query."""

from __future__ import annotations

import datetime as dt
from collections.abc import Iterable, Sequence
from dataclasses import dataclass, field, replace

from assessments import prints, tryouts
from assessments.measures.line_up import SECONDS
from assessments.measures.memory import SOON
from assessments.measures.shift_plan import CardDue, ShiftPlan, plan_shift
from assessments.measures.stated import AT_FIRST, Line
from assessments.met import Known, known_to
from assessments.models import (
    CardMark,
    Habit,
    Memory,
    Quiz,
    QuizResult,
    Reading,
    ShiftAhead,
    WatchedBuild,
)
from assessments.open_watches import watches_here
from assessments.sales import as_sold
from assessments.shifts import worked_from
from assessments.sign_offs import counts_from
from assessments.study_time import seconds_today
from barcourse.people.models import Membership, PersonalText
from recipes.grammar.aspects import Aspect
from recipes.menu import Menu, MenuDrink
from recipes.models import Module, Scenario

MINUTES = 5
"""Of cards a day, where nobody has said how many there are (our own number, no source)."""

LONGEST_LOOK_S = max(SECONDS.values())
"""Where less is left of a day's minutes, they are studied: a new card would not fit."""


@dataclass(frozen=True)
class Planned:
    """The plan of a hire's cards, and the shift that it is for, where one was said."""

    plan: ShiftPlan
    shift: ShiftAhead | None
    is_spent: bool = False
    """The minutes that were set for today are studied: what is left can wait."""
    known: Known = field(default_factory=Known)
    """What they know otherwise than it is built today."""

    @property
    def minutes(self) -> int:
        return self.shift.minutes if self.shift else MINUTES


def planned(
    hire: Membership,
    menu: Menu,
    at: dt.datetime,
    progress: Iterable[ModuleProgress],
    *,
    goes_on: bool = False,
) -> Planned:
    """The minutes that the hire has left today, of cards from the modules that they have begun,
    weighed by what sells on such a shift.

    Minutes that were set are those of a day: what was studied since it began is taken off, save
    for whoever `goes_on` all the same. Where nobody set any, a round is as long as ever.
    What nobody has read yet is no card: a new hire would face the whole menu at once.
    """
    begun = {p.module.pk for p in progress if p.is_begun}
    shift = ShiftAhead.objects.of(hire).after(at).first()
    minutes = shift.minutes if shift else MINUTES
    spent = seconds_today(hire, at) if shift and not goes_on else 0.0
    left = int(60 * minutes - spent)
    is_spent = left < LONGEST_LOOK_S
    known = known_to(hire, menu)
    weighed = as_sold(menu, worked_from(hire.venue, shift.starts_at).kind) if shift else menu
    plan = plan_shift(
        drinks=[i.drink for i in weighed.items if i.recipe.module_id in begun],
        memories={m.topic: m.facts() for m in Memory.objects.of(hire)},
        otherwise=known.otherwise,
        at=at,
        shift=shift.starts_at if shift else None,
        seconds=0 if is_spent else left,
        line=_line_of(hire),
    )
    return Planned(plan, shift, is_spent, known)


def cards_due(
    hire: Membership, menu: Menu, at: dt.datetime, progress: Iterable[ModuleProgress]
) -> tuple[CardDue, ...]:
    """The cards of `planned` alone."""
    return planned(hire, menu, at, progress).plan.cards


def _line_of(hire: Membership) -> Line:
    habit = Habit.objects.filter(hire=hire).first()
    return habit.stated if habit else AT_FIRST


def missed_lately(hire: Membership, at: dt.datetime) -> bool:
    """Whether something missed on a card has yet to come back."""
    return CardMark.objects.of(hire).missed_since(at - SOON).exists()


@dataclass(frozen=True)
class ModuleProgress:
    """One module as a hire sees it: `result` is the best they have done on it, `can_ask` whether
    it has anything to ask about."""

    module: Module
    drinks: int
    can_ask: bool
    is_read: bool
    result: QuizResult | None
    open_quiz: Quiz | None
    is_tried: bool = False
    """A try-out showed its must-knows (`tryout.shown_modules`): nobody reads first what they know.
    What nobody is ready without is never skipped so."""

    @property
    def is_passed(self) -> bool:
        return self.result is not None and self.result.passed

    @property
    def is_begun(self) -> bool:
        return self.is_read or self.is_tried or bool(self.result or self.open_quiz)


def modules_of(hire: Membership, menu: Menu) -> list[ModuleProgress]:
    """All modules in the order of the course."""
    read = set(Reading.objects.of(hire).values_list("module_id", flat=True))
    best = _best_results(hire)
    tried = tryouts.shown_modules(hire, menu)
    still_open = {q.module_id: q for q in Quiz.objects.of(hire).open() if q.module_id}
    situations = set(
        Scenario.objects.filter(venue=hire.venue).values_list("lesson__module", flat=True)
    )
    return [
        ModuleProgress(
            module=m,
            drinks=(drinks := len(menu.of_module(m))),
            can_ask=drinks > 0 or m.pk in situations,
            is_read=m.pk in read,
            result=best.get(m.pk),
            open_quiz=still_open.get(m.pk),
            is_tried=m.slug in tried and not m.is_gate,
        )
        for m in Module.objects.in_house(hire.venue)
    ]


def _best_results(hire: Membership) -> dict[int, QuizResult]:
    """By module: the newest pass, else the newest result."""
    best: dict[int, QuizResult] = {}
    for result in QuizResult.objects.of(hire).newest_first():
        if result.module_id is None:
            continue
        kept = best.get(result.module_id)
        if kept is None or (result.passed and not kept.passed):
            best[result.module_id] = result
    return best


@dataclass(frozen=True)
class BuildShown:
    """A watched build for a list: the row, what has changed since, and the words about it.
    `unsigned`: "waits" where whoever watched it can sign it off still, "left" where they can't any
    more and nobody has signed the drink off since; else empty."""

    build: WatchedBuild
    changed: tuple[Aspect, ...]
    on_menu: bool
    note: str
    void_reason: str
    counts_from: dt.datetime | None = None  # shown before the house builds it so
    unsigned: str = ""

    @property
    def is_signed(self) -> bool:
        return hasattr(self.build, "sign_off")

    @property
    def is_void(self) -> bool:
        return hasattr(self.build, "void")


def builds_of(hire: Membership, menu: Menu) -> list[BuildShown]:
    rows = list(WatchedBuild.objects.of(hire).with_all().newest_first())
    return show_builds(rows, menu)


def show_builds(rows: Sequence[WatchedBuild], menu: Menu) -> list[BuildShown]:
    words, unsigned = _texts(rows), _unsigned(rows, menu)
    today = {i.recipe.pk: i for i in menu.items}
    return [
        replace(
            _shown(row, today.get(row.recipe_id), words, menu.at),
            unsigned=unsigned.get(row.pk, ""),
        )
        for row in rows
    ]


def _unsigned(rows: Sequence[WatchedBuild], menu: Menu) -> dict[int, str]:
    """Asked for only where something passed and was not signed."""
    passed = {
        r.pk: r for r in rows if r.passed and not hasattr(r, "sign_off") and not hasattr(r, "void")
    }
    if not passed:
        return {}
    today = menu.venue.business_day(menu.at)
    open_ones = WatchedBuild.objects.keyed(list(passed)).open().values_list("pk", flat=True)
    return {pk: "waits" if watches_here(passed[pk].trainer, today) else "left" for pk in open_ones}


def _shown(
    row: WatchedBuild, item: MenuDrink | None, words: dict[str, str], at: dt.datetime
) -> BuildShown:
    changed = prints.changed_since(row.fingerprints, item.drink) if item else ()
    ahead = counts_from(row, at) if changed or item is None else None
    return BuildShown(
        build=row,
        changed=() if ahead else changed,
        on_menu=item is not None,
        counts_from=ahead,
        note=words.get(row.note_code, ""),
        void_reason=words.get(row.void.reason_code, "") if hasattr(row, "void") else "",
    )


def _texts(rows: Sequence[WatchedBuild]) -> dict[str, str]:
    codes = {r.note_code for r in rows} | {r.void.reason_code for r in rows if hasattr(r, "void")}
    return dict(PersonalText.objects.filter(code__in=codes - {""}).values_list("code", "text"))
