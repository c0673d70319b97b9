"""Proving builds: as few as there can be, told beside a bound where that was not found out."""

from itertools import combinations

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from assessments.measures.proving import exercises, propose, work_of
from tests.measures.bar import drink, menu

THINGS = "abcdefghij"
covers_of = st.dictionaries(
    st.sampled_from([f"drink-{n}" for n in range(9)]),
    st.frozensets(st.sampled_from(THINGS), max_size=5),
    max_size=9,
)


def shown(picks):
    return frozenset().union(*(pick.shows for pick in picks))


def fewest(covers):
    """By trying every set of drinks, smallest first."""
    wanted = frozenset().union(*covers.values())
    for count in range(len(covers) + 1):
        for chosen in combinations(covers.values(), count):
            if frozenset().union(*chosen) == wanted:
                return count
    raise AssertionError("all of them are enough")


@settings(max_examples=200)
@given(covers_of)
def test_no_fewer_would_do(covers):
    found = propose(covers, ())

    assert shown(found.picks) == frozenset().union(*covers.values())
    assert len(found.picks) == found.least == fewest(covers)
    assert found.is_fewest


@settings(max_examples=200)
@given(covers_of)
def test_without_a_search_it_is_greedy_and_says_how_far_from_the_best_it_may_be(covers):
    found, best = propose(covers, (), effort=0), fewest(covers)
    most = max((len(what) for what in covers.values()), default=0)

    assert shown(found.picks) == frozenset().union(*covers.values())
    assert found.least <= best <= len(found.picks)
    assert len(found.picks) <= best * sum(1 / n for n in range(1, most + 1)) + 1e-9


def test_greedy_takes_a_drink_too_many_where_the_search_does_not():
    covers = {
        "both-halves": frozenset("abcd"),
        "left": frozenset("abe"),
        "right": frozenset("cdf"),
    }

    assert len(propose(covers, (), effort=0).picks) == 3
    assert [p.slug for p in propose(covers, ()).picks] == ["left", "right"]


@given(covers_of, st.frozensets(st.sampled_from(THINGS)))
def test_what_is_proven_is_not_proven_again(covers, proven):
    found = propose(covers, proven)

    assert shown(found.picks) == frozenset().union(*covers.values()) - proven
    assert all(pick.shows for pick in found.picks)


def test_of_equals_the_one_sold_more_often():
    covers = {"rare": frozenset("ab"), "usual": frozenset("ab")}

    assert [p.slug for p in propose(covers, (), {"usual": 0.2}).picks] == ["usual"]
    assert [p.slug for p in propose(covers, ()).picks] == ["rare"]


def test_nothing_to_prove():
    assert propose({}, ()).picks == ()
    assert propose({"madras": frozenset("a")}, "a").is_fewest


@pytest.mark.parametrize(
    ("slug", "does"),
    [
        ("margarita", {"method:shake", "rim"}),
        ("tequila-sunset", {"first_in"}),
        ("three-layers", {"method:layer", "family:shot"}),
        ("madras", {"family:highball", "two_mixers"}),
    ],
)
def test_what_a_build_shows_beside_its_pours(slug, does):
    assert does <= set(work_of(drink(slug).spec))


def test_a_drink_exercises_the_house_rules_in_it():
    gin = drink("gin-tonic")

    rules = {t.fingerprint for t in gin.topics if t.rule}
    assert rules
    assert rules < exercises(gin)
    assert not {t.fingerprint for t in gin.topics if t.recipe} & exercises(gin)


def test_a_menu_needs_fewer_builds_than_it_has_drinks():
    drinks = menu()
    found = propose({d.slug: exercises(d) for d in drinks}, ())

    assert found.is_fewest
    assert len(found.picks) < len(drinks)
