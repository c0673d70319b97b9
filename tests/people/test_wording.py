"""Every reason has words, every word has a reason."""

import ast
from pathlib import Path

import pytest

from barcourse import people
from barcourse.people import wording
from barcourse.people.reasons import Reason
from barcourse.people.roles import Role

FOLDER = Path(people.__file__).parent
# Codes handed on by a variable: the function that says them is given the code.
HANDED_ON = {
    "last_owner_demoted",
    "last_owner_leaves",
    "name_here",
    "name_invited",
    "name_twice",
}


def calls():
    for path in FOLDER.rglob("*.py"):
        for node in ast.walk(ast.parse(path.read_text())):
            if isinstance(node, ast.Call):
                yield node


def name_of(function):
    return function.attr if isinstance(function, ast.Attribute) else getattr(function, "id", "")


def codes_said():
    for call in calls():
        literal = call.args and isinstance(call.args[0], ast.Constant)
        is_refusal = name_of(call.func) == "refuse"
        is_reason = ast.unparse(call.func) == "Reason.of"
        if literal and (is_refusal or is_reason):
            yield call.args[0].value, {keyword.arg for keyword in call.keywords}


def test_the_codes_are_found_in_the_source():
    codes = {code for code, _ in codes_said()}

    assert {"name_missing", "row_changed", "sign_in_gone"} <= codes


def test_every_code_has_words_and_no_words_are_left_over():
    assert {code for code, _ in codes_said()} | HANDED_ON == set(wording.WORDS)


@pytest.mark.parametrize(("code", "params"), sorted(codes_said(), key=lambda said: said[0]))
def test_the_words_need_only_what_the_reason_brings(code, params):
    reason = Reason.of(code, **dict.fromkeys(params - {"field"}, "x"))

    assert "%" not in wording.say(reason)


def test_every_kind_of_entry_that_is_written_has_words():
    written = {
        keyword.value.value
        for call in calls()
        for keyword in call.keywords
        if keyword.arg == "kind" and isinstance(keyword.value, ast.Constant)
    }

    assert {"house_changed", "person_erased"} <= written
    assert written <= set(wording.KINDS)


def test_reasons_are_equal_whatever_the_order_of_their_parameters():
    assert Reason.of("x", a=1, b="2") == Reason.of("x", b="2", a=1)
    assert Reason.of("x", a=1).param("a") == 1


def test_every_role_has_a_name_to_show():
    assert all(str(role.label) for role in Role)
