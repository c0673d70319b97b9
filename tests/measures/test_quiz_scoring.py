"""Right, asked and wrong, the pass mark, and critical items."""

import pytest

from assessments.measures.quiz import ASK, Choice, ItemAsked, ItemKind, Mistake, Tally, score
from recipes.grammar.aspects import Aspect
from recipes.grammar.reasons import Reason


def item(kind=ItemKind.WHOLE, aspect=None, *, critical=False, drink="madras") -> ItemAsked:
    """A question whose right answer is number 1."""
    of = ("sea-breeze", drink, "bay-breeze") if drink else ("", "", "")
    return ItemAsked(
        kind=kind,
        aspect=aspect,
        recipe=drink,
        scenario=None if drink else "ice",
        prompt=Reason.of("ask_name_it"),
        choices=tuple(Choice({"name": slug}, slug) for slug in of),
        right=1,
        critical=critical,
        topics=(),
        fingerprints={},
    )


R, W, A = 1, 0, ASK
PLAIN, CRITICAL = False, True

TABLE = [
    # criticality and answer of each item, pass mark, passed, codes of the reasons
    ([(PLAIN, R)], 100, True, ["quiz_passed"]),
    ([(PLAIN, W)], 1, False, ["quiz_share_too_low"]),
    ([(PLAIN, A)], 1, False, ["quiz_share_too_low", "quiz_asked"]),
    ([(PLAIN, R)] * 4 + [(PLAIN, W)], 80, True, ["quiz_passed"]),
    ([(PLAIN, R)] * 4 + [(PLAIN, W)], 81, False, ["quiz_share_too_low"]),
    ([(PLAIN, R)] * 4 + [(PLAIN, A)], 80, True, ["quiz_passed", "quiz_asked"]),
    ([(PLAIN, R)] * 7 + [(PLAIN, W)] * 3, 70, True, ["quiz_passed"]),  # exactly the mark
    ([(PLAIN, R)] * 4 + [(CRITICAL, R)], 80, True, ["quiz_passed"]),
    ([(PLAIN, R)] * 4 + [(CRITICAL, W)], 80, False, ["quiz_share_enough", "quiz_critical_missed"]),
    (
        [(PLAIN, R)] * 4 + [(CRITICAL, A)],
        80,
        False,
        ["quiz_share_enough", "quiz_critical_missed", "quiz_asked"],
    ),
    ([(PLAIN, W)] * 4 + [(CRITICAL, R)], 80, False, ["quiz_share_too_low"]),
    ([(PLAIN, W)] * 4 + [(CRITICAL, W)], 80, False, ["quiz_share_too_low", "quiz_critical_missed"]),
    ([], 80, False, ["quiz_empty"]),
]


@pytest.mark.parametrize(("asked", "pass_mark", "passed", "codes"), TABLE)
def test_who_passes(asked, pass_mark, passed, codes):
    items = [item(critical=critical) for critical, _ in asked]
    answers = {n: given for n, (_, given) in enumerate(asked)}

    result = score(items, answers, pass_mark)

    assert result.passed is passed
    assert [r.code for r in result.reasons] == codes


def test_asking_is_counted_apart_and_is_no_mistake():
    result = score([item()] * 4, {0: R, 1: A, 2: W, 3: R}, 50)

    assert (result.right, result.asked_help, result.wrong) == (2, 1, 1)
    assert result.share == 0.5
    assert result.asked == (1,)
    assert result.mistakes == (Mistake(2, W, R, "madras", "sea-breeze"),)


def test_an_item_left_out_is_neither_asked_nor_wrong_and_earns_nothing():
    result = score([item(), item(critical=True), item()], {0: R, 2: A}, 50)

    assert (result.right, result.asked_help, result.wrong) == (1, 1, 0)
    assert (result.asked, result.unanswered, result.mistakes) == ((2,), (1,), ())
    assert result.by_aspect == {"whole": Tally(right=1, ask=1, open=1)}
    assert [(r.code, r.values["count"]) for r in result.reasons[-2:]] == [
        ("quiz_asked", 1), ("quiz_unanswered", 1),
    ]  # fmt: skip
    assert result.missed_critical == (1,)
    assert not result.passed


def test_critical_items_missed_are_named():
    items = [item(critical=True), item(), item(critical=True), item(critical=True)]

    assert score(items, {0: R, 1: W, 2: A, 3: W}, 10).missed_critical == (2, 3)


def test_results_by_aspect():
    items = [
        item(ItemKind.ASPECT, Aspect.MIXERS),
        item(ItemKind.ASPECT, Aspect.MIXERS),
        item(ItemKind.WHOLE),
        item(ItemKind.NAME_IT),
        item(ItemKind.SCENARIO, drink=None),
    ]

    result = score(items, {0: R, 1: W, 2: A, 3: R, 4: W}, 80)

    assert result.by_aspect == {
        "mixers": Tally(right=1, wrong=1),
        "whole": Tally(ask=1),
        "name_it": Tally(right=1),
        "scenario": Tally(wrong=1),
    }
    assert sum(t.of for t in result.by_aspect.values()) == 5


def test_a_mistake_in_a_scenario_mixes_up_no_drinks():
    (mistake,) = score([item(ItemKind.SCENARIO, drink=None)], {0: W}, 80).mistakes

    assert (mistake.drink, mistake.mixed_up_with) == (None, None)


@pytest.mark.parametrize("answers", [{0: 3}, {0: -2}, {1: R}, {-1: R}])
def test_answers_that_were_never_asked_for_are_refused(answers):
    with pytest.raises(ValueError, match=r"no answer to this item|no item number"):
        score([item()], answers, 80)
