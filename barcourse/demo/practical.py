"""What the hands of the demo house's hires have shown: pours, pace, drinks in service, rounds."""

from __future__ import annotations

import datetime as dt
from collections.abc import Sequence
from dataclasses import dataclass, field
from functools import partial
from random import Random

from assessments import record, record_practical, record_second, tickets
from assessments.measures.marking import HelpLevel
from assessments.measures.pace_check import Error
from assessments.measures.rounds import best_order
from assessments.measures.rounds_done import in_order
from assessments.models import WatchedBuild
from assessments.models.practical import Came
from assessments.models.watch import MadeWith
from barcourse.demo.diary import Diary
from barcourse.demo.hire import Hire
from barcourse.demo.house import moment
from barcourse.people.models import Membership
from recipes.menu import MenuDrink
from recipes.models import Ingredient


@dataclass(frozen=True)
class Shown:
    """Days are counted back from today. `pours`: (day, how far off on average, spread), in house
    pours. `paces`: (day, drinks an hour, errors). A round: what was `ordered`, and the acts that
    came `first` where that wasn't best. `stuck`: failed one drink three times running."""

    pours: Sequence[tuple[float, float, float]] = ()
    paces: Sequence[tuple[float, int, dict[Error, int]]] = ()
    spots: int = 0
    ordered: Sequence[str] = ()
    first: Sequence[str] = ()
    stuck: bool = False


SHOWN = {
    "ines": Shown(
        pours=((12.1, 0.04, 0.04), (6.2, 0.01, 0.025), (1.3, 0.0, 0.02)),
        paces=((8.4, 66, {Error.FINISH: 1}), (2.2, 88, {})),
        spots=9,
        ordered=("gin-and-tonic", "gin-and-tonic", "vodka-soda", "nitro-stout"),
    ),
    "noor": Shown(
        pours=(
            (8.2, 0.0, 0.02),
            (6.4, 0.03, 0.02),
            (4.6, 0.055, 0.02),
            (2.9, 0.08, 0.02),
            (1.2, 0.105, 0.02),
        ),
        paces=((3.3, 51, {Error.FINISH: 2, Error.POUR: 1}),),
        spots=7,
        ordered=("whiskey-cola", "whiskey-cola", "draught-lager"),
        first=("draught",),
    ),
    "tomasz": Shown(pours=((3.1, 0.17, 0.06), (0.8, 0.06, 0.04)), spots=3, stuck=True),
}
"""By sign-in name. One holds the pour, one creeps up, one pours too much."""
POURS = 7
ORDERS = 12
TRIES = (3.4, 2.4, 1.4)
"""Days on which somebody failed the same drink."""


@dataclass(frozen=True)
class Hands:
    """The practical of one hire. `other` trains as well, so that marks can be compared. `random` is
    its own, so that quizzes and builds stay as they are."""

    hire: Hire
    other: Membership
    shown: Shown
    random: Random
    last: dict[str, WatchedBuild] = field(default_factory=dict)

    def plan(self, diary: Diary, now: dt.datetime) -> None:
        for day, bias, spread in self.shown.pours:
            diary.plan(moment(now, day), partial(self._pour, bias, spread))
        for day, pace, errors in self.shown.paces:
            diary.plan(moment(now, day), partial(self._pace, pace, errors))
        for number, item in enumerate(self.hire.menu.must_knows()[: self.shown.spots]):
            at = moment(now, 0.313 + 0.4 * number * self.hire.hand.days / 14)
            diary.plan(at, partial(self._serve, item))
        if self.shown.ordered:
            diary.plan(moment(now, 1.6), partial(self._round, diary))
        if self.shown.stuck:
            for day in TRIES:
                diary.plan(moment(now, day), self._fail)
            diary.plan(moment(now, min(TRIES) - 0.05), self._answer)

    def _pour(self, bias: float, spread: float, at: dt.datetime) -> None:
        random, member = self.random, self.hire.member
        amounts = [round(max(0.0, random.gauss(1 + bias, spread)), 2) for _ in range(POURS)]
        poured = record_practical.Poured(
            amounts, "floz", made_with=MadeWith.WATER, pours_a_week=220
        )
        gin = Ingredient.objects.in_house(member.venue).get(slug="gin")
        record_practical.check_pours(
            by=self.hire.trainer, hire=member, menu=self.hire.menu, ingredient=gin, poured=poured,
            at=at,
        )  # fmt: skip

    def _pace(self, an_hour: int, errors: dict[Error, int], at: dt.datetime) -> None:
        menu, station = self.hire.menu, self.hire.member.venue.stations.get(slug="well")
        seed = self.random.randrange(1_000_000)
        drawn = tickets.draw(menu, station, orders=ORDERS, seed=seed, rung_up=station.rings_up)
        if drawn is None:
            return
        timed = record_practical.Timed(round(3600 * drawn.count / an_hour), errors)
        record_practical.check_pace(
            by=self.hire.trainer, hire=self.hire.member, menu=menu, drawn=drawn, timed=timed, at=at
        )

    def _serve(self, item: MenuDrink, at: dt.datetime) -> None:
        random = self.random
        slip = random.random() > self.hire.hand.knows
        came = random.choice((Came.MENDED, Came.WRONG)) if slip else Came.RIGHT
        record_practical.mark_spot(
            by=self.hire.trainer, hire=self.hire.member, menu=self.hire.menu, item=item, came=came,
            sent_back=came is Came.WRONG, at=at,
        )  # fmt: skip

    def _round(self, diary: Diary, at: dt.datetime) -> None:
        """Watched by the other trainer; the hire's own marks one of its builds too."""
        menu = self.hire.menu
        items = [menu.by_slug[slug] for slug in self.shown.ordered if slug in menu.by_slug]
        best = best_order([i.drink.spec for i in items], menu.pantry)
        done = in_order(best, [s.key for s in best if s.act.value in self.shown.first])
        said = record_practical.RoundDone(
            [record_practical.BuildOf(i, ()) for i in items], done, seconds=40 * len(items)
        )
        made = record_practical.watch_round(
            by=self.other, hire=self.hire.member, menu=menu, said=said, at=at
        )
        build = WatchedBuild.objects.get(code=made.builds[0])
        diary.plan(at + dt.timedelta(minutes=10), partial(self._mark_too, build))

    def _mark_too(self, build: WatchedBuild, at: dt.datetime) -> None:
        record_second.mark_too(by=self.hire.trainer, watched=build, off=(), at=at)

    def _fail(self, at: dt.datetime) -> None:
        """The last of the must-knows, which isn't watched otherwise."""
        item = self.hire.menu.must_knows()[-1]
        self.last["build"] = record.watch_build(
            by=self.hire.trainer, hire=self.hire.member, menu=self.hire.menu, item=item,
            off=["conduct:right_drink"], help_level=HelpLevel.UNPROMPTED, seconds=75,
            note="Reaches for the bottle beside it.", at=at,
        )  # fmt: skip

    def _answer(self, at: dt.datetime) -> None:
        record_second.answer_record(
            by=self.hire.member, watched=self.last["build"], disagrees=True, at=at,
            words="The bottles stood the other way round that night.",
        )  # fmt: skip
