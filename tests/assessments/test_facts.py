"""What counts as evidence, on which build, until when; sign-offs; the safety gate."""

import pytest

from assessments import record
from assessments.facts import gather
from assessments.measures.evidence import Evidence
from assessments.measures.marking import HelpLevel
from assessments.measures.ready_facts import Safety
from assessments.models.watch import MadeWith
from recipes.grammar.aspects import Aspect
from recipes.models import Module
from tests.factories import assessments as make
from tests.factories.assessments import LATER, NOW, SEED
from tests.factories.people import hire as hire_somebody
from tests.factories.recipes import DAY, revise


def facts(hire, slug, at=LATER):
    menu = make.menu_of(hire, at)
    return gather(menu, [hire]).on(hire, menu.by_slug[slug])


def trials(hire, slug, at=LATER):
    fact = facts(hire, slug, at)
    return (fact.right, fact.ask, fact.wrong)


FAIL = ("top:orange-juice",)


@pytest.mark.parametrize(
    ("help_level", "off", "counts"),
    [
        (HelpLevel.UNPROMPTED, (), (1, 0, 0)),
        (HelpLevel.UNPROMPTED, ("straw",), (1, 0, 0)),
        (HelpLevel.UNPROMPTED, FAIL, (0, 0, 1)),
        (HelpLevel.PROMPTED, (), (0, 1, 0)),
        (HelpLevel.PROMPTED, FAIL, (0, 0, 1)),
        (HelpLevel.SHOWN, (), (0, 0, 0)),
        (HelpLevel.SHOWN, FAIL, (0, 0, 0)),
    ],
)
def test_a_watched_build_counts(tamsin, nils, help_level, off, counts):
    make.watch(tamsin, nils, help_level=help_level, off=off)

    assert trials(nils, "madras") == counts
    assert trials(nils, "sea-breeze") == (0, 0, 0)


def test_water_in_the_bottle_counts_the_same(tamsin, nils):
    make.watch(tamsin, nils, made_with=MadeWith.WATER)

    assert trials(nils, "madras") == (1, 0, 0)


MUST = "gin-tonic"  # a must-know: every quiz on its module asks for its whole build


@pytest.mark.parametrize(
    ("answering", "counts"),
    [(make.right, (1, 0, 0)), (make.ask, (0, 1, 0)), (make.wrong, (0, 0, 1))],
)
def test_an_answer_about_the_whole_drink_counts(nils, answering, counts):
    quiz = make.take_quiz(nils, answering=answering)

    whole = [i for i in quiz.items.all() if make.asked_of(i).is_whole_drink]
    times = sum(i.recipe.slug == MUST for i in whole)
    assert times >= 1
    assert trials(nils, MUST) == tuple(times * c for c in counts)


def test_an_answer_about_one_part_counts_for_nothing(nils):
    quiz = make.take_quiz(nils)

    whole = {i.recipe.slug for i in quiz.items.all() if make.asked_of(i).is_whole_drink}
    parts = {i.recipe.slug for i in quiz.items.all()} - whole
    assert parts
    assert {trials(nils, slug) for slug in parts} == {(0, 0, 0)}


def test_luck_is_taken_off(nils):
    """Right once and wrong once among four choices: a third of the right one was luck."""

    def once_wrong(item):
        return make.wrong(item) if item.kind == "whole" else make.ask(item)

    def once_right(item):
        return make.right(item) if item.kind == "whole" else make.ask(item)

    first = make.take_quiz(nils, answering=once_right, seed=SEED)
    second = make.take_quiz(nils, answering=once_wrong, seed=SEED, at=LATER)
    asked = [i for q in (first, second) for i in q.items.filter(recipe__slug=MUST, kind="whole")]
    assert [i.choices for i in asked] == [4, 4]

    right, _, wrong = trials(nils, MUST)
    assert (right, wrong) == pytest.approx((1 - 1 / 3, 1 + 1 / 3))


def test_an_open_quiz_counts_for_what_was_answered(nils):
    quiz = make.answer(make.start_quiz(nils), most=8)

    menu = make.menu_of(nils, LATER)
    found = gather(menu, [nils]).evidence[nils.pk]
    answered = [
        i for i in quiz.items.filter(answer__isnull=False) if make.asked_of(i).is_whole_drink
    ]
    assert sum(e.right for e in found.values()) == len(answered) > 0


def test_a_voided_build_counts_no_longer(tamsin, nils):
    signed = make.sign_off(tamsin, nils)
    record.void_build(by=tamsin, watched=signed.watched, reason="x", at=LATER)

    fact = facts(nils, "madras")
    assert (fact.right, fact.signed_off) == (0, False)


def test_everything_is_as_it_stood_then(tamsin, nils):
    signed = make.sign_off(tamsin, nils, at=NOW)
    make.take_quiz(nils, make.GATE, at=NOW)
    record.void_build(by=tamsin, watched=signed.watched, reason="x", at=LATER)

    before, between = NOW - DAY, LATER - (LATER - NOW) / 2
    assert facts(nils, "madras", before).signed_off is False
    assert facts(nils, "madras", between).signed_off is True
    assert [facts(nils, "madras", at).right for at in (before, between, LATER)] == [0, 1, 0]
    assert [safety(nils, at) for at in (before, between)] == [Safety.NOT_TAKEN, Safety.PASSED]


def test_one_hire_s_evidence_is_nobody_else_s(odalys, tamsin, nils):
    bo = hire_somebody(odalys, "Bo")
    make.sign_off(tamsin, nils)
    make.take_quiz(nils, make.GATE)

    menu = make.menu_of(nils, LATER)
    shown = gather(menu, [nils, bo])
    assert shown.evidence[nils.pk] == {"madras": Evidence("madras", 1, 0, 0)}
    assert shown.evidence[bo.pk] == {}
    assert shown.safety == {nils.pk: Safety.PASSED, bo.pk: Safety.NOT_TAKEN}
    assert shown.on(bo, menu.by_slug["madras"]).signed_off is False


@pytest.mark.parametrize(
    ("help_level", "proves"),
    [(HelpLevel.UNPROMPTED, True), (HelpLevel.PROMPTED, False), (HelpLevel.SHOWN, False)],
)
def test_only_an_unprompted_sign_off_proves(tamsin, nils, help_level, proves):
    make.sign_off(tamsin, nils, help_level=help_level)

    assert facts(nils, "madras").is_proven is proves


def test_a_sign_off_with_help_does_not_hide_an_older_one_without(tamsin, nils):
    make.sign_off(tamsin, nils)
    make.sign_off(tamsin, nils, help_level=HelpLevel.PROMPTED, at=LATER)

    assert facts(nils, "madras").is_proven


def test_an_old_sign_off_that_proves_beats_a_newer_one_that_does_not(tamsin, nils):
    make.sign_off(tamsin, nils)
    revise(tamsin, "madras", glass="rocks", at=NOW)
    make.sign_off(tamsin, nils, at=LATER)
    revise(tamsin, "madras", glass=None, at=LATER)

    assert facts(nils, "madras").sign_off_out_of_date == ()


def safety(hire, at=LATER):
    return gather(make.menu_of(hire, at), [hire]).safety[hire.pk]


def test_the_gate(nils):
    assert safety(nils) is Safety.NOT_TAKEN

    make.take_quiz(nils, make.GATE, make.wrong)
    assert safety(nils) is Safety.FAILED

    make.take_quiz(nils, make.GATE)
    assert safety(nils) is Safety.PASSED

    make.take_quiz(nils, make.GATE, make.wrong, at=LATER)
    assert safety(nils) is Safety.PASSED


def test_another_module_passed_is_no_gate(nils):
    make.take_quiz(nils)

    assert safety(nils) is Safety.NOT_TAKEN


def test_with_two_gates_both_are_wanted(nils):
    Module.objects.in_house(nils.venue).filter(slug="beer").update(is_gate=True)
    make.take_quiz(nils, make.GATE)
    assert safety(nils) is Safety.NOT_TAKEN
    make.take_quiz(nils, "beer", make.wrong)
    assert safety(nils) is Safety.FAILED
    make.take_quiz(nils, "beer")
    assert safety(nils) is Safety.PASSED


def test_a_house_without_a_gate_has_nothing_to_pass(nils):
    Module.objects.in_house(nils.venue).update(is_gate=False)

    assert safety(nils) is Safety.PASSED


def test_a_fact_says_what_the_menu_says(nils):
    fact = facts(nils, MUST)

    assert (fact.name, fact.must_know, fact.module) == ("Gin tonic", True, "Highballs")
    assert fact.share == make.menu_of(nils).by_slug[MUST].drink.share


def test_a_changed_part_is_named_and_the_old_evidence_stops_counting(tamsin, nils):
    make.sign_off(tamsin, nils, "gin-tonic")
    make.take_quiz(nils)
    assert trials(nils, "gin-tonic")[0] >= 2

    make.lemon_in_tonic(tamsin)

    fact = facts(nils, "gin-tonic")
    assert fact.sign_off_out_of_date == (Aspect.FINISH,)
    assert (fact.right, fact.ask, fact.wrong) == (0, 0, 0)
    assert not fact.is_proven


def test_what_takes_effect_later_is_out_of_date_only_then(tamsin, nils):
    make.sign_off(tamsin, nils)
    revise(tamsin, "madras", glass="rocks", at=NOW, takes_effect_at=NOW + DAY)

    assert facts(nils, "madras", LATER).sign_off_out_of_date == ()
    assert facts(nils, "madras", NOW + DAY).sign_off_out_of_date != ()
