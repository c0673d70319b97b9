"""Why somebody has no part of a trainer's hour, as a truth table."""

import pytest
from hypothesis import given

from assessments.measures.hour_left import why_without
from assessments.measures.trainers_hour import CLOSE, Hire, Step, plan_hour, shortest
from tests.measures.test_trainers_hour import PACE, POURS, build, some_hires

MUST, GAIN = build("must", must=True), build("gain", 4, 0.02)

TABLE = [
    # short, steps, barred, minutes, why
    (-0.1, (), True, 60, "hour_nothing_to_do"),
    (-0.1, (GAIN,), True, 60, "hour_nothing_to_do"),
    (-0.1, (MUST,), True, 60, "hour_first_mended_elsewhere"),
    (-0.1, (PACE,), True, 5, "hour_first_mended_elsewhere"),
    (0.1, (), True, 60, "hour_first_mended_elsewhere"),
    (0.1, (GAIN,), False, 60, "hour_builds_not_enough"),
    (0.1, (PACE, POURS), False, 60, "hour_builds_not_enough"),
    (-0.1, (PACE, POURS), False, 19, "hour_too_long"),
    (-0.1, (PACE, POURS), False, 20, "hour_to_others"),
    (0.02, (GAIN,), False, 3, "hour_too_long"),
    (0.02, (GAIN,), False, 4, "hour_to_others"),
]


@pytest.mark.parametrize(("short", "steps", "barred", "minutes", "why"), TABLE)
def test_why(short, steps, barred, minutes, why):
    assert why_without(Hire("Nils", short, steps, barred), minutes).code == why


def test_how_long_it_takes_is_told():
    assert why_without(Hire("Nils", -0.1, (PACE, POURS)), 10).values == {"minutes": 20}


@given(some_hires)
def test_what_is_said_holds_for_whoever_the_hour_leaves_out(hires):
    minutes = 20
    parts = {p.person: p for p in plan_hour(hires, minutes)}
    dealt = [p.minutes for p in parts.values() if p.ready]
    for hire in hires:
        if hire.person in parts or not (hire.barred or is_short(hire)):
            continue
        alone = plan_hour([hire], minutes)
        needed = shortest(hire)
        match why_without(hire, minutes).code:
            case "hour_nothing_to_do":
                assert alone == ()
            case "hour_first_mended_elsewhere" | "hour_builds_not_enough":
                assert needed is None
            case "hour_too_long":
                assert needed.minutes > minutes
                assert not any(p.ready for p in alone)
            case "hour_to_others":
                assert all(p.ready for p in alone)
                assert all(other <= needed.minutes for other in dealt)
                assert sum(dealt) + needed.minutes > minutes


def is_short(hire: Hire) -> bool:
    return hire.short > CLOSE or any(s.must for s in hire.steps)


def test_a_word_is_a_must():
    word = Step("word", 1, 0.0, must=True, first=True)

    assert why_without(Hire("Bo", -0.1, (word,), True), 0).code == "hour_first_mended_elsewhere"
