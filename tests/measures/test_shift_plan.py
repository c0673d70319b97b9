"""What to do before the next shift."""

from datetime import UTC, datetime, timedelta

import numpy as np
import pytest

from assessments.measures.chances import Chances
from assessments.measures.memory import SOON, TopicMemory, review
from assessments.measures.otherwise import Met, known_otherwise, marks_of
from assessments.measures.shift_plan import (
    LASTS,
    LEAST_GAIN,
    SECONDS,
    CardDue,
    Why,
    plan_cards,
    plan_shift,
)
from assessments.measures.stated import Line
from recipes.grammar.aspects import Aspect
from recipes.grammar.drink import Drink
from recipes.grammar.reasons import Reason
from tests.grammar.kitchen import build, garnished, pour, top
from tests.measures.bar import drink, menu

NOON = datetime(2026, 5, 4, 12, tzinfo=UTC)
DAY = timedelta(days=1)
FRESH, FADED = 0.5, 200.0
"""Days since the last answer, of topics that last a hundred days."""


def known(*drinks: Drink, days: float = FRESH, lasts: float = 100.0) -> dict[str, TopicMemory]:
    """Memories of every topic of these drinks, last answered right so many days ago."""
    last = NOON - timedelta(days=days)
    due = last + timedelta(days=lasts)
    return {
        t.fingerprint: TopicMemory(t.fingerprint, lasts, 5.0, due, last, 3, 0)
        for d in drinks
        for t in d.topics
    }


def turned(drink: Drink, at: datetime, memories=None) -> dict[str, TopicMemory]:
    """Memories after all of it was right at `at`."""
    known = memories or {}
    return known | {
        t.fingerprint: review(
            known.get(t.fingerprint), fingerprint=t.fingerprint, right=True, at=at
        )
        for t in drink.topics
    }


def plan(*drinks: Drink, memories=None, met=(), **said) -> tuple[CardDue, ...]:
    said = {"at": NOON, **said}
    otherwise = known_otherwise(drinks, met)
    return plan_cards(drinks=drinks, memories=memories or {}, otherwise=otherwise, **said)


def whole(*drinks: Drink, memories=None, **said):
    said = {"at": NOON, "otherwise": {}, **said}
    return plan_shift(drinks=drinks, memories=memories or {}, **said)


def test_nothing_is_due_when_all_of_it_is_fresh():
    assert plan(*menu(), memories=known(*menu())) == ()


def test_a_house_without_drinks_has_no_plan():
    assert whole().cards == ()


def test_the_cards_fit_into_the_minutes():
    for seconds in (19, 60, 300, 900):
        found = whole(*menu(), seconds=seconds)
        assert found.seconds == sum(SECONDS[c.why] for c in found.cards) <= seconds

    assert plan(*menu(), seconds=19) == ()
    assert len(plan(*menu(), seconds=300)) == 300 // SECONDS[Why.NEW]


def test_after_a_month_away_there_is_no_wall_of_cards():
    """Five minutes of them, and how many are left for tomorrow."""
    found = whole(*menu(), memories=known(*menu(), days=30, lasts=3), seconds=300)

    assert 0 < len(found.cards) <= 20
    assert found.waiting > 0
    more = whole(*menu(), memories=known(*menu(), days=30, lasts=3), seconds=3600)
    assert more.waiting == 0
    assert len(found.cards) + found.waiting >= len(more.cards)
    assert more.cards[: len(found.cards)] == found.cards


def test_unseen_drinks_that_are_alike_come_by_what_the_house_sells():
    names = ("cape-codder", "screwdriver", "greyhound")
    built = build(pour("vodka"), top("cola"))
    shares = (0.1, 0.3, 0.2)
    drinks = [drink(n, built, share=s) for n, s in zip(names, shares, strict=True)]

    cards = plan(*drinks)

    assert [c.drink for c in cards] == ["screwdriver", "greyhound", "cape-codder"]
    assert {c.why for c in cards} == {Why.NEW}
    assert all(c.recall < 0.01 for c in cards)


def test_must_knows_come_first_whatever_they_sell():
    drinks = [drink("madras", share=0.9), drink("negroni", share=0.1, must_know=True)]

    assert [c.drink for c in plan(*drinks)] == ["negroni", "madras"]


def changed(slug: str, **said) -> Drink:
    """The drink with a garnish of its own that it did not have before."""
    return drink(slug, build(pour("vodka"), top("cola"), garnish=garnished("cherry")), **said)


def test_a_card_says_why_it_is_due():
    fading, new = drink("negroni", share=0.1), drink("mojito", share=0.9)
    before = drink("house-cola", build(pour("vodka"), top("cola")))
    after = changed("house-cola", share=0.5)
    memories = known(before) | known(fading, days=FADED)
    met = [Met(before, NOON - DAY)]

    cards = {c.drink: c for c in plan(new, after, fading, memories=memories, met=met)}

    assert {slug: c.why for slug, c in cards.items()} == {
        "negroni": Why.FADING,
        "house-cola": Why.CHANGED,
        "mojito": Why.NEW,
    }
    assert {slug: c.reason.code for slug, c in cards.items()} == {
        "negroni": "card_fading",
        "house-cola": "card_changed",
        "mojito": "card_new",
    }


def test_a_changed_card_names_the_changed_part():
    before, after = drink("house-cola", build(pour("vodka"), top("cola"))), changed("house-cola")

    (card,) = plan(after, memories=known(before), met=[Met(before, NOON - DAY)])

    assert card.aspects == (Aspect.FINISH,)
    assert card.reason.values["aspects"] == "finish"


def test_what_was_changed_and_taken_back_is_asked_first_until_it_was_shown():
    """However well they knew it before: what was met last sits on top."""
    before, after = drink("house-cola", build(pour("vodka"), top("cola"))), changed("house-cola")
    other = drink("negroni", share=0.9, must_know=False)
    met = [Met(before, NOON - 3 * DAY, sure=marks_of(before)), Met(after, NOON - 2 * DAY)]

    first, _ = plan(other, before, memories=known(before, after), met=met)
    assert (first.drink, first.why, first.told) == ("house-cola", Why.BACK, (Aspect.FINISH,))
    assert first.reason == Reason.of("card_back", drink="House Cola", aspects="finish")

    met.append(Met(before, NOON - DAY, sure=marks_of(before)))
    assert plan(before, memories=known(before, after), met=met) == ()


def test_a_changed_drink_that_was_turned_once_comes_again_after_some_minutes():
    before, after = drink("house-cola", build(pour("vodka"), top("cola"))), changed("house-cola")
    met = [Met(before, NOON - DAY), Met(after, NOON, clean=marks_of(after))]
    turned_now = turned(after, NOON, known(before))

    def at(moment, *more):
        otherwise = known_otherwise([after], [*met, *more])
        return whole(after, memories=turned_now, otherwise=otherwise, at=moment)

    resting = at(NOON + SOON / 2)
    assert (resting.cards, resting.again) == ((), True)
    due = at(NOON + SOON)
    assert ([c.why for c in due.cards], due.again) == ([Why.CHANGED], False)
    shown = at(NOON + SOON, Met(after, NOON + SOON, clean=marks_of(after)))
    assert (shown.cards, shown.again) == ((), False)


def test_many_drinks_of_one_changed_rule_are_served_by_one_look():
    tonics = drink("gin-tonic"), drink("vodka-tonic")
    own = garnished("cherry")
    met = [
        Met(drink(d.slug, build(pour(base), top("tonic-water"), garnish=own)), NOON - DAY)
        for d, base in zip(tonics, ("gin", "vodka"), strict=True)
    ]

    assert len(plan(*tonics, memories=known(*tonics), met=met)) == 1


def test_a_drink_known_in_part_is_new_only_in_the_rest():
    madras = drink("madras")
    own_mixers = [t for t in madras.topics if t.aspect is Aspect.MIXERS and t.recipe]
    memories = known(madras)
    del memories[own_mixers[0].fingerprint]

    (card,) = plan(madras, memories=memories)

    assert (card.why, card.aspects) == (Why.NEW, (Aspect.MIXERS,))


@pytest.mark.parametrize(
    ("own", "rules", "code"),
    [
        ("none", "none", "card_new"),
        ("none", "all", "card_new"),  # met on other drinks
        ("some", "none", "card_part"),
        ("some", "all", "card_part"),
        ("all", "none", "card_part"),
    ],
)
def test_only_a_drink_of_which_nothing_was_met_is_new(own, rules, code):
    """A question minutes ago about one part of it, or by the pour, leaves a part that is new."""
    madras = drink("madras")
    parts = {
        True: [t.fingerprint for t in madras.topics if t.recipe],
        False: [t.fingerprint for t in madras.topics if t.rule],
    }
    assert len(parts[True]) > 1  # else this shows nothing
    assert parts[False]
    taken = {"none": 0, "some": 1, "all": None}
    met = {*parts[True][: taken[own]], *parts[False][: taken[rules]]}
    memories = {f: m for f, m in known(madras).items() if f in met}

    (card,) = plan(madras, memories=memories)

    assert (card.why, card.reason.code) == (Why.NEW, code)


def test_fading_drinks_that_are_alike_come_by_sales_times_what_a_look_wins():
    """Each has a part of its own that has faded; of two that lost alike the house sells one more,
    of two that sell alike one has lost more."""
    built = build(pour("vodka"), top("cola"))
    drinks = [drink(f"cola-{n}", built, share=s) for n, s in enumerate((0.2, 0.3, 0.2, 0.3))]
    memories = known(*drinks)
    for made, days in zip(drinks, (300, 300, 900, 900), strict=True):
        own = {t.fingerprint for t in made.topics if t.recipe}
        memories |= {f: m for f, m in known(made, days=days).items() if f in own}

    first, *_, last = [c.drink for c in plan(*drinks, memories=memories)]

    assert (first, last) == ("cola-3", "cola-0")


def test_a_card_is_worth_what_it_wins_a_second():
    """First in line is what the two factors make largest, worked out here by hand."""
    drinks = [drink("negroni", share=0.3), drink("mojito", share=0.2), drink("madras", share=0.5)]
    memories = known(drinks[0], days=FADED) | known(drinks[1], days=400) | known(drinks[2])
    chances = Chances(drinks, memories, NOON, NOON + DAY + LASTS)
    wins = chances.all_gains(np.array([0.3, 0.2, 0.5]))

    assert plan(*drinks, memories=memories)[0].drink == drinks[int(np.argmax(wins))].slug


def test_what_was_asked_tonight_rests_until_a_look_wins_something():
    """Needed on Saturday: another look tonight wins next to nothing, one on Friday much."""
    madras, saturday = drink("madras"), NOON + 5 * DAY
    tonight = turned(madras, NOON)
    said = {"memories": tonight, "shift": saturday}

    crammed = whole(madras, at=NOON + timedelta(minutes=30), **said)
    assert (crammed.cards, crammed.resting) == ((), 1)
    (friday,) = whole(madras, at=saturday - DAY, **said).cards
    assert friday.why is Why.FADING


def test_the_same_minutes_spread_out_win_more_than_in_one_evening():
    madras, saturday = drink("madras"), NOON + 5 * DAY
    spread, crammed = {}, {}
    for n in range(4):
        spread = turned(madras, NOON + n * DAY, spread)
        crammed = turned(madras, NOON + timedelta(minutes=20 * n), crammed)

    def at_the_shift(memories):
        return Chances([madras], memories, saturday, saturday).right[0]

    assert at_the_shift(spread) > at_the_shift(crammed) + 0.05


def test_a_shift_in_an_hour_and_one_in_a_week_want_different_cards():
    """What is still there tonight will be gone by next week."""
    madras = drink("madras")
    memories = known(madras, days=3, lasts=60)

    assert plan(madras, memories=memories, shift=NOON + timedelta(hours=1)) == ()
    assert plan(madras, memories=memories, shift=NOON + 14 * DAY) != ()


def test_what_was_missed_comes_back_at_once_even_where_it_wins_little():
    """A quiz asked it and showed nothing: it doesn't rest as what was looked at does."""
    madras = drink("madras")
    topic = next(t for t in madras.topics if t.recipe)
    memories = known(madras)
    memories[topic.fingerprint] = review(
        None, fingerprint=topic.fingerprint, right=False, at=NOON - SOON
    )

    (card,) = plan(madras, memories=memories)
    assert card.aspects == (topic.aspect,)
    [sooner] = plan(madras, memories=memories, at=NOON - timedelta(minutes=5))
    assert sooner.aspects == (topic.aspect,)


def test_a_drink_below_its_target_fades_though_each_topic_is_at_nine_in_ten():
    """Seven topics at .95 each leave seven drinks in ten."""
    madras = drink("madras")
    memories = known(madras, days=30, lasts=70)
    recalls = Chances([madras], memories, NOON, NOON + DAY).recall

    assert min(recalls) > 0.93
    (card,) = plan(madras, memories=memories)
    assert card.recall < 0.9
    assert card.why is Why.FADING


@pytest.mark.parametrize(("hours", "rests"), [(1, True), (5.9, True), (6.1, False)])
def test_what_was_right_lately_rests_for_some_hours(hours, rests):
    madras = drink("madras")
    memories = turned(madras, NOON - timedelta(hours=hours))

    found = whole(madras, memories=memories)
    assert (found.resting, len(found.cards)) == ((1, 0) if rests else (0, 1))


def test_a_look_that_wins_less_than_the_least_is_left_for_later():
    """Old and firm, the shift far away: a look now adds next to nothing to it."""
    madras = drink("madras")
    memories = known(madras, days=0.3, lasts=30)
    far = NOON + 20 * DAY
    gain = Chances([madras], memories, NOON, far + LASTS).own_gains()[0]

    assert gain < LEAST_GAIN
    found = whole(madras, memories=memories, shift=far)
    assert (found.cards, found.resting) == ((), 1)


def test_a_wide_rule_counts_for_all_its_drinks():
    """The tall drink whose rules ten others share is looked at before one that stands alone."""
    shared = [drink(f"cola-{n}", build(pour("vodka"), top("cola")), share=0.05) for n in range(10)]
    alone = drink("negroni", share=0.05)
    memories = known(*shared, alone, days=FADED)

    assert plan(alone, *shared, memories=memories)[0].drink.startswith("cola-")


def test_recall_is_that_of_all_topics_together_at_the_hour_of_the_shift():
    madras = drink("madras")
    (card,) = plan(
        madras, memories=known(madras, days=10, lasts=10.0), shift=NOON, line=Line(0.0, 1.0)
    )

    assert len(madras.topics) > 3
    assert card.recall == pytest.approx(0.9 ** len(madras.topics))


def test_a_house_without_sales_still_gets_its_cards_in_a_fixed_order():
    drinks = [drink("negroni"), drink("madras"), drink("mojito")]

    assert plan(*drinks) == plan(*drinks[::-1])
