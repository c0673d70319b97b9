"""Evidence by drink, corrected for guessing."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from assessments.measures.evidence import Evidence, Marked, Watched, tally


def marks(*outcomes: str, choices: int = 4) -> list[Marked]:
    return [Marked("madras", o, choices) for o in outcomes]


TABLE = [
    # formula scoring: right - wrong / (choices - 1), at least 0
    (marks("right"), (1, 0, 0)),
    (marks("ask"), (0, 1, 0)),
    (marks("wrong"), (0, 0, 1)),
    (marks("right", "wrong"), (2 / 3, 0, 4 / 3)),
    (marks("right", "right", "wrong", choices=3), (1.5, 0, 1.5)),
    (marks("right", "wrong", "wrong", "wrong"), (0, 0, 4)),  # what blind picks give
    (marks("right", *["wrong"] * 6), (0, 0, 7)),  # never below 0
    (marks("right", "ask", "wrong"), (2 / 3, 1, 4 / 3)),  # asking is no guess
    ([*marks("right"), *marks("wrong", choices=3)], (0.5, 0, 1.5)),
]


@pytest.mark.parametrize(("marked", "expected"), TABLE)
def test_lucky_guesses_move_from_right_to_wrong(marked, expected):
    found = tally(marked)["madras"]

    assert (found.right, found.ask, found.wrong) == pytest.approx(expected)


def test_a_watched_build_is_no_guess():
    found = tally(marks("wrong"), [Watched("madras", "right"), Watched("madras", "ask")])

    assert found == {"madras": Evidence("madras", right=1, ask=1, wrong=1)}


def test_luck_is_taken_from_all_right_picks_alike():
    found = tally([*marks("wrong"), Marked("negroni", "right", 4)], [Watched("mojito", "wrong")])

    assert {d: (e.right, e.wrong) for d, e in found.items()} == {
        "madras": (0, 1),
        "negroni": (pytest.approx(2 / 3), pytest.approx(1 / 3)),
        "mojito": (0, 1),
    }


def test_a_blind_guesser_is_left_with_nothing():
    """A quarter right by luck among four choices, one question a drink: no drink is known."""
    drinks = [f"drink-{n}" for n in range(40)]
    marked = [Marked(d, "right" if n < 10 else "wrong", 4) for n, d in enumerate(drinks)]

    assert sum(e.right for e in tally(marked).values()) == pytest.approx(0)


outcomes = st.sampled_from(["right", "ask", "wrong"])


@given(
    st.lists(st.builds(Marked, st.sampled_from("ab"), outcomes, st.integers(2, 5))),
    st.lists(st.builds(Watched, st.sampled_from("ab"), outcomes)),
)
def test_no_trial_is_lost_or_made_up(marked, watched):
    found = tally(marked, watched)

    for drink in "ab":
        trials = [t for t in (*marked, *watched) if t.drink == drink]
        if trials:
            e = found[drink]
            assert e.right + e.ask + e.wrong == pytest.approx(len(trials))
            assert min(e.right, e.ask, e.wrong) >= 0
            assert e.ask == sum(t.outcome == "ask" for t in trials)
        else:
            assert drink not in found


def test_a_question_without_a_choice_is_refused():
    with pytest.raises(ValueError, match="two choices"):
        Marked("madras", "right", 1)
