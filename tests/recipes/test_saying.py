"""Refusals in words, as the pages say them."""

import pytest
from django.utils.functional import Promise

from recipes import publish
from recipes.grammar.reasons import Reason
from recipes.menu import menu_at
from recipes.menu_words import changed_words
from recipes.models import Recipe
from recipes.saying import MOST_SAID, PUBLISHING, sentence, sentences
from tests.factories.people import OPENED


@pytest.fixture
def menu(odalys):
    return menu_at(odalys.venue, OPENED)


def test_every_refusal_of_publishing_has_words():
    assert set(PUBLISHING) == publish.CODES
    assert all(isinstance(words, Promise) for words in PUBLISHING.values())


@pytest.mark.parametrize("code", sorted(publish.CODES))
def test_a_refusal_of_publishing(menu, code):
    assert sentence(Reason.of(code), menu).endswith(".")


def test_the_drink_is_named_where_there_are_several(menu):
    reason = Reason.of("no_alcohol", drink="madras")

    assert sentence(reason, menu).startswith("There is no alcohol")
    assert sentence(reason, menu, {"madras": "Madras"}).startswith("Madras: There is no alcohol")


def test_rules_to_come_are_named(menu):
    reason = Reason.of("unknown_glass", glass="coupe", drink="madras", rules=4)

    assert sentence(reason, menu, {"madras": "Madras"}).startswith(
        "Madras: Under house rules 4, which are to come: This house has no glass “coupe”."
    )


@pytest.mark.parametrize(("count", "said"), [(1, 1), (MOST_SAID, 5), (MOST_SAID + 1, 6), (60, 6)])
def test_a_page_is_not_filled_with_one_refusal(menu, count, said):
    found = sentences([Reason.of("no_alcohol", drink=str(n)) for n in range(count)], menu, {"": ""})

    assert len(found) == said
    assert (found[-1] == f"And so it is with {count - MOST_SAID} more.") is (count > MOST_SAID)


def test_what_changed_on_the_menu_is_told_by_where_it_went():
    rows = [
        Recipe(name="Madras", is_poured=True, must_know=True),
        Recipe(name="Negroni", is_poured=False),
        Recipe(name="Press", is_poured=False),
    ]

    assert changed_words(rows) == "Must-know now: Madras. Not poured any more: Negroni, Press."
    assert changed_words([]).startswith("Nothing changed")
