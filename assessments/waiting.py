"""Which builds are passed and wait for their sign-off, by hire and drink."""

from __future__ import annotations

import datetime as dt
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, field

from assessments import prints
from assessments.measures.waits import Reader, Waits
from assessments.models import WatchedBuild
from assessments.record_second import SECOND_WITHIN
from assessments.to_look_at import kept_from
from barcourse.people.models import Membership
from barcourse.people.roles import May
from recipes.menu import Menu

NONE: Mapping[str, Waits] = {}
Passed = Mapping[int, Mapping[str, Waits]]
"""By hire and the drink's slug."""


@dataclass(frozen=True, eq=False)
class Waiting:
    """Of several hires, whom a board names by their number; asked for only of those that are looked
    at, all of them in one query."""

    hires: Sequence[Membership]
    menu: Menu
    _found: dict[int, Mapping[str, Waits]] = field(default_factory=dict)

    def look_at(self, places: Iterable[int]) -> None:
        wanted = [p for p in places if p not in self._found]
        if wanted:
            found = waiting_of([self.hires[p] for p in wanted], self.menu)
            self._found.update((p, found.get(self.hires[p].pk, NONE)) for p in wanted)

    def of(self, place: int) -> Mapping[str, Waits]:
        """By the drink's slug."""
        self.look_at([place])
        return self._found[place]


def waiting_of(hires: Sequence[Membership], menu: Menu) -> dict[int, dict[str, Waits]]:
    """Passed unprompted on today's build, with nothing failed since. Whoever watched it is here
    and still may sign: what somebody who left has passed is watched once more. Most pages have
    nothing of the kind, which one short query says."""
    unsigned = WatchedBuild.objects.of(*hires).unsigned(menu.at).values_list("pk", flat=True)
    if not (keys := list(unsigned)):
        return {}
    today = menu.venue.business_day(menu.at)
    by_recipe = {i.recipe.pk: i.drink for i in menu.items}
    rows = WatchedBuild.objects.keyed(keys).waiting(menu.at).select_related("trainer__person")
    found: dict[int, dict[str, Waits]] = {}
    for row in rows.order_by("at", "pk"):
        drink = by_recipe.get(row.recipe_id)
        if drink is None or prints.changed_since(row.fingerprints, drink):
            continue
        trainer = row.trainer
        if trainer.may(May.WATCH) and trainer.is_here(today):
            day = menu.venue.business_day(row.at)
            waits = Waits(row.code, trainer.name, trainer.code, day)
            found.setdefault(row.hire_id, {})[drink.slug] = waits
    return found


def told_to(member: Membership, hires: Sequence[Membership], menu: Menu) -> Passed:
    """Those of `waiting_of` that this member may know of: nobody learns how a build came whose
    marks are kept from them yet."""
    found = waiting_of(hires, menu)
    if not found:
        return {}
    blind = reader_of(member, menu.at, hires).blind
    return {
        hire: {slug: waits for slug, waits in by_drink.items() if waits.build not in blind}
        for hire, by_drink in found.items()
    }


def reader_of(member: Membership, at: dt.datetime, hires: Sequence[Membership]) -> Reader:
    """Of what there is to tell about these hires."""
    return Reader(member.code, lambda: kept_from(member, at, SECOND_WITHIN, hires))
