"""What a trainer does with whom in an hour, drawn from the board: builds to watch, by hire."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from assessments.board import Row, look_at
from assessments.measures.drink_facts import DrinkFact
from assessments.measures.readiness import Standing
from assessments.measures.ready_facts import Facts, Proof
from assessments.measures.trainers_hour import Hire, Part, Step, plan_hour, why_without
from assessments.measures.waits import ANYBODY, Reader, Waits, read_by
from recipes.grammar.reasons import Reason

MINUTES = 60
CHOICES = (20, 40, 60, 90)
"""What a trainer may have (our own choice, no source)."""

BUILD_MINUTES = 4
"""To ask for a drink, watch it built and talk about it (our own choice, no source)."""

WORD_MINUTES = 1
"""To sign off what was watched (our own choice, no source)."""

MOST_HIRES = 12
"""Looked at: those who are nearest and not ready. Nobody trains more in an hour."""


@dataclass(frozen=True)
class Turn:
    """One hire's part of the hour. `drinks` are the names of what to watch, in order; `signs` what
    is passed and waits for whom to sign it off."""

    row: Row
    signs: tuple[tuple[str, Waits], ...]
    drinks: tuple[str, ...]
    minutes: int
    ready: bool


def trainers_hour(
    rows: Sequence[Row], minutes: int = MINUTES, reader: Reader = ANYBODY
) -> list[Turn]:
    """With whom to do what, so that most of a station's hires become ready; nothing mends by a
    build what bars somebody, so those come last."""
    wanting = [r for r in rows if not _is_ready(r)]  # the ready take nobody's place
    near = sorted(wanting, key=lambda r: (r.barred, -r.right_low, r.hire.code))[:MOST_HIRES]
    look_at(near)
    by_person = {r.hire.code: r for r in near}
    parts = plan_hour([_hire(r, reader) for r in near], minutes)
    return [_turn(by_person[p.person], p) for p in parts]


def _turn(row: Row, part: Part) -> Turn:
    by_slug = row.facts.known.by_slug
    signs = [by_slug(s.name) for s in part.steps if s.first]
    drinks = tuple(by_slug(s.name).name for s in part.steps if not s.first)
    waits = tuple((d.name, d.waits) for d in signs if d.waits)
    return Turn(row, waits, drinks, part.minutes, part.ready)


@dataclass(frozen=True)
class Left:
    """One hire without a turn: why, and what is to be done first, None where nothing is."""

    row: Row
    why: Reason
    first: Reason | None


def left_out(
    rows: Sequence[Row], turns: Sequence[Turn], most: int, reader: Reader = ANYBODY
) -> tuple[list[Left], int]:
    """Those without a turn: `most` of them, whom a build can take there first, then the nearest,
    and the ready last; and how many more there are. Where only such are there whom builds don't
    take there, they get the time, and it is too short for the others."""
    turned = {turn.row.hire.code for turn in turns}
    without = [r for r in rows if r.hire.code not in turned]
    without.sort(key=lambda r: (_is_ready(r), r.barred, -r.right_low, r.hire.code))
    look_at(without[:most])
    only_barred = bool(turns) and all(turn.row.barred for turn in turns)
    left = [
        Left(
            r,
            why_without(is_ready=_is_ready(r), barred=r.barred and not only_barred),
            _first(r, reader),
        )
        for r in without[:most]
    ]
    return left, len(without) - len(left)


def _is_ready(row: Row) -> bool:
    return row.standing is Standing.READY


def _first(row: Row, reader: Reader) -> Reason | None:
    steps = read_by(reader, row.facts.known.waiting, row.verdict.next)
    return steps[0] if steps else None


def _hire(row: Row, reader: Reader) -> Hire:
    """Steps are named by slug. What is passed takes no more than a word. Every build that wins
    something is looked at, also where the time is too short for all: the way to ready may take
    several hours, and the first has to begin it."""
    facts, won = row.facts, row.facts.known.won
    must = {d.slug: d for d in _musts(facts)}
    steps = (
        _must(must[slug], gain, reader) if slug in must else Step.build(slug, BUILD_MINUTES, gain)
        for slug, gain in won.items()
        if gain > 0 or slug in must
    )
    return Hire(facts.person, _short(facts), tuple(steps), row.barred)


def _must(drink: DrinkFact, gain: float, reader: Reader) -> Step:
    if drink.waits and drink.waits.build not in reader.blind:
        return Step(drink.slug, WORD_MINUTES, 0.0, must=True, first=True)
    return Step(drink.slug, BUILD_MINUTES, gain, must=True)


def _musts(facts: Facts) -> list[DrinkFact]:
    """Without whose builds nobody is ready."""
    if facts.policy.proof is Proof.FAMILIES:
        return [d for d in facts.drinks if d.name in facts.gates.to_prove]
    return [d for d in facts.known.must_knows if not d.is_proven]


def _short(facts: Facts) -> float:
    """What is missing to the bar, in shares of all orders."""
    orders, policy = facts.orders, facts.policy
    return max(policy.least_right - orders.right.low, orders.wrong.mean - policy.most_wrong)
