"""The kinds that take more than one choice, amounts, asking back and cards: one right answer each,
worked out from the house spec by code that shares nothing with the quiz."""

import datetime as dt
from collections import Counter
from random import Random
from statistics import pstdev

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from assessments.measures.quiz import (
    ASK,
    House,
    ItemKind,
    QuizPlan,
    cards,
    credit,
    generate,
    mixed_up_with,
    outcome,
    part_outcomes,
    score,
    shows,
)
from assessments.measures.quiz.asking_back import CLOSE, ask_back, asked_about
from assessments.measures.quiz.guests import KNOWN, Call, Guests, is_doubled
from assessments.measures.quiz.parts_of_it import akin, amount
from recipes.grammar.aspects import Aspect
from recipes.grammar.calls import read, vocabulary
from recipes.grammar.lookalikes import distance
from recipes.grammar.rules import Doubles
from recipes.grammar.spec import Garnish, How, Ice, Method, When
from recipes.grammar.steps import Stage, build_steps
from recipes.grammar.units import US_FLOZ_ML, Unit
from tests.grammar.kitchen import PANTRY, RULES, build, pour
from tests.measures.bar import drink, menu, menus

TODAY = dt.date(2026, 3, 12)
BOOK = vocabulary(RULES, menu(), PANTRY)
HOUSE = House(BOOK, 21, TODAY)
SEEDS = st.integers(0, 10_000)


def items_of(kind, drinks=None, seed=1, **said):
    drinks = menu() if drinks is None else drinks
    plan = QuizPlan(said.pop("length", 40), mix=((kind, None),), **said)
    found = generate(plan=plan, drinks=drinks, pool=drinks, scenarios=(), seed=seed, house=HOUSE)
    return [i for i in found if i.kind is kind]


def answers(item):
    """Every answer somebody could send, of a few."""
    if item.kind is ItemKind.BUILD:
        return {tuple(Random(n).randrange(len(p.choices)) for p in item.parts) for n in range(40)}
    random = Random(3)
    every = list(range(len(item.choices)))
    if item.kind is ItemKind.ORDER:
        return {tuple(random.sample(every, len(every))) for _ in range(40)}
    some = (random.sample(every, random.randrange(1, len(every) + 1)) for _ in range(40))
    return {tuple(sorted(s)) for s in some}


@pytest.mark.parametrize("kind", [ItemKind.SEVERAL, ItemKind.ORDER, ItemKind.BUILD])
def test_one_answer_is_right_and_every_other_is_wrong(kind):
    found = items_of(kind)
    assert found
    for item in found:
        assert outcome(item, item.right_answer) == "right"
        assert outcome(item, ASK) == "ask"
        for answer in answers(item) - {item.right_answer}:
            assert outcome(item, answer) == "wrong"


@pytest.mark.parametrize("kind", [ItemKind.SEVERAL, ItemKind.ORDER, ItemKind.BUILD])
@pytest.mark.parametrize("given", [0, 7, (), (0,) * 9, (0, 0), (-1, 0), (1, 0, 99)])
def test_half_an_answer_is_none(kind, given):
    item = items_of(kind)[0]

    with pytest.raises(ValueError, match="no answer"):
        outcome(item, given)


@settings(max_examples=40)
@given(menus(), SEEDS)
def test_what_is_to_be_ticked_is_what_the_spec_holds(drinks, seed):
    by_slug = {d.slug: d for d in drinks}
    for item in items_of(ItemKind.SEVERAL, drinks, seed):
        spec = by_slug[item.recipe].spec
        inside = {p.ingredient for p in spec.parts}
        shown = [c.content["item"] for c in item.choices]
        assert len(shown) == len(set(shown)) <= 6
        assert {n for n, slug in enumerate(shown) if slug in inside} == set(item.rights)
        assert len(set(shown) - inside) >= 2
        on_it = {g.item for g in spec.garnish}
        assert not on_it & (set(shown) - inside)


@pytest.mark.parametrize(
    ("one", "other", "same"),
    [
        ("rum", "dark-rum", True),
        ("lime", "lime-juice", True),
        ("ginger-ale", "ginger-beer", False),
        ("vodka", "gin", False),
    ],
)
def test_no_ingredient_is_offered_that_could_be_called_the_same(one, other, same):
    assert akin(one, other) is akin(other, one) is same


STAGES = {
    "glass": Stage.GLASS,
    "rim": Stage.RIM,
    "first_in": Stage.FIRST_IN,
    "muddle": Stage.FIRST_IN,
    "ice": Stage.ICE,
    "pour": Stage.POUR,
    "layer": Stage.POUR,
    "shake": Stage.METHOD,
    "stir": Stage.METHOD,
    "top": Stage.TOP,
    "float": Stage.FLOAT,
    "garnish": Stage.FINISH,
}


@settings(max_examples=40)
@given(menus(), SEEDS)
def test_the_right_order_is_that_of_the_build_s_own_steps(drinks, seed):
    by_slug = {d.slug: d for d in drinks}
    for item in items_of(ItemKind.ORDER, drinks, seed):
        spec = by_slug[item.recipe].spec
        in_build = [s.stage for s in build_steps(spec, PANTRY)]
        steps = [item.choices[n].content for n in item.rights]
        places = [in_build.index(STAGES[s["do"]]) for s in steps]
        assert places == sorted(places)
        assert item.rights != tuple(range(len(item.choices)))
        if spec.method is Method.LAYER:
            poured = [p.ingredient for p in spec.how(How.MEASURED)]
            layers = [s["of"][0] for s in steps if s["do"] == "layer"]
            assert layers == [slug for slug in poured if slug in layers]


@settings(max_examples=40)
@given(menus(), SEEDS)
def test_an_amount_is_the_spec_s_and_the_others_are_far_from_it(drinks, seed):
    by_slug = {d.slug: d for d in drinks}
    for item in items_of(ItemKind.AMOUNT, drinks, seed):
        asked = item.prompt.values["ingredient"]
        parts = [p for p in by_slug[item.recipe].spec.parts if p.ingredient == asked]
        right = item.choices[item.right].content
        assert [right["ml"]] == [pytest.approx(p.ml, abs=0.001) for p in parts if p.ml]
        amounts = [c.content["ml"] for c in item.choices]
        assert amounts == sorted(amounts)
        off = 0.1 if right.get("as") == "volume" else 0.4
        assert all(abs(ml - right["ml"]) > off * right["ml"] for ml in amounts if ml != right["ml"])
        assert amounts.count(right["ml"]) == 1


POURS_SOMEWHERE = (
    # ml of one pour, and a pour of another country that must be among what is offered beside it;
    # from the presets of the course.
    (US_FLOZ_ML, 1.5 * US_FLOZ_ML),
    (1.5 * US_FLOZ_ML, US_FLOZ_ML),
    (25, 35),
    (40, 30),
    (30, 40),
    (35.5, 25),
    (150, 175),
    (175, 150),
)


@pytest.mark.parametrize(("ml", "elsewhere"), POURS_SOMEWHERE)
def test_a_pour_is_asked_among_what_other_houses_pour(ml, elsewhere):
    pours = {
        k: r.model_copy(update={"amount": ml, "unit": Unit.ML}) for k, r in RULES.pours.items()
    }
    asked = drink("gin-tonic", rules=RULES.model_copy(update={"pours": pours}))
    offered, places = set(), set()
    for seed in range(20):
        ingredient, choices, right = amount(asked, Random(seed))
        sizes = [c.content["ml"] for c in choices]
        assert ingredient == "gin"
        assert sizes == sorted(set(sizes))
        assert sizes[right] == pytest.approx(ml, abs=0.001)
        offered |= {round(size) for size in sizes}
        places.add(right)
    assert round(elsewhere) in offered
    assert len(places) > 2  # the place says nothing


# What a call leaves open: (garnish to choose, said, house asks short or tall) -> what to ask.
CALLS = [
    (False, Call.PLAIN, True, ()),
    (True, Call.PLAIN, True, ("garnish",)),
    (False, Call.DOUBLE, True, ("size",)),
    (True, Call.DOUBLE, True, ("garnish", "size")),
    (False, Call.DOUBLE, False, ()),
    (True, Call.DOUBLE, False, ("garnish",)),
    (False, Call.DOUBLE_SHORT, True, ()),
    (True, Call.DOUBLE_TALL, True, ("garnish",)),
]


def guests(*, asks=True, drinks=None):
    rules = RULES.model_copy(update={"doubles": Doubles(ask_short_or_tall=asks)})
    return Guests(vocabulary(rules, drinks or menu(), PANTRY))


@pytest.mark.parametrize(("to_choose", "call", "asks", "wanted"), CALLS)
def test_asked_back_is_what_the_guest_left_open_and_no_rule_answers(to_choose, call, asks, wanted):
    asked = guests(asks=asks)
    found = [
        heard
        for d in menu()
        if any(g.when is When.ASK for g in d.spec.garnish) is to_choose
        for heard in asked.calls_for(d)
        if heard.call is call
    ]
    assert found
    assert {heard.open for heard in found} == {wanted}


def test_only_tall_drinks_of_one_pour_are_called_as_doubles():
    asked = guests()
    for one in menu():
        pours = [p for p in one.spec.how(How.MEASURED) if p.unit is Unit.POUR]
        assert not is_doubled(one) or (len(pours) == 1 and one.spec.mixers)
        doubled = {h.call for h in asked.calls_for(one)} & {Call.DOUBLE, Call.DOUBLE_TALL}
        assert not doubled or is_doubled(one)
    assert any(is_doubled(d) for d in menu())


# A word that may be several things, one that it may be, and what the reader asks first.
WORDS = [
    ("vodka", "vodka-tonic", "style"),  # neat, on the rocks, a shot, with a mixer
    ("bourbon", "whiskey-cola", "style"),
    ("breeze", "sea-breeze", "drink"),  # sea or bay
    ("beer", "draught-lager", "drink"),
]


@pytest.mark.parametrize(("word", "slug", "about"), WORDS)
def test_a_word_that_may_be_several_things_is_asked_about_as_the_reader_of_calls_does(
    word, slug, about
):
    asked = guests()
    [drink] = [d for d in menu() if d.slug == slug]
    [heard] = [h for h in asked.calls_for(drink) if h.said == word]

    assert (heard.call, heard.open) == (Call.OPEN, (about,))
    assert {q.about.value for q in read(f"a {word}", asked.book).ask} == {about}


def test_which_base_is_asked_of_a_martini():
    gin, vodka = (
        drink(f"{base}-martini", build(pour(base, 2), pour("dry-vermouth", 0.5), glass="rocks"))
        for base in ("gin", "vodka")
    )
    asked = guests(drinks=[*menu(), gin, vodka])

    for martini in (gin, vodka):
        [heard] = [h for h in asked.calls_for(martini) if h.said == "martini"]
        assert (heard.open, set(heard.offered)) == (("base",), {"gin", "vodka"})
        said, choices, right, topics = ask_back(martini, menu(), asked, Random(3))
        assert said.open == tuple(choices[right].content["about"])
        if said is heard:
            assert set(choices[right].content["of"]) == {"gin", "vodka"}
            assert topics == ()


def test_a_garnish_or_nothing_is_asked_as_the_reader_offers_it():
    lime = (Garnish(item="lime-wedge", when=When.ASK),)
    shot = drink("tequila-rocks", build(pour("tequila", 2), glass="rocks", garnish=lime))
    asked = guests(drinks=[*menu(), shot])
    calls = [h for h in asked.calls_for(shot) if h.call is Call.PLAIN]

    assert [h.open for h in calls] == [("garnish",)]
    for seed in range(8):
        said, choices, right, _ = ask_back(shot, menu(), asked, Random(seed))
        assert tuple(choices[right].content["about"]) == said.open
        if said.call is Call.PLAIN:
            assert choices[right].content["of"] == list(said.offered)


def asked_back(seeds):
    return [i for seed in seeds for i in items_of(ItemKind.ASK_BACK, seed=seed)]


def test_no_answer_that_is_always_given_is_right_of_more_than_half():
    """Over hundreds of them, also where one is given whenever it stands there."""
    found = asked_back(range(30))
    kinds = [tuple(i.choices[i.right].content["about"]) for i in found]
    right = Counter(kinds)
    offered = Counter(tuple(c.content["about"]) for i in found for c in i.choices)

    assert len(found) > 200
    assert set(right) >= {(), ("size",), ("style",), ("drink",)}
    assert max(right.values()) <= 0.5 * len(found)
    assert all(n <= 0.6 * offered[kind] for kind, n in right.items() if n >= 20)


@settings(max_examples=25, deadline=None)
@given(SEEDS)
def test_of_its_questions_one_is_right_and_none_could_be_asked_as_well(seed):
    found = items_of(ItemKind.ASK_BACK, seed=seed)
    assert found
    said = [i.prompt.values["said"] for i in found if i.prompt.code == "call_by_word"]
    assert len(said) == len(set(said))
    for item in found:
        asks = [tuple(c.content["about"]) for c in item.choices]
        assert 3 <= len(asks) == len(set(asks)) <= 4
        assert set(asks) <= KNOWN
        assert () in asks
        assert outcome(item, item.right) == "right"
        close = {x for about in asks[item.right] for x in CLOSE.get(about, ())}
        assert not close & {about for ask in asks for about in ask}
        assert all(len(c.content["of"]) in (0, 2) for c in item.choices)


def test_where_one_call_alone_is_understood_nothing_is_asked_back():
    asked = guests()
    kept = asked_about(menu(), asked)

    assert kept
    assert all(len({h.open for h in asked.calls_for(one)}) > 1 for one in kept)
    assert asked_about(menu(), None) == []


def test_drinks_that_only_a_word_leaves_open_are_asked_about_two_a_word():
    """Else nearly all of them would be called by name, and "nothing" be right each time."""
    shots = [
        drink(f"{base}-shot", build(pour(base), glass="shot", ice=Ice.NONE), share=n)
        for n, base in enumerate(("vodka", "gin", "tequila", "cognac", "white-rum", "bourbon"))
    ]
    asked = guests(drinks=shots)
    words = {
        h.said for shot in shots for h in asked.calls_for(shot)
        if h.call is Call.OPEN and h.open == ("drink",)
    }  # fmt: skip
    assert words

    for seed in range(10):
        said = guests(drinks=shots)
        opened = [ask_back(s, shots, said, Random(seed))[0].open for s in asked_about(shots, said)]
        assert opened
        assert 2 * opened.count(()) <= len(opened) + 1


def test_a_build_is_credited_by_its_aspects():
    item = items_of(ItemKind.BUILD)[0]
    right = item.right_answer
    one_off = ((right[0] + 1) % len(item.parts[0].choices), *right[1:])

    assert credit(item, right) == 1
    assert credit(item, one_off) == pytest.approx(1 - 1 / len(item.parts))
    assert credit(item, ASK) == 0
    assert [o for _, o in part_outcomes(item, one_off)].count("wrong") == 1
    shown = shows(item, one_off)
    assert {t for t, ok in shown.items() if not ok} == set(item.parts[0].topics)
    assert mixed_up_with(item, one_off) is None  # one wrong part is no other drink

    result = score([item], {0: one_off}, 60)
    assert (result.right, result.wrong, result.passed) == (0, 1, True)
    assert {a for a, t in result.by_aspect.items() if t.wrong} == {item.parts[0].aspect}
    assert [r.code for r in result.reasons] == ["quiz_passed", "quiz_part_credit"]


def test_parts_of_one_other_drink_are_a_mix_up_with_it():
    found = 0
    for item in items_of(ItemKind.BUILD):
        for other in {c.of for part in item.parts for c in part.choices} - {item.recipe}:
            theirs = [
                next((n for n, c in enumerate(p.choices) if c.of == other), p.right)
                for p in item.parts
            ]
            wrong = sum(g != p.right for g, p in zip(theirs, item.parts, strict=True))
            assert mixed_up_with(item, tuple(theirs)) == (other if wrong > 1 else None)
            found += wrong > 1
    assert found


def test_a_build_offers_every_part_that_can_be_asked_and_each_has_its_choices():
    for item in items_of(ItemKind.BUILD):
        assert len(item.parts) >= 3
        assert len({p.aspect for p in item.parts}) == len(item.parts)
        assert {p.aspect for p in item.parts} <= set(Aspect)
        assert all(3 <= len(p.choices) <= 4 for p in item.parts)


# Ages by the calendar, as the shipped lesson on cards says it.
AGES = [
    ("2005-03-13", "2026-03-12", 20),
    ("2005-03-12", "2026-03-12", 21),
    ("2005-12-31", "2026-01-01", 20),
    ("2004-02-29", "2025-02-28", 20),
    ("2004-02-29", "2025-03-01", 21),
    ("2004-02-29", "2024-02-29", 20),
]


@pytest.mark.parametrize(("born", "day", "age"), AGES)
def test_age_goes_by_the_calendar(born, day, age):
    assert cards.age_on(dt.date.fromisoformat(born), dt.date.fromisoformat(day)) == age


RULINGS = {
    cards.Case.LAST_DAY: cards.Ruling.TOO_YOUNG,
    cards.Case.BORROWED: cards.Ruling.NOT_THEIRS,
    cards.Case.VALID: cards.Ruling.SERVE,
    cards.Case.EXPIRED: cards.Ruling.EXPIRED,
    cards.Case.TOO_YOUNG: cards.Ruling.TOO_YOUNG,
    cards.Case.BIRTHDAY: cards.Ruling.SERVE,
}


@settings(max_examples=120)
@given(
    st.sampled_from(list(cards.Case)),
    st.integers(16, 25),
    st.dates(dt.date(2024, 1, 1), dt.date(2032, 12, 31)),
    SEEDS,
)
def test_a_card_shows_its_case_and_nothing_else(case, age, today, seed):
    card = cards.deal(case, age, today, Random(seed))
    day = card.now.date()

    assert dt.timedelta() <= today - day < dt.timedelta(days=180)
    assert (day.month, day.day) not in {(2, 28), (2, 29)}  # laws differ about the 29th
    assert cards.rule(card, age) is RULINGS[case]
    differs = {f for f in card.photo if card.photo[f] != card.guest[f]} - {"hair"}
    assert len(differs) == (2 if case is cards.Case.BORROWED else 0)
    assert (card.valid_until < day) is (case is cards.Case.EXPIRED)
    held, stored_age = cards.card_from(cards.content_of(card, age))
    assert (held, stored_age) == (card, age)
    if case is cards.Case.LAST_DAY:
        midnight = dt.datetime.combine(day + dt.timedelta(days=1), dt.time())
        assert dt.timedelta() < midnight - card.now < dt.timedelta(minutes=30)
        assert cards.age_on(card.born, midnight.date()) == age


@pytest.mark.parametrize("case", list(cards.Case))
def test_what_one_hire_whispers_of_a_card_is_no_answer_for_the_next(case):
    """Of forty quizzes of one evening hardly two have the same date of birth or the same clock, and
    the clock alone never tells what to do."""
    dealt = [cards.deal(case, 21, TODAY, Random(seed)) for seed in range(40)]

    assert len({card.born for card in dealt}) >= 30
    assert len({card.now for card in dealt}) >= 38
    others = [cards.deal(c, 21, TODAY, Random(s)) for c in cards.Case for s in range(20)]
    for hour in {card.now.hour for card in dealt} & {0, 23}:
        rulings = {cards.rule(card, 21) for card in others if card.now.hour == hour}
        assert len(rulings) >= 3


def test_the_cards_of_two_quizzes_are_of_the_same_cases():
    def dealt(seed):
        plan = QuizPlan(6, cards=6)
        items = generate(plan=plan, drinks=(), pool=(), scenarios=(), seed=seed, house=HOUSE)
        return Counter((i.scenario, i.critical) for i in items)

    assert dealt(1) == dealt(2)
    assert len(dealt(1)) == 6


@pytest.mark.parametrize("kind", [ItemKind.WHOLE, ItemKind.NAME_IT, ItemKind.BUILD])
def test_a_plan_of_one_kind_asks_nothing_else_and_must_knows_first(kind):
    drinks = menu(madras={"must_know": True}, cuba_libre={"must_know": True})
    plan = QuizPlan(4, mix=((kind, None),), whole_first=False)
    items = generate(plan=plan, drinks=drinks, pool=drinks, scenarios=(), seed=4)

    assert [i.kind for i in items] == [kind] * 4
    assert {i.recipe for i in items} > {"madras", "cuba-libre"}


def test_drinks_that_a_plan_names_must_be_right():
    drinks = menu()
    plan = QuizPlan(30, critical=("madras",))
    for seed in range(5):
        items = generate(plan=plan, drinks=drinks, pool=drinks, scenarios=(), seed=seed)
        critical = {i.recipe for i in items if i.critical}
        assert "madras" in critical
        assert all(i.critical for i in items if i.recipe == "madras")


def test_two_quizzes_side_by_side_are_as_hard():
    """How hard is worked out here from the look-alikes themselves; the spread of quizzes over many
    seeds is a small part of what drinks picked blindly would give."""
    drinks = [d for d in menu() if d.spec.family.value in ("highball", "rocks", "up")]
    plan = QuizPlan(6, mix=((ItemKind.NAME_IT, None),))
    hard = {d.slug: 1 - min(distance(d.spec, o.spec) for o in drinks if o is not d) for d in drinks}

    def total(seed):
        items = generate(plan=plan, drinks=drinks, pool=drinks, scenarios=(), seed=seed)
        return sum(hard[i.recipe] for i in items)

    blind = [sum(hard[d.slug] for d in Random(s).sample(drinks, 6)) for s in range(60)]
    asked = [total(seed) for seed in range(60)]
    assert len({round(t, 6) for t in asked}) > 1
    assert pstdev(asked) < pstdev(blind) / 3
