"""Calls practised: begun, answered, finished. The server makes them, resolves them and marks them;
what a phone shows while somebody builds decides nothing."""

from __future__ import annotations

import datetime as dt
from collections.abc import Sequence

from django.db import transaction

from assessments import calls_whole
from assessments import record_steps as steps
from assessments.measures.call_marking import (
    DrinkGiven,
    DrinkMarked,
    Outcome,
    mark_call,
    mark_drink,
)
from assessments.measures.call_writing import Bar, CallAsked, CallKind, write_calls
from assessments.measures.sales_mix import kind_of
from assessments.models import Call, CallAnswer, CallMark, CallResult, CallRun, ShiftAhead
from assessments.models.quiz import Came
from assessments.remember import remember
from assessments.sales import as_sold
from barcourse.people import log
from barcourse.people.models import Membership
from barcourse.people.reasons import refuse
from recipes.hearing import book_of
from recipes.menu import Menu
from recipes.models import Recipe

MOST_WAYS = 32_767
"""What the column holds; of so many answers nobody guesses the right one."""

Given = Sequence[DrinkGiven | None]
"""One answer a drink of the call; None for "I'd ask"."""


@transaction.atomic
def start_calls(
    *, by: Membership, menu: Menu, kind: CallKind, seed: int, at: dt.datetime
) -> CallRun:
    """Calls of this kind, or those still open. They come as the shift sells for which the hire
    learns, where that is known. Calls are made by the book, not by what is out tonight. What lies
    open with its time up is closed first. Refuses a house that pours nothing."""
    steps.refuse_other_house(by, menu.rules_version)
    steps.lock_hire(by)
    still_open = CallRun.objects.of(by).open().filter(kind=kind.value).first()
    if still_open and not still_open.is_over(at):
        return still_open
    if still_open:
        close_calls(by=by, run=still_open, at=at)
    asked = write_calls(kind, bar_of(sold_on_shift(menu, by, at)), seed)
    if not asked:
        raise refuse("nothing_to_call")
    run = CallRun.objects.create(
        venue=by.venue, hire=by, kind=kind.value, rules_version=menu.rules_version, seed=seed,
        started_at=at,
    )  # fmt: skip
    Call.objects.bulk_create(
        Call(venue=by.venue, run=run, position=n, asked=call.to_json())
        for n, call in enumerate(asked, start=1)
    )
    return run


def sold_on_shift(menu: Menu, hire: Membership, at: dt.datetime) -> Menu:
    """The menu weighed by what sells on a shift like the hire's next one; all together where
    nobody said when that is."""
    ahead = ShiftAhead.objects.of(hire).after(at).first()
    if ahead is None:
        return as_sold(menu)
    day, starts = hire.venue.business_day(ahead.starts_at), hire.venue.local(ahead.starts_at)
    return as_sold(menu, kind_of(day, starts.hour, hire.venue.business_hour))


def bar_of(menu: Menu) -> Bar:
    return Bar(book_of(menu), menu.drinks, menu.rules, menu.pantry)


@transaction.atomic
def answer_call(
    *,
    by: Membership,
    call: Call,
    given: Given,
    at: dt.datetime,
    milliseconds: int | None = None,
) -> CallAnswer:
    """One answer; the first one counts. The last one of a run finishes it. Refuses what comes once
    its time is up."""
    run = call.run
    if run.hire_id != by.pk:
        raise refuse("not_your_calls")
    steps.lock_hire(by)
    done = CallAnswer.objects.filter(call=call).first()
    if done:
        return done
    if run.is_over(at) or not CallRun.objects.of(by).open().filter(pk=run.pk).exists():
        raise refuse("rush_is_over")
    asked = CallAsked.from_json(call.asked)
    marked = _marked(asked, given)
    came = mark_call(marked)
    answer = CallAnswer.objects.create(
        venue=by.venue, call=call, said=[_said(g) for g in given], came=Came(came),
        milliseconds=milliseconds, at=at,
    )  # fmt: skip
    _keep_marks(answer, asked, marked, by)
    _remember(by, marked, came, run, milliseconds, at)
    if not run.calls.filter(answer__isnull=True).exists():
        _finish(run, by=by, at=at)
    return answer


@transaction.atomic
def close_calls(*, by: Membership, run: CallRun, at: dt.datetime) -> CallResult:
    """Close a run whose time is up, as of then: what was answered counts, and what was not is
    no answer and says nothing about what somebody knows. Refuses one that has time left; twice is
    once."""
    if run.hire_id != by.pk:
        raise refuse("not_your_calls")
    steps.lock_hire(by)
    run.refresh_from_db()
    if run.finished_at:
        return run.result
    if run.ends_at is None or not run.is_over(at):
        raise refuse("rush_has_time_left")
    return _finish(run, by=by, at=max(run.ends_at, run.last_heard_of))


def _marked(asked: CallAsked, given: Given) -> list[DrinkMarked]:
    if len(given) != len(asked.drinks):
        raise refuse("half_a_build")
    try:
        return [mark_drink(a, g) for a, g in zip(asked.drinks, given, strict=True)]
    except ValueError:
        raise refuse("half_a_build") from None


def _said(given: DrinkGiven | None) -> dict[str, object] | None:
    if given is None:
        return None
    parts = [None if picked is None else sorted(picked) for picked in given.parts]
    return {"parts": parts, "ask": sorted(a.value for a in given.ask), "count": given.count}


def _keep_marks(
    answer: CallAnswer, asked: CallAsked, marked: Sequence[DrinkMarked], by: Membership
) -> None:
    slugs = [d.recipe for d in asked.drinks if d.recipe]
    recipes = {r.slug: r for r in Recipe.objects.in_house(by.venue).filter(slug__in=slugs)}
    for number, (drink, mark) in enumerate(zip(asked.drinks, marked, strict=True)):
        # One by one: the packed row of readiness hears of each.
        CallMark.objects.create(
            venue=by.venue, hire=by, answer=answer, number=number,
            recipe=recipes.get(drink.recipe or ""), build=drink.build, came=Came(mark.built),
            ways=min(drink.ways, MOST_WAYS), aspects={a.value: c for a, c in mark.aspects},
            mixed_up_with=mark.mixed_up_with or "", at=answer.at,
        )  # fmt: skip


def _remember(
    by: Membership,
    marked: Sequence[DrinkMarked],
    came: Outcome,
    run: CallRun,
    milliseconds: int | None,
    at: dt.datetime,
) -> None:
    """One review of a topic a call, wrong where one of its drinks had it wrong. The pace is that
    of this kind of call: a round takes longer."""
    right: dict[str, bool] = {}
    for mark in marked:
        for topic, was_right in (mark.shows or {}).items():
            right[topic] = right.get(topic, True) and was_right
    if right:
        remember(by, right, at, kind=f"call-{run.kind}", milliseconds=milliseconds)


def _finish(run: CallRun, *, by: Membership, at: dt.datetime) -> CallResult:
    run.finished_at = at
    run.save(update_fields=["finished_at"])
    rows = list(run.calls.select_related("answer").prefetch_related("answer__marks"))
    answers = [row.answer for row in rows if calls_whole.is_answered(row)]
    came = [answer.came for answer in answers]
    times = [answer.milliseconds for answer in answers]
    known = [t for t in times if t is not None]
    result = CallResult.objects.create(
        venue=run.venue, run=run, hire=by, right=came.count(Came.RIGHT),
        would_ask=came.count(Came.ASK), wrong=came.count(Came.WRONG),
        seconds=round(sum(known) / 1000) if len(known) == len(times) else None,
        answers_digest=calls_whole.digest_of(run, rows), at=at,
    )  # fmt: skip
    facts = {"right": result.right, "ask": result.would_ask, "wrong": result.wrong}
    if len(answers) < len(rows):
        facts["unanswered"] = len(rows) - len(answers)
    log.append(
        venue=run.venue, by=by, kind="calls_finished", subject=by, row=result, facts=facts, at=at
    )
    return result
