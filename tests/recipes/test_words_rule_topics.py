"""What each house rule says, on drinks that go by it."""

import pytest

from recipes.menu import menu_at
from recipes.words_rule_topics import rule_says
from tests.factories.people import OPENED

pytestmark = pytest.mark.django_db

SAID = {
    "glass": "Highball glass, 10 fl oz",
    "ice": "full ice",
    "build": "build in the glass",
    "pour": "one pour of spirits is 1 fl oz (29.6 ml)",
    "garnish": "lime, always",
    "straw": "a straw",
}


def test_every_rule_of_a_highball_is_said(odalys):
    menu = menu_at(odalys.venue, OPENED)
    drink = next(i.drink for i in menu.items if i.drink.slug == "gin-tonic")
    said = {
        t.rule.split(":")[0]: rule_says(t.rule, drink.spec, menu) for t in drink.topics if t.rule
    }

    assert said == SAID


def test_every_rule_of_every_drink_is_said(odalys):
    menu = menu_at(odalys.venue, OPENED)
    said = [
        rule_says(topic.rule, item.drink.spec, menu)
        for item in menu.items
        for topic in item.drink.topics
        if topic.rule
    ]

    assert len(said) > 100
    assert all(said)


def test_an_unknown_kind_of_rule_is_an_error(odalys):
    menu = menu_at(odalys.venue, OPENED)
    with pytest.raises(KeyError):
        rule_says("weather:fine", menu.items[0].drink.spec, menu)
