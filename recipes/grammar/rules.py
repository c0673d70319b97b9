"""House rules: what this house pours, in which glass, with what on it."""

from enum import StrEnum

from pydantic import BaseModel, ConfigDict, Field

from recipes.grammar.ingredients import Ingredient, LiquorClass
from recipes.grammar.spec import BuildSpec, Garnish, How, Ice, Method
from recipes.grammar.units import Unit, to_ml

DEFAULT_ICE_SHARE = 0.5
"""Share of a glass that full cubed ice takes (common practice, no source; the house calibrates)."""


class Family(StrEnum):
    """What kind of build it is; default glass and ice hang on it."""

    HIGHBALL = "highball"
    ROCKS = "rocks"
    UP = "up"
    SHOT = "shot"
    BLENDED = "blended"
    DRAUGHT = "draught"
    BOTTLE = "bottle"


class MeasuredBy(StrEnum):
    FREE_POUR = "free_pour"
    JIGGER = "jigger"
    OPTIC = "optic"
    STAMPED = "stamped"
    GUN = "gun"


class _Rule(BaseModel):
    model_config = ConfigDict(frozen=True, extra="forbid")


class PourRule(_Rule):
    """How much one house pour of a class of liquor is, and how it is measured."""

    amount: float = Field(gt=0)
    unit: Unit = Unit.FLOZ
    measured_by: MeasuredBy = MeasuredBy.JIGGER

    @property
    def ml(self) -> float:
        return to_ml(self.amount, self.unit)


class GlassRule(_Rule):
    """A glass of the house. `ice_share` is what full ice takes of it; `ice_measured` says that the
    house has measured it with this glass and its own ice."""

    name: str = Field(min_length=1, max_length=60)
    amount: float = Field(gt=0)
    unit: Unit = Unit.FLOZ
    ice_share: float = Field(default=DEFAULT_ICE_SHARE, ge=0, lt=1)
    stemmed: bool = False
    ice_measured: bool = False

    @property
    def ml(self) -> float:
        return to_ml(self.amount, self.unit)


class GarnishRule(_Rule):
    """If every group of `needs` finds a part (by slug, kind or class), this garnish goes on.

    `only`: each part of the drink must belong to one of the groups, so that a rule about vodka
    with cranberry juice says nothing about vodka with cranberry and pineapple. The first rule
    that matches decides; an empty garnish is a decision too.
    """

    key: str = Field(pattern=r"^[a-z0-9]+(-[a-z0-9]+)*$")
    needs: tuple[tuple[str, ...], ...] = ()
    only: bool = False
    families: tuple[Family, ...] = ()
    garnish: tuple[Garnish, ...] = ()

    def matches(self, parts: tuple[Ingredient, ...], family: Family) -> bool:
        if self.families and family not in self.families:
            return False
        for group in self.needs:
            if not any(p.answers_to(w) for p in parts for w in group):
                return False
        if not self.only:
            return True
        words = [w for group in self.needs for w in group]
        return all(any(p.answers_to(w) for w in words) for p in parts)


class Doubles(_Rule):
    """A double has two pours: short in the same glass, tall in `tall_glass`."""

    tall_glass: str = "pint"
    pours: int = 2
    ask_short_or_tall: bool = True


class Pattern(_Rule):
    """A word that names a drink once a base is said with it: a rickey of any spirit.

    `base` is meant where the guest says none; None: it is asked. Without `garnish` the garnish
    rules decide.
    """

    mixers: tuple[str, ...] = Field(min_length=1)
    garnish: tuple[Garnish, ...] | None = None
    base: str | None = None


class Serving(StrEnum):
    """What a word of the house means that says how much, not what."""

    SINGLE = "single"
    DOUBLE = "double"
    HALF = "half"
    PINT = "pint"
    ANY_SPIRIT = "any_spirit"  # a measure of spirit, which one is asked


class HouseRules(_Rule):
    """Everything a recipe leaves to the house. `tolerance_ml` is what a pour may be off by."""

    preset: str = "us-classic"
    country: str = "us"
    pours: dict[LiquorClass, PourRule]
    glasses: dict[str, GlassRule]
    default_glass: dict[Family, str]
    default_ice: dict[Family, Ice]
    garnish: tuple[GarnishRule, ...] = ()
    straw_families: tuple[Family, ...] = ()  # a straw goes in these unless the recipe says no
    doubles: Doubles = Doubles()
    slang: dict[str, str] = {}
    patterns: dict[str, Pattern] = {}
    servings: dict[str, Serving] = {}
    currency: str = Field(default="", max_length=3)  # of the house's prices, as it writes it
    tolerance: float = Field(default=0.125, gt=0)
    tolerance_unit: Unit = Unit.FLOZ

    @property
    def tolerance_ml(self) -> float:
        return to_ml(self.tolerance, self.tolerance_unit)


def family(spec: BuildSpec) -> Family:
    """The family of a build, from its method, glass and parts alone."""
    if spec.method is Method.BLEND:
        return Family.BLENDED
    if spec.method in (Method.DRAUGHT, Method.TWO_PART):
        return Family.DRAUGHT
    if spec.method is Method.OPEN:
        return Family.BOTTLE
    if spec.glass == "shot" or spec.method is Method.LAYER:
        return Family.SHOT
    for part in spec.parts:
        if part.how is How.TOP:
            return Family.HIGHBALL
    return Family.UP if spec.ice is Ice.NONE else Family.ROCKS
