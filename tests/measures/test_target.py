"""What a topic must be known at, so that the drinks that stand on it are."""

from collections import Counter
from math import prod

import pytest
from hypothesis import given
from hypothesis import strategies as st

from assessments.measures.target import DRINK_TARGET, topic_targets, weights
from tests.grammar.kitchen import build, pour, top
from tests.measures.bar import drink, menu, menus


def test_alone_on_the_menu_each_of_k_topics_wants_the_kth_root():
    madras = drink("madras")
    wanted = topic_targets([madras])

    k = len(madras.topics)
    assert list(wanted.values()) == pytest.approx([0.9 ** (1 / k)] * k)


def test_a_rule_of_many_drinks_is_kept_better_than_a_drinks_own_part():
    drinks = menu()
    wanted, used = topic_targets(drinks), Counter(t.fingerprint for d in drinks for t in d.topics)
    wide = max(used, key=lambda topic: used[topic])
    own = [t.fingerprint for d in drinks for t in d.topics if t.recipe]

    assert used[wide] > 5
    assert wanted[wide] > max(wanted[topic] for topic in own)


def test_weights_are_as_one_over_the_root_of_the_drinks():
    assert weights(["rule", "own"], {"rule": 4, "own": 1}) == pytest.approx(
        {"rule": 1 / 3, "own": 2 / 3}
    )


@given(menus())
def test_a_drink_whose_topics_all_reach_their_target_reaches_its_own(drinks):
    wanted = topic_targets(drinks)

    for made in drinks:
        topics = {t.fingerprint for t in made.topics}
        assert prod(wanted[t] for t in topics) >= DRINK_TARGET - 1e-9


@given(menus(), st.floats(0.5, 0.99))
def test_a_higher_target_asks_more_of_every_topic(drinks, target):
    low, high = topic_targets(drinks, target), topic_targets(drinks, (1 + target) / 2)

    assert all(low[topic] < high[topic] for topic in low)


@pytest.mark.parametrize("target", [0, 1, -0.5, 1.5])
def test_a_target_is_a_chance(target):
    with pytest.raises(ValueError, match="between"):
        topic_targets([drink("cola", build(pour("vodka"), top("cola")))], target)
