"""Calls to practise: from the grammar, by what sells, with choices that give nothing away."""

from collections import Counter
from functools import cache
from pathlib import Path

import pytest

from assessments.measures.call_build import Build, same
from assessments.measures.call_choices import parts_of
from assessments.measures.call_marking import DrinkGiven, mark_drink
from assessments.measures.call_parts import Piece
from assessments.measures.call_writing import COUNT, Bar, CallAsked, CallKind, call_of, write_calls
from recipes.grammar import calls
from recipes.grammar.aspects import Aspect
from recipes.grammar.coursefile import read_course
from recipes.grammar.drink import make_drink
from recipes.grammar.spec import How

COURSE = Path(__file__).parents[2] / "fixtures" / "course"
SEEDS = range(5)
MOST_SHOWN = 9
"""Options of one step, so that a phone shows them all."""


@cache
def bar(preset="us-classic"):
    course = read_course(COURSE, preset)
    drinks = tuple(
        make_drink(
            slug=d.slug, name=d.name, module=m.slug, spec=d.spec, rules=course.rules,
            pantry=course.pantry, aliases=d.aliases, share=d.share,
        )
        for m in course.modules
        for d in m.drinks
    )  # fmt: skip
    book = calls.vocabulary(course.rules, drinks, course.pantry)
    return Bar(book, drinks, course.rules, course.pantry)


@cache
def rushes(preset="us-classic"):
    return [call for seed in SEEDS for call in write_calls(CallKind.RUSH, bar(preset), seed)]


def drinks():
    return [drink for call in rushes() for drink in call.drinks]


@pytest.mark.parametrize("kind", CallKind)
def test_same_seed_same_calls(kind):
    once, again = write_calls(kind, bar(), 7), write_calls(kind, bar(), 7)

    assert once == again
    assert len(once) == COUNT[kind]
    assert once != write_calls(kind, bar(), 8)


def test_nobody_can_learn_the_list():
    said = Counter(call.text for call in rushes())

    assert len(said) > 0.9 * len(rushes())


def test_rounds_have_several_drinks_and_a_rush_one_a_call():
    assert {len(call.drinks) for call in rushes()} == {1}
    assert {len(c.drinks) for c in write_calls(CallKind.ROUND, bar(), 3)} == {2, 3}


@pytest.mark.parametrize("preset", ["us-classic", "great-britain", "europe"])
def test_a_call_is_heard_as_what_has_to_be_built(preset):
    for call in rushes(preset):
        heard = calls.read(call.text, bar(preset).book)

        assert [d.recipe for d in heard.drinks] == [d.recipe for d in call.drinks]
        asks = [tuple(dict.fromkeys(q.about for q in heard.asks_about(n)))
                for n in range(len(heard.drinks))]  # fmt: skip
        assert asks == [d.ask for d in call.drinks]


def test_about_a_quarter_leaves_something_open():
    asked = Counter(bool(drink.ask) for drink in drinks())

    assert 0.12 * asked.total() < asked[True] < 0.4 * asked.total()


def small(*slugs):
    few = tuple(d for d in bar().drinks if d.slug in slugs)
    return Bar(calls.vocabulary(bar().rules, few, bar().pantry), few, bar().rules, bar().pantry)


@pytest.mark.parametrize("seed", SEEDS)
def test_nothing_is_said_twice_in_a_rush_though_the_house_sells_one_drink(seed):
    rush = write_calls(CallKind.RUSH, small("bloody-mary"), seed)

    assert len({call.text for call in rush}) == len(rush) == COUNT[CallKind.RUSH]


def test_the_right_build_is_among_the_choices_and_no_choice_says_the_same():
    for drink in drinks():
        assert mark_drink(drink, right(drink)).came == "right"
        for part in drink.parts:
            assert len(part.options) - len(part.right) >= 1
            assert len(part.options) <= MOST_SHOWN
            assert part.takes_several or len(part.right) == 1
            for n, one in enumerate(part.options):
                assert not any(same(part.piece, one, other) for other in part.options[n + 1 :])


def right(drink):
    return DrinkGiven(tuple(p.right for p in drink.parts), frozenset(drink.ask), drink.count)


def test_every_aspect_is_asked_in_the_order_of_the_bar():
    for drink in drinks():
        pieces = [part.piece for part in drink.parts]
        assert pieces == sorted(pieces, key=list(Piece).index)
        assert {part.aspect for part in drink.parts} == set(Aspect)


def test_a_liquid_is_chosen_by_itself_as_one_pour_of_it_or_two():
    [drink] = call_of("double tall vodka cranberry", bar()).drinks
    chosen = {p.piece: [p.options[n] for n in p.right] for p in drink.parts}
    [pours] = [p for p in drink.parts if p.piece is Piece.POURS]

    [[line]] = [o["poured"] for o in chosen[Piece.POURS]]
    assert line[:3] == ["vodka", "2.000", "pour"]
    assert chosen[Piece.MIXERS] == [{"ingredient": "cranberry-juice"}]
    amounts = sorted(o["poured"][0][1] for o in pours.options if o["poured"][0][0] == "vodka")
    assert amounts == ["1.000", "2.000"]


def liquids_of(drink):
    return [p.ingredient for p in drink.spec.parts if p.how in (How.MEASURED, How.TOP)]


@pytest.mark.parametrize("preset", ["us-classic", "great-britain", "europe"])
def test_a_drink_of_one_liquid_is_built_by_taking_that_liquid_and_nothing_else(preset):
    """A draught beer is filled up, a bottled one poured: who takes the beer is right with both."""
    alone = [d for d in bar(preset).drinks if len(d.spec.parts) == 1 and liquids_of(d)]
    filled = {d.slug for d in alone if d.spec.mixers}
    assert {"draught-lager", "nitro-stout", "draught-cider"} <= filled

    for drink in alone:
        [liquid] = liquids_of(drink)
        build = Build(drink.spec, bar(preset).pantry, drink.slug)
        parts, _ = parts_of(build, drink.topics, drink.slug, bar(preset).shelf)
        [pour] = [p for p in parts if p.piece is Piece.POURS]
        [mixers] = [p for p in parts if p.piece is Piece.MIXERS]
        assert [_slug(pour.options[n]) for n in pour.right] == [liquid], drink.slug
        assert mixers.right == frozenset(), drink.slug
        assert liquid not in [o["ingredient"] for o in mixers.options], drink.slug
        shown = {t for p in parts for t in p.topics}
        liquid_topics = [t for t in drink.topics if t.aspect in (Aspect.POURS, Aspect.MIXERS)]
        assert {t.fingerprint for t in liquid_topics if not t.rule} <= shown, drink.slug


def _slug(option):
    return option.get("ingredient") or option["poured"][0][0]


@pytest.mark.parametrize("preset", ["us-classic", "great-britain", "europe"])
def test_what_comes_out_of_a_tap_is_drawn_and_what_goes_into_it_fills_it_up(preset):
    """A shandy is drawn: nobody should have to say of its beer that nothing is."""
    [shandy] = [d for d in bar(preset).drinks if d.slug == "shandy"]
    chosen = chosen_of(shandy, preset)

    assert [_slug(o) for o in chosen[Piece.POURS]] == ["lager"]
    assert len(chosen[Piece.MIXERS]) == 1
    assert "lager" not in [_slug(o) for o in chosen[Piece.MIXERS]]


@pytest.mark.parametrize("preset", ["us-classic", "great-britain", "europe"])
def test_a_liquid_that_is_right_stands_in_one_place(preset):
    """Who finds the energy drink under "fill up" couldn't know that we measure it."""
    for drink in bar(preset).drinks:
        build = Build(drink.spec, bar(preset).pantry, drink.slug)
        by_piece = {p.piece: p for p in parts_of(build, (), drink.slug, bar(preset).shelf)[0]}
        pours, mixers = by_piece[Piece.POURS], by_piece[Piece.MIXERS]
        assert not right_slugs(pours) & {_slug(o) for o in mixers.options}, drink.slug
        assert not right_slugs(mixers) & {_slug(o) for o in pours.options}, drink.slug


@pytest.mark.parametrize(
    ("call", "kinds"),
    [
        ("cola", {"mixer"}),
        ("still water", {"mixer"}),
        ("draught lager", {"beer"}),
        ("alcohol-free lager", {"beer", "mixer"}),
        ("glass of red wine", {"wine", "beer"}),
    ],
)
def test_beside_what_is_served_alone_stands_what_is_served_alone(call, kinds):
    """Beside a cola half an ounce of syrup would say of itself that it isn't meant."""
    [drink] = call_of(call, bar()).drinks
    [pours] = [p for p in drink.parts if p.piece is Piece.POURS]

    assert {bar().pantry[_slug(o)].liquor_class.value for o in pours.options} <= kinds
    assert drink.recipe or not any("poured" in option for option in pours.options)


def chosen_of(drink, preset):
    build = Build(drink.spec, bar(preset).pantry, drink.slug)
    parts, _ = parts_of(build, drink.topics, drink.slug, bar(preset).shelf)
    return {p.piece: [p.options[n] for n in p.right] for p in parts}


def right_slugs(part):
    return {_slug(part.options[n]) for n in part.right}


def test_the_wrong_beer_is_no_evidence_of_knowing_what_goes_in():
    [drink] = call_of("draught lager", bar()).drinks
    at = [p.piece for p in drink.parts].index(Piece.POURS)
    pour = drink.parts[at]
    other = next(n for n in range(len(pour.options)) if n not in pour.right)
    parts = [p.right for p in drink.parts]
    parts[at] = frozenset({other})

    marked = mark_drink(drink, DrinkGiven(tuple(parts), frozenset(drink.ask), drink.count))

    assert marked.came == "wrong"
    assert pour.topics
    assert not any(marked.shows[t] for t in pour.topics)


def test_of_several_liquids_each_is_chosen_with_its_amount():
    [drink] = call_of("negroni", bar()).drinks
    [pours] = [p for p in drink.parts if p.piece is Piece.POURS]

    assert sorted(pours.options[n]["poured"][0][0] for n in pours.right) == [
        "gin", "red-bitter", "sweet-vermouth",
    ]  # fmt: skip
    assert all(len(option["poured"]) == 1 for option in pours.options)


@pytest.mark.parametrize(
    ("call", "said"),
    [("gin tonic", "full"), ("whiskey neat", "none"), ("frozen margarita", "blend")],
)
def test_ice_is_asked_of_every_drink_with_all_that_the_house_has(call, said):
    [drink] = call_of(call, bar()).drinks
    [ice] = [p for p in drink.parts if p.piece is Piece.ICE]

    assert [o["ice"] for o in ice.options] == ["full", "light", "none", "crushed", "blend"]
    assert [ice.options[n]["ice"] for n in ice.right] == [said]


def test_another_drink_that_could_be_built_with_these_choices_is_known():
    [drink] = call_of("madras", bar()).drinks
    named = {one.recipe: one.picks for one in drink.alike}

    given = DrinkGiven(named["bay-breeze"], count=1)
    assert mark_drink(drink, given).mixed_up_with == "bay-breeze"
    assert "madras" not in named


def test_the_place_of_a_choice_says_nothing():
    """Always the first, or always the last, would be far from enough."""
    for piece in (Piece.GLASS, Piece.HOW, Piece.POURS, Piece.MIXERS):
        parts = [p for d in drinks() for p in d.parts if p.piece is piece and len(p.right) == 1]
        places = Counter(n for p in parts for n in p.right)

        assert max(places.values()) < 0.5 * places.total()


def poured(drink, slug, amount):
    """The drink built to the letter, but with so much of that liquid."""
    parts = [p.right for p in drink.parts]
    at = [p.piece for p in drink.parts].index(Piece.POURS)
    lines = [o["poured"][0] for o in drink.parts[at].options]
    [n] = [n for n, line in enumerate(lines) if (line[0], line[1]) == (slug, amount)]
    parts[at] = frozenset({n})
    return mark_drink(drink, DrinkGiven(tuple(parts), frozenset(drink.ask), drink.count))


@pytest.mark.parametrize(
    ("slug", "amount", "knows_drink"),
    [
        ("gin", "1.000", True),
        ("gin", "2.000", False),
        ("vodka", "1.000", False),
        ("vodka", "2.000", False),
    ],
)
def test_who_takes_one_pour_has_not_shown_how_much_that_is(slug, amount, knows_drink):
    [drink] = call_of("gin tonic", bar()).drinks
    [own] = [d for d in bar().drinks if d.slug == "gin-and-tonic"]
    size = {t.fingerprint for t in own.topics_of(Aspect.POURS) if t.is_pour_size}
    liquid = {t.fingerprint for t in own.topics_of(Aspect.POURS) if not t.rule}
    assert size
    assert liquid

    shows = poured(drink, slug, amount).shows

    assert not size & set(shows)
    assert {shows[t] for t in liquid} == {knows_drink}
    assert set(shows) <= {t.fingerprint for t in own.topics}


def test_what_is_stored_is_read_back():
    call = rushes()[0]

    assert CallAsked.from_json(call.to_json()) == call


def test_a_house_that_pours_nothing_calls_nothing():
    empty = Bar(bar().book, (), bar().rules, bar().pantry)

    assert write_calls(CallKind.SINGLE, empty, 1) == ()
