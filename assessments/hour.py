"""What a trainer does with whom in an hour, drawn from the board: builds to watch, sign-offs to
give, pour and pace checks, by hire."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, field
from functools import cached_property

import numpy as np

from assessments.board import Row, look_at
from assessments.board_sheet import Sheet
from assessments.hour_checks import Check, check_of, checks, mended_in, minutes_of
from assessments.measures.hour_left import READY_ALREADY, why_without
from assessments.measures.next_steps import next_told
from assessments.measures.readiness import Standing
from assessments.measures.ready_facts import Facts, Proof, ReadyPolicy
from assessments.measures.trainers_hour import (
    BUILD_MINUTES,
    Hire,
    Part,
    Step,
    build_minutes,
    plan_hour,
)
from assessments.measures.waits import ANYBODY, Reader, Waits
from recipes.grammar.reasons import Reason

MINUTES = 60
CHOICES = (20, 40, 60, 90)
"""What a trainer may have (our own choice, no source)."""

WORD_MINUTES = 1
"""To sign off what was watched (our own choice, no source)."""


FEWEST_HIRES = 12
"""Looked at, of those who aren't ready: the nearest, though nobody may get there in the time."""

MOST_HIRES = 60
"""Looked at where so many may get there: a word each in an hour (our own number)."""


def takes(policy: ReadyPolicy) -> dict[str, int]:
    """Minutes, as a page says them; a pace check's are 0 where `policy` asks for none."""
    return {
        "build": BUILD_MINUTES,
        "at_most": build_minutes(0.0),
        "word": WORD_MINUTES,
        "pours": minutes_of(Check.POURS, policy),
        "pace": minutes_of(Check.PACE, policy),
    }


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


@dataclass(frozen=True)
class Left:
    """One hire without a turn: why, and what is to be done first, None where nothing is."""

    row: Row
    why: Reason
    first: Reason | None


@dataclass(frozen=True, eq=False)
class Hour:
    """So many minutes of a trainer, `rows` of one board being there."""

    rows: Sequence[Row]
    minutes: int = MINUTES
    reader: Reader = ANYBODY
    _hires: dict[int, Hire] = field(default_factory=dict)

    @cached_property
    def turns(self) -> list[Turn]:
        """With whom to do what, so that most of them become ready; whom something bars that no
        trainer mends, come last."""
        look_at(self._near)
        by_person = {r.hire.code: r for r in self._near}
        parts = plan_hour([self._hire(r) for r in self._near], self.minutes)
        return [_turn(by_person[p.person], p) for p in parts]

    def left(self, most: int) -> tuple[list[Left], int]:
        """Those without a turn: `most` of them, the nearest first, then whom something else bars,
        and the ready last; and how many more there are."""
        turned = {turn.row.hire.code for turn in self.turns}
        without = [r for r in self._nearest if r.hire.code not in turned]
        named = without[:most]
        look_at(named)
        left = [Left(r, self._why(r), _first(r, self.reader)) for r in named]
        return left, len(without) - len(left)

    def to_look_at(self, most: int) -> list[Row]:
        """Whom the turns, and the `most` first that are left, may be about: looked at together with
        others they cost less."""
        return self._nearest[: len(self._near) + most]

    @cached_property
    def _near(self) -> list[Row]:
        """Whoever isn't ready and may get there in this time, and some of the next."""
        not_ready = [r for r in self._nearest if not _is_ready(r)]
        may = sum(not r.barred and self._about[r.place] <= self.minutes for r in not_ready)
        return not_ready[: min(max(may, FEWEST_HIRES), MOST_HIRES)]

    @cached_property
    def _nearest(self) -> list[Row]:
        """By about how many minutes lie between each and ready. The barred after the others, and
        last the ready, who take nobody's place."""
        keyed = sorted(
            (_is_ready(r), r.barred, self._about[r.place], r.hire.code, number)
            for number, r in enumerate(self.rows)
        )
        return [self.rows[number] for *_key, number in keyed]

    @cached_property
    def _about(self) -> list[float]:
        """By place."""
        return _about(self.rows[0].sheet) if self.rows else []

    def _why(self, row: Row) -> Reason:
        return READY_ALREADY if _is_ready(row) else why_without(self._hire(row), self.minutes)

    def _hire(self, row: Row) -> Hire:
        """Builds that win something are there also where the time is too short for all: the way to
        ready may take several hours, and the first has to begin it."""
        if row.place not in self._hires:
            facts = row.facts
            steps = (*_builds(facts, self.reader), *checks(facts))
            self._hires[row.place] = Hire(facts.person, facts.short, steps, row.barred)
        return self._hires[row.place]


def _about(sheet: Sheet) -> list[float]:
    """Minutes, by place, as can be told without looking at anybody's drinks. A build is taken to
    win one order of a hundred (our own guess, no source), and those that are missing win some
    too."""
    words = sheet.words_wanted()
    builds = np.maximum(sheet.gates.unshown - words, 100 * np.array(sheet.shorts))
    checked = sheet.gates.checks_take(lambda gate: mended_in(gate, sheet.policy))
    found: list[float] = (WORD_MINUTES * words + BUILD_MINUTES * builds + checked).tolist()
    return found


def _turn(row: Row, part: Part) -> Turn:
    by_slug = row.facts.known.by_slug
    checked = tuple((check, s.minutes) for s in part.steps if (check := check_of(s)))
    builds = [s for s in part.steps if check_of(s) is None]
    signs = [by_slug(s.name) for s in builds if s.first]
    drinks = tuple(by_slug(s.name).name for s in builds if not s.first)
    waits = tuple((d.name, d.waits) for d in signs if d.waits)
    return Turn(row, waits, drinks, checked, part.minutes, part.ready)


def _is_ready(row: Row) -> bool:
    return row.standing is Standing.READY


def _first(row: Row, reader: Reader) -> Reason | None:
    steps = next_told(row.facts, row.verdict.next, reader)
    return steps[0] if steps else None


def _builds(facts: Facts, reader: Reader) -> Iterator[Step]:
    """Named by slug. What is passed takes no more than a word."""
    won, chances = facts.known.won, facts.known.comes_right
    must = _musts(facts)
    for slug, waits in must.items():
        yield _must(slug, waits, won[slug], build_minutes(chances[slug]), reader)
    for slug, gain in won.items():
        if gain > 0 and slug not in must:
            yield Step.build(slug, build_minutes(chances[slug]), gain)


def _must(slug: str, waits: Waits | None, gain: float, minutes: int, reader: Reader) -> Step:
    if waits and waits.build not in reader.blind:
        return Step(slug, WORD_MINUTES, 0.0, must=True, first=True)
    return Step(slug, minutes, gain, must=True)


def _musts(facts: Facts) -> dict[str, Waits | None]:
    """Without whose builds nobody is ready, by slug, and what of each waits for a word alone."""
    if facts.policy.proof is Proof.FAMILIES:
        return {d.slug: d.waits for d in facts.drinks if d.name in facts.gates.to_prove}
    return {d.slug: d.waits for d in facts.known.unproven}
