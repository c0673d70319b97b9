"""Cards move what somebody remembers and nothing else; which cards are due."""

import datetime as dt

import pytest

from assessments import board, reads, record
from assessments.facts import gather
from assessments.measures.memory import SOON
from assessments.models import CardMark, Memory
from assessments.prints import of_build
from barcourse.people import log
from barcourse.people.reasons import Refused
from recipes.grammar.aspects import Aspect
from tests.factories import assessments as make
from tests.factories.assessments import LATER, NOW
from tests.factories.recipes import revise

DAY = dt.timedelta(days=1)


def due(hire, at=LATER):
    menu = make.menu_of(hire, at)
    return reads.cards_due(hire, menu, at, reads.modules_of(hire, menu))


def why(hire, slug, at=LATER):
    return {c.drink: c.why.value for c in due(hire, at)}.get(slug)


def only(hire, slugs, at=LATER):
    """All other drinks of the module are fresh."""
    for item in make.menu_of(hire, at).of_module(make.module_of(hire)):
        if item.drink.slug not in slugs:
            make.turn_card(hire, item.drink.slug, at=at)


def test_a_card_is_stored_with_what_was_missed(nils):
    make.turn_card(nils, "madras", missed=[Aspect.FINISH, Aspect.POURS], milliseconds=2300)

    card = CardMark.objects.get()
    assert (card.hire, card.recipe.slug, card.revision.number) == (nils, "madras", 1)
    assert (card.missed, card.milliseconds) == (["pours", "finish"], 2300)


def test_what_was_missed_comes_back_soon_and_the_rest_later(nils):
    make.turn_card(nils, "madras", missed=[Aspect.POURS])

    topics = make.menu_of(nils).by_slug["madras"].drink.topics
    of_pours = {t.fingerprint for t in topics if t.aspect is Aspect.POURS}
    rows = {m.topic: m.due for m in Memory.objects.of(nils)}
    assert set(rows) == {t.fingerprint for t in topics}
    assert {t for t, when in rows.items() if when == NOW + SOON} == of_pours


def test_cards_move_neither_board_nor_log(tamsin, nils):
    make.sign_off(tamsin, nils)
    stations, menu = board.order_stations(nils.venue), make.menu_of(nils, LATER)
    before = board.rows_of(nils, stations, menu), gather(menu, [nils]), log.head(nils.venue)

    for item in menu.items:
        make.turn_card(nils, item.drink.slug)

    assert (board.rows_of(nils, stations, menu), gather(menu, [nils])) == before[:2]
    assert log.head(nils.venue) == before[2]
    assert log.check(nils.venue) == []


def test_a_card_turned_before_a_change_is_refused_after_it(tamsin, nils):
    seen = of_build(make.menu_of(nils).by_slug["madras"].drink)
    make.turn_card(nils, "madras", seen=seen)
    revise(tamsin, "madras", glass="rocks", at=NOW)

    with pytest.raises(Refused, match="drink_changed"):
        make.turn_card(nils, "madras", seen=seen, at=LATER)


def test_another_house_s_card_is_refused(nils, ravna):
    menu = make.menu_of(ravna)
    with pytest.raises(Refused, match="other_house"):
        record.mark_card(by=nils, menu=menu, item=menu.items[0], missed=(), at=NOW)


def test_a_hire_who_has_read_nothing_has_no_cards(nils):
    assert due(nils) == ()


def test_what_was_read_hangs_as_cards_five_minutes_of_it(nils):
    make.read(nils, "rocks")

    cards = due(nils)
    assert {c.why.value for c in cards} == {"new"}
    assert {make.menu_of(nils).by_slug[c.drink].drink.module for c in cards} == {"rocks"}
    assert len(cards) <= 15


def test_who_takes_a_quiz_without_reading_gets_its_cards_too(nils):
    make.answer(make.start_quiz(nils, "beer"), make.ask, most=1)

    assert {make.menu_of(nils).by_slug[c.drink].drink.module for c in due(nils)} == {"beer"}


def test_a_drink_just_turned_is_not_due(nils):
    make.read(nils)
    only(nils, ())

    assert due(nils) == ()


def test_what_was_missed_is_fading(nils):
    make.read(nils)
    only(nils, ("madras",), at=LATER)
    make.turn_card(nils, "madras", missed=list(Aspect), at=LATER)

    assert why(nils, "madras", at=LATER + SOON) == "fading"


def test_after_a_month_everything_fades(nils):
    make.read(nils)
    only(nils, ())

    assert {c.why.value for c in due(nils, NOW + 30 * DAY)} == {"fading"}


@pytest.mark.parametrize("met", ["card", "quiz", "build"])
@pytest.mark.parametrize("change", ["recipe", "rules"])
def test_a_drink_that_was_met_and_then_changed_says_so(tamsin, nils, met, change):
    make.read(nils)
    only(nils, ("gin-tonic", "vodka-tonic", "light-gin-tonic", "still-gin-tonic"), at=NOW)
    match met:
        case "card":
            make.turn_card(nils, "gin-tonic")
        case "quiz":
            make.take_quiz(nils)
        case "build":
            make.watch(tamsin, nils, "gin-tonic")
    if change == "recipe":
        revise(tamsin, "gin-tonic", garnish=[{"item": "lemon"}], at=LATER)
    else:
        make.lemon_in_tonic(tamsin, at=LATER)

    assert why(nils, "gin-tonic", at=LATER) == "changed"


def test_a_drink_never_met_is_new_also_after_a_change(tamsin, nils):
    make.read(nils)
    only(nils, ("gin-tonic",), at=NOW)
    revise(tamsin, "gin-tonic", garnish=[{"item": "lemon"}], at=LATER)

    assert why(nils, "gin-tonic", at=LATER) == "new"


def test_a_drink_of_which_one_part_was_asked_is_not_changed_by_that(nils):
    """Something is still unknown about it, but the house has changed nothing."""
    quiz = make.take_quiz(nils)
    parts = {i.recipe.slug for i in quiz.items.filter(kind="aspect").select_related("recipe")}

    cards = {c.drink: c.why.value for c in due(nils)}
    assert set(cards) & parts
    assert "new" in cards.values()
    assert "changed" not in cards.values()


def test_a_reverted_drink_is_the_one_they_knew(tamsin, nils):
    make.read(nils)
    only(nils, ())
    revise(tamsin, "madras", glass="rocks", at=NOW)
    assert why(nils, "madras") == "changed"

    revise(tamsin, "madras", glass=None, at=LATER)

    assert why(nils, "madras", at=LATER) is None


def test_the_queries_don_t_grow_with_what_changed(tamsin, nils, django_assert_num_queries):
    make.read(nils)
    only(nils, (), at=NOW)
    make.lemon_in_tonic(tamsin, at=NOW)
    menu = make.menu_of(nils, LATER)
    progress = reads.modules_of(nils, menu)

    with django_assert_num_queries(11):
        assert reads.cards_due(nils, menu, LATER, progress)
