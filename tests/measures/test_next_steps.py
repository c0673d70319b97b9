"""What to do next, the shortest thing first."""

import datetime as dt

import pytest

from assessments.measures.drink_facts import DrinkFact
from assessments.measures.next_steps import next_steps, next_told
from assessments.measures.ready_facts import (
    NOTHING_ORDERED,
    Expected,
    Facts,
    Orders,
    ReadyPolicy,
    RuleFact,
    Safety,
)
from assessments.measures.waits import ANYBODY, Reader, Waits
from recipes.grammar.aspects import Aspect

POLICY = ReadyPolicy(0.9, 0.02, 0.7)


def fact(slug: str, share: float = 0.1, *, right: float = 0, wrong: float = 0, **said) -> DrinkFact:
    said = {"must_know": True, "signed_off": True, "module": "Highballs", **said}
    return DrinkFact(slug, slug.title(), share, right=right, ask=0, wrong=wrong, **said)


def steps(
    *drinks: DrinkFact, safety=Safety.PASSED, orders=NOTHING_ORDERED
) -> list[tuple[str, dict]]:
    facts = Facts("K7", drinks, orders, safety, "Service and safety", POLICY)
    return [(r.code, dict(r.values)) for r in next_steps(facts)]


@pytest.mark.parametrize(
    ("safety", "first"),
    [
        (Safety.NOT_TAKEN, ("next_take_safety", {"module": "Service and safety"})),
        (Safety.FAILED, ("next_retake_safety", {"module": "Service and safety"})),
        (Safety.PASSED, ("next_quiz", {"module": "Highballs"})),
    ],
)
def test_safety_comes_first(safety, first):
    assert steps(fact("madras"), safety=safety)[0] == first


def test_a_changed_part_is_shorter_than_a_whole_sign_off():
    found = steps(
        fact("negroni", 0.9, signed_off=False),
        fact("madras", 0.1, sign_off_out_of_date=(Aspect.FINISH,)),
        fact("mojito", 0.5),
    )

    assert found[:2] == [
        ("next_renew_sign_off", {"drink": "Madras", "aspects": "finish"}),
        ("next_sign_off", {"drink": "Negroni"}),
    ]


def test_what_is_passed_waits_for_no_more_than_a_word():
    waits = Waits("B1", "Marek", "M1", dt.date(2026, 3, 14))
    found = steps(
        fact("negroni", 0.9, signed_off=False),
        fact("madras", 0.1, sign_off_out_of_date=(Aspect.FINISH,)),
        fact("mojito", 0.05, signed_off=False, waits=waits),
    )

    asked = {"drink": "Mojito", "trainer": "Marek", "day": "2026-03-14"}
    assert found[0] == ("next_ask_sign_off", asked)
    assert [code for code, _ in found[1:3]] == ["next_renew_sign_off", "next_sign_off"]


def test_what_is_signed_off_waits_for_nothing():
    waits = Waits("B1", "Marek", "M1", dt.date(2026, 3, 14))

    codes = [code for code, _ in steps(fact("mojito", waits=waits))]
    assert "next_ask_sign_off" not in codes


def test_three_sign_offs_are_enough_for_a_shift():
    found = steps(*(fact(f"d{n}", n / 10, right=1, signed_off=False) for n in range(1, 6)))

    assert [v.get("drink", v.get("count")) for _, v in found[:4]] == ["D5", "D4", "D3", 2]
    assert found[3][0] == "next_sign_offs_left"


def test_no_line_about_more_where_there_is_no_more():
    found = steps(*(fact(f"d{n}", signed_off=False) for n in range(3)))

    assert "next_sign_offs_left" not in [code for code, _ in found]


def test_a_house_without_must_knows_marks_some():
    assert steps(fact("madras", must_know=False))[0] == ("next_mark_must_knows", {})


def test_the_quiz_is_on_the_module_where_most_orders_are_won():
    found = dict(
        steps(
            fact("madras", 0.5, now=0.9),
            fact("negroni", 0.2, now=0.5, module="Rocks"),
            fact("mojito", 0.2, now=0.1, module="Rocks"),
            fact("b-52", 0.1, module="Shots"),
        )
    )

    assert found["next_quiz"] == {"module": "Rocks"}


def test_the_drinks_that_win_most_orders_are_named():
    found = dict(
        steps(
            fact("madras", 0.4, now=0.95),
            fact("negroni", 0.2, now=0.5),
            fact("mojito", 0.15, now=0.0),
            fact("daiquiri", 0.05, now=0.0),
            fact("paloma", 0.2, now=0.3, shown=0.35),
        )
    )

    # won: mojito .15, negroni .10, daiquiri .05, madras .02, paloma .01
    assert found["next_drinks"] == {
        "drinks": "Mojito, Negroni, Daiquiri", "minutes": 12, "orders": "30",
    }  # fmt: skip


def test_whoever_has_shown_nothing_learns_before_they_build():
    unseen, other = (fact(slug, 0.5, signed_off=False) for slug in ("madras", "negroni"))
    seen = fact("madras", 0.5, right=1, signed_off=False)

    new, begun = ([code for code, _ in steps(one, other)] for one in (unseen, seen))
    assert new.index("next_quiz") < new.index("next_sign_off")
    assert begun.index("next_sign_off") < begun.index("next_quiz")


def low(right: float, wrong: float = 0.0) -> Orders:
    return Orders(
        Expected(right + 0.05, right, right + 0.1), Expected(0, 0, 0), Expected(wrong, 0, 1)
    )


@pytest.mark.parametrize(
    ("orders", "named"),
    [
        (low(0.88), "Mojito"),  # .02 to win; mojito wins .15
        (low(0.70), "Mojito, Negroni"),  # .20 to win
        (low(0.10), "Mojito, Negroni, Daiquiri"),  # more than there is
        (low(0.95), None),  # over the bar: nothing to learn
        (low(0.95, wrong=0.05), "Mojito"),  # too much goes out wrong: .03 to win
        (low(0.95, wrong=0.20), "Mojito, Negroni"),  # .18 to win
    ],
)
def test_no_more_is_named_than_it_takes(orders, named):
    drinks = (
        fact("madras", 0.6, now=1.0),
        fact("negroni", 0.2, now=0.5),
        fact("mojito", 0.15),
        fact("daiquiri", 0.05),
    )
    found = dict(steps(*drinks, orders=orders))

    assert found.get("next_drinks", {}).get("drinks") == named
    assert ("next_quiz" in found) is (named is not None)


def test_without_sales_all_drinks_count_alike():
    found = dict(steps(fact("madras", 0.0, now=0.5), fact("negroni", 0.0, now=0.1)))

    assert found["next_drinks"]["drinks"] == "Negroni, Madras"


def test_a_menu_without_drinks_has_nothing_to_learn():
    assert steps() == [("next_mark_must_knows", {})]


def rule(gain: float, drink: str = "Gin Tonic", count: int = 12) -> RuleFact:
    return RuleFact(Aspect.FINISH, drink, "a lime wedge", count, gain)


DRINKS = (fact("negroni", 0.6, now=0.5), fact("mojito", 0.4, now=0.5))
"""They win .30 and .20."""


@pytest.mark.parametrize(
    ("rules", "orders", "named", "drinks"),
    [
        ((rule(0.20),), low(0.75), ["Gin Tonic"], None),  # it wins the .15 that is missing
        ((rule(0.20),), low(0.65), [], "Negroni"),  # negroni alone takes a minute less than both
        ((rule(0.20),), low(0.55), ["Gin Tonic"], "Negroni"),  # .20, and .18 of negroni's .30
        ((rule(0.05),), low(0.75), [], "Negroni"),  # negroni alone is enough
        ((rule(0.08, "A"), rule(0.09, "B")), low(0.75), ["B", "A"], None),  # sooner than negroni
        ((rule(0.2), rule(0.2, "B"), rule(0.2, "C")), low(0.45), ["B", "C"], None),  # and another
        ((rule(0.30),), low(0.95), [], None),  # over the bar
        ((), low(0.75), [], "Negroni"),
        ((rule(0.02), rule(0.2, "B")), low(0.1), ["B"], "Negroni, Mojito"),  # no list is enough
    ],
)  # fmt: skip
def test_a_rule_is_named_where_the_shortest_list_has_it(rules, orders, named, drinks):
    facts = Facts("K7", DRINKS, orders, Safety.PASSED, "Safety", POLICY, rules=rules)
    found = [r for r in next_steps(facts) if r.code == "next_rule"]
    then = [r.values["drinks"] for r in next_steps(facts) if r.code == "next_drinks"]

    assert [r.values["drink"] for r in found] == named
    assert all(r.values["says"] == "a lime wedge" for r in found)
    assert then == ([drinks] if drinks else [])


TEN = tuple(fact(f"d{n}", 0.1, now=0.5) for n in range(10))
"""Each wins .05, all together .50."""


@pytest.mark.parametrize(
    ("rules", "orders", "last"),
    [
        ((), low(0.80), ("next_drinks", 8)),  # two drinks
        ((), low(0.74), ("next_more", 1, 16)),
        ((), low(0.42), ("next_more", 7, 40)),
        ((), low(0.39), ("next_not_enough", 40)),
        ((rule(0.05), rule(0.05), rule(0.05)), low(0.75), ("next_more", 1, 3)),
        ((rule(0.05), rule(0.05)), low(0.65), ("next_more", 1, 18)),  # and four drinks' .04 each
    ],
)
def test_how_much_is_left_of_the_list_is_said_or_that_no_list_is_enough(rules, orders, last):
    facts = Facts("K7", TEN, orders, Safety.PASSED, "Safety", POLICY, rules=rules)

    said = [r for r in next_steps(facts) if r.code in LEARNING][-1]

    code, *numbers = last
    assert said.code == code
    assert [said.values[n] for n in ("count", "minutes") if n in said.values] == numbers


@pytest.mark.parametrize(
    ("drinks", "rules", "said"),
    [
        (tuple(fact(f"d{n}", 0.1, now=1.0) for n in range(10)), (), ["next_again"]),
        (tuple(fact(f"d{n}", 0.1, now=0.997) for n in range(10)), (), ["next_again"]),
        (TEN, (rule(0.0003),), ["next_drinks", "next_more"]),  # no rule that wins no orders
        ((), (), []),  # nothing is poured
    ],
)
def test_what_would_win_no_orders_is_no_step(drinks, rules, said):
    """Whoever has just shown all of it isn't left without a word."""
    facts = Facts("K7", drinks, low(0.5), Safety.PASSED, "Safety", POLICY, rules=rules)

    assert [r.code for r in next_steps(facts) if r.code in LEARNING] == said


LEARNING = ("next_rule", "next_drinks", "next_more", "next_not_enough", "next_again")


@pytest.mark.parametrize(
    ("less", "last"),
    [
        (1.0, ("next_drinks", "D0, D1, D2")),  # .12 too much goes out wrong
        (0.5, ("next_more", 2)),  # half of what is won would have been asked about: .24 to win
        (0.2, ("next_not_enough", None)),
        (0.0, ("next_not_enough", None)),  # nothing that is won was wrong
    ],
)
def test_of_what_is_won_a_part_would_have_been_asked_about(less, last):
    orders = low(0.95, wrong=0.14)
    facts = Facts("K7", TEN, orders, Safety.PASSED, "Safety", POLICY, less_wrong=less)

    said = [r for r in next_steps(facts) if r.code in LEARNING][-1]

    assert (said.code, said.values.get("drinks", said.values.get("count"))) == last


WAITS = Waits("b1", "Tamsin", "T", dt.date(2026, 3, 14))


@pytest.mark.parametrize(
    ("reader", "first"),
    [
        (ANYBODY, ("next_ask_sign_off", "Rare")),
        (Reader("T"), ("next_give_sign_off", "Rare")),
        (Reader("P"), ("next_ask_sign_off", "Rare")),
        (Reader("P", lambda: {"b1"}), ("next_sign_off", "Often")),
        (Reader("P", lambda: {"b2"}), ("next_ask_sign_off", "Rare")),
    ],
)
def test_the_place_of_a_step_tells_nobody_what_is_kept_from_them(reader, first):
    """Without its build it would come last: it sells least."""
    drinks = (
        fact("rare", 0.1, signed_off=False, right=1, waits=WAITS),
        fact("some", 0.2, signed_off=False),
        fact("often", 0.7, signed_off=False),
    )
    facts = Facts("K7", drinks, NOTHING_ORDERED, Safety.PASSED, "Service and safety", POLICY)

    found = [
        (r.code, r.values["drink"])
        for r in next_told(facts, next_steps(facts), reader)
        if "drink" in r.values and "sign_off" in r.code
    ]

    assert found[0] == first
    if first[1] == "Often":
        assert found[:3] == [("next_sign_off", d) for d in ("Often", "Some", "Rare")]
