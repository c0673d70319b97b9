"""What to do in the next five minutes."""

from datetime import UTC, datetime, timedelta

import pytest

from assessments.measures.memory import TopicMemory
from assessments.measures.shift_plan import CardDue, Why, plan_cards
from recipes.grammar.aspects import Aspect
from recipes.grammar.drink import Drink
from tests.grammar.kitchen import build, garnished, pour, top
from tests.measures.bar import drink, menu

NOON = datetime(2026, 5, 4, 12, tzinfo=UTC)
FRESH, FADED = 0.5, 30.0
"""Days since the last answer, of topics that last ten days."""


def known(*drinks: Drink, days: float = FRESH) -> dict[str, TopicMemory]:
    """Memories of every topic of these drinks, last answered so many days ago."""
    last = NOON - timedelta(days=days)
    return {
        t.fingerprint: TopicMemory(t.fingerprint, 10.0, 5.0, last + timedelta(days=10), last, 3, 0)
        for d in drinks
        for t in d.topics
    }


def plan(*drinks: Drink, memories=None, was=None, **said) -> tuple[CardDue, ...]:
    return plan_cards(drinks=drinks, memories=memories or {}, was=was or {}, at=NOON, **said)


def test_nothing_is_due_when_all_of_it_is_fresh():
    assert plan(*menu(), memories=known(*menu())) == ()


def test_five_minutes_are_fifteen_cards():
    assert len(plan(*menu())) == 15
    assert len(plan(*menu(), seconds=60)) == 3
    assert len(plan(*menu(), seconds=60, seconds_per_card=30)) == 2
    assert plan(*menu(), seconds=19) == ()


def test_a_card_takes_time():
    with pytest.raises(ValueError, match="time"):
        plan(*menu(), seconds_per_card=0)


def test_unseen_drinks_come_by_what_the_house_sells():
    drinks = [drink("madras", share=0.1), drink("negroni", share=0.3), drink("mojito", share=0.2)]

    cards = plan(*drinks)

    assert [c.drink for c in cards] == ["negroni", "mojito", "madras"]
    assert {c.why for c in cards} == {Why.NEW}
    assert all(c.recall == 0 for c in cards)


def test_must_knows_come_first_whatever_they_sell():
    drinks = [drink("madras", share=0.9), drink("negroni", share=0.1, must_know=True)]

    assert [c.drink for c in plan(*drinks)] == ["negroni", "madras"]


def changed(slug: str, **said) -> Drink:
    """The drink with a garnish of its own that it did not have before."""
    return drink(slug, build(pour("vodka"), top("cola"), garnish=garnished("cherry")), **said)


def test_fading_comes_before_changed_before_new():
    fading, new = drink("negroni", share=0.1), drink("mojito", share=0.9)
    before = drink("house-cola", build(pour("vodka"), top("cola")))
    after = changed("house-cola", share=0.5)
    memories = known(before) | known(fading, days=FADED)
    was = {"house-cola": {t.fingerprint for t in before.topics}}

    cards = plan(new, after, fading, memories=memories, was=was)

    assert [(c.drink, c.why) for c in cards] == [
        ("negroni", Why.FADING),
        ("house-cola", Why.CHANGED),
        ("mojito", Why.NEW),
    ]
    assert [c.reason.code for c in cards] == ["card_fading", "card_changed", "card_new"]


def test_a_changed_card_names_the_changed_part():
    before, after = drink("house-cola", build(pour("vodka"), top("cola"))), changed("house-cola")
    was = {"house-cola": {t.fingerprint for t in before.topics}}

    (card,) = plan(after, memories=known(before), was=was)

    assert card.aspects == (Aspect.FINISH,)
    assert card.reason.values["aspects"] == "finish"


def test_a_drink_changed_back_is_the_old_one_again():
    before, after = drink("house-cola", build(pour("vodka"), top("cola"))), changed("house-cola")
    met = {t.fingerprint for d in (before, after) for t in d.topics}

    assert plan(before, memories=known(before, after), was={"house-cola": met}) == ()


def test_a_drink_known_in_part_is_new_only_in_the_rest():
    madras = drink("madras")
    own_mixers = [t for t in madras.topics if t.aspect is Aspect.MIXERS and t.recipe]
    memories = known(madras)
    del memories[own_mixers[0].fingerprint]

    (card,) = plan(madras, memories=memories)

    assert (card.why, card.aspects) == (Why.NEW, (Aspect.MIXERS,))


def test_fading_drinks_come_by_sales_times_chance_lost():
    little_lost = drink("negroni", share=0.3)
    much_lost = drink("mojito", share=0.2)
    memories = known(little_lost, days=11) | known(much_lost, days=300)
    shared = known(little_lost, days=11)

    cards = plan(little_lost, much_lost, memories=memories | shared)

    lost = {c.drink: 1 - c.recall for c in cards}
    assert lost["mojito"] * 0.2 > lost["negroni"] * 0.3 > 0
    assert [c.drink for c in cards] == ["mojito", "negroni"]


def test_a_topic_fades_below_nine_in_ten_or_when_it_is_due():
    madras = drink("madras")
    at_the_line = known(madras, days=10)
    just_before = known(madras, days=9.99)
    due_early = {
        f: TopicMemory(f, 10.0, 5.0, NOON, NOON - timedelta(days=1), 3, 1) for f in at_the_line
    }
    due_late = {
        f: TopicMemory(f, 10.0, 5.0, NOON + timedelta(days=9), NOON - timedelta(days=11), 3, 1)
        for f in at_the_line
    }

    assert [c.why for c in plan(madras, memories=at_the_line)] == [Why.FADING]
    assert plan(madras, memories=just_before) == ()
    assert [c.why for c in plan(madras, memories=due_early)] == [Why.FADING]
    assert [c.why for c in plan(madras, memories=due_late)] == [Why.FADING]


def test_one_card_serves_a_rule_that_several_drinks_share():
    """Only "tonic takes a lime" has faded: one tonic drink brings it back for all."""
    tonics = [drink("gin-tonic", share=0.2), drink("vodka-tonic", share=0.1)]
    rule = next(t for t in tonics[0].topics if t.rule == "garnish:tonic-lime")
    memories = known(*tonics)
    memories[rule.fingerprint] = known(*tonics, days=FADED)[rule.fingerprint]

    (card,) = plan(*tonics, memories=memories)

    assert (card.drink, card.aspects) == ("gin-tonic", (Aspect.FINISH,))


def test_recall_is_that_of_all_topics_together():
    madras = drink("madras")
    (card,) = plan(madras, memories=known(madras, days=10))

    assert len(madras.topics) > 3
    assert card.recall == pytest.approx(0.9 ** len(madras.topics))


def test_a_house_without_sales_still_gets_its_cards_in_a_fixed_order():
    drinks = [drink("negroni"), drink("madras"), drink("mojito")]

    assert [c.drink for c in plan(*drinks)] == ["madras", "mojito", "negroni"]
    assert plan(*drinks) == plan(*drinks[::-1])
