"""What somebody knows otherwise than it is built today, and when they have shown today's."""

from __future__ import annotations

from datetime import UTC, datetime, timedelta

import pytest

from assessments.measures.memory import SOON
from assessments.measures.otherwise import Met, known_otherwise, marks_of
from recipes.grammar.aspects import Aspect
from tests.grammar.kitchen import build, garnished, pour, top
from tests.measures.bar import drink

BEGAN = datetime(2026, 5, 4, 12, tzinfo=UTC)
HOUR = timedelta(hours=1)

PLAIN = drink("house-cola", build(pour("vodka"), top("cola")))
GARNISHED = drink("house-cola", build(pour("vodka"), top("cola"), garnish=garnished("lemon")))
LIME = drink("house-cola", build(pour("vodka"), top("cola"), garnish=garnished("lime")))


def met(built, hours=0.0, *, sure=False, clean=False, ahead=False):
    marks = marks_of(built)
    return Met(
        built, BEGAN + hours * HOUR, marks if sure else frozenset(),
        marks if clean else frozenset(), ahead,
    )  # fmt: skip


def parts(today, *seen):
    return known_otherwise([today], seen).get(today.slug, ())


def aspects(today, *seen):
    return [part.aspect for part in parts(today, *seen)]


MINUTES = SOON / HOUR


@pytest.mark.parametrize(
    ("today", "seen", "open_"),
    [
        (LIME, [], []),  # never met
        (LIME, [met(LIME)], []),  # never met otherwise
        (LIME, [met(GARNISHED)], [Aspect.FINISH]),
        (LIME, [met(GARNISHED), met(LIME, 1)], [Aspect.FINISH]),  # seen only
        (LIME, [met(GARNISHED), met(LIME, 1, clean=True)], [Aspect.FINISH]),
        (LIME, [met(GARNISHED), met(LIME, 1, sure=True)], []),
        (
            LIME,
            [met(GARNISHED), met(LIME, 1, clean=True), met(LIME, 1 + MINUTES / 2, clean=True)],
            [Aspect.FINISH],  # turned again at once
        ),
        (
            LIME,
            [met(GARNISHED), met(LIME, 1, clean=True), met(LIME, 1 + MINUTES, clean=True)],
            [],
        ),
        # There and back: what was met last sits on top, however sure the first was.
        (LIME, [met(LIME, sure=True), met(GARNISHED, 1)], [Aspect.FINISH]),
        (LIME, [met(LIME, sure=True), met(GARNISHED, 1), met(LIME, 2, sure=True)], []),
        (LIME, [met(GARNISHED, 1), met(LIME, sure=True, ahead=True)], []),  # learned ahead
        # Where nothing is left to know, the bare aspect is asked.
        (PLAIN, [met(GARNISHED)], [Aspect.FINISH]),
        (PLAIN, [met(GARNISHED), met(PLAIN, 1, sure=True)], []),
    ],
)
def test_open_until_it_was_shown(today, seen, open_):
    assert aspects(today, *seen) == open_


@pytest.mark.parametrize(
    ("seen", "back"),
    [
        ([met(GARNISHED, 1)], False),
        ([met(LIME), met(GARNISHED, 1)], True),
        ([met(LIME, ahead=True), met(GARNISHED, 1)], False),  # learned ahead is no "before"
    ],
)
def test_back_is_what_they_knew_before(seen, back):
    [part] = parts(LIME, *seen)
    assert part.back is back
    assert part.was == GARNISHED


def test_a_rule_is_shown_on_any_drink_that_goes_by_it():
    gin, vodka = drink("gin-tonic"), drink("vodka-tonic")
    own = build(pour("gin"), top("tonic-water"), garnish=garnished("cherry"))
    seen = met(drink("gin-tonic", own))

    assert aspects(gin, seen) == [Aspect.FINISH]
    assert aspects(gin, seen, met(vodka, 1, sure=True)) == []


def test_no_garnish_on_another_drink_shows_nothing_of_this_one():
    other = drink("house-juice", build(pour("vodka"), top("orange-juice")))
    seen = [met(GARNISHED), met(other, 1, sure=True)]

    found = known_otherwise([PLAIN, other], seen)

    assert [part.aspect for part in found["house-cola"]] == [Aspect.FINISH]
    assert "house-juice" not in found


def test_it_rests_for_some_minutes_after_a_look():
    [part] = parts(LIME, met(GARNISHED), met(LIME, 1, clean=True))
    looked = BEGAN + HOUR

    assert part.rests(looked + SOON / 2)
    assert not part.rests(looked + SOON)
    assert not parts(LIME, met(GARNISHED))[0].rests(looked)
