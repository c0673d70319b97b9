"""What stands on the rail, in the fridge and on the garnish tray."""

from collections.abc import Mapping
from enum import StrEnum

from pydantic import BaseModel, ConfigDict, Field


class Kind(StrEnum):
    """What an ingredient is. House rules may speak of a kind, a class or one ingredient."""

    VODKA = "vodka"
    GIN = "gin"
    RUM = "rum"
    TEQUILA = "tequila"
    WHISKEY = "whiskey"
    BRANDY = "brandy"
    OTHER_SPIRIT = "other_spirit"
    LIQUEUR = "liqueur"
    CREAM_LIQUEUR = "cream_liqueur"
    BITTER = "bitter"  # an aperitif, poured
    VERMOUTH = "vermouth"
    WINE = "wine"
    SPARKLING = "sparkling"
    BEER = "beer"
    CIDER = "cider"
    LOW_NO = "low_no"  # beer, wine or spirit with little or no alcohol
    DASH_BITTERS = "dash_bitters"
    SODA_MIXER = "soda_mixer"
    JUICE = "juice"
    CITRUS = "citrus"  # fresh sour juice, measured
    SYRUP = "syrup"
    SOUR_MIX = "sour_mix"
    DAIRY = "dairy"
    EGG = "egg"
    COFFEE = "coffee"
    SAUCE = "sauce"
    FRUIT = "fruit"  # garnish or muddled
    HERB = "herb"
    RIM = "rim"
    PANTRY = "pantry"  # sugar, olives, onions, brine


class LiquorClass(StrEnum):
    """What the house's pour sizes are set by."""

    SPIRIT = "spirit"
    LIQUEUR = "liqueur"
    FORTIFIED = "fortified"
    WINE = "wine"
    BEER = "beer"
    MIXER = "mixer"  # anything without alcohol that is poured
    SOLID = "solid"


class Step(StrEnum):
    """Where a bottle stands among its like (words of the trade): what is poured where nobody names
    one, one that guests call by its name, the best."""

    HOUSE = "house"
    CALL = "call"
    PREMIUM = "premium"


_SPIRITS = {
    Kind.VODKA,
    Kind.GIN,
    Kind.RUM,
    Kind.TEQUILA,
    Kind.WHISKEY,
    Kind.BRANDY,
    Kind.OTHER_SPIRIT,
}
_SOLIDS = {Kind.FRUIT, Kind.HERB, Kind.RIM, Kind.PANTRY, Kind.EGG}
_OTHER_CLASSES = {
    Kind.LIQUEUR: LiquorClass.LIQUEUR,
    Kind.CREAM_LIQUEUR: LiquorClass.LIQUEUR,
    Kind.BITTER: LiquorClass.LIQUEUR,
    Kind.VERMOUTH: LiquorClass.FORTIFIED,
    Kind.WINE: LiquorClass.WINE,
    Kind.SPARKLING: LiquorClass.WINE,
    Kind.BEER: LiquorClass.BEER,
    Kind.CIDER: LiquorClass.BEER,
    Kind.LOW_NO: LiquorClass.MIXER,
}


_CLASSES = (
    dict.fromkeys(Kind, LiquorClass.MIXER)
    | dict.fromkeys(_SPIRITS, LiquorClass.SPIRIT)
    | dict.fromkeys(_SOLIDS, LiquorClass.SOLID)
    | _OTHER_CLASSES
)


def liquor_class(kind: Kind) -> LiquorClass:
    return _CLASSES[kind]


WETS_A_RIM = frozenset({Kind.CITRUS, Kind.FRUIT, Kind.SYRUP})


class Ingredient(BaseModel):
    """One thing the house stocks.

    `allergens` None means that nobody has checked: unknown is never "free from".
    `density` in g/ml decides what floats on what; None for things that are not poured.
    `bottle_of` is the slug of what it is one bottle of: recipes speak of gin, and a guest may have
    this gin in it. Such a bottle answers to whatever a house rule says of the other one.
    """

    model_config = ConfigDict(frozen=True, extra="forbid")

    slug: str = Field(pattern=r"^[a-z0-9]+(-[a-z0-9]+)*$", max_length=60)
    name: str = Field(min_length=1, max_length=80)
    kind: Kind
    abv: float = Field(default=0.0, ge=0, le=96)  # percent by volume
    allergens: tuple[str, ...] | None = None
    colour: str = Field(default="#f4f1e6", pattern=r"^#[0-9a-f]{6}$")
    density: float | None = Field(default=None, gt=0.6, lt=1.6)
    aliases: tuple[str, ...] = ()
    step: Step = Step.HOUSE
    bottle_of: str = ""

    @property
    def liquor_class(self) -> LiquorClass:
        return liquor_class(self.kind)

    def answers_to(self, word: str) -> bool:
        """Whether a house rule that says `word` means this ingredient: its slug, that of what it is
        a bottle of, its kind or its class."""
        return word in (self.slug, self.kind, self.bottle_of) or word == _CLASSES[self.kind]

    @property
    def answers(self) -> tuple[str, str, str, str]:
        """Every word that it answers to."""
        return (self.slug, self.kind, self.bottle_of, _CLASSES[self.kind])


Pantry = Mapping[str, Ingredient]
"""Ingredients by slug."""
