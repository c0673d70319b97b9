"""Which build is given for which drink."""

import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy.stats import binomtest

from assessments.measures.mixups import MOST_ROWS, SHADES, MixUp, Seen, heat_map, mix_ups, pairs


def test_the_most_frequent_mix_up_comes_first():
    pairs = [
        ("madras", "sea-breeze"),
        ("sea-breeze", "madras"),
        ("madras", "bay-breeze"),
        ("madras", "sea-breeze"),
    ]

    assert mix_ups(pairs) == (
        MixUp("madras", "sea-breeze", 2),
        MixUp("madras", "bay-breeze", 1),
        MixUp("sea-breeze", "madras", 1),
    )


def test_what_is_no_mix_up_of_drinks_is_left_out():
    assert mix_ups([("madras", "madras"), (None, None), ("madras", None), (None, "madras")]) == ()


SLUGS = st.sampled_from(["madras", "sea-breeze", "bay-breeze"])

SEEN = [
    *(Seen(1, "bay-breeze", "sea-breeze", "quiz") for _ in range(4)),
    *(Seen(2, "bay-breeze", "sea-breeze", source) for source in ("watch", "call", "quiz")),
    *(Seen(1, "bay-breeze", None, "quiz") for _ in range(12)),
    Seen(3, "madras", "screwdriver", "quiz"),
    Seen(3, "madras", "madras", "quiz"),
]


def test_a_pair_says_how_often_of_how_many_by_whom_and_where():
    first, second = pairs(SEEN)

    assert (first.asked, first.given) == ("bay-breeze", "sea-breeze")
    assert (first.times, first.of, first.who) == (7, 19, (1, 2))
    assert first.sources[0] == "quiz"
    assert set(first.sources) == {"quiz", "watch", "call"}
    assert (second.asked, second.times, second.of) == ("madras", 1, 2)


@pytest.mark.parametrize(
    ("times", "of", "shade"),
    [(1, 9, 1), (1, 1, 1), (7, 19, 3), (2, 40, 1), (9, 18, 4), (30, 30, 4)],
)
def test_a_shade_says_how_often_it_surely_is_whatever_else_is_mixed_up(times, of, shade):
    seen = [Seen(1, "a", "b" if n < times else None, "quiz") for n in range(of)]
    [pair] = pairs(seen)
    assert heat_map([pair]).cells == (((times, shade),),)


def test_the_map_has_a_cell_for_each_and_shades_by_how_sure_it_is():
    heat = heat_map(pairs(SEEN))

    assert heat.asked == ("bay-breeze", "madras")
    assert heat.given == ("sea-breeze", "screwdriver")
    assert heat.cells == (((7, 3), (0, 0)), ((0, 0), (1, 1)))
    assert heat.shown == 2


def test_few_answers_come_behind_many_whatever_their_share():
    """By the lower end of the exact interval (Clopper and Pearson 1934): 1 of 1 is .025 at least,
    7 of 19 .163, 2 of 40 .006 (scipy.stats.binomtest)."""
    rows = {"once": (1, 1), "often": (7, 19), "seldom": (2, 40)}
    seen = [
        Seen(1, slug, "other" if n < times else None, "quiz")
        for slug, (times, of) in rows.items()
        for n in range(of)
    ]

    found = pairs(seen)
    assert [p.asked for p in found] == ["often", "once", "seldom"]
    assert [p.at_least for p in found] == pytest.approx([0.1629, 0.0250, 0.0061], abs=5e-5)
    for p in found:
        assert p.at_least == pytest.approx(binomtest(p.times, p.of).proportion_ci().low)


def test_a_map_that_is_cut_shows_the_first_pairs_and_no_empty_row_or_column():
    """One drink is given for many: the pairs that follow get no column, so no row either."""
    often = [Seen(1, "asked", f"given-{n}", "quiz") for n in range(MOST_ROWS) for _ in range(9)]
    right = [Seen(1, f"other-{n}", None, "quiz") for n in range(6) for _ in range(60)]
    seldom = [Seen(1, f"other-{n}", f"late-{n}", "quiz") for n in range(4) for _ in range(2)]
    once = [Seen(1, "other-5", "given-1", "quiz")]
    heat = heat_map(pairs([*often, *right, *seldom, *once]))

    assert heat.asked == ("asked", "other-5")
    assert heat.given == ("given-1", *sorted(f"given-{n}" for n in range(MOST_ROWS) if n != 1))
    assert heat.shown == MOST_ROWS + 1


@given(st.lists(st.tuples(st.integers(1, 4), SLUGS, st.none() | SLUGS), max_size=80))
def test_no_pair_is_more_often_than_it_was_asked_and_none_is_lost(seen):
    found = pairs(Seen(who, asked, given, "quiz") for who, asked, given in seen)

    assert all(0 < p.times <= p.of for p in found)
    assert sum(p.times for p in found) == sum(g is not None and g != a for _, a, g in seen)
    heat = heat_map(found)
    assert len(heat.asked) <= MOST_ROWS
    assert all(any(times for times, _ in row) for row in heat.cells)
    assert all(any(times for times, _ in column) for column in zip(*heat.cells, strict=True))
    assert heat.shown == sum(times > 0 for row in heat.cells for times, _ in row)
    assert all(0 <= shade <= SHADES for row in heat.cells for _, shade in row)
