"""The shortest list and the trainer's hour, against every possibility tried out."""

from itertools import combinations, product

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from assessments.measures.trainers_hour import Hire, Part, Step, plan_hour, shortest


def build(name, minutes=4, gain=0.02, *, must=False) -> Step:
    return Step(name, minutes, gain, must)


POURS, PACE = (Step(name, m, 0.0, must=True) for name, m in (("pours", 5), ("pace", 15)))


def subsets(steps):
    for many in range(len(steps) + 1):
        yield from combinations(steps, many)


def over_the_line(hire: Hire, done) -> bool:
    gained = sum(s.gain for s in done)
    return (
        not hire.barred
        and all(s in done for s in hire.steps if s.must)
        and gained >= hire.short - 1e-9
    )


def fewest_minutes(hire: Hire) -> int | None:
    """By trying every subset."""
    ways = [sum(s.minutes for s in d) for d in subsets(hire.steps) if over_the_line(hire, d)]
    return min(ways, default=None)


def names(part: Part) -> list[str]:
    return [s.name for s in part.steps]


some_steps = st.lists(
    st.tuples(st.integers(1, 9), st.integers(0, 8), st.booleans()), min_size=0, max_size=7
).map(
    lambda rows: tuple(
        Step(f"s{n}", minutes, gain / 100, must) for n, (minutes, gain, must) in enumerate(rows)
    )
)
house_steps = st.lists(st.tuples(st.integers(0, 8), st.booleans()), max_size=5).flatmap(
    lambda rows: st.lists(st.sampled_from([POURS, PACE]), max_size=2, unique=True).map(
        lambda checks: (
            *(build(f"s{n}", 4, gain / 100, must=m) for n, (gain, m) in enumerate(rows)),
            *checks,
        )
    )
)
some_hires = st.lists(
    st.tuples(st.integers(-3, 20), some_steps | house_steps, st.booleans()), min_size=1, max_size=4
).map(
    lambda rows: [Hire(f"h{n}", short / 100, steps, b) for n, (short, steps, b) in enumerate(rows)]
)


@settings(max_examples=150)
@given(some_hires)
def test_no_list_is_shorter_than_the_shortest(hires):
    for hire in hires:
        found, best = shortest(hire), fewest_minutes(hire)
        assert (found.minutes if found else None) == best
        if found:
            assert over_the_line(hire, found.steps)
            assert len(set(found.steps)) == len(found.steps)


@settings(max_examples=100)
@given(some_hires, st.integers(0, 60))
def test_no_hour_makes_more_ready(hires, minutes):
    """Against every choice of whom to take over the line, each by every way to do it."""
    wanting = [h for h in hires if h.short > 1e-9 or any(s.must for s in h.steps)]
    costs = [fewest_minutes(h) for h in wanting]
    most = max(
        sum(taken)
        for taken in product((0, 1), repeat=len(wanting))
        if all(c is not None or not t for c, t in zip(costs, taken, strict=True))
        and sum((c or 0) * t for c, t in zip(costs, taken, strict=True)) <= minutes
    )

    found = plan_hour(hires, minutes)

    assert sum(p.ready for p in found) == most
    assert sum(p.minutes for p in found) <= minutes
    by_name = {h.person: h for h in hires}
    for part in found:
        assert set(part.steps) <= set(by_name[part.person].steps)
        if part.ready:
            assert over_the_line(by_name[part.person], part.steps)


def test_most_orders_a_minute_first():
    hire = Hire("Nils", 0.06, (build("a", 6, 0.03), build("b", 2, 0.02), build("c", 3, 0.01)))

    assert names(shortest(hire)) == ["b", "a", "c"]


def test_the_best_by_the_minute_is_not_always_the_shortest_list():
    """Greedy would take b (.02 in 3) and still need a: 8 minutes instead of 5."""
    hire = Hire("Nils", 0.03, (build("a", 5, 0.03), build("b", 3, 0.02)))

    assert names(shortest(hire)) == ["a"]


def test_a_missing_sign_off_is_never_left_out_for_orders():
    hire = Hire("Nils", 0.0, (build("must", 4, 0.0, must=True), build("free", 1, 0.5)))

    assert names(shortest(hire)) == ["must"]


def test_who_can_t_be_taken_over_still_gains_in_what_time_is_left():
    far = Hire("Bo", 0.5, (build("much", 10, 0.2), build("little", 10, 0.1)))
    near = Hire("Nils", 0.01, (build("one", 4, 0.02),))

    found = plan_hour([far, near], 15)

    assert [(p.person, names(p), p.ready) for p in found] == [
        ("Nils", ["one"], True), ("Bo", ["much"], False),
    ]  # fmt: skip


def test_time_goes_to_those_whom_builds_can_take_there():
    """Whoever is barred would win more a minute."""
    barred = Hire("Bo", 0.35, (build("much", 4, 0.3), build("more", 4, 0.4)), barred=True)
    far = Hire("Nils", 0.5, tuple(build(f"n{k}", 4, 0.02) for k in range(15)))

    both = plan_hour([barred, far], 60)
    assert [(p.person, p.minutes, p.ready) for p in both] == [("Nils", 60, False)]
    both = plan_hour([barred, far], 64)
    assert [(p.person, p.minutes, p.ready) for p in both] == [
        ("Nils", 60, False), ("Bo", 4, False),
    ]  # fmt: skip
    alone = plan_hour([barred], 60)
    assert [(p.person, names(p), p.ready) for p in alone] == [("Bo", ["more"], False)]


def test_a_check_that_alone_makes_somebody_ready_comes_before_all_else():
    """Ines lacks a pace check and nothing else; the others can't get there in the hour."""
    ines = Hire("Ines", -0.1, (PACE, *(build(f"i{k}", 4, 0.001) for k in range(9))))
    noor = Hire("Noor", -0.1, (POURS, PACE, *(build(f"d{k}", 4, 0.01) for k in range(9))), True)
    wanda = Hire("Wanda", 0.3, tuple(build(f"w{k}", 4, 0.01) for k in range(5)))

    found = plan_hour([noor, wanda, ines], 60)

    assert [(p.person, names(p), p.ready) for p in found] == [
        ("Ines", ["pace"], True),
        ("Wanda", [f"w{k}" for k in range(5)], False),
        ("Noor", ["pours", "pace"], False),  # what is missing beside the permit, and nothing else
    ]


@pytest.mark.parametrize("barred", [False, True])
@pytest.mark.parametrize(
    ("minutes", "done"),
    [(4, ["must"]), (9, ["must", "pours"]), (19, ["must", "pours"]),
     (24, ["must", "pours", "pace"]), (60, ["must", "pours", "pace"])],
)  # fmt: skip
def test_checks_come_after_builds_that_are_missing(minutes, done, barred):
    """Nobody is timed on drinks that they haven't shown; and `free` isn't missing."""
    steps = (PACE, POURS, build("must", 4, 0.0, must=True), build("free", 4, 0.2))

    [part] = plan_hour([Hire("Noor", -0.1, steps, barred)], minutes)

    assert (names(part), part.ready) == (done, minutes >= 24 and not barred)


def test_whom_only_a_permit_bars_gets_no_time():
    assert plan_hour([Hire("Bo", -0.1, (build("free", 4, 0.2),), barred=True)], 60) == ()


def test_who_is_ready_needs_no_time():
    assert plan_hour([Hire("Nils", -0.1, (build("one"),))]) == ()


def test_time_that_makes_nobody_ready_goes_to_what_is_missing():
    """`free` wins more orders than all the rest and isn't missing."""
    free = build("free", 4, 0.5)
    must = [build(f"must {n}", 4, n / 100, must=True) for n in range(4)]
    word = Step("word", 1, 0.0, must=True, first=True)

    [part] = plan_hour([Hire("Noor", -0.1, (free, *must, word))], 13)
    assert names(part) == ["word", "must 3", "must 2", "must 1"]
    [part] = plan_hour([Hire("Noor", -0.1, (*must[:2], build("short", 2, 0.1)))], 6)
    assert names(part) == ["must 1"]


def test_an_hour_is_spread_where_that_costs_nobody_one():
    """Twenty minutes now and an hour next time make Nils ready by then, however it is spread."""
    near = Hire("Nils", 0.0, tuple(build(f"n{k}", 4, 0.01, must=True) for k in range(20)))
    far = Hire("Bo", 0.0, tuple(build(f"b{k}", 4, 0.02, must=True) for k in range(30)))
    never = Hire("Cy", 0.9, tuple(build(f"c{k}", 4, 0.02) for k in range(9)))

    found = {p.person: p.minutes for p in plan_hour([far, near, never], 60)}
    assert found == {"Nils": 36, "Bo": 12, "Cy": 12}  # 20, and then 40 in turn


def test_an_hour_is_not_spread_where_that_costs_one():
    """All of it and an hour more is what Nils needs."""
    near = Hire("Nils", 0.0, tuple(build(f"n{k}", 4, 0.01, must=True) for k in range(30)))
    far = Hire("Bo", 0.0, tuple(build(f"b{k}", 4, 0.02, must=True) for k in range(31)))

    assert [(p.person, p.minutes) for p in plan_hour([far, near], 60)] == [("Nils", 60)]


def test_a_word_is_given_also_to_whom_something_else_bars():
    word = Step("word", 1, 0.0, must=True, first=True)
    barred = Hire("Bo", 0.0, (build("more", 4, 0.4), word), barred=True)
    far = Hire("Nils", 0.5, (build("one", 4, 0.02),))

    both = plan_hour([barred, far], 60)
    assert [(p.person, names(p), p.ready) for p in both] == [
        ("Nils", ["one"], False), ("Bo", ["word"], False),
    ]  # fmt: skip


def test_five_hires_and_an_hour():
    hires = [
        Hire(f"h{n}", 0.05, tuple(build(f"d{k}", 5, 0.05 / n) for k in range(n)))
        for n in range(1, 6)
    ]

    found = plan_hour(hires, 60)

    # 5 + 10 + 15 + 20 minutes; ten are left for the fifth, who needs 25
    assert [(p.person, p.minutes, p.ready) for p in found] == [
        ("h1", 5, True), ("h2", 10, True), ("h3", 15, True), ("h4", 20, True), ("h5", 10, False),
    ]  # fmt: skip


@pytest.mark.parametrize(("minutes", "gain"), [(0, 0.1), (3, -0.1)])
def test_a_step_without_sense_is_refused(minutes, gain):
    with pytest.raises(ValueError, match="a step takes a minute"):
        Step("x", minutes, gain)
