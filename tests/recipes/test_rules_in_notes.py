"""Lessons that tell the house's own rules, and the shipped ones in every country."""

from dataclasses import replace

import pytest
import time_machine
from django.conf import settings

from recipes.grammar.coursefile import read_course
from recipes.grammar.rules import Pattern
from recipes.markdown import notes_html
from recipes.menu import menu_at
from recipes.models import Module
from recipes.publish_lessons import change_notes
from recipes.rules_in_notes import SAID, with_rules
from tests.factories.people import OPENED
from tests.factories.recipes import DAY

NOW = OPENED + DAY

pytestmark = pytest.mark.django_db


def test_a_line_of_its_own_becomes_the_rules_in_words(house):
    menu = menu_at(house, NOW)
    shown = with_rules("Before.\n\n{house garnish}\n\nAfter.", menu)

    assert shown.startswith("Before.\n\n- ")
    assert shown.endswith("\n\nAfter.")
    assert shown.count("\n- ") == len(menu.rules.garnish) > 3
    assert notes_html(shown).count("<li>") == len(menu.rules.garnish)


@pytest.mark.parametrize("word", sorted(SAID))
def test_each_of_them_has_something_to_say(house, word):
    menu = menu_at(house, NOW)
    press = Pattern(mixers=("ginger-ale", "club-soda"), base="bourbon")
    menu = replace(menu, rules=menu.rules.model_copy(update={"patterns": {"press": press}}))

    assert with_rules(f"{{house {word}}}", menu).startswith("- ")


@pytest.mark.parametrize(
    "text", ["{house weather}", "say {house garnish} aloud", "{ house garnish }", "{}"]
)
def test_whatever_else_is_typed_stays(house, text):
    assert with_rules(text, menu_at(house, NOW)) == text


def test_a_name_can_not_mark_up_the_page(house):
    menu = menu_at(house, NOW)
    menu.names["lime"] = "*lime* [here](x) `_`"
    html = notes_html(with_rules("{house garnish}", menu))

    assert "*lime* [here](x) `_`, always" in html
    assert not any(mark in html for mark in ("<em>", "<a ", "<code>"))


def test_the_shipped_course_tells_no_garnish_that_a_rule_decides():
    """What tonic takes is the house's own: lime here, lemon there."""
    modules = read_course(settings.BASE_DIR / "fixtures" / "course").modules
    texts = [m.notes for m in modules] + [x.body for m in modules for x in m.lessons]

    assert any("{house garnish}" in text for text in texts)
    assert not [text for text in texts if "Tonic in it" in text or "in this house" in text]


def test_a_hire_reads_the_rules_of_the_house(visit, nils, tamsin):
    module = Module.objects.in_house(tamsin.venue).get(slug="highballs")
    with time_machine.travel(NOW, tick=False):
        change_notes(by=tamsin, module=module, notes="{house garnish}", at=NOW)
        page = visit(nils).get(f"/h/{tamsin.venue.slug}/modules/highballs/")

    assert "<li>Tonic water: lime, always</li>" in page.content.decode()
