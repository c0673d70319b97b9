"""What an answer shows of how much a pour is, and what is made of having missed it."""

from itertools import pairwise

import numpy as np
import pytest

from assessments.measures.orders import (
    Menu,
    Shown,
    fit,
    forecast,
    outlook,
    recalls,
    trials,
)
from assessments.measures.orders.put_right import PutRight
from assessments.measures.orders.replay import replay
from assessments.measures.quiz import ItemKind
from assessments.measures.quiz.items import sizes_unshown

SPIRIT, LIQUEUR = "pour:spirit", "pour:liqueur"

SHOWS_NO_SIZE = [
    (kind, said_as, sizes)
    for kind in ItemKind
    for said_as in (None, "volume")
    for sizes in ((), (SPIRIT,), (SPIRIT, LIQUEUR))
    if (kind, said_as, len(sizes)) != (ItemKind.AMOUNT, "volume", 1)
]


@pytest.mark.parametrize(("kind", "said_as", "sizes"), SHOWS_NO_SIZE)
def test_no_other_answer_shows_how_much_a_pour_is(kind, said_as, sizes):
    assert sizes_unshown(kind, sizes, said_as) == sizes


def test_only_an_amount_asked_as_a_volume_of_one_size_shows_it():
    assert sizes_unshown(ItemKind.AMOUNT, (SPIRIT,), "volume") == ()
    assert sizes_unshown("amount", (SPIRIT,), "volume") == ()  # as it stands in a row


# What was answered of four choices, one after the other -> what is left of knowing it. By hand,
# with a slip in twenty and luck in four: odds 19, a miss times .05/.75, a right one times .95/.25.
TOOK = [
    ("", 1.0),
    ("r", 1.0),
    ("rrrrr", 1.0),
    ("w", (19 / 15) / (1 + 19 / 15) / 0.95),
    ("ww", (19 / 225) / (1 + 19 / 225) / 0.95),
    ("wr", (19 / 15 * 3.8) / (1 + 19 / 15 * 3.8) / 0.95),
    ("wrr", 1.0),
    ("www", 0.05 / 0.95),
    ("w" * 30, 0.05 / 0.95),
    ("rrrrrrrrrrw", (19 / 15) / (1 + 19 / 15) / 0.95),
    ("w" * 30 + "r", (3.8 / 19) / (1 + 3.8 / 19) / 0.95),
    ("w" * 30 + "rrrrr", 1.0),
    ("wwwb", 1.0),
    ("wbw", (19 / 15) / (1 + 19 / 15) / 0.95),
]


@pytest.mark.parametrize(("came", "took"), TOOK)
def test_what_misses_leave_of_it(came, took):
    known = PutRight()
    for one in came:
        if one == "b":
            known.built(7)
        else:
            known.answered(7, right=one == "r", choices=4)

    assert known.took(7) == pytest.approx(took)
    assert known.took(8) == 1


# Twenty drinks, of which sixteen are poured by the rule that is topic 0; two rules of glass, two of
# ice, three topics of each drink's own.
POURED = 16
MENU = Menu(
    topics=tuple(
        ((0,) if d < POURED else ()) + (1 + d % 2, 3 + d % 2, *range(5 + 3 * d, 8 + 3 * d))
        for d in range(20)
    ),
    n_topics=65,
)
SALES = np.full(20, 1 / 20)
DAYS = range(1, 6)


def whole(drink, day, outcome="right"):
    """A drink built in words: "1 pour"."""
    return Shown(drink, tuple(t for t in MENU.topics[drink] if t), day, outcome, 4)


def amount(day, outcome, drink=3):
    return Shown(drink, (0, MENU.topics[drink][3]), day, outcome, 4, alone=(0,))


def glass(day, outcome="right", *, told=False):
    return Shown(3, MENU.topics[3], day, outcome, chosen=True, told=told, counts=not told)


WORDS = [whole(d, day + d / 100) for day in DAYS for d in range(20)]


def asked(outcome, of=DAYS):
    return [amount(day + 0.3 + n / 100, outcome, drink=3 * n) for day in of for n in range(4)]


def told(shown, day=7.0):
    return forecast(fit(trials(MENU, [shown])), MENU, SALES, day).right


def pour_known(shown, day=7.0):
    return recalls(outlook(fit(trials(MENU, [shown])), MENU), day)[0, 0]


def test_who_knows_every_build_and_no_pour_is_far_from_ready():
    """Everything right in words, every amount wrong: four in five orders are poured wrong."""
    found, knows = told([*WORDS, *asked("wrong")]), told([*WORDS, *asked("right")])

    assert knows.low[0] > 0.9
    assert 0.15 < found.mean[0] < 0.3  # what takes no such pour is a fifth
    assert found.low[0] < 0.2 < found.high[0]
    assert pour_known([*WORDS, *asked("wrong")]) < 0.1
    assert pour_known([*WORDS, *asked("right")]) > 0.95


def test_who_was_never_asked_is_told_with_more_doubt():
    never, knows = told(WORDS), told([*WORDS, *asked("right")])

    assert never.mean[0] < knows.mean[0] - 0.02
    assert never.high[0] - never.low[0] > 1.3 * (knows.high[0] - knows.low[0])


def test_one_miss_is_doubt_and_no_verdict():
    found = told([*WORDS, *asked("right", of=[1]), amount(6.0, "wrong")])

    assert 0.5 < found.mean[0] < 0.8
    assert found.low[0] < 0.25
    assert found.high[0] > 0.9  # known or not: the span says both


@pytest.mark.parametrize(
    "then",
    [[glass(6.5)], [amount(6.5 + n / 10, "right", drink=n) for n in range(5)]],
    ids=["a right build", "right answers"],
)
def test_who_shows_it_after_all_stands_where_who_always_did(then):
    mended, always = told([*WORDS, *asked("wrong"), *then]), told([*WORDS, *asked("right"), *then])

    assert mended.mean[0] == pytest.approx(always.mean[0], abs=0.02)
    assert mended.low[0] == pytest.approx(always.low[0], abs=0.05)


@pytest.mark.parametrize("then", [glass(6.5, told=True), glass(6.5, "wrong"), glass(6.5, "ask")])
def test_being_shown_a_build_or_failing_it_mends_no_miss(then):
    missed = [*WORDS, *asked("wrong")]

    assert pour_known([*missed, then]) == pytest.approx(pour_known(missed), abs=0.02)


@pytest.mark.parametrize("outcome", ["wrong", "ask"])
@pytest.mark.parametrize("shown_before", [0, 1, 5])
def test_nobody_s_figure_rises_by_missing_a_pour(outcome, shown_before):
    before = [*WORDS, *asked("right")[:shown_before]]
    figures = [
        told([*before, *(amount(6 + n / 10, outcome, drink=n) for n in range(misses))])
        for misses in (0, 2, 3, 6, 12)
    ]

    means = [f.mean[0] for f in figures]
    assert means[1] < means[0] - 0.1
    assert all(b <= a + 0.01 for a, b in pairwise(means))


def test_what_a_pour_misses_is_held_against_nothing_else():
    """Drinks that take no such pour stand as they stood."""
    of_beer = np.repeat([0, 0.25], [POURED, 4])

    def beer(shown):
        return forecast(fit(trials(MENU, [shown])), MENU, of_beer, 7.0).right

    assert beer([*WORDS, *asked("wrong")]).mean[0] > beer([*WORDS, *asked("right")]).mean[0] - 0.06


def test_a_build_is_foretold_by_what_was_missed_before_it():
    def said(answered):
        [found] = replay(MENU, [[*WORDS, *asked(answered), glass(7.0)]], [1])
        return found.right

    assert said("right") > 0.85
    assert said("wrong") < 0.2


def test_shares_stay_shares_where_pours_were_missed():
    for shown in ([*WORDS, *asked("wrong")], [*WORDS, amount(6, "wrong")], asked("ask")):
        found = forecast(fit(trials(MENU, [shown])), MENU, SALES, 7.0)
        assert found.right.mean + found.ask.mean + found.wrong.mean == pytest.approx([1])
        for share in (found.right, found.ask, found.wrong):
            assert 0 <= share.low[0] <= share.mean[0] <= share.high[0] <= 1
