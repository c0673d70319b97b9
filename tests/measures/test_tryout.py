"""A try-out asks what the answers so far leave open, and credits nothing that wasn't shown."""

from random import Random

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from assessments.measures.proving import exercises
from assessments.measures.tryout import credit, given_up, knows, next_drink, shown_modules
from tests.measures.bar import menu, menus

MUSTS = {n: {"must_know": True, "share": 0.05} for n in ("cuba_libre", "madras", "gin_tonic")}


def take(drinks, answers, seed=1):
    """Every question of a try-out in its order; `answers(topic, drink)` is what comes."""
    known, asked, random = {}, [], Random(seed)
    while drink := next_drink(drinks, known, asked, random):
        asked.append(drink.slug)
        known |= {t.fingerprint: answers(t, drink) for t in drink.topics}
    return asked, known


def test_must_knows_come_first_and_each_drink_once():
    asked, _ = take(menu(**MUSTS), lambda *_: True)

    assert set(asked[:3]) == {n.replace("_", "-") for n in MUSTS}
    assert len(asked) == len(set(asked))


def test_another_seed_asks_in_another_order_and_the_same_one_asks_the_same():
    drinks = menu()
    orders = [tuple(take(drinks, lambda *_: True, seed)[0]) for seed in (1, 1, 2, 3)]

    assert orders[0] == orders[1]
    assert len(set(orders)) > 1


def test_every_must_know_that_no_answer_has_shown_yet_is_asked_about():
    names = [d.slug.replace("-", "_") for d in menu()]
    drinks = menu(**{n: {"must_know": True} for n in names})
    asked, known = take(drinks, lambda *_: False)

    assert all(t.fingerprint in known for d in drinks for t in d.topics)
    assert asked


def test_who_knows_everything_is_credited_with_it_and_watched_on_a_few():
    drinks = menu(**MUSTS)
    _, known = take(drinks, lambda *_: True)
    found = credit(drinks, known)

    assert found.rules_known == found.rules > 0
    assert (found.to_teach, found.open) == ((), ())
    assert len(found.known) == len(drinks)
    shown = frozenset().union(*(exercises(d) for d in drinks if d.slug in found.watch))
    musts = frozenset().union(*(exercises(d) for d in drinks if d.must_know))
    assert shown == musts
    assert 0 < len(found.watch) <= 3


def test_who_knows_nothing_is_asked_less_and_credited_with_nothing():
    drinks = menu(**MUSTS)
    asked, known = take(drinks, lambda *_: False)
    everything, _ = take(drinks, lambda *_: True)
    found = credit(drinks, known)

    assert given_up(drinks, known, asked) == {"test"}
    assert len(asked) < len(everything)
    assert (found.known, found.rules_known, found.watch) == ((), 0, ())
    assert found.to_teach


def test_a_rule_of_the_house_is_credited_only_where_an_answer_showed_it():
    drinks = menu(**MUSTS)
    tonic = next(d for d in drinks if d.slug == "gin-tonic")
    [rule] = [t for t in tonic.topics if t.rule and t.rule.startswith("garnish:")]
    _, known = take(drinks, lambda t, d: t.fingerprint != rule.fingerprint)
    found = credit(drinks, known)

    assert found.rules_known == found.rules - 1
    users = {d.slug for d in drinks if rule.fingerprint in {t.fingerprint for t in d.topics}}
    assert users >= {slug for slug, parts in found.to_teach if "finish" in parts} >= {"gin-tonic"}
    assert not users & set(found.known)


@settings(max_examples=40)
@given(menus(most=10), st.integers(0, 2**20))
def test_every_drink_is_known_to_teach_or_open_and_none_is_two_of_them(drinks, bits):
    known = {}
    for n, topic in enumerate(sorted({t.fingerprint for d in drinks for t in d.topics})):
        if bits >> n & 1:
            known[topic] = bool(bits >> (n + 1) & 1)
    found = credit(drinks, known)
    parts = [found.known, [s for s, _ in found.to_teach], found.open]

    assert sorted(s for part in parts for s in part) == sorted(d.slug for d in drinks)
    for drink in drinks:
        assert (drink.slug in found.known) is knows(drink, known)
    asked = next_drink(drinks, known, (), Random(bits))
    assert asked is None or any(t.fingerprint not in known for t in asked.topics)


@pytest.mark.parametrize(
    ("right", "pass_mark", "shown"),
    [((), 80, False), (("madras",), 80, False), (("madras", "gin-tonic"), 80, False),
     (("madras", "gin-tonic"), 66, True), (("madras", "gin-tonic", "cuba-libre"), 100, True)],
)  # fmt: skip
def test_a_module_is_shown_where_enough_of_its_must_knows_are_all_right(right, pass_mark, shown):
    drinks = menu(**MUSTS)
    parts = [t for d in drinks for t in d.topics if not t.is_pour_size]
    known = {t.fingerprint: False for t in parts} | {
        t.fingerprint: True
        for d in drinks
        for t in d.topics
        if d.slug in right and not t.is_pour_size
    }
    own = {t.fingerprint for d in drinks for t in d.topics if t.recipe and d.slug not in right}
    known |= dict.fromkeys(own, False)

    assert (shown_modules(drinks, known, pass_mark) == {"test"}) is shown
    pours = {t.fingerprint: False for d in drinks for t in d.topics if t.is_pour_size}
    assert not shown_modules(drinks, known | pours, pass_mark)
