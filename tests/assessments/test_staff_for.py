"""`manage.py staff_for`, as other programs call it."""

import io
import json

import pytest
from django.core.management import CommandError, call_command

HOUR = {"orders": "180", "drinks": "70", "wait": "120", "share": "0.9"}


def answer(*more, **said):
    asked = HOUR | said
    out = io.StringIO()
    call_command(
        "staff_for", "--orders-per-hour", asked["orders"], "--drinks-per-hour", asked["drinks"],
        "--wait-seconds", asked["wait"], "--share", asked["share"], *more, stdout=out,
    )  # fmt: skip
    return out.getvalue()


def values(*more, **said):
    return json.loads(answer("--json", *more, **said))


def test_an_hour():
    found = values()

    assert set(found) == {"people", "chance_of_waiting", "mean_wait_seconds", "share_within"}
    assert found["people"] == 4
    assert found["share_within"] >= 0.9


def test_a_published_call_centre():
    """As in the test of the measure: 720 an hour of 240 s, 55 people, 15 s."""
    found = values("--people", "55", orders="720", drinks="15", wait="15", share="0.8")

    assert found["people"] == 55
    assert found["chance_of_waiting"] == pytest.approx(0.239, abs=5e-4)
    assert found["share_within"] == pytest.approx(0.846, abs=5e-4)


def test_rounds_and_handling_take_their_time():
    """One order of two drinks at 80 an hour and 30 s at the till takes 120 s: the textbook's two
    servers of 30 an hour with 20 an hour coming wait 15 s."""
    more = ("--drinks-per-round", "2", "--handling-seconds", "30", "--people", "2")

    assert values(*more, orders="20", drinks="80")["mean_wait_seconds"] == pytest.approx(15)


def test_no_orders_need_nobody():
    """As The night says."""
    nobody = {"people": 0, "chance_of_waiting": 0, "mean_wait_seconds": 0, "share_within": 1}

    assert values(orders="0") == nobody
    assert answer(orders="0") == "Nobody: no orders come in.\n"


def test_overload_is_null_and_said():
    found = values("--people", "2")

    assert found == {
        "people": 2, "chance_of_waiting": 1.0, "mean_wait_seconds": None, "share_within": 0.0,
    }  # fmt: skip
    assert answer("--people", "2").startswith("2 people can't make what comes in: the queue grows")


@pytest.mark.parametrize(
    ("people", "said"), [("0", "Nobody makes what"), ("1", "One person can't make what")]
)
def test_one_is_no_people(people, said):
    assert answer("--people", people).startswith(said)


@pytest.mark.parametrize(
    ("more", "said", "says"),
    [
        ((), {"orders": "-3"}, "counted from 0"),
        ((), {"orders": "many"}, "'many' is no number"),
        ((), {"orders": "inf"}, "'inf' is no number"),
        ((), {"drinks": "0"}, "above 0"),
        ((), {"share": "1"}, "between 0 and 1"),
        ((), {"wait": "-1"}, "from 0 seconds"),
        ((), {"orders": "900000"}, "more than 500 people"),
        (("--drinks-per-round", "0"), {}, "a round holds something"),
        (("--people", "2.5"), {}, "no number of people"),
    ],
)
def test_an_hour_that_no_bar_has_is_refused_in_one_line(more, said, says):
    with pytest.raises(CommandError, match=says) as found:
        values(*more, **said)

    assert found.value.returncode == 2
    assert "\n" not in str(found.value)


@pytest.mark.django_db
def test_a_house_that_is_not_there_is_refused():
    with pytest.raises(CommandError, match="There is no house 'pier'"):
        values("--venue", "pier")
