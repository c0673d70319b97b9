"""Packed rows: the same as working everything out again, and never old news."""

import datetime as dt

import pytest

from assessments import board, record
from assessments.history import Numbered, aspects_bits, aspects_of, shown_by
from assessments.measures.marking import HelpLevel
from assessments.models import Item, ReadyRow, SpotMark
from assessments.ready_rows import known_of, reckon, unpack
from recipes.grammar.aspects import Aspect
from recipes.models import Module
from tests.factories import assessments as make
from tests.factories.assessments import LATER, NOW
from tests.factories.hands import make_round
from tests.factories.people import hire as hire_somebody
from tests.factories.recipes import DAY, revise

MUCH_LATER = LATER + dt.timedelta(days=3)


def station(member):
    return member.venue.stations.get(slug="well")


def row_of(hire) -> ReadyRow:
    return ReadyRow.objects.get(hire=hire)


def look(hire, at=LATER):
    return board.verdict_for(hire, station(hire), at)


def anew(hire, at=LATER):
    """The verdict without any row."""
    ReadyRow.objects.all().delete()
    return look(hire, at)


def show_something(trainer, hire):
    make.take_quiz(hire, make.GATE)
    make.take_quiz(hire, answering=lambda i: make.ask(i) if len(i.topics) == 1 else make.right(i))
    make.sign_off(trainer, hire, "gin-tonic")
    make.watch(trainer, hire, "madras", off=("top:orange-juice",))


def test_a_row_says_what_working_it_out_again_says(tamsin, nils):
    show_something(tamsin, nils)
    packed = look(nils)
    menu = make.menu_of(nils, LATER)
    numbered = Numbered(menu)

    assert row_of(nils).packed_for == row_of(nils).evidence
    assert bytes(row_of(nils).packed) == reckon([nils], numbered)[nils.pk]
    assert look(nils) == packed == anew(nils)


def test_whoever_shows_the_same_in_a_round_stands_alike_in_whatever_order_it_is_listed(
    odalys, tamsin, nils
):
    other = hire_somebody(odalys, "Bo")
    round_of = {"madras": ("top:orange-juice",), "gin-tonic": ()}
    make_round(tamsin, nils, "madras", "gin-tonic", off=round_of)
    make_round(tamsin, other, "gin-tonic", "madras", off=round_of)

    one, same = look(nils), look(other)

    assert (one.right, one.right_low, one.wrong) == (same.right, same.right_low, same.wrong)
    assert anew(nils) == one


def test_two_hundred_rows_are_what_each_is_alone(odalys, tamsin, nils):
    hires = [nils, *(hire_somebody(odalys, f"Hire{n}") for n in range(4))]
    show_something(tamsin, nils)
    make.sign_off(tamsin, hires[2], "madras")
    menu = make.menu_of(odalys, LATER)

    together = [r.verdict for r in board.board(station(odalys), menu, hires)]

    for hire, verdict in zip(hires, together, strict=True):
        alone = anew(hire)
        assert verdict.right_low == pytest.approx(alone.right_low, abs=1e-5)
        assert (verdict.standing, verdict.missing) == (alone.standing, alone.missing)


def test_a_row_holds_until_something_is_shown(tamsin, nils, django_assert_num_queries):
    make.sign_off(tamsin, nils)
    menu, gates = make.menu_of(nils, LATER), list(Module.objects.in_house(nils.venue).gates())
    known_of([nils], Numbered(menu), gates)

    with django_assert_num_queries(1):
        known_of([nils], Numbered(menu), gates)
    make.watch(tamsin, nils, "gin-tonic")
    assert row_of(nils).packed_for != row_of(nils).evidence


def answer_one(trainer, hire):
    make.answer(make.start_quiz(hire), most=1)


def void_one(trainer, hire):
    build = make.watch(trainer, hire)
    look(hire)
    record.void_build(by=trainer, watched=build, reason="x", at=LATER)


def mark_in_service(trainer, hire):
    item = make.menu_of(hire).by_slug["madras"]
    SpotMark.objects.create(
        venue=hire.venue, hire=hire, trainer=trainer, recipe=item.recipe, revision=item.revision,
        rules_version=make.menu_of(hire).rules_version, came="right", at=NOW,
        fingerprints={a.value: p for a, p in item.drink.fingerprints.items()},
    )  # fmt: skip


SHOWING = [
    answer_one,
    lambda trainer, hire: make.take_quiz(hire, make.GATE),
    make.watch,
    make.sign_off,
    void_one,
    mark_in_service,
]
NAMES = ["answer", "gate", "build", "sign-off", "void", "spot mark"]


@pytest.mark.parametrize("show", SHOWING, ids=NAMES)
def test_whatever_is_shown_counts_at_once(tamsin, nils, show):
    look(nils)
    show(tamsin, nils)

    assert look(nils) == anew(nils)


def test_what_is_shown_to_one_leaves_the_rows_of_others(odalys, tamsin, nils):
    bo = hire_somebody(odalys, "Bo")
    look(bo), look(nils)
    make.watch(tamsin, nils)

    assert row_of(bo).packed_for == row_of(bo).evidence
    assert row_of(nils).packed_for != row_of(nils).evidence


def test_a_card_that_somebody_marks_themselves_moves_no_figure(nils):
    before = look(nils)
    make.turn_card(nils, "madras", at=NOW)

    assert row_of(nils).packed_for == row_of(nils).evidence
    assert look(nils) == before == anew(nils)


def test_a_changed_menu_packs_anew(tamsin, nils):
    make.sign_off(tamsin, nils, "madras")
    look(nils)
    revise(tamsin, "madras", glass="rocks", at=NOW)

    assert look(nils) == anew(nils)


def test_another_gate_packs_anew(nils):
    make.take_quiz(nils, make.GATE)
    look(nils)
    Module.objects.in_house(nils.venue).filter(slug="beer").update(is_gate=True)

    assert "safety_not_passed" in [r.code for r in look(nils).missing]


def test_a_moment_gone_by_is_as_it_stood_and_keeps_no_row(tamsin, nils):
    nothing = look(nils, NOW - DAY)
    make.sign_off(tamsin, nils, at=LATER)
    today = look(nils, MUCH_LATER)
    kept = bytes(row_of(nils).packed)

    assert look(nils, NOW - DAY) == nothing
    assert bytes(row_of(nils).packed) == kept
    assert look(nils, MUCH_LATER) == today


def test_what_fades_needs_no_new_row(tamsin, nils, django_assert_num_queries):
    for slug in ("madras", "gin-tonic", "negroni"):
        make.sign_off(tamsin, nils, slug)
    soon = look(nils)
    packed = row_of(nils).at

    later = look(nils, LATER + dt.timedelta(days=60))

    assert later.right < soon.right
    assert row_of(nils).at == packed


def test_evidence_that_comes_while_a_row_is_packed_is_not_lost(tamsin, nils, monkeypatch):
    """The writer is faster than the reader: what the reader packed is not kept as true."""
    from assessments import ready_rows

    real = ready_rows.reckon

    def slowly(hires, numbered):
        found = real(hires, numbered)
        make.watch(tamsin, nils)
        return found

    monkeypatch.setattr(ready_rows, "reckon", slowly)
    look(nils)
    monkeypatch.setattr(ready_rows, "reckon", real)

    assert row_of(nils).packed_for != row_of(nils).evidence
    assert look(nils) == anew(nils)


@pytest.mark.parametrize(
    ("help_level", "off", "counts", "outcome"),
    [
        (HelpLevel.UNPROMPTED, (), True, "right"),
        (HelpLevel.UNPROMPTED, ("top:orange-juice",), True, "wrong"),
        (HelpLevel.PROMPTED, (), True, "ask"),
        (HelpLevel.SHOWN, (), False, "ask"),
    ],
)
def test_a_watched_build_as_a_trial(tamsin, nils, help_level, off, counts, outcome):
    make.watch(tamsin, nils, help_level=help_level, off=off)
    numbered = Numbered(make.menu_of(nils, LATER))

    [shown] = shown_by([nils], numbered)[nils.pk]

    assert (shown.counts, shown.outcome, shown.choices, shown.chosen) == (counts, outcome, 0, True)
    assert shown.drink == numbered.places["madras"]
    assert shown.topics == numbered.for_orders.topics[shown.drink]


def test_answers_on_parts_count_too_and_situations_don_t(nils):
    quiz = make.take_quiz(nils)
    make.take_quiz(nils, make.GATE)
    numbered = Numbered(make.menu_of(nils, LATER))

    shown = shown_by([nils], numbered)[nils.pk]

    on_drinks = Item.objects.filter(quiz=quiz, recipe__isnull=False).count()
    assert len(shown) == on_drinks
    which_of_two = Item.objects.filter(quiz=quiz, asked__kind="ask_back").count()
    assert sum(not s.counts for s in shown) == which_of_two == 1  # shows nothing whole of either
    assert all(not s.chosen and s.choices >= 2 for s in shown)
    assert min(len(s.topics) for s in shown) < max(len(s.topics) for s in shown)


def test_of_a_changed_drink_a_showing_of_what_is_the_same_is_left(tamsin, nils):
    make.watch(tamsin, nils, "madras")
    revise(tamsin, "madras", glass="rocks", at=NOW)
    numbered = Numbered(make.menu_of(nils, LATER))

    [shown] = shown_by([nils], numbered)[nils.pk]

    assert not shown.counts
    assert 0 < len(shown.topics) < len(numbered.for_orders.topics[shown.drink])


def test_a_mark_in_service_is_a_random_sample(tamsin, nils):
    mark_in_service(tamsin, nils)

    [shown] = shown_by([nils], Numbered(make.menu_of(nils, LATER)))[nils.pk]

    assert (shown.outcome, shown.counts, shown.chosen, shown.choices) == ("right", True, False, 0)


def test_aspects_fit_in_a_byte():
    for changed in ((), (Aspect.GLASS,), tuple(Aspect)):
        assert aspects_of(aspects_bits(changed)) == changed
    assert aspects_bits(tuple(Aspect)) < 1 << 7


def test_a_row_is_small(tamsin, nils):
    show_something(tamsin, nils)
    look(nils)
    numbered = Numbered(make.menu_of(nils, LATER))
    packed = bytes(row_of(nils).packed)

    assert len(packed) < 60 * len(numbered.drinks) + 8 * len(numbered.topics) + 200
    known = unpack([packed, packed], numbered)
    assert known.outlook(slice(None)).knows.shape == (2, 12, len(numbered.drinks))
