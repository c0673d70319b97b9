"""Which row holds at a moment. No database: rows are built, not stored."""

import datetime as dt

import pytest

from recipes.grammar.rules import GlassRule
from recipes.in_effect import broken_from, holding_at, waiting
from recipes.models import Module, Recipe, Revision, RulesVersion
from tests.factories.people import OPENED
from tests.grammar import kitchen

HOUR = dt.timedelta(hours=1)


def version(number: int, hours: float, rules=kitchen.RULES) -> RulesVersion:
    return RulesVersion(
        number=number, takes_effect_at=OPENED + hours * HOUR, rules=rules.model_dump(mode="json")
    )


def revision(slug: str, number: int = 1, hours: float = 0, **changes) -> Revision:
    spec = {**kitchen.MENU[slug].model_dump(mode="json"), **changes}
    return Revision(number=number, takes_effect_at=OPENED + hours * HOUR, spec=spec)


def recipe(slug: str) -> Recipe:
    return Recipe(pk=1, slug=slug, module=Module(alcohol=True))


def without_glass(name: str):
    """House rules without this glass; drinks that ask for it by name can't be built."""
    glasses = {k: v for k, v in kitchen.RULES.glasses.items() if k != name}
    return kitchen.RULES.model_copy(update={"glasses": glasses})


@pytest.mark.parametrize(
    ("hours", "number"),
    [(-1, None), (0, 1), (4.9, 1), (5, 4), (7.9, 4), (8, 2), (100, 2)],
)
def test_the_last_to_take_effect_holds(hours, number):
    """1 at once, 2 from hour 8, 3 and 4 both from hour 5: the later of two at once counts."""
    rows = [version(1, 0), version(2, 8), version(3, 5), version(4, 5)]

    holding = holding_at(rows, OPENED + hours * HOUR)

    assert (holding and holding.number) == number


def test_what_waits_is_told_soonest_first_without_what_is_overruled():
    rows = [version(1, 0), version(2, 8), version(3, 5), version(4, 5)]

    assert [row.number for row in waiting(rows, OPENED)] == [4, 2]


def test_nothing_is_broken_by_rules_that_build_the_drink():
    rows = {recipe("daiquiri"): [revision("daiquiri")]}

    assert broken_from(OPENED, rows, [version(1, 0), version(2, 5)], kitchen.PANTRY) == ()


def test_a_drink_broken_by_rules_to_come_names_them():
    rows = {recipe("daiquiri"): [revision("daiquiri")]}
    rules = [version(1, 0), version(2, 5, without_glass("cocktail"))]

    [reason] = broken_from(OPENED, rows, rules, kitchen.PANTRY)

    assert reason.code == "unknown_glass"
    assert reason.values == {"drink": "daiquiri", "glass": "cocktail", "rules": 2}


def test_a_revision_that_comes_with_the_rules_mends_it():
    """New glasses and the drink's new glass take effect on the same Thursday at the same hour."""
    rows = {recipe("daiquiri"): [revision("daiquiri"), revision("daiquiri", 2, 5, glass="rocks")]}
    rules = [version(1, 0), version(2, 5, without_glass("cocktail"))]

    assert broken_from(OPENED, rows, rules, kitchen.PANTRY) == ()


def test_one_hour_between_them_is_an_hour_that_is_broken():
    rows = {recipe("daiquiri"): [revision("daiquiri"), revision("daiquiri", 2, 6, glass="rocks")]}
    rules = [version(1, 0), version(2, 5, without_glass("cocktail"))]

    assert len(broken_from(OPENED, rows, rules, kitchen.PANTRY)) == 1


def test_what_was_broken_before_the_moment_is_past():
    rows = {recipe("daiquiri"): [revision("daiquiri")]}
    small = kitchen.RULES.glasses | {"cocktail": GlassRule(name="Thimble", amount=0.5)}
    rules = [version(1, 0, kitchen.RULES.model_copy(update={"glasses": small})), version(2, 5)]

    assert broken_from(OPENED, rows, rules, kitchen.PANTRY)
    assert broken_from(OPENED + 5 * HOUR, rows, rules, kitchen.PANTRY) == ()
