"""Labels for every fixed word of the grammar, in the reader's language."""

from collections.abc import Mapping
from enum import StrEnum
from typing import Any

from django.utils.functional import Promise
from django.utils.translation import gettext as _
from django.utils.translation import gettext_lazy as lazy
from django.utils.translation import pgettext_lazy as in_context

from recipes.grammar.aspects import Aspect
from recipes.grammar.house_spec import Origin
from recipes.grammar.ingredients import Kind, LiquorClass, Step
from recipes.grammar.rules import Family, MeasuredBy
from recipes.grammar.spec import How, Ice, Method, When
from recipes.grammar.steps import Stage
from recipes.grammar.strength_curves import NoCurve, Size
from recipes.grammar.units import Unit
from recipes.words_calls import ABOUT, ASK_KIND, SERVING, STATUS, WHAT
from recipes.words_menu import HOW_READ
from recipes.words_sheets import TILL_ROWS

Text = str | Promise

_ASPECT: dict[Aspect, Text] = {
    Aspect.GLASS: lazy("Glass"),
    Aspect.POURS: lazy("Pours"),
    Aspect.MIXERS: lazy("Mixers"),
    Aspect.FINISH: lazy("Finish"),
    Aspect.METHOD: lazy("Method"),
}
_STEP: dict[Step, Text] = {
    Step.HOUSE: in_context("a step of bottles", "house"),
    Step.CALL: in_context("a step of bottles", "call"),
    Step.PREMIUM: in_context("a step of bottles", "premium"),
}
_ICE: dict[Ice, Text] = {
    Ice.NONE: lazy("no ice"),
    Ice.LIGHT: lazy("light ice"),
    Ice.FULL: lazy("full ice"),
    Ice.CRUSHED: lazy("crushed ice"),
}
_METHOD: dict[Method, Text] = {
    Method.BUILD: lazy("build in the glass"),
    Method.SHAKE: lazy("shake with ice, strain"),
    Method.STIR: lazy("stir with ice, strain"),
    Method.BLEND: lazy("blend with ice"),
    Method.LAYER: lazy("layer over a spoon"),
    Method.DRAUGHT: lazy("draw from the tap"),
    Method.TWO_PART: lazy("draw in two parts, let it settle between"),
    Method.OPEN: lazy("open and serve"),
}
_HOW: dict[How, Text] = {
    How.MEASURED: lazy("measured"),
    How.TOP: lazy("to the top"),
    How.FLOAT: lazy("floated last"),
    How.DASH: lazy("dashed"),
    How.FIRST_IN: lazy("first, under the ice"),
    How.MUDDLED: lazy("muddled"),
}
_WHEN: dict[When, Text] = {
    When.ALWAYS: lazy("always"),
    When.ASK: lazy("ask the guest"),
    When.ON_REQUEST: lazy("if the guest asks"),
}
_FAMILY: dict[Family, Text] = {
    Family.HIGHBALL: lazy("highball"),
    Family.ROCKS: lazy("rocks drink"),
    Family.UP: lazy("drink served up or neat"),
    Family.SHOT: lazy("shot"),
    Family.BLENDED: lazy("blended drink"),
    Family.DRAUGHT: lazy("draught beer"),
    Family.BOTTLE: lazy("bottle or can"),
}
_MEASURED_BY: dict[MeasuredBy, Text] = {
    MeasuredBy.FREE_POUR: lazy("by count, free pour"),
    MeasuredBy.JIGGER: lazy("by jigger"),
    MeasuredBy.OPTIC: lazy("by optic"),
    MeasuredBy.STAMPED: lazy("by stamped measure"),
    MeasuredBy.GUN: lazy("by metered gun"),
}
_LIQUOR_CLASS: dict[LiquorClass, Text] = {
    LiquorClass.SPIRIT: lazy("spirits"),
    LiquorClass.LIQUEUR: lazy("liqueurs"),
    LiquorClass.FORTIFIED: lazy("fortified wine"),
    LiquorClass.WINE: lazy("wine"),
    LiquorClass.BEER: lazy("beer and cider"),
    LiquorClass.MIXER: lazy("mixers, juices and syrups"),
    LiquorClass.SOLID: lazy("fruit, herbs and other things that are not poured"),
}
_KIND: dict[Kind, Text] = {
    Kind.VODKA: lazy("vodka"),
    Kind.GIN: lazy("gin"),
    Kind.RUM: lazy("rum"),
    Kind.TEQUILA: lazy("tequila"),
    Kind.WHISKEY: lazy("whiskey"),
    Kind.BRANDY: lazy("brandy"),
    Kind.OTHER_SPIRIT: lazy("other spirit"),
    Kind.LIQUEUR: lazy("liqueur"),
    Kind.CREAM_LIQUEUR: lazy("cream liqueur"),
    Kind.BITTER: lazy("aperitif"),
    Kind.VERMOUTH: lazy("vermouth"),
    Kind.WINE: lazy("wine"),
    Kind.SPARKLING: lazy("sparkling wine"),
    Kind.BEER: lazy("beer"),
    Kind.CIDER: lazy("cider"),
    Kind.LOW_NO: lazy("low or no alcohol"),
    Kind.DASH_BITTERS: lazy("bitters"),
    Kind.SODA_MIXER: lazy("fizzy mixer"),
    Kind.JUICE: lazy("juice"),
    Kind.CITRUS: lazy("fresh citrus juice"),
    Kind.SYRUP: lazy("syrup"),
    Kind.SOUR_MIX: lazy("sour mix"),
    Kind.DAIRY: lazy("milk and cream"),
    Kind.EGG: lazy("egg"),
    Kind.COFFEE: lazy("coffee"),
    Kind.SAUCE: lazy("sauce"),
    Kind.FRUIT: lazy("fruit"),
    Kind.HERB: lazy("herb"),
    Kind.RIM: lazy("rim"),
    Kind.PANTRY: lazy("sugar, olives and the like"),
}
_UNIT: dict[Unit, Text] = {
    Unit.POUR: lazy("house pour"),
    Unit.ML: lazy("ml"),
    Unit.CL: lazy("cl"),
    Unit.FLOZ: lazy("fl oz"),
    Unit.IMPERIAL_FLOZ: lazy("imperial fl oz"),
    Unit.US_PINT: lazy("US pint"),
    Unit.IMPERIAL_PINT: lazy("imperial pint"),
    Unit.TSP: lazy("teaspoon"),
    Unit.BARSPOON: lazy("bar spoon"),
    Unit.DASH: lazy("dash"),
    Unit.SPLASH: lazy("splash"),
    Unit.PIECE: lazy("piece"),
    Unit.LEAF: lazy("leaf"),
}
_STAGE: dict[Stage, Text] = {
    Stage.GLASS: in_context("stage of a build", "glass"),
    Stage.RIM: in_context("stage of a build", "rim"),
    Stage.FIRST_IN: in_context("stage of a build", "first in"),
    Stage.ICE: in_context("stage of a build", "ice"),
    Stage.POUR: in_context("stage of a build", "pours"),
    Stage.METHOD: in_context("stage of a build", "method"),
    Stage.TOP: in_context("stage of a build", "mixers"),
    Stage.FLOAT: in_context("stage of a build", "float"),
    Stage.FINISH: in_context("stage of a build", "finish"),
    Stage.SERVE: in_context("stage of a build", "serve"),
}
_ORIGIN: dict[Origin, Text] = {
    Origin.RECIPE: lazy("the recipe says so"),
    Origin.RULE: lazy("house rule"),
}

_NO_CURVE: dict[NoCurve, Text] = {
    NoCurve.NO_ALCOHOL: lazy("There is no alcohol in it, so ice can't make it weaker."),
    NoCurve.NO_TOP: lazy(
        "Nothing tops this drink up, so the ice in the glass changes how full it looks, not how "
        "strong it is."
    ),
    NoCurve.STRONG_TOP: lazy(
        "What fills the glass holds alcohol itself, so less ice means more of it, not weaker."
    ),
    NoCurve.BLENDED: lazy("Its ice is blended into it, so it is always the same."),
    NoCurve.NO_ICE: lazy("It is served without ice, so there is nothing to compare."),
    NoCurve.NO_ROOM: lazy("Its glass leaves no room to top it up."),
}
_SIZE: dict[Size, Text] = {
    Size.SINGLE: lazy("single"),
    Size.SHORT_DOUBLE: lazy("short double, same glass"),
    Size.TALL_DOUBLE: lazy("tall double"),
}

_TABLES: tuple[Mapping[Any, Text], ...] = (
    HOW_READ,
    _ASPECT,
    _STEP,
    _ICE,
    _METHOD,
    _HOW,
    _WHEN,
    _FAMILY,
    _MEASURED_BY,
    _LIQUOR_CLASS,
    _KIND,
    _UNIT,
    _STAGE,
    _ORIGIN,
    _NO_CURVE,
    _SIZE,
    STATUS,
    ABOUT,
    ASK_KIND,
    WHAT,
    SERVING,
    TILL_ROWS,
)
LABELLED: tuple[type[StrEnum], ...] = tuple(type(next(iter(table))) for table in _TABLES)
"""The enums that have labels."""

# By type too: members are strings, so "glass" the aspect and "glass" the stage would be one key.
_LABELS = {(type(m), str(m)): text for table in _TABLES for m, text in table.items()}


def label(member: StrEnum) -> str:
    """The word for a member of any enum of the grammar, lower case except for aspects."""
    return str(_LABELS[type(member), str(member)])


_ALLERGENS: dict[str, Text] = {
    "gluten": lazy("cereals with gluten"),
    "wheat": lazy("wheat"),
    "crustaceans": lazy("crustaceans"),
    "eggs": lazy("eggs"),
    "fish": lazy("fish"),
    "peanuts": lazy("peanuts"),
    "soybeans": lazy("soybeans"),
    "milk": lazy("milk"),
    "nuts": lazy("tree nuts"),
    "celery": lazy("celery"),
    "mustard": lazy("mustard"),
    "sesame": lazy("sesame"),
    "sulphites": lazy("sulphites"),
    "lupin": lazy("lupin"),
    "molluscs": lazy("molluscs"),
}


def allergen_label(slug: str) -> str:
    """The name of an allergen; what the house typed in, where it is none of the legal lists."""
    return str(_ALLERGENS.get(slug, slug.replace("-", " ")))


def allergen_words(allergens: tuple[str, ...] | None) -> str:
    """What may be said of one ingredient. Unknown or empty never reads as "free from"."""
    if allergens is None:
        return _("Nobody has checked this one. Read the label and fetch the manager.")
    if not allergens:
        return _("None entered by the house. Read the label before you answer a guest.")
    return _("Contains: %(list)s.") % {"list": ", ".join(allergen_label(a) for a in allergens)}
