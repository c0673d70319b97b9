"""The command for scripts: its exact keys, and its refusals in one line."""

import json
from io import StringIO

import pytest
from django.core.management import CommandError, call_command

KEYS = [
    "people", "truth_p10", "truth_p90", "covered_share", "mean_width", "best_constant_width",
    "ready_below_bar_share", "ready_found_share", "parameters",
]  # fmt: skip


def said(*options: str) -> str:
    out = StringIO()
    call_command("simulate_readiness", *options, stdout=out)
    return out.getvalue()


@pytest.mark.parametrize("world", ["model", "fast", "slow", "noisy", "told"])
def test_the_answer_for_scripts(world):
    found = json.loads(said("--people", "20", "--seed", "5", "--world", world, "--json"))

    assert list(found) == KEYS
    assert found["people"] == 20
    assert 0 <= found["truth_p10"] <= found["truth_p90"] <= 1
    assert 0 < found["covered_share"] <= 1
    assert found["parameters"]["seed"] == 5


def test_the_answer_for_people_ends_with_every_parameter():
    found = said("--people", "20", "--seed", "5")

    assert "20 hires, truly right" in found
    assert "drinks_differ: 0.4" in found
    assert "bar: 0.7" in found


@pytest.mark.parametrize(
    ("options", "sentence"),
    [
        (
            ("--world", "mars"),
            "There is no world 'mars'; there are model, fast, slow, noisy, told.",
        ),
        (("--people", "9"), "--people goes from 10 to 20000."),
        (("--people", "many"), "--people is a whole number, not 'many'."),
        (("--seed", "-1"), "--seed goes from 0 to 9223372036854775807."),
    ],
)
def test_a_question_without_sense_is_refused_in_one_line(options, sentence):
    with pytest.raises(CommandError, match=r"^[^\n]*$") as refused:
        said(*options)

    assert str(refused.value) == sentence
    assert refused.value.returncode == 2
