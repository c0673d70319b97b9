"""Somebody who failed one drink three times running, as the manager's page shows it: what went
wrong each time, with whom, and where else they could stand."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from django.utils.translation import gettext as _

from assessments.measures.readiness import Standing
from assessments.measures.stuck import propose, step_each_time
from assessments.models import WatchedBuild
from assessments.models.second_look import PlanChoice
from assessments.showing import Naming, show_stored_steps
from assessments.standing import stands
from assessments.to_look_at import Stuck, tried
from barcourse.people.models import Membership, Station
from recipes.menu import Menu
from recipes.models import ModuleAtStation

STANDS = (Standing.READY, Standing.SECOND)
"""Best first; whoever is not yet at a station can't stand there."""


@dataclass(frozen=True)
class TryShown:
    """A build that failed; `wrong` are the steps that failed it."""

    build: WatchedBuild
    wrong: list[str]


@dataclass(frozen=True)
class StuckShown:
    """`each_time` is a step that failed every one of them, `elsewhere` where they could stand, in
    words; both may be empty. `plans` is what a person can decide: without somewhere to stand
    another station is no plan."""

    stuck: Stuck
    tries: list[TryShown]
    each_time: str
    elsewhere: str
    proposed: PlanChoice

    @property
    def plans(self) -> list[PlanChoice]:
        return [p for p in PlanChoice if p is not PlanChoice.STATION or self.elsewhere]


def show_stuck(found: Sequence[Stuck], menu: Menu) -> list[StuckShown]:
    """In the order given."""
    naming = Naming.of(menu)
    where = _stands({one.hire.pk: one.hire for one in found}, menu)
    poured = _poured(menu)
    return [_show(one, naming, where[one.hire.pk], poured) for one in found]


Stands = list[tuple[Station, Standing]]


def _show(one: Stuck, naming: Naming, where: Stands, poured: Mapping[int, set[int]]) -> StuckShown:
    shown = [(build, show_stored_steps(build, naming)) for build in one.tries]
    tries = [tried(build) for build in one.tries]
    words = {step.key: step.does for _build, steps in shown for step in steps}
    free = [s for s in where if one.recipe.module_id not in poured.get(s[0].pk, ())]
    return StuckShown(
        stuck=one,
        tries=[TryShown(b, [s.does for s in steps if s.off and s.fails]) for b, steps in shown],
        each_time=words.get(step_each_time(tries), ""),
        elsewhere=_in_words(one.hire, free),
        proposed=PlanChoice(propose(tries, elsewhere=bool(free)).value),
    )


def _in_words(hire: Membership, where: Stands) -> str:
    if not where:
        return ""
    station, standing = min(where, key=lambda s: STANDS.index(s[1]))
    said = {"station": station.name, "name": hire.name}
    if standing is Standing.READY:
        return _("%(station)s: %(name)s is ready there.") % said
    return _("%(station)s: %(name)s can stand there beside somebody who is ready.") % said


def _stands(hires: Mapping[int, Membership], menu: Menu) -> dict[int, Stands]:
    """By hire: where they are ready or second, in the order of the house's stations."""
    found: dict[int, Stands] = {pk: [] for pk in hires}
    for stand in stands(list(menu.venue.stations.all()), list(hires.values()), menu):
        if stand.standing in STANDS:
            found[stand.hire.pk].append((stand.station, stand.standing))
    return found


def _poured(menu: Menu) -> dict[int, set[int]]:
    """The modules that are poured at each station."""
    found: dict[int, set[int]] = {}
    pairs = ModuleAtStation.objects.filter(station__venue=menu.venue)
    for station, module in pairs.values_list("station", "module"):
        found.setdefault(station, set()).add(module)
    return found
