"""Readiness in simulated houses: the promises, on seeds that nobody picked."""

import hashlib
import subprocess
from dataclasses import asdict, replace
from functools import cache
from pathlib import Path

import numpy as np
import pytest

from assessments.measures import readiness_proof as proof
from assessments.measures.orders import POPULATION
from assessments.measures.readiness_proof import Proof, prove
from assessments.measures.simulated_hires import MODEL, WORLDS, simulate

HERE = Path(__file__).parent
PEOPLE = 400


def _seeds() -> list[int]:
    """Five, from the hash of the commit that is tried out; a copy without its history takes the
    text of the model instead."""
    said = subprocess.run(
        ["git", "rev-parse", "HEAD"], cwd=HERE, capture_output=True, text=True, check=False
    )
    commit = said.stdout.strip() or Path(proof.__file__).read_text()
    return [int(hashlib.sha256(f"{commit} {n}".encode()).hexdigest()[:8], 16) for n in range(5)]


SEEDS = _seeds()


@cache
def proved(world: str, seed: int, people: int = PEOPLE) -> Proof:
    return prove(people, seed, world)


@pytest.mark.parametrize("seed", SEEDS)
def test_in_a_house_as_the_model_has_it(seed):
    found = proved("model", seed)

    assert found.truth_p90 - found.truth_p10 >= 0.35
    # .85 to .95 is meant; of 400 hires at a true .90 four standard deviations are .06
    assert 0.84 <= found.covered_share <= 0.96
    assert found.mean_width <= found.best_constant_width / 2
    assert found.ready_below_bar_share <= 0.10
    assert found.ready_found_share >= 0.50


def test_over_all_seeds_together_the_interval_keeps_its_word():
    covered = np.mean([proved("model", seed).covered_share for seed in SEEDS])

    assert 0.87 <= covered <= 0.93


@pytest.mark.parametrize("world", ["fast", "slow", "noisy", "told"])
def test_in_a_house_where_the_model_is_off(world):
    """Forgetting twice or half as fast; one mark in ten wrong."""
    found = proved(world, SEEDS[0])

    assert found.covered_share >= 0.80
    assert found.mean_width <= found.best_constant_width / 2


def test_worlds_differ_as_they_say():
    assert WORLDS["fast"].forgets[0] - MODEL.forgets[0] == pytest.approx(np.log(2))
    assert MODEL.forgets[0] - WORLDS["slow"].forgets[0] == pytest.approx(np.log(2))
    noisy = WORLDS["noisy"]
    assert noisy.most_wrong_marks / (1 + np.exp(-noisy.wrong_marks[0])) == pytest.approx(0.1)
    assert noisy.wrong_marks[1] == 0
    assert (MODEL.put_right, WORLDS["told"].put_right) == (0, 1)


def test_the_model_s_own_world_is_what_the_model_assumes():
    pairs = (
        MODEL.forgets, MODEL.holds, MODEL.reads, MODEL.executes, MODEL.asks, MODEL.wrong_marks
    )  # fmt: skip

    assert tuple(p[0] for p in pairs) == POPULATION.mean
    assert tuple(p[1] for p in pairs) == POPULATION.sd
    assert MODEL.drinks_differ == POPULATION.drinks_differ
    assert MODEL.weak_is_watched == POPULATION.watched_weaker


def test_the_world_is_written_apart_from_the_model():
    text = (Path(proof.__file__).parent / "simulated_hires.py").read_text()

    assert "import" in text
    assert "assessments" not in text


def test_a_fortnight_is_150_answers_and_20_builds():
    house = simulate(MODEL, people=3, seed=1)

    assert sum(s.choices > 0 for s in house.seen) == 150
    assert sum(s.choices == 0 for s in house.seen) == 20
    assert sum(s.chosen for s in house.seen) == MODEL.watched
    assert max(s.day for s in house.seen) < MODEL.shift_day < 14


def test_marks_go_wrong_as_often_as_the_world_says():
    """With everybody perfect and every mark a coin's throw away, marks are all that is seen."""
    perfect = replace(
        MODEL, forgets=(-9, 0), holds=(8, 0), reads=(20, 0), executes=(8, 0), drinks_differ=0,
        wrong_marks=WORLDS["noisy"].wrong_marks,
    )  # fmt: skip
    house = simulate(perfect, people=200, seed=2)
    right = np.mean([(s.outcome == 0).mean() for s in house.seen])

    assert house.right == pytest.approx(1, abs=1e-3)
    assert right == pytest.approx(0.9, abs=0.005)


def test_the_same_seed_gives_the_same_figures():
    first, again, other = prove(20, 7, "model"), prove(20, 7, "model"), prove(20, 8, "model")

    assert asdict(first) == asdict(again)
    assert first.covered_share != other.covered_share or first.mean_width != other.mean_width


def test_parameters_are_all_there():
    said = prove(20, 7, "noisy").parameters

    assert said["world"]["wrong_marks"] == WORLDS["noisy"].wrong_marks
    assert said["model"]["mean"] == POPULATION.mean
    assert said["bar"] == proof.BAR
    assert said["seed"] == 7


def test_the_narrowest_interval_for_all_alike():
    """Of 0, .1 ... 2.0 nine in ten are 19 of 21 values, .1 apart: 1.8."""
    assert proof._narrowest(np.arange(21) / 10) == pytest.approx(1.8)
    assert proof._narrowest(np.array([0.0, *[0.5] * 9])) == 0
