"""What is remembered: the library's figures at whole days, our own closed form in between."""

from datetime import UTC, datetime, timedelta, timezone
from zoneinfo import ZoneInfo

import pytest
from fsrs import Card, Rating, Scheduler, State
from hypothesis import given
from hypothesis import strategies as st

from assessments.measures.forgetting import stronger
from assessments.measures.memory import (
    SCHEDULER,
    SOON,
    TopicMemory,
    recall,
    recall_after,
    review,
)

NOON = datetime(2026, 5, 4, 12, tzinfo=UTC)
DAY = timedelta(days=1)


def first(*, right: bool = True, at: datetime = NOON, slow: bool | None = None) -> TopicMemory:
    return review(None, fingerprint="f", right=right, at=at, slow=slow)


def then(memory: TopicMemory, *, right: bool = True, at: datetime) -> TopicMemory:
    return review(memory, fingerprint="f", right=right, at=at)


@pytest.mark.parametrize(
    ("days", "share"), [(1, 0.985682), (5, 0.940344), (20, 0.845885), (100, 0.692827)]
)
def test_the_closed_form_at_ten_days_of_stability(days, share):
    """R(t, S) = (1 + F t/S)^-d with d = 0.1542, S = 10: values of the library, fsrs 6.3."""
    assert recall_after(days, 10) == pytest.approx(share, abs=5e-7)


def test_recall_is_nine_in_ten_after_the_stability():
    assert recall_after(7.3, 7.3) == pytest.approx(0.9, abs=1e-12)


@given(st.floats(0.01, 400), st.integers(0, 2000))
def test_recall_equals_the_library_at_whole_days(stability, days):
    memory = TopicMemory("f", stability, 5.0, NOON, NOON, 1, 0)
    card = Card(card_id=1, state=State.Review, stability=stability, difficulty=5.0, due=NOON,
                last_review=NOON)  # fmt: skip
    later = NOON + days * DAY

    library = Scheduler(enable_fuzzing=False).get_card_retrievability(card, later)
    assert recall(memory, later) == pytest.approx(library, abs=1e-12)


def test_recall_falls_by_the_hour():
    memory = first()
    hours = [recall(memory, NOON + timedelta(hours=h)) for h in (0, 1, 12, 23, 30)]

    assert hours[0] == 1
    assert hours == sorted(hours, reverse=True)
    assert len(set(hours)) == 5


def test_before_the_last_answer_recall_is_one():
    assert recall(first(), NOON - DAY) == 1


def rated(*ratings: tuple[Rating, datetime]) -> Card:
    """What the library itself makes of a history."""
    library = Scheduler(learning_steps=(), relearning_steps=(), enable_fuzzing=False)
    card = Card(card_id=1)
    for rating, at in ratings:
        card, _ = library.review_card(card, rating, at)
    return card


@pytest.mark.parametrize("rights", [(True,), (False,), (True, True, True), (True, False, True)])
def test_a_history_of_answers_is_the_librarys(rights):
    times = [NOON + n * 2 * DAY for n in range(len(rights))]
    memory = None
    for right, at in zip(rights, times, strict=True):
        memory = review(memory, fingerprint="f", right=right, at=at)
    marks = [Rating.Good if right else Rating.Again for right in rights]
    card = rated(*zip(marks, times, strict=True))

    assert memory is not None
    assert memory.stability == card.stability
    assert memory.difficulty == card.difficulty
    assert memory.reviews == len(rights)


def test_a_slow_right_answer_counts_for_less():
    assert first(right=False).stability < first(slow=True).stability < first().stability
    assert first(slow=False) == first(slow=None)


def test_a_right_answer_makes_it_last_and_a_wrong_one_less():
    memory = first()
    later = memory.due

    assert then(memory, at=later).stability > memory.stability
    assert then(memory, right=False, at=later).stability < memory.stability


def test_lapses_are_wrong_answers_after_the_first():
    assert first(right=False).lapses == 0
    missed = then(first(), right=False, at=NOON + DAY)
    assert missed.lapses == 1
    assert then(missed, at=NOON + 2 * DAY).lapses == 1


def test_it_is_due_when_recall_has_fallen_to_nine_in_ten():
    memory = first()

    assert recall(memory, memory.due) == pytest.approx(0.9, abs=1e-6)


def test_a_wrong_answer_comes_back_soon():
    memory = first(right=False)

    assert memory.due == NOON + SOON


def test_no_answer_comes_back_sooner_than_soon():
    crammed = first(right=False)
    for n in range(1, 12):
        crammed = then(crammed, right=False, at=NOON + n * DAY)
    crammed = then(crammed, at=NOON + 12 * DAY)

    assert crammed.due - crammed.last >= SOON


def test_an_answer_that_arrives_late_counts_as_given_last():
    memory = first()

    assert then(memory, at=NOON - DAY) == then(memory, at=NOON)


@pytest.mark.parametrize("zone", [ZoneInfo("America/Chicago"), timezone(timedelta(hours=2))])
def test_any_zone_is_the_same_moment(zone):
    there = first(at=NOON.astimezone(zone))

    assert there == first()
    assert there.last.tzinfo is UTC
    assert recall(there, (NOON + DAY).astimezone(zone)) == recall(first(), NOON + DAY)


def test_a_time_without_its_zone_is_refused():
    naive = datetime(2026, 5, 4, 12)  # noqa: DTZ001 - that is the point
    for refused in (lambda: first(at=naive), lambda: recall(first(), naive)):
        with pytest.raises(ValueError, match="zone"):
            refused()


def test_the_memory_of_another_topic_is_refused():
    with pytest.raises(ValueError, match="another topic"):
        review(first(), fingerprint="other", right=True, at=NOON)


def test_values_come_back():
    memory = first()
    stored = memory.to_values()

    assert TopicMemory.from_values(stored) == memory
    local = {**stored, "due": memory.due.astimezone(ZoneInfo("Asia/Tokyo"))}
    assert TopicMemory.from_values(local).due.tzinfo is UTC


def test_the_same_answers_give_the_same_memory_without_a_wait(monkeypatch):
    """No fuzz, and no card without an id, for which the library would sleep a millisecond."""

    def asleep(_seconds):
        raise AssertionError("the library slept")

    monkeypatch.setattr("fsrs.card.time.sleep", asleep)
    with pytest.raises(AssertionError, match="slept"):
        Card()

    assert not SCHEDULER.enable_fuzzing
    assert len({then(first(), at=NOON + 40 * DAY) for _ in range(20)}) == 1


@pytest.mark.parametrize("hours", [2, 9, 14, 23])
def test_a_right_answer_later_the_same_day_adds_what_was_forgotten_since(hours):
    """The library would give every answer of a day the same small gain."""
    memory = first(right=False)
    steps = [then(memory, at=NOON + timedelta(hours=h)).stability for h in (0.2, hours, 24)]

    assert steps == sorted(steps)
    assert steps[1] == pytest.approx(
        max(
            library_same_day(memory),
            float(stronger(memory.stability, memory.difficulty,
                           recall_after(hours / 24, memory.stability))),
        )
    )  # fmt: skip


def library_same_day(memory: TopicMemory) -> float:
    """What the library makes of a right answer at the very moment of the last one."""
    card = Card(card_id=1, state=State.Review, stability=memory.stability,
                difficulty=memory.difficulty, due=NOON, last_review=NOON)  # fmt: skip
    library = Scheduler(learning_steps=(), relearning_steps=(), enable_fuzzing=False)
    return float(library.review_card(card, Rating.Good, NOON)[0].stability or 0)


def test_answers_at_one_and_the_same_moment_are_the_librarys():
    memory = first()

    assert then(memory, at=NOON).stability == library_same_day(memory)


def test_between_two_days_the_gain_lies_between_the_gains_of_those_days():
    memory = first()
    gains = [then(memory, at=NOON + timedelta(hours=h)).stability for h in (24, 36, 48)]

    assert gains == sorted(set(gains))


def test_a_rule_right_on_one_drink_and_wrong_on_the_next_is_a_slip():
    """It was known a minute ago: shaky, not forgotten. Ten minutes on it is forgotten."""
    rule = first()
    slip = then(rule, right=False, at=NOON + timedelta(minutes=1))
    forgotten = then(rule, right=False, at=NOON + SOON)

    assert forgotten.stability < slip.stability <= then(rule, at=NOON).stability
    assert slip.lapses == forgotten.lapses == 1
    assert slip.due - slip.last == SOON


def test_a_miss_after_a_miss_is_no_slip():
    missed = first(right=False)

    assert then(missed, right=False, at=NOON + timedelta(minutes=1)).stability < missed.stability
