"""What hands have shown, through the real verbs: marks in service, pours, pace, a round."""

from __future__ import annotations

import datetime as dt
from collections.abc import Mapping
from typing import Any

from django.urls import reverse

from assessments import (
    checklist,
    record,
    record_open_watch,
    record_pour_policy,
    record_practical,
    record_shift,
    tickets,
)
from assessments.measures import rounds
from assessments.measures.marking import HelpLevel
from assessments.measures.pace_check import Error
from assessments.measures.pours import PourPolicy
from assessments.models import (
    OpenWatch,
    PaceCheck,
    PourCheck,
    SpotMark,
    WatchedBuild,
    WatchedRound,
)
from assessments.models.practical import Came
from assessments.watch_places import place_of
from barcourse.people.models import Membership
from recipes.menu import menu_at
from recipes.models import Ingredient
from tests.factories.assessments import NOW

FIVE = (1.0, 1.02, 0.97, 1.05, 1.0)
"""Pours of a fluid ounce, all within an eighth."""


def pour(
    trainer: Membership,
    hire: Membership,
    amounts: tuple[float, ...] = FIVE,
    *,
    bottle: str = "gin",
    at: dt.datetime = NOW,
    **said: Any,
) -> PourCheck:
    menu = menu_at(trainer.venue, at)
    ingredient = Ingredient.objects.get(venue=trainer.venue, slug=bottle)
    poured = record_practical.Poured(**{"amounts": amounts, "unit": "floz", **said})
    return record_practical.check_pours(
        by=trainer, hire=hire, menu=menu, ingredient=ingredient, poured=poured, at=at
    )


def set_policy(owner: Membership, *, at: dt.datetime = NOW, **said: Any) -> None:
    """The house's own rule of a pour check; what a pour may be off by stays."""
    tolerance = menu_at(owner.venue, at).rules.tolerance
    policy = PourPolicy(**{"least_within": 0.8, **said})
    record_pour_policy.set_pour_policy(by=owner, policy=policy, tolerance=tolerance, at=at)


def ticket(
    member: Membership, *, station: str = "well", seed: int = 3, at: dt.datetime = NOW
) -> tickets.Drawn:
    found = member.venue.stations.get(slug=station)
    drawn = tickets.draw(menu_at(member.venue, at), found, orders=12, seed=seed, rung_up=True)
    assert drawn is not None
    return drawn


def pace(
    trainer: Membership,
    hire: Membership,
    *,
    seconds: int = 600,
    errors: dict[Error, int] | None = None,
    at: dt.datetime = NOW,
    **said: Any,
) -> PaceCheck:
    drawn = ticket(trainer, at=at, **said)
    timed = record_practical.Timed(seconds=seconds, errors=errors or {})
    return record_practical.check_pace(
        by=trainer, hire=hire, menu=menu_at(trainer.venue, at), drawn=drawn, timed=timed, at=at
    )


def make_round(
    trainer: Membership,
    hire: Membership,
    *slugs: str,
    at: dt.datetime = NOW,
    off: Mapping[str, tuple[str, ...]] | None = None,
    **said: Any,
) -> WatchedRound:
    """Done in the best order unless said. `off`: by drink, the steps that went wrong."""
    menu = menu_at(trainer.venue, at)
    items = [menu.by_slug[slug] for slug in slugs]
    best = rounds.best_order([i.drink.spec for i in items], menu.pantry)
    told = {"done": [step.key for step in best], **said}
    builds = [
        record_practical.BuildOf(item, (off or {}).get(item.drink.slug, ())) for item in items
    ]
    done = record_practical.RoundDone(builds=builds, **told)
    return record_practical.watch_round(by=trainer, hire=hire, menu=menu, said=done, at=at)


def spot(
    trainer: Membership,
    hire: Membership,
    slug: str = "madras",
    came: Came = Came.RIGHT,
    *,
    at: dt.datetime = NOW,
    **said: Any,
) -> SpotMark:
    menu = menu_at(trainer.venue, at)
    return record_practical.mark_spot(
        by=trainer, hire=hire, menu=menu, item=menu.by_slug[slug], came=came, at=at, **said
    )


def measure(trainer: Membership, hire: Membership, slug: str, at: dt.datetime) -> WatchedBuild:
    """A build that was shown, with its first pour measured and on target."""
    menu = menu_at(trainer.venue, at)
    item = menu.by_slug[slug]
    key, part = next(iter(checklist.measurable(item.drink.spec).items()))
    return record.watch_build(
        by=trainer, hire=hire, menu=menu, item=item, off=(), help_level=HelpLevel.SHOWN,
        measured={key: part.ml}, at=at,
    )  # fmt: skip


def open_watch(trainer: Membership, hire: Membership, at: dt.datetime) -> OpenWatch:
    """A pour check that is tapped and not on record."""
    place = place_of(trainer.venue, reverse("pours", args=[trainer.venue.slug, hire.code]))
    assert place
    row = record_open_watch.keep_watch(by=trainer, place=place, forms=[], kept={}, at=at)
    assert row
    return row


def checked(hire: Membership, trainer: Membership, at: dt.datetime) -> dict[str, Any]:
    """One of each, about one hire, and when they work next."""
    items = menu_at(hire.venue, at).items
    drink = next(i.drink.slug for i in items if i.drink.slug.endswith("madras"))
    spot(trainer, hire, drink, at=at)
    next_shift = at + dt.timedelta(days=3)
    record_shift.say_next_shift(by=hire, hire=hire, starts_at=next_shift, minutes=10, at=at)
    measure(trainer, hire, drink, at)
    open_watch(trainer, hire, at)
    return {
        "pours": pour(trainer, hire, at=at),
        "pace": pace(trainer, hire, errors={Error.FINISH: 1}, at=at),
        "round": make_round(trainer, hire, drink, at=at),
        "drink_seen": drink,
    }
