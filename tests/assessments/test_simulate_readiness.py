"""The command for scripts: its exact keys, and its refusals in one line."""

import csv
import json
from io import StringIO
from math import ceil
from statistics import fmean as mean

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


def rows_in(path) -> list[dict[str, str]]:
    with path.open(encoding="utf-8", newline="") as file:
        return list(csv.DictReader(file))


@pytest.mark.parametrize("world", ["model", "noisy"])
def test_what_is_printed_can_be_reckoned_from_the_rows(world, tmp_path):
    """By sums of the standard library alone."""
    path = tmp_path / "rows.csv"
    printed = json.loads(
        said("--people", "60", "--seed", "5", "--world", world, "--rows", str(path), "--json")
    )

    rows = rows_in(path)
    assert list(rows[0]) == [
        "person", "truth", "right", "low", "high", "standing", "answers", "builds",
    ]  # fmt: skip
    assert [row["person"] for row in rows] == [str(n) for n in range(1, 61)]
    ends = [[float(row[name]) for name in ("truth", "low", "high")] for row in rows]
    ready = [row["standing"] == "ready" for row in rows]
    assert ready == [low >= 0.7 for _truth, low, _high in ends]
    below = [truth < 0.7 for truth, _low, _high in ends]
    above = [truth >= 0.8 for truth, _low, _high in ends]
    assert any(ready)
    assert any(above)
    reckoned = {
        "covered_share": mean(low <= truth <= high for truth, low, high in ends),
        "mean_width": mean(high - low for _truth, low, high in ends),
        "best_constant_width": narrowest([truth for truth, _low, _high in ends]),
        "ready_below_bar_share": mean(b for b, r in zip(below, ready, strict=True) if r),
        "ready_found_share": mean(r for a, r in zip(above, ready, strict=True) if a),
    }
    assert {name: printed[name] for name in reckoned} == pytest.approx(reckoned, abs=5e-5)
    assert all(float(r["low"]) < float(r["right"]) < float(r["high"]) for r in rows)
    assert {(row["answers"], row["builds"]) for row in rows} == {("150", "20")}


def narrowest(truths: list[float]) -> float:
    """That holds nine in ten, the same for everybody."""
    ordered, inside = sorted(truths), ceil(0.9 * len(truths))
    return min(ordered[n + inside - 1] - ordered[n] for n in range(len(ordered) - inside + 1))


def test_rows_that_can_t_be_written_are_said_before_anything_is_reckoned(tmp_path):
    with pytest.raises(CommandError, match=r"^The rows can't be written to [^\n]*$") as refused:
        said("--rows", str(tmp_path / "nowhere" / "rows.csv"))

    assert refused.value.returncode == 2


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
