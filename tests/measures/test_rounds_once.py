"""Each bottle once across the glasses, wherever the drinks' own orders allow it: held against the
fewest pick-ups that there are, found by trying every one."""

from itertools import combinations, combinations_with_replacement

import pytest

from assessments.measures.rounds import Act, best_order
from recipes.grammar.house_spec import HouseSpec
from recipes.grammar.spec import How, Ice, Method
from tests.grammar.test_course_content import course
from tests.grammar.test_course_content import drinks as shipped

UNDER, BOTTLE, MIXER, FLOAT = (Act.UNDER, Act.BOTTLE, Act.MIXER, Act.FLOAT)
IN_A_TIN = (Method.SHAKE, Method.STIR)
POURED = (Method.BUILD, *IN_A_TIN, Method.BLEND, Method.LAYER)

Event = tuple[int, str, str]
"""Of which drink, what is done, with what."""


def needs(number: int, spec: HouseSpec) -> dict[Event, set[Event]]:
    """What is done for one drink, by hand: of each event those that it comes after."""
    under = [(number, "under", p.ingredient) for p in spec.how(How.FIRST_IN)]
    under += [(number, "under", p.ingredient) for p in spec.how(How.MUDDLED)]
    ice: list[Event] = [] if spec.ice is Ice.NONE else [(number, "ice", "")]
    pours = [(number, "pour", p.ingredient) for p in spec.how(How.MEASURED)]
    pours += [(number, "pour", p.ingredient) for p in spec.how(How.DASH)]
    mixed = spec.method in (*IN_A_TIN, Method.BLEND)
    mix: list[Event] = [(number, "mix", spec.method.value)] if mixed else []
    tops = [(number, "top", p.ingredient) for p in spec.mixers]
    floats = [(number, "float", p.ingredient) for p in spec.how(How.FLOAT)]
    after: dict[Event, set[Event]] = {}
    before: list[Event] = []
    for stage, in_turn in (
        (under, True), (ice, True), (pours, spec.method is Method.LAYER), (mix, True),
        (tops, True), (floats, True),
    ):  # fmt: skip
        for n, event in enumerate(stage):
            after[event] = {*before, *(stage[:n] if in_turn else ())}
            if stage is pours and spec.method in IN_A_TIN:
                after[event] -= set(ice)  # the ice of the glass
        before += stage
    return after


def fewest(specs: list[HouseSpec]) -> int:
    """Pick-ups. Ice goes into all glasses at once, and everything in tins is shaken at once."""
    after = {e: b for n, spec in enumerate(specs) for e, b in needs(n, spec).items()}
    front, picked = {_settled(frozenset(), after)}, 0
    while frozenset(after) not in front:
        picked += 1
        front = {
            _settled(done | free, after)
            for done in front
            for free in _with_each_bottle(done, after)
        }
    return picked


def _with_each_bottle(done, after):
    free = [e for e in after if e not in done and e[1] not in ("ice", "mix") and after[e] <= done]
    return [frozenset(e for e in free if e[2] == item) for item in {e[2] for e in free}]


def _settled(done, after):
    """With whatever is done for all at once and waits for nothing."""
    while True:
        open_ = {e[1:] for e in after if e not in done and e[1] in ("ice", "mix")}
        ready = [
            kind for kind in open_ if all(after[e] <= done for e in after if e[1:] == kind)
        ]  # fmt: skip
        if not ready:
            return done
        done |= {e for e in after if e[1:] == ready[0]}


def pick_ups(specs: list[HouseSpec]) -> list[str]:
    order = best_order(specs, course().pantry)
    return [step.item for step in order if step.act in (UNDER, BOTTLE, MIXER, FLOAT)]


def spec_of(slug: str) -> HouseSpec:
    return shipped()[slug].spec


def of_many_kinds() -> list[str]:
    """One of each kind of work, as the course's drinks come."""
    seen, found = set(), []
    for slug, drink in sorted(shipped().items()):
        spec = drink.spec
        kind = (spec.method, frozenset(p.how for p in spec.parts), len(spec.mixers))
        if spec.method in POURED and kind not in seen:
            seen.add(kind)
            found.append(slug)
    return found


def test_the_syrup_of_a_margarita_and_a_mojito_is_picked_up_once():
    order = best_order([spec_of("margarita"), spec_of("mojito")], course().pantry)

    told = [(s.act, s.item, s.drinks) for s in order]
    assert (BOTTLE, "simple-syrup", (0, 1)) in told
    assert [item for _act, item, _drinks in told].count("simple-syrup") == 1
    acts = [(act, item) for act, item, _ in told]
    assert acts.index((UNDER, "mint-leaf")) < acts.index((BOTTLE, "simple-syrup"))
    assert acts.index((BOTTLE, "simple-syrup")) < acts.index((Act.ICE, ""))


@pytest.mark.parametrize("slug", of_many_kinds())
def test_no_pair_picks_up_more_than_it_must(slug):
    """With every fifth drink of the course that is poured."""
    for other in sorted(shipped())[::5]:
        specs = [spec_of(slug), spec_of(other)]
        if specs[1].method in POURED:
            found = pick_ups(specs)
            assert len(found) == fewest(specs), (other, found)


@pytest.mark.parametrize("first", of_many_kinds())
def test_no_three_kinds_of_drinks_pick_up_more_than_they_must(first):
    kinds = of_many_kinds()
    for others in list(combinations(kinds[kinds.index(first) + 1 :], 2))[::5]:
        specs = [spec_of(slug) for slug in (first, *others)]
        found = pick_ups(specs)
        assert len(found) == fewest(specs), (others, found)


def test_two_of_each_are_picked_up_as_often_as_one():
    for slugs in combinations_with_replacement(of_many_kinds(), 2):
        specs = [spec_of(slug) for slug in slugs]
        assert len(pick_ups(specs)) == len(pick_ups([*specs, *specs]))
