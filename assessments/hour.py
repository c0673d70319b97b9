"""What a trainer does with whom in an hour, drawn from the board: builds to watch, sign-offs to
give, pour and pace checks, by hire."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from enum import StrEnum

import numpy as np

from assessments.board import Row, look_at
from assessments.board_sheet import Sheet
from assessments.measures.drink_facts import DrinkFact
from assessments.measures.gates import shut_by_hands
from assessments.measures.hour_left import READY_ALREADY, why_without
from assessments.measures.readiness import Standing
from assessments.measures.ready_facts import Facts, Proof
from assessments.measures.trainers_hour import Hire, Part, Step, plan_hour
from assessments.measures.waits import ANYBODY, Reader, Waits, read_by
from recipes.grammar.reasons import Reason

MINUTES = 60
CHOICES = (20, 40, 60, 90)
"""What a trainer may have (our own choice, no source)."""

BUILD_MINUTES = 4
"""To ask for a drink, watch it built and talk about it (our own choice, no source)."""

WORD_MINUTES = 1
"""To sign off what was watched (our own choice, no source)."""


class Check(StrEnum):
    """What a trainer watches beside builds, by the name of its page."""

    POURS = "pours"
    PACE = "pace"


CHECKS = {
    check: Step(f"check:{check}", minutes, 0.0, must=True)  # no slug of a drink has a colon
    for check, minutes in ((Check.POURS, 5), (Check.PACE, 15))
}
"""Five minutes for pours, and a quarter of an hour for the ticket that a pace check draws where
nobody asks for another (our own choice, no source). Neither wins orders."""

SHUT = {
    "pours_not_checked": Check.POURS,
    "pours_not_passed": Check.POURS,
    "pace_not_checked": Check.PACE,
    "pace_too_low": Check.PACE,
}
"""What a check mends, by the code of what is missing."""

MOST_HIRES = 12
"""Looked at: those who seem nearest and aren't ready. Nobody trains more in an hour."""


@dataclass(frozen=True)
class Turn:
    """One hire's part of the hour. `drinks` are the names of what to watch, in order; `signs` what
    is passed and waits for whom to sign it off; `checks` come last, each with its minutes."""

    row: Row
    signs: tuple[tuple[str, Waits], ...]
    drinks: tuple[str, ...]
    checks: tuple[tuple[Check, int], ...]
    minutes: int
    ready: bool


def trainers_hour(
    rows: Sequence[Row], minutes: int = MINUTES, reader: Reader = ANYBODY
) -> list[Turn]:
    """With whom to do what, so that most of a station's hires become ready; whom something bars
    that no trainer mends, come last."""
    near = _nearest([r for r in rows if not _is_ready(r)])[:MOST_HIRES]  # the ready take no place
    look_at(near)
    by_person = {r.hire.code: r for r in near}
    parts = plan_hour([_hire(r, minutes, reader) for r in near], minutes)
    return [_turn(by_person[p.person], p) for p in parts]


def to_look_at(rows: Sequence[Row], most: int) -> list[Row]:
    """Whom an hour, and the `most` first that it leaves out, may be about: looked at together with
    others they cost less."""
    return _nearest(rows)[: MOST_HIRES + most]


def _nearest(rows: Sequence[Row]) -> list[Row]:
    """By what can be told without looking at anybody's drinks: about how many minutes lie between
    each and ready. The barred last, and the ready after them."""
    about = {sheet: _about(sheet) for sheet in {r.sheet for r in rows}}
    keyed = sorted(
        (_is_ready(r), r.barred, about[r.sheet][r.place], r.hire.code, number)
        for number, r in enumerate(rows)
    )
    return [rows[number] for *_key, number in keyed]


def _about(sheet: Sheet) -> list[float]:
    """Minutes, by place. A build is taken to win one order of a hundred (our own guess, no source),
    and those that are missing win some too."""
    builds = BUILD_MINUTES * np.maximum(sheet.gates.unshown, 100 * np.array(sheet.shorts))
    found: list[float] = (builds + CHECKS[Check.PACE].minutes * sheet.gates.unchecked).tolist()
    return found


def _turn(row: Row, part: Part) -> Turn:
    by_slug = row.facts.known.by_slug
    of_step = {step: check for check, step in CHECKS.items()}
    checks = tuple((of_step[s], s.minutes) for s in part.steps if s in of_step)
    builds = [s for s in part.steps if s not in of_step]
    signs = [by_slug(s.name) for s in builds if s.first]
    drinks = tuple(by_slug(s.name).name for s in builds if not s.first)
    waits = tuple((d.name, d.waits) for d in signs if d.waits)
    return Turn(row, waits, drinks, checks, part.minutes, part.ready)


@dataclass(frozen=True)
class Left:
    """One hire without a turn: why, and what is to be done first, None where nothing is."""

    row: Row
    why: Reason
    first: Reason | None


def left_out(
    rows: Sequence[Row],
    turns: Sequence[Turn],
    most: int,
    minutes: int = MINUTES,
    reader: Reader = ANYBODY,
) -> tuple[list[Left], int]:
    """Those without a turn of so many minutes: `most` of them, the nearest first, then whom
    something else bars, and the ready last; and how many more there are."""
    turned = {turn.row.hire.code for turn in turns}
    without = _nearest([r for r in rows if r.hire.code not in turned])
    named = without[:most]
    look_at(named)
    left = [Left(r, _why(r, minutes, reader), _first(r, reader)) for r in named]
    return left, len(without) - len(left)


def _why(row: Row, minutes: int, reader: Reader) -> Reason:
    return READY_ALREADY if _is_ready(row) else why_without(_hire(row, minutes, reader), minutes)


def _is_ready(row: Row) -> bool:
    return row.standing is Standing.READY


def _first(row: Row, reader: Reader) -> Reason | None:
    steps = read_by(reader, row.facts.known.waiting, row.verdict.next)
    return steps[0] if steps else None


def _hire(row: Row, minutes: int, reader: Reader) -> Hire:
    """Builds that win something are looked at also where the time is too short for all: the way to
    ready may take several hours, and the first has to begin it."""
    steps = (*_builds(row.facts, minutes, reader), *_checks(row.facts))
    return Hire(row.facts.person, row.facts.short, steps, row.barred)


def _builds(facts: Facts, minutes: int, reader: Reader) -> Iterator[Step]:
    """Named by slug. What is passed takes no more than a word. Of what only wins orders no more
    than the time holds or the way to ready takes: nobody is given more, and a board is in haste."""
    won = facts.known.won
    must = {d.slug: d for d in _musts(facts)}
    for slug, drink in must.items():
        yield _must(drink, won[slug], reader)
    # A sign-off that is only missing its word wins nothing: the others have to win as much beside.
    beside = facts.short + sum(won[slug] for slug in must)
    for slug, gain in facts.known.most_won(beside, minutes // BUILD_MINUTES + len(must)):
        if slug not in must:
            yield Step.build(slug, BUILD_MINUTES, gain)


def _checks(facts: Facts) -> Iterator[Step]:
    yield from (CHECKS[SHUT[r.code]] for r in shut_by_hands(facts.policy, facts.gates))


def _must(drink: DrinkFact, gain: float, reader: Reader) -> Step:
    if drink.waits and drink.waits.build not in reader.blind:
        return Step(drink.slug, WORD_MINUTES, 0.0, must=True, first=True)
    return Step(drink.slug, BUILD_MINUTES, gain, must=True)


def _musts(facts: Facts) -> list[DrinkFact]:
    """Without whose builds nobody is ready."""
    if facts.policy.proof is Proof.FAMILIES:
        return [d for d in facts.drinks if d.name in facts.gates.to_prove]
    return [d for d in facts.known.must_knows if not d.is_proven]
