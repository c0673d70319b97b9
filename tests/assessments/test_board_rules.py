"""The house rules that drinks of a board share, worked out once for a menu."""

from dataclasses import replace

from assessments.board_rules import shared_rules
from assessments.history import Numbered
from tests.factories import assessments as make


def test_they_are_kept_for_the_same_drinks_of_the_same_menu_alone(odalys):
    menu = make.menu_of(odalys)
    numbered, some = Numbered(menu), menu.items[:20]
    other = replace(menu, items=tuple(reversed(menu.items)))

    found = shared_rules(some, numbered)

    assert shared_rules(some, numbered) is found
    assert shared_rules(menu.items[:40], numbered) is not found
    assert shared_rules(some, Numbered(other)) is not found
    said, uses = found
    assert said
    assert uses.shape == (len(said), len(some))
    assert [rule.drinks for rule in said] == uses.sum(axis=1).tolist()
