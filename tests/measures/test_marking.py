"""What fails a watched build, what is a fault, and what it counts as."""

import math

import pytest

from assessments.measures.marking import (
    CONDUCT,
    HelpLevel,
    conduct_steps,
    counts_as,
    is_conduct,
    mark_build,
    pour_off,
)
from recipes.grammar.rules import MeasuredBy
from recipes.grammar.steps import build_steps
from tests.grammar.kitchen import PANTRY, house

SHOWN, PROMPTED, UNPROMPTED = HelpLevel


def checklist(name: str):
    return build_steps(house(name), PANTRY) + conduct_steps(house(name))


def mark(name: str, *off: str, help_level=UNPROMPTED):
    return mark_build(checklist(name), frozenset(off), help_level)


MISSES = [
    # drink, what went wrong, passed: the trade's list of what fails and what is a fault, which
    # are common practice, no source
    ("cuba-libre", (), True),
    ("cuba-libre", ("garnish:lime",), True),
    ("cuba-libre", ("garnish:lime", "straw", "ice:full"), True),
    ("cuba-libre", ("pour:white-rum",), False),
    ("cuba-libre", ("top:cola",), False),
    ("cuba-libre", ("glass",), False),
    ("cuba-libre", ("clean_glass",), False),
    ("cuba-libre", ("scoop",), False),
    ("cuba-libre", ("garnish:lime", "scoop"), False),
    ("cuba-libre", ("conduct:right_drink",), False),
    ("cuba-libre", ("conduct:allergy",), False),
    ("cuba-libre", ("conduct:age",), False),
    ("cuba-libre", ("conduct:sober",), False),
    ("still-gin-tonic", ("conduct:alcohol_free",), False),
    ("daiquiri", ("conduct:ice",), False),
    ("tequila-sunrise", ("float:grenadine",), False),
    ("tequila-sunset", ("first_in:grenadine",), False),
    ("salty-dog", ("rim",), True),
]


@pytest.mark.parametrize(("name", "off", "passed"), MISSES)
def test_a_failing_step_fails_the_build_and_faults_never_do(name, off, passed):
    assert mark(name, *off).passed is passed


def test_every_single_step_of_every_drink_does_what_it_says():
    for name in ("cuba-libre", "margarita", "pina-colada", "nitro-stout", "still-gin-tonic"):
        for step in checklist(name):
            verdict = mark(name, step.key)

            assert verdict.passed is not step.fails
            assert verdict.failed == ((step,) if step.fails else ())
            assert verdict.faults == (() if step.fails else (step,))


def test_all_faults_together_still_pass():
    faults = [s.key for s in checklist("margarita") if not s.fails]

    verdict = mark("margarita", *faults)

    assert len(faults) > 2
    assert verdict.passed
    assert [r.code for r in verdict.reasons] == ["build_passed_with_faults"]
    assert verdict.reasons[0].values["count"] == len(faults)


def test_a_step_of_another_drink_is_refused():
    with pytest.raises(ValueError, match="rim"):
        mark("cuba-libre", "rim", "straw")


@pytest.mark.parametrize(
    ("help_level", "off", "codes"),
    [
        (UNPROMPTED, (), ["build_clean"]),
        (PROMPTED, (), ["build_clean", "prompted_is_asking"]),
        (SHOWN, (), ["build_clean", "shown_is_teaching"]),
        (UNPROMPTED, ("straw",), ["build_passed_with_faults"]),
        (UNPROMPTED, ("scoop", "straw"), ["build_failed"]),
        (PROMPTED, ("scoop",), ["build_failed"]),
        (SHOWN, ("scoop",), ["build_failed", "shown_is_teaching"]),
    ],
)
def test_the_reasons_say_what_came_of_it(help_level, off, codes):
    assert [r.code for r in mark("cuba-libre", *off, help_level=help_level).reasons] == codes


@pytest.mark.parametrize(
    ("help_level", "off", "counts"),
    [
        (UNPROMPTED, (), "right"),
        (UNPROMPTED, ("straw",), "right"),
        (UNPROMPTED, ("scoop",), "wrong"),
        (PROMPTED, (), "ask"),
        (PROMPTED, ("straw",), "ask"),
        (PROMPTED, ("scoop",), "wrong"),
        (SHOWN, (), None),
        (SHOWN, ("scoop",), None),
    ],
)
def test_what_a_build_counts_as(help_level, off, counts):
    assert counts_as(mark("cuba-libre", *off, help_level=help_level), help_level) == counts


@pytest.mark.parametrize(
    ("name", "conduct"),
    [
        ("cuba-libre", ["right_drink", "allergy", "age", "sober"]),
        ("daiquiri", ["right_drink", "ice", "allergy", "age", "sober"]),  # shaken, served up
        ("margarita", ["right_drink", "allergy", "age", "sober"]),  # shaken, its scoop is a step
        ("pina-colada", ["right_drink", "ice", "allergy", "age", "sober"]),
        ("draught-lager", ["right_drink", "allergy", "age", "sober"]),
        ("still-gin-tonic", ["right_drink", "alcohol_free", "allergy"]),
    ],
)
def test_which_conduct_a_drink_can_break(name, conduct):
    assert [s.key for s in conduct_steps(house(name))] == [f"conduct:{c}" for c in conduct]


def test_conduct_fails_a_build_and_is_told_from_steps():
    assert all(s.fails and is_conduct(s) for s in CONDUCT)
    assert not any(is_conduct(s) for s in build_steps(house("margarita"), PANTRY))


def test_no_two_entries_of_a_checklist_have_one_key():
    for name in ("cuba-libre", "daiquiri", "pina-colada", "still-gin-tonic"):
        keys = [s.key for s in checklist(name)]
        assert len(keys) == len(set(keys))


FREE, STAMPED = MeasuredBy.FREE_POUR, MeasuredBy.STAMPED
EIGHTH_FLOZ_ML = 29.5735295625 / 8  # free pour ±1/8 fl oz: common practice, no source


@pytest.mark.parametrize(
    ("target", "measured", "tolerance", "by", "code"),
    [
        (29.57, 29.57, EIGHTH_FLOZ_ML, FREE, None),
        (29.57, 33.2, EIGHTH_FLOZ_ML, FREE, None),
        (29.57, 33.3, EIGHTH_FLOZ_ML, FREE, "pour_over"),
        (29.57, 25.9, EIGHTH_FLOZ_ML, FREE, None),
        (29.57, 25.8, EIGHTH_FLOZ_ML, FREE, "pour_under"),
        (25, 25, 1, STAMPED, None),
        (25, 24.9, 1, STAMPED, "pour_under"),  # a stamped measure is never under
        (25, 26, 1, STAMPED, None),
        (25, 26.1, 1, STAMPED, "pour_over"),
        (25, 24.9, 1, MeasuredBy.JIGGER, None),
        (25, 24.9, 1, MeasuredBy.OPTIC, None),
        (25, 24.9, 1, MeasuredBy.GUN, None),
        (25, 0, 1, FREE, "pour_under"),
    ],
)
def test_a_pour_is_off_outside_its_tolerance(target, measured, tolerance, by, code):
    reason = pour_off(target, measured, tolerance, by)

    assert (reason.code if reason else None) == code


@pytest.mark.parametrize(
    ("target", "measured", "tolerance"),
    [(0, 1, 1), (-1, 1, 1), (25, -1, 1), (25, 25, -1), (25, math.nan, 1), (25, 25, math.inf)],
)
def test_volumes_that_no_pour_has_are_refused(target, measured, tolerance):
    with pytest.raises(ValueError, match="pour"):
        pour_off(target, measured, tolerance, FREE)
