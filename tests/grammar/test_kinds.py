"""What kind of thing an ingredient is, by its name."""

import tomllib

import pytest

from recipes.grammar.ingredients import Ingredient, Kind, liquor_class
from recipes.grammar.kinds import goes_on_a_rim, kind_of, new_ingredient
from recipes.shipped import COURSE


@pytest.mark.parametrize(
    ("name", "kind"),
    [
        ("navy rum", Kind.RUM),
        ("elderflower liqueur", Kind.LIQUEUR),
        ("orange bitters", Kind.DASH_BITTERS),
        ("bitter aperitif", Kind.BITTER),
        ("fiery ginger beer", Kind.SODA_MIXER),
        ("porter", Kind.BEER),
        ("alcohol-free gin", Kind.LOW_NO),
        ("coffee liqueur", Kind.LIQUEUR),
        ("yuzu juice", Kind.CITRUS),
        ("guava juice", Kind.JUICE),
        ("cinnamon syrup", Kind.SYRUP),
        ("rum cream", Kind.CREAM_LIQUEUR),
        ("orange peel", Kind.FRUIT),
        ("house secret", None),
        ("", None),
        # Whole words only: a "ginger" is no gin.
        ("ginger", None),
    ],
)
def test_the_words_of_a_name_tell_its_kind(name, kind):
    assert kind_of(name) is kind


def test_whatever_ships_is_told_its_own_class_or_none():
    """A wrong class would give a wrong pour; no answer only asks."""
    stock = tomllib.loads((COURSE / "ingredients.toml").read_text("utf-8"))["ingredients"]
    told = [(i["name"], Kind(i["kind"]), kind_of(i["name"])) for i in stock]
    known = [(name, kind, found) for name, kind, found in told if found is not None]

    wrong = [(n, k, f) for n, k, f in known if liquor_class(k) is not liquor_class(f)]
    assert wrong == []
    assert len(known) > 0.9 * len(told)


def test_a_new_ingredient_has_a_typical_strength_and_an_unread_label():
    item = new_ingredient("Navy  Rum", {"navy-rum"})

    assert (item.slug, item.name, item.abv, item.allergens) == ("navy-rum-2", "Navy Rum", 40, None)


def test_a_name_in_other_letters_gets_an_address_of_its_kind():
    assert new_ingredient("ウォッカ vodka", set()).slug == "vodka"
    assert new_ingredient("secret", set()) is None


RIMS = [
    (Kind.RIM, "salt", True),
    (Kind.RIM, "anything that is stocked for it", True),
    (Kind.PANTRY, "bar sugar", True),
    (Kind.PANTRY, "cocoa powder", True),
    (Kind.PANTRY, "ground cinnamon", True),
    (Kind.PANTRY, "nutmeg", True),
    (Kind.PANTRY, "cinnamon sticks", False),
    (Kind.PANTRY, "sugar cube", False),
    (Kind.PANTRY, "olive", False),
    (Kind.PANTRY, "cocktail onion", False),
    (Kind.PANTRY, "coffee beans", False),
    (Kind.PANTRY, "olive brine", False),
    (Kind.SYRUP, "sugar syrup", False),
    (Kind.FRUIT, "lime wedge", False),
]


@pytest.mark.parametrize(("kind", "name", "goes"), RIMS)
def test_what_goes_on_a_rim(kind, name, goes):
    assert goes_on_a_rim(Ingredient(slug="it", name=name, kind=kind)) is goes
