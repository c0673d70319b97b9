"""Hooks: a person's own words on a drink; shown to them, shared by who trains, erased with them."""

from __future__ import annotations

import pytest

from assessments import hooks, record_hooks
from assessments.models import CardMark, Hook
from assessments.prints import of_build
from barcourse.people import enrol, log
from barcourse.people.models import LogEntry, PersonalText
from barcourse.people.reasons import Refused
from recipes.models import Recipe
from tests.assessments.pages import address, text
from tests.factories import assessments as make
from tests.factories.assessments import LATER, NOW

WORDS = "Cranberry is the red door."


def madras(member):
    return Recipe.objects.get(venue=member.venue, slug="madras")


def keep(by, words=WORDS, *, is_shared=False):
    return record_hooks.keep_hook(by=by, recipe=madras(by), text=words, is_shared=is_shared, at=NOW)


def said(member):
    return [h.said for h in hooks.hooks_on(member, madras(member))]


def test_a_hook_is_for_its_owner_alone(nils, pia):
    keep(nils)

    assert said(nils) == [f"Your hook: {WORDS}"]
    assert said(pia) == []


def test_who_trains_shares_theirs_with_the_house(tamsin, nils):
    keep(tamsin, is_shared=True)
    keep(nils, "Madras is hot.")

    assert said(nils) == ["Your hook: Madras is hot.", f"Tamsin's hook: {WORDS}"]


def test_a_trainer_who_does_not_share_keeps_it_to_themselves(tamsin, nils):
    keep(tamsin)

    assert said(nils) == []


@pytest.mark.parametrize(
    ("words", "is_shared", "code"),
    [(WORDS, True, "only_trainers_share"), ("x" * 201, False, "hook_too_long")],
)
def test_what_is_refused(nils, words, is_shared, code):
    with pytest.raises(Refused) as refused:
        keep(nils, words, is_shared=is_shared)

    assert refused.value.reason.code == code
    assert not Hook.objects.exists()


def test_another_house_s_drink_is_refused(nils, ravna):
    with pytest.raises(Refused):
        record_hooks.keep_hook(by=nils, recipe=madras(ravna), text=WORDS, at=NOW)


def test_a_new_hook_erases_the_words_of_the_old_one(nils):
    old = keep(nils).text_code
    keep(nils, "Another.")

    assert said(nils) == ["Your hook: Another."]
    assert PersonalText.objects.get(code=old).text == ""
    assert Hook.objects.count() == 1


def test_no_words_take_it_off(nils):
    keep(nils)

    assert keep(nils, "  ") is None
    assert (said(nils), Hook.objects.count()) == ([], 0)


def test_the_log_knows_of_it_without_its_words(nils):
    keep(nils)
    entry = LogEntry.objects.filter(venue=nils.venue).latest("number")

    assert (entry.kind, entry.facts) == ("hook_kept", {"drink": "madras", "shared": False})
    assert WORDS not in str(vars(entry))
    assert log.check(nils.venue) == []


def test_erasing_a_person_erases_their_hooks(odalys, tamsin, nils):
    keep(tamsin, is_shared=True)
    enrol.mark_left(by=odalys, membership=tamsin, at=NOW)
    tamsin.refresh_from_db()
    enrol.erase_person(by=odalys, membership=tamsin, at=LATER)

    assert said(nils) == []


def test_written_from_the_card_and_said_after_a_miss(visit, nils, time_machine):
    time_machine.move_to(NOW, tick=False)
    make.read(nils)
    browser, path = visit(nils), address(nils, "hook", drink="madras")
    browser.send(path, {"text": WORDS})
    assert WORDS in browser.get(path).content.decode()

    cards = address(nils, "module_cards", module="highballs")
    turned = {"drink": "madras", "build": of_build(make.menu_of(nils).by_slug["madras"].drink)}
    right = browser.send(cards, turned, follow=True)
    assert "The house has just changed" not in text(right)
    assert "Madras. Your hook" not in text(right)
    missed = browser.send(cards, {**turned, "missed": "pours"}, follow=True)
    assert f"Madras. Your hook: {WORDS}" in text(missed)


def test_a_card_marked_with_a_part_there_is_none_of_is_refused(visit, nils, time_machine):
    time_machine.move_to(NOW, tick=False)
    make.read(nils)
    build = of_build(make.menu_of(nils).by_slug["madras"].drink)
    sent = {"drink": "madras", "build": build, "missed": ["pours", "weather"]}

    answer = visit(nils).send(address(nils, "module_cards", module="highballs"), sent)
    assert answer.status_code == 400
    assert not CardMark.objects.exists()


def test_a_hire_is_not_offered_to_share(visit, nils, tamsin, time_machine):
    time_machine.move_to(NOW, tick=False)
    path = address(nils, "hook", drink="madras")

    assert "whole house" not in text(visit(nils).get(path))
    assert "whole house" in text(visit(tamsin).get(path))


def test_a_hook_too_long_is_said_beside_its_field(visit, nils, time_machine):
    time_machine.move_to(NOW, tick=False)
    answer = visit(nils).send(address(nils, "hook", drink="madras"), {"text": "x" * 201})

    assert "at most 200 characters" in text(answer)
    assert not Hook.objects.exists()


def test_a_trainer_shares_a_hook_from_the_house_book_and_comes_back_there(visit, tamsin, nils):
    book, browser = address(tamsin, "drink", slug="madras"), visit(tamsin)
    path = f"{address(tamsin, 'hook', drink='madras')}?from=book"
    assert path in browser.get(book).content.decode()

    answer = browser.send(path, {"text": WORDS, "is_shared": "on"})

    assert answer["Location"] == book
    assert said(nils) == [f"Tamsin's hook: {WORDS}"]
    assert book in browser.get(path).content.decode()


def test_a_trainer_comes_back_to_the_drink_save_from_a_card_of_their_own(visit, tamsin):
    path, book = address(tamsin, "hook", drink="madras"), address(tamsin, "drink", slug="madras")

    assert visit(tamsin).send(path, {"text": WORDS})["Location"] == book
    cards = visit(tamsin).send(f"{path}?from=card", {"text": WORDS})["Location"]
    assert cards == address(tamsin, "shift_cards")


def test_a_hire_who_says_to_come_from_the_book_goes_to_their_cards(visit, nils):
    path = f"{address(nils, 'hook', drink='madras')}?from=book"

    assert visit(nils).send(path, {"text": WORDS})["Location"] == address(nils, "shift_cards")


def test_the_form_speaks_of_sharing_to_whoever_can_share(visit, tamsin, nils):
    asked = {
        who: text(visit(who).get(address(who, "hook", drink="madras"))) for who in (tamsin, nils)
    }

    assert "Nobody else reads it unless you share it." in asked[tamsin]
    assert "share" not in asked[nils]
    assert "Nobody else reads it." in asked[nils]
