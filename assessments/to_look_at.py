"""What waits for a manager: disagreements, hires who are stuck, how trainers mark. Open builds of
trainers who left are in `handing_over`."""

from __future__ import annotations

import datetime as dt
from collections import defaultdict
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from itertools import pairwise

from assessments.measures.agreement import Agreement, agreement
from assessments.measures.intervals import exact_share
from assessments.measures.stuck import ENOUGH, Tried, fails_running
from assessments.models import PlanDecided, Reply, SecondMark, WatchedBuild
from assessments.models.watch import Help
from assessments.said import became
from assessments.spans import of_hundred
from assessments.voids import VoidShown, voids_of
from barcourse.people.models import Membership, PersonalText, Venue
from barcourse.people.roles import May
from recipes.models import Recipe

ENOUGH_BUILDS = 15
"""Fewer than this and a trainer's shares are called too few to say anything."""
UNLIKELY = 0.05
"""So seldom would chance let everything pass, were this trainer's hires like the others'."""
SOON_AFTER = dt.timedelta(days=14)
"""A fail this soon after a pass on the same build speaks against the pass; later, memory fades.
(All three are our own numbers, no source.)"""
MONTH = dt.timedelta(days=31)
Hires = Sequence[Membership] | None


@dataclass(frozen=True)
class Disagreement:
    """`void` where the build was voided; `became` is what was done about a disagreement."""

    reply: Reply
    words: str
    void: VoidShown | None
    became: str


def disagreements(venue: Venue) -> list[Disagreement]:
    rows = list(
        Reply.objects.in_house(venue)
        .disagreeing()
        .select_related(
            "watched__recipe", "watched__trainer__person", "watched__void__by__person",
            "hire__person",
        )
        .order_by("at", "pk")
    )  # fmt: skip
    return _in_words(rows)


def reply_to(watched: WatchedBuild) -> Disagreement | None:
    """What the hire said to a build, if anything."""
    rows = Reply.objects.to(watched).with_all()
    return next(iter(_in_words(rows)), None)


def _in_words(rows: Iterable[Reply]) -> list[Disagreement]:
    found = list(rows)
    texts = PersonalText.objects.filter(code__in=[r.text_code for r in found], erased_at=None)
    words = dict(texts.values_list("code", "text"))
    voids = voids_of(row.watched for row in found)
    return [
        Disagreement(row, words.get(row.text_code, ""), void, became(row, row.watched))
        for row, void in zip(found, voids, strict=True)
    ]


@dataclass(frozen=True)
class Stuck:
    """Somebody and a drink that failed `ENOUGH` times running: `tries` are those builds, oldest
    first; `decided` what a person decided after the last of them, `newest` whenever it was."""

    hire: Membership
    recipe: Recipe
    tries: tuple[WatchedBuild, ...]
    decided: PlanDecided | None
    newest: PlanDecided | None


def stuck_hires(venue: Venue, at: dt.datetime) -> list[Stuck]:
    """Those who are here; what has been decided since the last try stands beside it."""
    builds = _by_hire_and_drink(_standing(venue, at))
    decided = {
        (p.hire_id, p.recipe_id): p for p in PlanDecided.objects.in_house(venue).newest_last()
    }
    today = venue.business_day(at)
    return [
        _stuck(rows, decided.get(key))
        for key, rows in builds.items()
        if rows[0].hire.is_here(today) and fails_running([tried(r) for r in rows]) >= ENOUGH
    ]


def plans_of(hire: Membership, at: dt.datetime) -> list[PlanDecided]:
    """What was decided for a hire and still holds: until they try that drink once more."""
    decided = {
        p.recipe_id: p for p in PlanDecided.objects.in_house(hire.venue).newest_last().of(hire)
    }
    if not decided:
        return []
    rows = WatchedBuild.objects.of(hire).standing(at).order_by("at", "pk")
    last = dict(rows.values_list("recipe_id", "at"))
    return [p for p in decided.values() if p.recipe_id not in last or p.at >= last[p.recipe_id]]


def _stuck(rows: Sequence[WatchedBuild], decided: PlanDecided | None) -> Stuck:
    runs = [tried(row) for row in rows]
    last = rows[-1]
    return Stuck(
        hire=last.hire,
        recipe=last.recipe,
        tries=tuple(rows[-fails_running(runs) :]),
        decided=decided if decided and decided.at >= last.at else None,
        newest=decided,
    )


def tried(row: WatchedBuild) -> Tried:
    """A build as the pure core reads it."""
    fails = {step["key"] for step in row.steps if step["fails"]}
    return Tried(
        shown=row.help_level == Help.SHOWN,
        passed=row.passed,
        failed=frozenset(fails & set(row.off)),
    )


def _standing(venue: Venue, at: dt.datetime) -> list[WatchedBuild]:
    """Every build that counts, oldest first."""
    rows = WatchedBuild.objects.in_house(venue).standing(at)
    return list(
        rows.select_related("hire__person", "trainer__person", "recipe").order_by("at", "pk")
    )


def _by_hire_and_drink(
    rows: Iterable[WatchedBuild],
) -> dict[tuple[int, int], list[WatchedBuild]]:
    found: dict[tuple[int, int], list[WatchedBuild]] = defaultdict(list)
    for row in rows:
        found[row.hire_id, row.recipe_id].append(row)
    return found


@dataclass(frozen=True)
class Share:
    """Of so many, so many; with the ends of its exact 95 % interval in percent."""

    hits: int
    of: int

    @property
    def interval(self) -> tuple[int, int]:
        low, high = exact_share(self.hits, self.of) if self.of else (0.0, 1.0)
        return round(100 * low), round(100 * high)

    @property
    def span(self) -> str:
        return of_hundred(*self.interval)

    @property
    def is_few(self) -> bool:
        return self.of < ENOUGH_BUILDS


@dataclass(frozen=True)
class TrainerShown:
    """How somebody marks. `passed` of their builds; `contradicted` of their unprompted passes that
    another trainer saw built again soon, unchanged, and failed."""

    trainer: Membership
    has_left: bool
    passed: Share
    contradicted: Share
    passes_everything: bool


def trainers(venue: Venue, at: dt.datetime) -> list[TrainerShown]:
    """Everybody who has watched a build, also who has left: their sign-offs go on counting."""
    rows, today = _standing(venue, at), venue.business_day(at)
    against = _contradictions(rows)
    found = {row.trainer_id: row.trainer for row in rows}
    here_first = sorted(found.values(), key=lambda t: not t.is_here(today))
    return [_trainer(trainer, rows, against, today) for trainer in here_first]


def _trainer(
    trainer: Membership,
    rows: Sequence[WatchedBuild],
    against: dict[int, list[bool]],
    today: dt.date,
) -> TrainerShown:
    own = [row.passed for row in rows if row.trainer_id == trainer.pk]
    others = [row.passed for row in rows if row.trainer_id != trainer.pk]
    seen_again = against.get(trainer.pk, [])
    return TrainerShown(
        trainer=trainer,
        has_left=not trainer.is_here(today),
        passed=Share(sum(own), len(own)),
        contradicted=Share(sum(seen_again), len(seen_again)),
        passes_everything=passes_everything(own, others),
    )


def passes_everything(own: Sequence[bool], others: Sequence[bool]) -> bool:
    """Whether somebody has passed everything, where the others' share makes that unlikely."""
    if not all(own) or len(own) < ENOUGH_BUILDS or len(others) < ENOUGH_BUILDS:
        return False
    return bool((sum(others) / len(others)) ** len(own) < UNLIKELY)


def _contradictions(rows: Sequence[WatchedBuild]) -> dict[int, list[bool]]:
    """By trainer: of their unprompted passes that another one saw again soon, whether it failed."""
    found: dict[int, list[bool]] = defaultdict(list)
    for builds in _by_hire_and_drink(rows).values():
        alone = [b for b in builds if b.help_level == Help.UNPROMPTED]
        for first, then in pairwise(alone):
            same = first.fingerprints == then.fingerprints and first.trainer_id != then.trainer_id
            if first.passed and same and then.at - first.at <= SOON_AFTER:
                found[first.trainer_id].append(not then.passed)
    return found


@dataclass(frozen=True)
class Pairs:
    """Builds that two trainers marked. `due` where there was none this month."""

    builds: int
    found: Agreement | None
    due: bool


def pairs(venue: Venue, at: dt.datetime) -> Pairs:
    marks = list(SecondMark.objects.in_house(venue).with_builds())
    found = agreement(_marked_twice(mark) for mark in marks)
    return Pairs(len(marks), found, not any(at - mark.at <= MONTH for mark in marks))


def _marked_twice(mark: SecondMark) -> Iterator[tuple[bool, bool]]:
    first, second = set(mark.watched.off), set(mark.off)
    for step in mark.watched.steps:
        yield step["key"] in first, step["key"] in second


def for_a_second_look(
    trainer: Membership, at: dt.datetime, within: dt.timedelta, hires: Hires = None
) -> list[WatchedBuild]:
    """Builds of this shift, of these hires where some are named, that another trainer watched and
    nobody has marked a second time. What is told elsewhere waits for nobody's eyes: what somebody
    who left has passed is handed over, and of a run of fails a manager reads what went wrong."""
    rows = (
        WatchedBuild.objects.in_house(trainer.venue)
        .standing(at)
        .filter(at__gt=at - within, second_mark__isnull=True)
        .exclude(trainer=trainer)
        .exclude(hire=trainer)
        .exclude(marks_seen__by=trainer)
        .select_related("hire__person", "recipe", "trainer")
    )
    if hires is not None:
        rows = rows.of(*hires)
    today = trainer.venue.business_day(at)
    found = [row for row in rows.order_by("-at", "-pk") if row.trainer.is_here(today)]
    known = _known_as_stuck(trainer.venue, found, at) if trainer.may(May.SEE_LOG) else set()
    return [row for row in found if row.pk not in known]


def _known_as_stuck(venue: Venue, rows: Sequence[WatchedBuild], at: dt.datetime) -> set[int]:
    """Those of a run of fails that a manager decides on: what failed each is told to them."""
    failed = {(row.hire_id, row.recipe_id) for row in rows if not row.passed}
    if not failed:
        return set()
    hires, recipes = ({pair[n] for pair in failed} for n in (0, 1))
    builds = WatchedBuild.objects.in_house(venue).standing(at)
    builds = builds.filter(hire__in=hires, recipe__in=recipes).order_by("at", "pk")
    found: set[int] = set()
    for key, run in _by_hire_and_drink(builds).items():
        count = fails_running([tried(row) for row in run])
        if key in failed and count >= ENOUGH:
            found |= {row.pk for row in run[-count:]}
    return found


def kept_from(
    member: Membership, at: dt.datetime, within: dt.timedelta, hires: Hires = None
) -> set[str]:
    """The codes of builds whose first marks wait until this member has given marks of their own."""
    if not member.may(May.WATCH):
        return set()
    return {build.code for build in for_a_second_look(member, at, within, hires)}


def is_blind(
    member: Membership, watched: WatchedBuild, at: dt.datetime, within: dt.timedelta
) -> bool:
    """Whether a build still waits for this member's own marks, so that its page keeps the first
    ones from them."""
    others = member.may(May.WATCH) and member.pk not in (watched.trainer_id, watched.hire_id)
    if not others or watched.at <= at - within:
        return False
    return any(b.pk == watched.pk for b in for_a_second_look(member, at, within))


def who_may(what: May, venue: Venue, at: dt.datetime) -> list[Membership]:
    """Those of them who are here, by name."""
    here = Membership.objects.in_house(venue).here(venue.business_day(at)).by_name()
    return [member for member in here if member.may(what)]
