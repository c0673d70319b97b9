"""The trainer's hour where nobody gets ready in it: against every choice, and hour after hour."""

from dataclasses import replace
from itertools import accumulate, combinations

from hypothesis import given, settings
from hypothesis import strategies as st

from assessments.measures.trainers_hour import Hire, Part, Step, plan_hour, shortest

BUILD, WORD = 4, 1
CHECKS = {"pours": 5, "pace": 15}


def a_step(n: int, gain: int, kind: str) -> Step:
    if kind == "word":
        return Step(f"s{n}", WORD, 0.0, must=True, first=True)
    if kind in CHECKS:
        return Step(f"s{n}", CHECKS[kind], 0.0, must=True)
    return Step(f"s{n}", BUILD, gain / 100, must=kind == "must")


def some_hires(kinds, most_hires, most_steps):
    step = st.tuples(st.integers(0, 8), st.sampled_from(kinds))
    steps = st.lists(step, max_size=most_steps).map(
        lambda rows: tuple(a_step(n, *row) for n, row in enumerate(rows))
    )
    return st.lists(st.tuples(st.integers(-3, 20), steps), min_size=1, max_size=most_hires).map(
        lambda rows: [Hire(f"h{n}", short / 100, steps) for n, (short, steps) in enumerate(rows)]
    )


def after(hire: Hire, done) -> Hire:
    """Nothing else was shown."""
    left = tuple(s for s in hire.steps if s not in done)
    return replace(hire, short=hire.short - sum(s.gain for s in done), steps=left)


def once_done(hires, parts: tuple[Part, ...]) -> list[Hire]:
    done = {p.person: p.steps for p in parts}
    return [after(h, done.get(h.person, ())) for h in hires]


def is_ready(hire: Hire) -> bool:
    return hire.short <= 1e-9 and not any(s.must for s in hire.steps)


def worth(hires, done, hour) -> tuple[tuple[int, ...], int]:
    """What `plan_hour` says comes first and next, from what is done with each: how many are ready
    then, how many words were given, how many can be ready after each further hour; and with how
    many the time was spent."""
    left = [after(h, d) for h, d in zip(hires, done, strict=True)]
    words = sum(s.first for d in done for s in d)
    soonest = list(accumulate(sorted(minutes_to(h) for h in left)))
    later = [sum(m <= k * (hour - hour % BUILD) for m in soonest) for k in range(1, FURTHER)]
    return (sum(map(is_ready, left)), words, *later), sum(map(bool, done))


FURTHER = 12


def minutes_to(hire: Hire) -> int:
    """In builds: words are given before."""
    part = shortest(hire)
    return sum(s.minutes for s in part.steps if not s.first) if part else 9999


def every_choice(hires, minutes):
    if not hires:
        yield ()
        return
    for many in range(len(hires[0].steps) + 1):
        for done in combinations(hires[0].steps, many):
            left = minutes - sum(s.minutes for s in done)
            if left >= 0:
                yield from ((done, *rest) for rest in every_choice(hires[1:], left))


@settings(max_examples=60, deadline=None)
@given(some_hires(["word", "must", "must", "free"], 2, 4), st.integers(0, 20))
def test_no_choice_is_worth_more_where_nobody_gets_ready(hires, minutes):
    """Hires to whom a list is enough; where somebody gets ready, the hour that is left is one in
    which nobody else does."""
    hires = [h for h in hires if shortest(h) and not is_ready(h)]
    over = {p.person: p.minutes for p in plan_hour(hires, minutes) if p.ready}
    left = [h for h in hires if h.person not in over]
    minutes -= sum(over.values())
    if not left:
        return
    found = {p.person: p.steps for p in plan_hour(left, minutes)}
    (planned, _spread) = worth(left, [found.get(h.person, ()) for h in left], minutes)

    assert planned == max(worth(left, done, minutes)[0] for done in every_choice(left, minutes))
    assert planned[0] == 0


@settings(max_examples=60, deadline=None)
@given(some_hires(["must", "must", "free"], 3, 4), st.sampled_from([4, 8, 12]))
def test_of_choices_worth_as_much_none_goes_to_more_hires(hires, minutes):
    """Where a list is enough for each and nobody gets ready in the time."""
    hires = [h for h in hires if shortest(h) and not is_ready(h)]
    parts = plan_hour(hires, minutes)
    if not hires or any(p.ready for p in parts):
        return
    found = {p.person: p.steps for p in parts}
    planned, spread = worth(hires, [found.get(h.person, ()) for h in hires], minutes)
    every = [worth(hires, done, minutes) for done in every_choice(hires, minutes)]

    assert planned == max(value for value, _many in every)
    assert spread == max(many for value, many in every if value == planned)


@settings(max_examples=100, deadline=None)
@given(some_hires(["word", "must", "must", "free"], 1, 40), st.sampled_from([20, 40, 60, 90]))
def test_who_needs_only_builds_gets_there_in_the_fewest_minutes(hires, minutes):
    """Hour after hour nothing is done that isn't on the shortest list of the first hour, and it
    takes no more than one hour more than the list is long."""
    [hire] = hires
    needed = shortest(hire)
    if needed is None:
        return
    spent, hours = 0, 0
    while not is_ready(hire):
        [part] = plan_hour([hire], minutes)
        spent, hours, hire = spent + part.minutes, hours + 1, after(hire, part.steps)
        assert hours <= -(-needed.minutes // minutes) + 1

    assert spent == needed.minutes


@settings(max_examples=100, deadline=None)
@given(some_hires(["must", "must", "free"], 4, 8), st.integers(1, 6))
def test_hours_get_as_far_as_one_as_long_as_all(hires, hours):
    """Twenty minutes are five builds, so that none is lost between them."""
    together = once_done(hires, plan_hour(hires, 20 * hours))
    for _ in range(hours):
        hires = once_done(hires, plan_hour(hires, 20))

    assert sum(map(is_ready, hires)) == sum(map(is_ready, together))


@settings(max_examples=100, deadline=None)
@given(some_hires(["word", "must", "must", "must", "free"], 3, 5), st.integers(1, 5))
def test_words_and_odd_minutes_cost_no_more_than_an_hour(hires, hours):
    together = once_done(hires, plan_hour(hires, 20 * hours))
    for _ in range(hours + 1):
        hires = once_done(hires, plan_hour(hires, 20))

    assert sum(map(is_ready, hires)) >= sum(map(is_ready, together))


ALL_KINDS = ["word", "must", "must", "free", "pours", "pace"]


@settings(max_examples=60, deadline=None)
@given(some_hires(ALL_KINDS, 2, 4), st.integers(0, 30))
def test_with_checks_no_choice_makes_more_ready_nor_gives_more_words(hires, minutes):
    wanting = [h for h in hires if not is_ready(h)]
    if not wanting:
        return
    found = {p.person: p.steps for p in plan_hour(wanting, minutes)}
    planned = worth(wanting, [found.get(h.person, ()) for h in wanting], minutes)[0]

    best = max(worth(wanting, done, minutes)[0][:1] for done in every_choice(wanting, minutes))
    assert planned[:1] == best


@settings(max_examples=60, deadline=None)
@given(some_hires(["must", "must", "free", "pours", "pace"], 3, 3), st.sampled_from([15, 20, 24]))
def test_with_checks_nobody_is_ready_more_than_an_hour_late(hires, hour):
    """Against whatever can be done in so many hours, each of whole steps."""
    hires = [h for h in hires if shortest(h) and not is_ready(h)]
    best = most_ready(hires, hour)
    planned = [0]
    while planned[-1] < len(hires):
        hires = once_done(hires, plan_hour(hires, hour))
        planned.append(sum(map(is_ready, hires)))

    assert all(p >= b for p, b in zip(planned[1:], best, strict=False))
    assert len(planned) <= len(best) + 1


def most_ready(hires: list[Hire], hour: int) -> list[int]:
    """How many can be ready after no hour, one, two ..., by trying out every way to all of them."""
    found, states = [0], {frozenset()}
    while found[-1] < len(hires):
        states = {state | more for state in states for more in hours_of(hires, state, hour)}
        found.append(max(sum(is_ready(h) for h in done_with(hires, s)) for s in states))
    return found


def done_with(hires, state):
    return [after(h, [s for s in h.steps if (h.person, s) in state]) for h in hires]


def hours_of(hires, state, hour):
    """Every hour into which no further step fits."""
    left = [(h.person, s) for h in hires for s in h.steps if (h.person, s) not in state]
    for many in range(len(left) + 1):
        for done in combinations(left, many):
            room = hour - sum(s.minutes for _person, s in done)
            if room >= 0 and all(s.minutes > room for p, s in left if (p, s) not in done):
                yield frozenset(done)
