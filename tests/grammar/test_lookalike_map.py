"""The map of look-alikes: near is alike, nothing covers anything, the same every time."""

from itertools import combinations

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from recipes.grammar.lookalike_map import Box, Tie, _scaled, lay_out, plane, stress
from recipes.grammar.lookalikes import distance
from tests.grammar.kitchen import MENU, house

WIDTH, HEIGHT = 182.0, 190.0
SLUGS = sorted(MENU)


def between(points):
    points = np.asarray(points, dtype=float)
    return np.sqrt(((points[:, None, :] - points[None, :, :]) ** 2).sum(axis=2))


def of_the_menu(slugs=SLUGS):
    built = [house(slug) for slug in slugs]
    return np.array([[distance(a, b) for b in built] for a in built])


DRINK = Box(22, 18)


def place(count, apart, *, ties=(), box=DRINK):
    return lay_out([box] * count, apart, ties, WIDTH, HEIGHT)


coordinates = st.lists(
    st.tuples(st.integers(-50, 50), st.integers(-50, 50)), min_size=3, max_size=14
)


@st.composite
def any_distances(draw):
    """Symmetric, between 0 and 1; some drinks are two names for one build."""
    count = draw(st.integers(1, 24))
    flat = st.lists(
        st.sampled_from([0, 0, 0.1, 0.25, 0.5, 0.8, 1]), min_size=count**2, max_size=count**2
    )
    one = np.array(draw(flat), dtype=float).reshape(count, count)
    both = np.maximum(one, one.T)
    np.fill_diagonal(both, 0)
    return both


@given(coordinates)
@settings(max_examples=60)
def test_points_of_a_plane_are_found_again(points):
    apart = between(points)

    assert stress(apart, plane(apart)) < 1e-4


@given(any_distances())
@settings(max_examples=60)
def test_majorising_never_makes_it_worse(apart):
    """With the scale left free, as stress-1 does, only up to the noise of arithmetic."""
    assert stress(apart, plane(apart)) <= stress(apart, _scaled(apart)) + 0.02


@given(any_distances(), st.data())
@settings(max_examples=60)
def test_nothing_covers_anything_and_all_lies_in_the_room(apart, data):
    count = len(apart)
    pairs = list(combinations(range(count), 2))
    some = data.draw(st.lists(st.sampled_from(pairs), max_size=10, unique=True)) if pairs else []
    found = place(count, apart, ties=[Tie(a, b, Box(24, 4)) for a, b in some])

    everything = [*found.spots, *found.labels]
    assert (len(found.spots), len(found.labels)) == (count, len(some))
    assert not any(a.covers(b) for a, b in combinations(everything, 2))
    for spot in everything:
        assert spot.left >= -0.1
        assert spot.top >= -0.1
        assert spot.left + spot.width <= found.width + 0.1
        assert spot.top + spot.height <= found.height + 0.1


def test_a_crowd_gets_a_larger_room_of_the_same_shape():
    found = place(70, np.zeros((70, 70)))

    assert not any(a.covers(b) for a, b in combinations(found.spots, 2))
    assert found.width > WIDTH
    assert found.width / found.height == pytest.approx(WIDTH / HEIGHT, abs=0.01)


def test_a_box_wider_than_the_room_is_placed_all_the_same():
    found = place(3, np.ones((3, 3)) - np.eye(3), box=Box(4000, 10))

    assert not any(a.covers(b) for a, b in combinations(found.spots, 2))


def test_the_same_distances_give_the_same_map():
    apart = of_the_menu()

    assert place(len(apart), apart) == place(len(apart), apart.copy())


def test_the_whole_menu_lies_as_its_distances_say():
    """A plane holds a menu only roughly: the bound is what a map of it is worth at least."""
    apart = of_the_menu()

    assert stress(apart, plane(apart)) < 0.35


def test_whoever_is_easily_mixed_up_lies_nearer_than_most():
    """After everything was pushed apart, too."""
    apart = of_the_menu()
    spots = place(len(apart), apart).spots
    found = between([(s.x, s.y) for s in spots])
    pairs = list(combinations(range(len(apart)), 2))
    near = [found[p] for p in pairs if apart[p] <= 0.25]
    far = [found[p] for p in pairs if apart[p] >= 0.75]

    assert len(near) > 5
    assert np.median(near) < 0.5 * np.median(far)


def test_the_breeze_family_lies_together():
    apart = of_the_menu()
    points = plane(apart)
    at = {slug: points[number] for number, slug in enumerate(SLUGS)}

    def gap(one, other):
        return float(np.hypot(*(at[one] - at[other])))

    assert gap("sea-breeze", "bay-breeze") < gap("sea-breeze", "old-fashioned") / 2
    assert gap("madras", "bay-breeze") < gap("madras", "draught-lager") / 2


@pytest.mark.parametrize("count", [0, 1, 2])
def test_one_or_two_drinks_are_a_map_as_well(count):
    found = place(count, np.ones((count, count)) - np.eye(count))

    assert len(found.spots) == count


def test_half_a_table_of_distances_is_refused():
    with pytest.raises(ValueError, match="every pair"):
        place(3, np.zeros((2, 2)))
    with pytest.raises(ValueError, match="both ways"):
        place(2, np.array([[0, 1], [0.5, 0]]))
