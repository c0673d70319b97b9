"""What stands in for what, and what is another kind of thing altogether."""

import pytest

from recipes.grammar.ingredients import Ingredient, Kind
from recipes.grammar.stand_ins import Nearness, nearness


def thing(kind):
    return Ingredient(slug="a-thing", name="a thing", kind=kind)


SEEN = [
    (Kind.VODKA, Kind.VODKA, Nearness.SAME),
    (Kind.VODKA, Kind.GIN, Nearness.CLOSE),
    (Kind.VODKA, Kind.OTHER_SPIRIT, Nearness.CLOSE),
    (Kind.LIQUEUR, Kind.BITTER, Nearness.CLOSE),
    (Kind.CITRUS, Kind.JUICE, Nearness.CLOSE),
    (Kind.FRUIT, Kind.HERB, Nearness.CLOSE),
    (Kind.VODKA, Kind.SYRUP, Nearness.ANOTHER),
    (Kind.SODA_MIXER, Kind.JUICE, Nearness.ANOTHER),
    (Kind.LIQUEUR, Kind.CREAM_LIQUEUR, Nearness.ANOTHER),
    (Kind.BEER, Kind.LOW_NO, Nearness.ANOTHER),
    (Kind.EGG, Kind.FRUIT, Nearness.ANOTHER),
]


@pytest.mark.parametrize(("out", "use", "near"), SEEN)
def test_how_near_one_is_to_the_other(out, use, near):
    assert nearness(thing(out), thing(use)) is near
    assert nearness(thing(use), thing(out)) is near
