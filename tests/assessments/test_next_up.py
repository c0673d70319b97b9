"""What comes first in the next five minutes, as a truth table."""

from dataclasses import replace
from types import SimpleNamespace

import pytest

from assessments.next_up import Kind, ToDo, to_do
from assessments.reads import ModuleProgress
from recipes.models import Module

COURSE = ("highballs", "rocks", "beer", "safety")


def module(slug):
    return Module(pk=COURSE.index(slug) + 1, slug=slug, is_gate=slug == "safety")


def progress(**states):
    """States by module: read, open, failed, passed; what isn't named hasn't been begun."""
    return [_progress(module(slug), states.get(slug, "")) for slug in COURSE]


def _progress(of, state):
    return ModuleProgress(
        module=of,
        drinks=4,
        can_ask=not state.endswith("empty"),
        is_read=state.startswith("read"),
        result=SimpleNamespace(passed=state == "passed") if state in ("passed", "failed") else None,
        open_quiz=SimpleNamespace() if state == "open" else None,
    )


def first(*wanted):
    return [ToDo(kind, module(slug) if slug else None) for kind, slug in wanted]


READ, QUIZ, CARDS = Kind.READ, Kind.QUIZ, (Kind.CARDS, None)
ALL_PASSED = dict.fromkeys(COURSE, "passed")

TABLE = [
    # nothing begun: one module and the gate, nothing else
    ({}, 0, [(READ, "highballs"), (READ, "safety")]),
    # what was read is drilled, then the gate, then its quiz
    ({"highballs": "read"}, 9, [CARDS, (READ, "safety"), (QUIZ, "highballs")]),
    ({"highballs": "read"}, 0, [(READ, "safety"), (QUIZ, "highballs"), (READ, "rocks")]),
    # a quiz left open stands by itself and isn't offered anew
    ({"highballs": "open"}, 9, [CARDS, (READ, "safety"), (READ, "rocks")]),
    # the gate's quiz before others; a failed one is taken once more
    ({"highballs": "failed", "safety": "read"}, 0,
     [(QUIZ, "safety"), (QUIZ, "highballs"), (READ, "rocks")]),
    ({"highballs": "passed", "safety": "passed"}, 0, [(READ, "rocks"), (READ, "beer")]),
    # a module with nothing to ask has no quiz
    ({**ALL_PASSED, "rocks": "read_empty"}, 0, []),
    ({**ALL_PASSED, "rocks": "read"}, 0, [(QUIZ, "rocks")]),
    (ALL_PASSED, 3, [CARDS]),
    (ALL_PASSED, 0, []),
]  # fmt: skip


@pytest.mark.parametrize(("states", "cards", "wanted"), TABLE)
def test_what_comes_first(states, cards, wanted):
    assert to_do(progress(**states), cards) == first(*wanted)


def test_a_course_of_nothing_but_the_gate_names_it_once():
    only = [_progress(module("safety"), "")]

    assert to_do(only, 0) == first((READ, "safety"))


def test_a_house_without_modules_has_nothing_to_do():
    assert to_do([], 0) == []


def test_a_module_with_nothing_in_it_is_nothing_to_be_sent_to():
    first_one, *others = progress()
    empty = replace(first_one, drinks=0, can_ask=False)

    assert empty.module not in [t.module for t in to_do([empty, *others], 0)]
    assert to_do([empty], 0) == []
