"""Calls practised, through the real verbs."""

from __future__ import annotations

import datetime as dt
from collections.abc import Callable, Sequence

from assessments import record_calls
from assessments.measures.call_marking import DrinkAsked, DrinkGiven
from assessments.measures.call_parts import CallPart, Picked
from assessments.measures.call_writing import CallAsked, CallKind, call_of
from assessments.models import Call, CallRun
from assessments.showing_calls import NOTHING, ask_field, count_field, field
from barcourse.people.models import Membership
from recipes.menu import menu_at

SEED = 20260308
Building = Callable[[DrinkAsked], DrinkGiven | None]


def right(drink: DrinkAsked) -> DrinkGiven:
    return DrinkGiven(tuple(part.right for part in drink.parts), frozenset(drink.ask), drink.count)


def wrong(drink: DrinkAsked) -> DrinkGiven:
    """Everything wrong, and nothing asked."""
    return DrinkGiven(tuple(_other(part) for part in drink.parts), count=drink.count)


def _other(part: CallPart) -> Picked:
    if part.right != {0}:
        return frozenset({0})
    return frozenset() if part.takes_several else frozenset({1})


def ask(drink: DrinkAsked) -> None:
    return None


def asked_of(call: Call) -> CallAsked:
    return CallAsked.from_json(call.asked)


def start(
    hire: Membership, at: dt.datetime, kind: CallKind = CallKind.SINGLE, seed: int = SEED
) -> CallRun:
    menu = menu_at(hire.venue, at)
    return record_calls.start_calls(by=hire, menu=menu, kind=kind, seed=seed, at=at)


def build(
    run: CallRun, at: dt.datetime, building: Building = right, *, ms: int | None = 4000
) -> CallRun:
    """Every call of a run that is left, built like this."""
    for call in run.calls.filter(answer__isnull=True).select_related("run"):
        given = [building(drink) for drink in asked_of(call).drinks]
        record_calls.answer_call(by=run.hire, call=call, given=given, milliseconds=ms, at=at)
    run.refresh_from_db()
    return run


def call_plain(hire: Membership, slug: str, at: dt.datetime, building: Building = right) -> CallRun:
    """One finished run of a single call, the drink just as the house builds it."""
    menu = menu_at(hire.venue, at)
    run = CallRun.objects.create(
        venue=hire.venue, hire=hire, kind="single", rules_version=menu.rules_version, seed=1,
        started_at=at,
    )  # fmt: skip
    asked = call_of(menu.by_slug[slug].drink.name, record_calls.bar_of(menu))
    Call.objects.create(venue=hire.venue, run=run, position=1, asked=asked.to_json())
    return build(run, at, building)


def practised(hire: Membership, at: dt.datetime) -> dict[str, CallRun]:
    """A run that is finished and one that lies open."""
    called = build(start(hire, at, CallKind.ROUND), at, wrong)
    return {"called": called, "calls": start(hire, at)}


def sent(drinks: Sequence[DrinkAsked], building: Building = right) -> dict[str, object]:
    """The fields by which the page sends these builds."""
    said: dict[str, object] = {}
    for number, drink in enumerate(drinks):
        given = building(drink)
        if given is None:
            return {"would_ask": "1"}
        for part, picked in zip(drink.parts, given.parts, strict=True):
            said[field(number, part)] = sorted(map(str, picked or [NOTHING]))
        said[count_field(number)] = given.count
        said[ask_field(number)] = [about.value for about in given.ask]
    return said
