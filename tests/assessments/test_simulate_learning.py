"""Three weeks rehearsed: nine in ten known, in fewer minutes than the same drinks in rotation."""

import hashlib
import json
import subprocess
from pathlib import Path
from xml.etree import ElementTree

import numpy as np
import pytest
from django.core.management import CommandError, call_command

from assessments.management.commands.simulate_learning import must_knows
from assessments.measures.invented_hire import InventedHire
from assessments.measures.rehearsal import Bin, Learned, Rehearsal, rehearse
from assessments.rehearsal_plot import plot
from recipes.grammar.aspects import Aspect
from tests.factories.recipes import small_course

ROOT = Path(__file__).resolve().parents[2]
KEYS = ["must_knows", "recall_must_know", "recall_fixed_order", "minutes_to_90",
        "minutes_to_90_fixed_order", "brier"]  # fmt: skip


def commit() -> str:
    """The hash of the commit that is tested; a fixed text where there is no repository."""
    try:
        asked = ["git", "-C", str(ROOT), "rev-parse", "HEAD"]
        return subprocess.run(asked, capture_output=True, text=True, check=True).stdout.strip()
    except (OSError, subprocess.CalledProcessError):
        return "no repository here"


def seeds() -> list[int]:
    """Five, other ones with every commit: what holds must hold for any seed."""
    return [int(hashlib.sha256(f"{commit()} {n}".encode()).hexdigest()[:8], 16) for n in range(5)]


@pytest.fixture(scope="module")
def drinks():
    return must_knows()


def test_the_shipped_course_has_forty_must_knows_at_least(drinks):
    assert len(drinks) >= 40


@pytest.mark.parametrize("seed", seeds())
def test_three_weeks_of_ten_minutes_are_enough_and_less_than_in_rotation(drinks, seed):
    found = rehearse(drinks, days=21, minutes=10, seed=seed)

    assert found.planned.recall[-1] >= 0.9
    reached, in_rotation = found.planned.minutes_to_wanted, found.in_rotation.minutes_to_wanted
    assert reached is not None
    assert in_rotation is None or reached < in_rotation
    assert found.brier < 0.15
    often = [b for b in found.reliability if b.count >= 100]
    assert max(abs(b.stated - b.came) for b in often) < 0.25


def test_the_stated_chances_are_worth_more_than_the_average_alone(drinks):
    """The Brier score of somebody who knows nothing but how many come right is p (1 - p)."""
    found = rehearse(drinks, days=14, minutes=10, seed=3)
    came = np.mean([s.right for s in found.planned.stated])

    assert found.brier < came * (1 - came) - 0.03


def test_the_same_seed_is_the_same_rehearsal(drinks):
    once, again = (rehearse(drinks[:8], days=3, minutes=3, seed=5) for _ in range(2))

    assert once == again
    assert once != rehearse(drinks[:8], days=3, minutes=3, seed=6)


@pytest.mark.parametrize(("days", "minutes"), [(0, 10), (3, 0), (3, -1)])
def test_no_time_is_refused(drinks, days, minutes):
    with pytest.raises(ValueError, match="takes"):
        rehearse(drinks, days=days, minutes=minutes, seed=1)


def test_minutes_are_read_off_the_line_between_two_days():
    learned = Learned(recall=(0.5, 0.8, 0.95), minutes=(10, 20, 29))

    assert learned.minutes_to_wanted == pytest.approx(20 + 9 * 2 / 3)
    assert Learned((0.5, 0.89), (10, 20)).minutes_to_wanted is None


class TestTheInventedHire:
    """Their memory is not the scheduler's model."""

    @pytest.fixture
    def hire(self, drinks):
        return InventedHire(drinks, np.random.default_rng(4))

    def test_what_is_known_of_an_aspect_is_halved_with_every_half_life(self, hire):
        hire.turn(0, 0.0)
        half = hire._half[0]
        asked = half > 0

        for lives in (1, 2, 3):
            left = [hire._remembered(lives * h)[0][n] for n, h in enumerate(half) if h > 0]
            assert left == pytest.approx([0.5**lives] * int(asked.sum()))

    def test_a_success_a_minute_later_adds_next_to_nothing_and_a_late_one_the_drinks_factor(
        self, hire
    ):
        right = np.ones(len(Aspect), dtype=bool)
        for day, grows in ((1e-6, 1.0), (60.0, hire._growth[2])):
            hire._half[2], hire._last[2] = 2.0, 0.0
            hire._learn(2, right, day)
            asked = hire.asked[2]
            assert hire._half[2][asked] / 2.0 == pytest.approx([grows] * int(asked.sum()), rel=1e-4)

    def test_a_rule_is_carried_over_in_part(self, hire, drinks):
        """A drink never looked at, in the glass of one that was."""
        glass = list(Aspect).index(Aspect.GLASS)
        hire.turn(0, 0.0)
        same = next(
            n for n, d in enumerate(drinks)
            if n and d.fingerprints[Aspect.GLASS] == drinks[0].fingerprints[Aspect.GLASS]
        )  # fmt: skip

        assert hire._remembered(0.01)[same][glass] == 0
        assert 0.5 < hire.chances(0.01)[same][glass] < hire.chances(0.01)[0][glass]

    def test_a_look_alike_is_mixed_up_until_it_has_settled(self, hire, drinks):
        row, aspect = np.argwhere(hire._mixed > 0.3)[0]
        hire._half[row], hire._last[row] = 0.5, 0.0
        unsettled = hire.chances(0.0)[row][aspect]
        hire._half[row] = 20.0

        assert unsettled < 0.95 < hire.chances(0.0)[row][aspect] < 1

    def test_the_shaky_take_longer(self, drinks):
        new, known = [], []
        for seed in range(60):
            hire = InventedHire(drinks, np.random.default_rng(seed))
            new.append(hire.turn(0, 0.0).milliseconds)
            known.append(hire.turn(0, 0.01).milliseconds)

        assert np.mean(new) > 1.2 * np.mean(known)


def run(capsys, **said):
    call_command("simulate_learning", **said)
    return capsys.readouterr().out


def test_it_prints_json_with_these_keys_and_no_others(capsys):
    said = json.loads(run(capsys, days="2", minutes="5", seed="9", as_json=True))

    assert list(said) == KEYS
    assert said["must_knows"] >= 40
    assert said["minutes_to_90"] is said["minutes_to_90_fixed_order"] is None
    assert 0 < said["recall_fixed_order"] < 1


def test_it_prints_the_reliability_as_a_table_and_draws_it(capsys, tmp_path):
    drawn = tmp_path / "reliability.svg"
    said = run(capsys, days="2", minutes="5", plot=str(drawn))

    assert "stated  came right  times" in said
    assert "never 90 of 100" in said
    assert ElementTree.parse(drawn).getroot().tag.endswith("svg")  # noqa: S314 - our own


def test_it_says_where_the_stated_chance_was_off_and_why(capsys, monkeypatch):
    bins = (Bin(0.75, 0.83, 400), Bin(0.86, 0.9, 900), Bin(0.3, 0.5, 20))
    monkeypatch.setattr(Rehearsal, "reliability", bins)
    said = run(capsys, days="1", minutes="2")

    assert "Off by more than 0.05: 0.75 came 0.83." in said
    assert "follows slowly as drinks settle" in said

    monkeypatch.setattr(Rehearsal, "reliability", bins[1:])
    assert "Off by" not in run(capsys, days="1", minutes="2")


def test_a_dot_on_the_line_came_as_often_as_stated():
    drawn = plot([Bin(0.5, 0.5, 10)])

    assert 'cx="160.0" cy="160.0" r="12.0"' in drawn


@pytest.mark.parametrize(
    ("said", "sentence"),
    [
        ({"days": "0"}, "--days goes from 1 to 365."),
        ({"days": "many"}, "--days takes a number, not 'many'."),
        ({"minutes": "nan"}, "--minutes goes from 1 to 480."),
        ({"seed": "-1"}, "--seed goes from 0"),
        ({"plot": "/nowhere/at/all.svg", "days": "1", "minutes": "1"}, "The plot can't be written"),
    ],
)
def test_bad_input_is_one_clear_line(said, sentence):
    with pytest.raises(CommandError, match=sentence) as refused:
        call_command("simulate_learning", **said)

    assert refused.value.returncode == 2


@pytest.mark.django_db
class TestOfAHouse:
    def test_its_own_must_knows(self, capsys, nils):
        said = json.loads(run(capsys, venue=nils.venue.slug, days="1", minutes="2", as_json=True))
        course = small_course()

        assert said["must_knows"] == sum(d.must_know for m in course.modules for d in m.drinks)

    def test_an_unknown_one_is_refused(self):
        with pytest.raises(CommandError, match="no house 'nowhere'"):
            call_command("simulate_learning", venue="nowhere")
