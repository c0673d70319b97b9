"""`manage.py pour_check`, as other programs call it."""

import io
import json

import pytest
from django.core.management import CommandError, call_command

from assessments import record_pour_policy
from assessments.measures.pours import PourPolicy
from recipes.grammar.units import Unit, to_ml
from tests.factories.assessments import NOW

FIVE = ("1.02", "0.97", "1.0", "1.05", "1.01")
SAID = ("--target", "1", "--tolerance", "0.125", "--unit", "floz")
KEYS = {
    "n", "bias", "sd", "within", "within_low", "within_high", "tolerance_low", "tolerance_high",
    "k", "cp", "cpk", "verdict",
}  # fmt: skip


def answer(*said):
    out = io.StringIO()
    call_command("pour_check", *said, stdout=out)
    return out.getvalue()


def values(*said):
    return json.loads(answer(*said, "--json"))


def test_five_pours_in_fluid_ounces():
    found = values(*FIVE, *SAID)

    assert set(found) == KEYS
    assert (found["n"], found["within"]) == (5, 1.0)
    assert found["bias"] == pytest.approx(0.01)
    assert found["k"] == pytest.approx(5.0769, abs=5e-5)  # exact 95/95 factor, see test_pours
    assert found["verdict"].startswith("Passed: all 5 within tolerance.")


def test_nothing_of_a_house_is_asked_for():
    """No `db` fixture: a query would fail."""
    assert values(*FIVE, *SAID)["n"] == 5


def test_too_few_pours_to_say():
    assert values("1.0", "1.0", *SAID)["verdict"].startswith("Too few pours to say")


def test_of_too_few_pours_nothing_is_said_of_those_to_come():
    found = values("1.0", "1.02", "0.98", *SAID)

    assert found["bias"] == pytest.approx(0.0)
    assert [found[k] for k in ("tolerance_low", "tolerance_high", "k", "cp", "cpk")] == [None] * 5


def test_what_can_hardly_have_been_poured_is_asked_about_first():
    """As on the screen, where it has to be stood by."""
    asked = "Look again: 9999 where 1 was to be poured?"

    assert values("9999", *["1"] * 4, *SAID)["verdict"].startswith(asked)
    assert answer("9999", *["1"] * 4, *SAID).startswith(asked)
    assert "Look again" not in answer("4", "0.25", "1", "1", "1", *SAID)


def test_what_cannot_be_said_is_null():
    one, same = values("1.0", *SAID), values(*["1.0"] * 5, *SAID)

    assert [one[k] for k in ("sd", "k", "cp", "cpk", "tolerance_low")] == [None] * 5
    assert (same["sd"], same["cp"], same["cpk"]) == (0.0, None, None)


def test_just_the_measure_is_right_by_every_way_of_measuring():
    for by in ("free_pour", "stamped"):
        said = values(*["1.0"] * 5, *SAID, "--measured-by", by)["verdict"]
        assert said.startswith("Passed: all 5 within tolerance. They all read alike")
        assert "not by chance" not in said
    assert "nothing of those to come" in answer(*["1.0"] * 5, *SAID)


def test_a_stamped_measure_is_never_under():
    pours = ("25", "25", "25", "25", "24.5", "--target", "25", "--tolerance", "1", "--unit", "ml")

    assert values(*pours)["verdict"].startswith("Passed")
    stamped = values(*pours, "--measured-by", "stamped")
    assert "never under" in stamped["verdict"]
    assert stamped["within"] == 0.8


def test_in_words():
    text = answer(*FIVE, *SAID)

    assert text.startswith("Passed: all 5 within tolerance.")
    assert "bias 0.010" in text


def test_in_words_each_interval_says_of_what_and_how_sure():
    text = answer(*FIVE, *SAID)

    assert (
        "within tolerance: 1.000 of these; 0.478 to 1.000 of all by that count, 95 % sure" in text
    )
    assert "by average and spread 19 of 20 lie between 0.862 and 1.158 (k 5.077), 95 % sure" in text


def test_without_a_target_the_house_s_pour_decides(tamsin):
    found = values(*FIVE, "--unit", "floz", "--venue", tamsin.venue.slug)

    assert found["bias"] == pytest.approx(0.01)


@pytest.mark.parametrize(
    ("said", "line"),
    [
        ((), "Type in the pours"),
        (("much", *SAID), "'much' is no volume."),
        (("nan", *SAID), "'nan' is no volume."),
        (("1", "--unit", "thimble", "--target", "1", "--tolerance", "1"), "No unit 'thimble'"),
        (("inf", *SAID), "'inf' is no volume."),
        (("1e-300", *SAID), "'1e-300' is no volume."),
        (("1", "1", "1e300", *SAID), "Nobody can have poured that: no pour is more"),
        (("-1", *SAID), "Nobody can have poured that"),
        ((*["1"] * 1000, *SAID), "Nobody can have poured that: a check is of 1 to 200 pours"),
        (("1", "--target", "1", "--tolerance", "1e300"), "Nobody can have poured that"),
        (("1", "--target", "0", "--tolerance", "1"), "Nobody can have poured that"),
        (("1", "--target", "1", "--tolerance", "-1"), "Nobody can have poured that"),
        (("1", *SAID, "--measured-by", "eye"), "No way of measuring 'eye'"),
    ],
)
def test_what_makes_no_sense_exits_with_2_and_one_line(said, line):
    with pytest.raises(CommandError) as refused:
        answer(*said)

    assert refused.value.returncode == 2
    assert str(refused.value).startswith(line)
    assert "\n" not in str(refused.value)


def test_no_such_house(tamsin):
    with pytest.raises(CommandError, match="There is no house 'nowhere'") as refused:
        answer(*FIVE, *SAID, "--venue", "nowhere")

    assert refused.value.returncode == 2


def test_a_named_house_judges_by_its_own_rule(odalys, nils):
    policy = PourPolicy(5, 0.9, to_ml(0.04, Unit.FLOZ))
    record_pour_policy.set_pour_policy(by=odalys, policy=policy, tolerance=0.125, at=NOW)
    over = ["1.05"] * 5

    assert values(*over, *SAID)["verdict"].startswith("Passed")
    found = values(*over, *SAID, "--venue", odalys.venue.slug)
    assert found["verdict"].startswith("Not passed: on average")
    ml = [str(to_ml(1.05, Unit.FLOZ))] * 5
    assert values(*ml, "--unit", "ml")["verdict"].startswith("Not passed: on average")
