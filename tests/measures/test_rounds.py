"""The best order of a round: each bottle once, the stout first, what dies fast last."""

from itertools import product

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from assessments.measures.own_order import each_once, shortest_supersequence
from assessments.measures.rounds import (
    MOST_DRINKS,
    ORDER,
    Act,
    best_order,
)
from assessments.measures.rounds_done import compare, in_order
from recipes.grammar.house_spec import HouseSpec
from recipes.grammar.ingredients import Pantry
from recipes.grammar.spec import BuildSpec, Garnish, How, Method, Part, When
from recipes.grammar.steps import BuildStep, build_steps
from recipes.grammar.units import Unit
from tests.grammar.kitchen import PANTRY
from tests.grammar.test_course_content import course
from tests.grammar.test_course_content import drinks as shipped
from tests.measures.bar import drink, menu, menus

ROUND = ("nitro-stout", "draught-lager", "vodka-tonic", "cape-codder", "madras", "margarita")


def order(*slugs):
    return best_order([drink(slug).spec for slug in slugs], PANTRY)


def told(steps):
    return [(s.act.value, s.item, s.drinks) for s in steps]


def test_a_round_as_the_trade_does_it():
    steps = told(order(*ROUND))

    assert steps[:2] == [("glass", "", (0, 1, 2, 3, 4, 5)), ("settle", "stout", (0,))]
    assert ("bottle", "vodka", (2, 3, 4)) in steps
    assert ("mixer", "cranberry-juice", (3, 4)) in steps
    assert [s[:2] for s in steps[-3:]] == [
        ("draught", "lager"), ("top_up", "stout"), ("serve", ""),
    ]  # fmt: skip


def test_acts_come_in_the_order_of_the_trade():
    acts = [s.act for s in order(*ROUND)]

    assert acts == sorted(acts, key=ORDER.index)


AS = {
    "glass": Act.GLASS, "rim": Act.RIM, "first_in": Act.UNDER, "muddle": Act.UNDER, "ice": Act.ICE,
    "pour": Act.BOTTLE, "dash": Act.BOTTLE, "shake": Act.MIX, "stir": Act.MIX, "blend": Act.MIX,
    "top": Act.MIXER, "draw": Act.DRAUGHT, "float": Act.FLOAT, "straw": Act.STRAW,
    "garnish": Act.GARNISH, "serve": Act.SERVE,
}  # fmt: skip
PICKED = (Act.UNDER, Act.BOTTLE, Act.OPEN, Act.MIXER, Act.FLOAT, Act.GARNISH, Act.DRAUGHT)
SWAPPED = {
    (Method.OPEN, Act.BOTTLE): Act.OPEN,
    (Method.TWO_PART, Act.DRAUGHT): Act.SETTLE,
}
MIXED = (Method.SHAKE, Method.STIR)


def on_the_checklist(spec: HouseSpec, pantry: Pantry) -> list[tuple[Act, str]]:
    """A drink's own steps, as far as a round has them, in their own order. Serving ice of what is
    shaken or stirred is left out: in a round all glasses are iced at once."""
    steps = [s for s in build_steps(spec, pantry) if not _only_if_asked(s)]
    told = [(*s.key.partition(":")[::2], s.key) for s in steps]
    acts = [
        (Act.ASK if key == "garnish:ask" else SWAPPED.get((spec.method, AS[head]), AS[head]), item)
        for head, item, key in told
        if head in AS
    ]
    acts = [a for a in acts if not (a[0] is Act.ICE and spec.method in MIXED)]
    return [(act, item if act in PICKED else "") for act, item in acts]


def _only_if_asked(step: BuildStep) -> bool:
    return step.does.code == f"do_garnish_{When.ON_REQUEST.value}"


def in_the_round(spec: HouseSpec, pantry: Pantry, *others: HouseSpec) -> list[tuple[Act, str]]:
    """What is done for the first drink, with others beside it."""
    mine = [s for s in best_order([spec, *others], pantry) if 0 in s.drinks]
    acts = [s for s in mine if not (s.act is Act.ICE and spec.method in MIXED)]
    return [(s.act, s.item if s.act in PICKED else "") for s in acts if s.act is not Act.TOP_UP]


@pytest.mark.parametrize("slug", sorted(shipped()))
def test_each_drink_of_the_course_keeps_the_order_of_its_checklist(slug):
    spec, pantry = shipped()[slug].spec, course().pantry

    assert in_the_round(spec, pantry) == on_the_checklist(spec, pantry)


@pytest.mark.parametrize(
    ("method", "parts"),
    [
        (Method.DRAUGHT, [("lager", How.TOP), ("stout", How.FLOAT)]),
        (Method.BUILD, [("gin", How.MEASURED), ("tonic-water", How.TOP), ("cola", How.TOP)]),
        (Method.BUILD, [("gin", How.MEASURED), ("cola", How.TOP), ("orange-juice", How.TOP)]),
        (Method.OPEN, [("lager", How.MEASURED)]),
    ],
)
def test_a_drink_keeps_its_own_order_beside_others(method, parts):
    made = _own(method, parts)
    others = [drink(slug).spec for slug in ROUND]

    assert in_the_round(made, PANTRY, *others) == on_the_checklist(made, PANTRY)


def _own(method: Method, parts: list[tuple[str, How]]) -> HouseSpec:
    said = tuple(
        Part(ingredient=item, how=how)
        if how is How.TOP
        else Part(ingredient=item, how=how, amount=1, unit=Unit.FLOZ)
        for item, how in parts
    )
    lime = (Garnish(item="lime"),)
    return drink("own", BuildSpec(method=method, parts=said, garnish=lime, glass="pint")).spec


@settings(max_examples=60)
@given(menus(most=5))
def test_glasses_come_first_and_a_settling_pour_before_every_other(drinks):
    specs = [d.spec for d in drinks] + [drink("nitro-stout").spec]
    steps = best_order(specs, PANTRY)

    assert [s.act for s in steps[:2]] == [Act.GLASS, Act.SETTLE]
    for number, spec in enumerate(specs):
        own = [s.act for s in steps if number in s.drinks]
        assert (own[0] is Act.GLASS) is (spec.method is not Method.OPEN)
        assert own[-1] is Act.SERVE


def test_bottles_keep_the_order_of_the_recipes_where_those_agree():
    assert each_once(["abc", "c", "bc"]) == ("a", "b", "c")
    assert each_once(["ab", "ba"]) == ("a", "b")
    assert each_once([]) == ()


def test_what_goes_onto_a_beer_is_no_delay():
    steps = [drink("draught-lager").spec, _own(Method.DRAUGHT, [("lager", How.TOP)])]
    best = best_order(steps, PANTRY)

    assert [s.act for s in best] == [Act.GLASS, Act.DRAUGHT, Act.GARNISH, Act.SERVE]
    assert [r.code for r in compare(best, best).reasons] == ["round_as_best"]


def test_straws_and_what_is_asked_are_steps_as_on_each_checklist():
    for made in menu():
        acts = {s.act for s in best_order([made.spec], PANTRY)}
        keys = {s.key for s in build_steps(made.spec, PANTRY)}

        assert (Act.STRAW in acts) == ("straw" in keys), made.slug
        assert (Act.ASK in acts) == ("garnish:ask" in keys), made.slug


def test_the_menu_has_a_straw_and_something_to_ask():
    keys = {s.key for made in menu() for s in build_steps(made.spec, PANTRY)}

    assert {"straw", "garnish:ask"} <= keys


def test_still_mixers_before_fizzy_ones():
    mixers = [s.item for s in order("vodka-tonic", "madras") if s.act is Act.MIXER]

    assert mixers == ["cranberry-juice", "orange-juice", "tonic-water"]


def test_a_bottle_is_picked_up_twice_only_where_layers_force_it():
    steps = order("three-layers", "three-layers", "white-russian")

    bottles = [s.item for s in steps if s.act is Act.BOTTLE]
    assert len(bottles) == len(set(bottles))


@settings(max_examples=60)
@given(menus(most=5))
def test_every_part_of_every_drink_is_done_once(drinks):
    steps = best_order([d.spec for d in drinks], PANTRY)

    assert len({s.key for s in steps}) == len(steps) or _twice(steps)
    for number, made in enumerate(drinks):
        mine = [s.item for s in steps if number in s.drinks and s.item]
        for part in made.spec.parts:
            assert part.ingredient in mine


def _twice(steps):
    """Only a bottle of a layered drink comes back under the same key."""
    return all(s.act is Act.BOTTLE for s in steps if steps.count(s) > 1)


@pytest.mark.parametrize("count", [0, MOST_DRINKS + 1])
def test_nobody_carries_that(count):
    with pytest.raises(ValueError, match="a round has"):
        order(*["madras"] * count)


sequences_of = st.lists(st.permutations("abcd").map(lambda p: p[:3]), min_size=1, max_size=3)


def holds(order_, sequence):
    rest = iter(order_)
    return all(item in rest for item in sequence)


@settings(max_examples=60)
@given(sequences_of)
def test_no_shorter_order_holds_every_sequence(sequences):
    """Held against every order there is that would be one shorter."""
    found = shortest_supersequence(sequences)

    assert all(holds(found, s) for s in sequences)
    items = sorted({item for s in sequences for item in s})
    shorter = product(items, repeat=len(found) - 1)
    assert not any(all(holds(o, s) for s in sequences) for o in shorter)


def test_no_sequence_needs_nothing():
    assert shortest_supersequence([]) == ()


def codes(done, again=0, slugs=ROUND):
    return {r.code: r.values for r in compare(order(*slugs), done, again).reasons}


def test_done_in_the_best_order():
    assert codes(order(*ROUND)) == {"round_as_best": {}}


def test_one_step_out_of_turn_is_one():
    best = list(order(*ROUND))
    ice = next(s for s in best if s.act is Act.ICE)
    done = [s for s in best if s is not ice]
    done.insert(0, ice)

    compared = compare(best, done)
    assert compared.moved == (ice,)
    assert {r.code for r in compared.reasons} == {"round_moved", "round_settle_late"}


@pytest.mark.parametrize(
    ("done", "late", "beside"),
    [((1, 2, 3, 0), True, 1), ((3, 0, 1, 2), False, 2), ((0, 2, 1, 3), True, 2)],
)
def test_a_step_out_of_turn_is_told_with_where_it_belongs(done, late, beside):
    best = order("vodka-tonic")[:4]

    [turn] = compare(best, [best[n] for n in done]).turns

    assert (turn.late, turn.beside) == (late, best[beside])


ROUNDS = (
    ROUND,
    ("nitro-stout", "gin-tonic", "vodka-tonic", "draught-lager"),
    ("draught-lager", "margarita", "gin-tonic"),
    ("draught-lager", "draught-lager"),
)
done_rounds = st.sampled_from(ROUNDS).flatmap(
    lambda slugs: st.tuples(st.just(order(*slugs)), st.permutations(order(*slugs)))
)


def followed(done, turns):
    """Each step put where its sentence says, one sentence after the other."""
    now = list(done)
    for turn in turns:
        now.remove(turn.step)
        now.insert(now.index(turn.beside) + (not turn.late), turn.step)
    return tuple(now)


@settings(max_examples=300)
@given(done_rounds)
def test_whoever_follows_what_is_told_ends_at_the_best_order(round_):
    best, done = round_

    assert followed(done, compare(best, done).turns) == best


@given(done_rounds)
def test_an_early_step_belongs_right_after_the_one_before_it_in_the_best_order(round_):
    best, done = round_

    for turn in compare(best, done).turns:
        apart = best.index(turn.beside) - best.index(turn.step)
        assert apart > 0 if turn.late else apart == -1


@settings(max_examples=300)
@given(done_rounds)
def test_no_advice_speaks_against_what_is_said_of_a_beer_that_died(round_):
    """Either the beer is told to come last, or each step that it waited for to come sooner."""
    best, done = round_
    found = compare(best, done)
    late = {turn.step for turn in found.turns if turn.late}
    first = next(n for n, s in enumerate(done) if s.act is Act.DRAUGHT)
    top = min(best.index(s) for s in best if s.act is Act.DRAUGHT)
    held_up = {s for s in done[first:] if best.index(s) < top}

    assert any(t.step == done[first] and t.last for t in found.turns) or held_up <= late
    if not held_up:
        assert "round_died" not in {r.code for r in found.reasons}


def test_a_lager_drawn_first_is_told_to_come_last_after_what_comes_just_before_it():
    best = order("nitro-stout", "gin-tonic", "vodka-tonic", "draught-lager")
    lager = next(s for s in best if s.act is Act.DRAUGHT)

    found = compare(best, [lager, *(s for s in best if s is not lager)])

    [turn] = found.turns
    assert (turn.step, turn.late, turn.last) == (lager, False, True)
    assert turn.beside == best[best.index(lager) - 1]
    assert "round_died" in {r.code for r in found.reasons}


LATE = (Method.DRAUGHT, Method.TWO_PART, Method.OPEN)


@pytest.mark.parametrize("slug", sorted(s for s, d in shipped().items() if d.spec.method in LATE))
def test_no_round_done_as_is_best_is_blamed(slug):
    for other in shipped().values():
        best = best_order([shipped()[slug].spec, other.spec], course().pantry)

        assert [r.code for r in compare(best, best).reasons] == ["round_as_best"], other.slug


def test_two_of_one_drink_are_poured_across():
    steps = told(order("vodka-tonic", "vodka-tonic"))

    assert ("bottle", "vodka", (0, 1)) in steps
    assert len(steps) == len(told(order("vodka-tonic")))


def test_what_is_tapped_comes_first_as_tapped():
    best = order("vodka-tonic")
    keys = [step.key for step in best]

    assert in_order(best, []) == tuple(keys)
    assert in_order(best, [keys[2], keys[0]]) == (keys[2], keys[0], keys[1], *keys[3:])


@pytest.mark.parametrize("tapped", [("ice::7",), ("glass::0", "glass::0")])
def test_what_is_no_step_of_the_round_cannot_be_tapped(tapped):
    with pytest.raises(ValueError, match="not the steps"):
        in_order(order("vodka-tonic"), tapped)


def test_a_beer_drawn_too_early_loses_its_head():
    best = list(order(*ROUND))
    lager = next(s for s in best if s.act is Act.DRAUGHT)
    done = [s for s in best if s is not lager]
    done.insert(1, lager)

    waited = sum(s.act not in (Act.TOP_UP, Act.SERVE) for s in done[2:])
    assert codes(done)["round_died"] == {"count": waited}


def test_bottles_picked_up_again_are_told():
    assert codes(order(*ROUND), again=2) == {"round_picked_up_again": {"count": 2}}


@given(st.permutations(order(*ROUND)))
def test_what_is_left_once_the_moved_steps_are_out_is_in_order(done):
    best = order(*ROUND)
    moved = set(compare(best, done).moved)

    left = [s for s in done if s not in moved]
    assert left == [s for s in best if s not in moved]


@pytest.mark.parametrize("done", [(), order("madras"), (*order(*ROUND), order(*ROUND)[0])])
def test_other_steps_are_no_round_of_these_drinks(done):
    with pytest.raises(ValueError, match="not the steps"):
        compare(order(*ROUND), done)


def test_the_whole_test_menu_fits_into_rounds():
    for made in menu():
        assert order(made.slug)[-1].act is Act.SERVE
