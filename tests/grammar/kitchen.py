"""A small pantry, the house rules and a short menu that the tests of the grammar share.

The rules are the classic US set of the trade (common practice, no source): 1 fl oz pours,
10 fl oz highball glass, 16 fl oz pint.
"""

from recipes.grammar.house_spec import HouseSpec, resolve
from recipes.grammar.ingredients import Ingredient, Kind, LiquorClass
from recipes.grammar.rules import Family, GarnishRule, GlassRule, HouseRules, MeasuredBy, PourRule
from recipes.grammar.spec import BuildSpec, Garnish, How, Ice, Method, Part, Rim, When
from recipes.grammar.units import Unit


def _stock(*rows: tuple[str, Kind, float, str, float | None]) -> dict[str, Ingredient]:
    return {
        slug: Ingredient(
            slug=slug,
            name=slug.replace("-", " "),
            kind=kind,
            abv=abv,
            colour=colour,
            density=density,
        )
        for slug, kind, abv, colour, density in rows
    }


PANTRY = _stock(
    ("vodka", Kind.VODKA, 40, "#f4f6f4", 0.95),
    ("gin", Kind.GIN, 40, "#f3f6f5", 0.95),
    ("white-rum", Kind.RUM, 40, "#f5f4ec", 0.95),
    ("tequila", Kind.TEQUILA, 40, "#f4f1de", 0.95),
    ("bourbon", Kind.WHISKEY, 40, "#b5651d", 0.95),
    ("cognac", Kind.BRANDY, 40, "#a6571c", 0.95),
    ("coffee-liqueur", Kind.LIQUEUR, 20, "#2a1510", 1.15),
    ("orange-liqueur", Kind.LIQUEUR, 40, "#f0c27a", 1.03),
    ("irish-cream", Kind.CREAM_LIQUEUR, 17, "#c9a887", 1.06),
    ("peach-schnapps", Kind.LIQUEUR, 20, "#f6d9b0", 1.06),
    ("red-aperitif", Kind.BITTER, 25, "#c8102e", 1.06),
    ("sweet-vermouth", Kind.VERMOUTH, 16, "#7a1f1f", 1.04),
    ("dry-vermouth", Kind.VERMOUTH, 18, "#eee8c4", 0.99),
    ("red-wine", Kind.WINE, 13, "#5c1330", 0.99),
    ("sparkling-wine", Kind.SPARKLING, 11, "#f3e3a1", 0.99),
    ("lager", Kind.BEER, 4.5, "#e5b13a", 1.01),
    ("stout", Kind.BEER, 4.2, "#1d100b", 1.01),
    ("cider", Kind.CIDER, 4.5, "#d9a441", 1.0),
    ("alcohol-free-gin", Kind.LOW_NO, 0.0, "#f3f6f5", 1.0),
    ("bitters", Kind.DASH_BITTERS, 44.7, "#5b1f12", 0.98),
    ("cola", Kind.SODA_MIXER, 0, "#3b1a10", 1.04),
    ("tonic-water", Kind.SODA_MIXER, 0, "#eef3f3", 1.03),
    ("club-soda", Kind.SODA_MIXER, 0, "#eef4f5", 1.0),
    ("ginger-ale", Kind.SODA_MIXER, 0, "#ecd9a0", 1.04),
    ("ginger-beer", Kind.SODA_MIXER, 0, "#e9dfba", 1.04),
    ("lemonade", Kind.SODA_MIXER, 0, "#f2ecb0", 1.04),
    ("cranberry-juice", Kind.JUICE, 0, "#b3243b", 1.05),
    ("orange-juice", Kind.JUICE, 0, "#f2a11f", 1.05),
    ("pineapple-juice", Kind.JUICE, 0, "#f0cf4c", 1.05),
    ("grapefruit-juice", Kind.JUICE, 0, "#f3b39a", 1.05),
    ("tomato-juice", Kind.JUICE, 0, "#b3301d", 1.05),
    ("lime-juice", Kind.CITRUS, 0, "#dbe8a8", 1.03),
    ("lemon-juice", Kind.CITRUS, 0, "#efeaa9", 1.03),
    ("grenadine", Kind.SYRUP, 0, "#a80f2b", 1.3),
    ("simple-syrup", Kind.SYRUP, 0, "#f7f4e6", 1.23),
    ("cream", Kind.DAIRY, 0, "#fbf3e2", 0.99),
    ("mint", Kind.HERB, 0, "#3f8f3f", None),
    ("lime", Kind.FRUIT, 0, "#6aa32d", None),
    ("lemon", Kind.FRUIT, 0, "#f2d53c", None),
    ("orange", Kind.FRUIT, 0, "#f08a1d", None),
    ("cherry", Kind.FRUIT, 0, "#8f1026", None),
    ("salt", Kind.RIM, 0, "#ffffff", None),
    ("sugar", Kind.PANTRY, 0, "#ffffff", None),
    ("egg-white", Kind.EGG, 0, "#faf7ee", None),
)
NAMES = {slug: item.name for slug, item in PANTRY.items()}

_LIME, _LEMON = "lime", "lemon"
GARNISH_RULES = (
    GarnishRule(key="tonic-lime", needs=(("tonic-water",),), garnish=(Garnish(item=_LIME),)),
    GarnishRule(key="whiskey-soda-mixer", needs=(("whiskey",), ("soda_mixer",)), only=True),
    GarnishRule(
        key="vodka-club-soda",
        needs=(("vodka",), ("club-soda",)),
        only=True,
        garnish=(Garnish(item=_LEMON, when=When.ASK), Garnish(item=_LIME, when=When.ASK)),
    ),
    GarnishRule(
        key="vodka-cranberry",
        needs=(("vodka",), ("cranberry-juice",)),
        only=True,
        garnish=(Garnish(item=_LIME, when=When.ON_REQUEST),),
    ),
    GarnishRule(key="juice-highball", needs=(("juice",),), families=(Family.HIGHBALL,)),
)

RULES = HouseRules(
    pours={
        LiquorClass.SPIRIT: PourRule(amount=1),
        LiquorClass.LIQUEUR: PourRule(amount=1),
        LiquorClass.FORTIFIED: PourRule(amount=1),
        LiquorClass.WINE: PourRule(amount=5),
    },
    glasses={
        "highball": GlassRule(name="Highball glass", amount=10),
        "rocks": GlassRule(name="Rocks glass", amount=9),
        "shot": GlassRule(name="Shot glass", amount=2),
        "cocktail": GlassRule(name="Cocktail glass", amount=6, stemmed=True),
        "hurricane": GlassRule(name="Hurricane glass", amount=15, stemmed=True),
        "wine": GlassRule(name="Wine glass", amount=12, stemmed=True),
        "flute": GlassRule(name="Flute", amount=6, stemmed=True),
        "pint": GlassRule(name="Pint glass", amount=16, ice_share=0.5),
        "bottle": GlassRule(name="Bottle", amount=12),
    },
    default_glass={
        Family.HIGHBALL: "highball",
        Family.ROCKS: "rocks",
        Family.UP: "cocktail",
        Family.SHOT: "shot",
        Family.BLENDED: "hurricane",
        Family.DRAUGHT: "pint",
        Family.BOTTLE: "bottle",
    },
    default_ice={
        Family.HIGHBALL: Ice.FULL,
        Family.ROCKS: Ice.FULL,
        Family.UP: Ice.NONE,
        Family.SHOT: Ice.NONE,
        Family.BLENDED: Ice.NONE,
        Family.DRAUGHT: Ice.NONE,
        Family.BOTTLE: Ice.NONE,
    },
    garnish=GARNISH_RULES,
    straw_families=(Family.HIGHBALL, Family.BLENDED),
)
GLASS_NAMES = {slug: glass.name for slug, glass in RULES.glasses.items()}
FREE_POUR = MeasuredBy.FREE_POUR


def pour(slug: str, amount: float = 1, unit: Unit = Unit.POUR) -> Part:
    return Part(ingredient=slug, amount=amount, unit=unit)


def ml(slug: str, amount: float) -> Part:
    return pour(slug, amount, Unit.ML)


def top(slug: str, share: float = 1) -> Part:
    return Part(ingredient=slug, how=How.TOP, share=share)


def floated(slug: str, amount: float, unit: Unit = Unit.ML) -> Part:
    return Part(ingredient=slug, how=How.FLOAT, amount=amount, unit=unit)


def first_in(slug: str, amount: float, unit: Unit = Unit.ML) -> Part:
    return Part(ingredient=slug, how=How.FIRST_IN, amount=amount, unit=unit)


def dashed(slug: str, amount: float = 2) -> Part:
    return Part(ingredient=slug, how=How.DASH, amount=amount, unit=Unit.DASH)


def muddled(slug: str, amount: float, unit: Unit) -> Part:
    return Part(ingredient=slug, how=How.MUDDLED, amount=amount, unit=unit)


def build(*parts: Part, **said: object) -> BuildSpec:
    return BuildSpec.model_validate({"parts": parts, **said})


def garnished(*slugs: str) -> tuple[Garnish, ...]:
    return tuple(Garnish(item=slug) for slug in slugs)


MENU: dict[str, BuildSpec] = {
    "gin-tonic": build(pour("gin"), top("tonic-water")),
    "vodka-tonic": build(pour("vodka"), top("tonic-water")),
    "vodka-soda": build(pour("vodka"), top("club-soda")),
    "whiskey-cola": build(pour("bourbon"), top("cola")),
    "cape-codder": build(pour("vodka"), top("cranberry-juice")),
    "madras": build(pour("vodka"), top("cranberry-juice"), top("orange-juice")),
    "sea-breeze": build(pour("vodka"), top("cranberry-juice"), top("grapefruit-juice")),
    "bay-breeze": build(pour("vodka"), top("cranberry-juice"), top("pineapple-juice")),
    "screwdriver": build(pour("vodka"), top("orange-juice")),
    "cuba-libre": build(pour("white-rum"), top("cola"), garnish=garnished("lime")),
    "press": build(pour("bourbon"), top("ginger-ale"), top("club-soda")),
    "tequila-sunrise": build(pour("tequila"), top("orange-juice"), floated("grenadine", 15)),
    "tequila-sunset": build(first_in("grenadine", 15), pour("tequila"), top("orange-juice")),
    "salty-dog": build(
        pour("gin"),
        top("grapefruit-juice"),
        rim=Rim(item="salt"),
        garnish=garnished("lime"),
    ),
    "margarita": build(
        pour("tequila", 1.5),
        pour("orange-liqueur", 0.5),
        ml("lime-juice", 15),
        method=Method.SHAKE,
        rim=Rim(item="salt", half=True),
        garnish=garnished("lime"),
    ),
    "negroni": build(
        pour("gin"),
        pour("sweet-vermouth"),
        pour("red-aperitif"),
        method=Method.STIR,
        garnish=garnished("orange"),
    ),
    "old-fashioned": build(
        pour("bourbon", 2),
        dashed("bitters", 2),
        muddled("sugar", 1, Unit.PIECE),
        garnish=garnished("orange", "cherry"),
    ),
    "white-russian": build(pour("vodka"), pour("coffee-liqueur"), floated("cream", 20), garnish=()),
    "mojito": build(
        muddled("mint", 6, Unit.LEAF),
        muddled("sugar", 2, Unit.TSP),
        ml("lime-juice", 20),
        pour("white-rum", 1.5),
        top("club-soda"),
        garnish=garnished("mint"),
        ice=Ice.CRUSHED,
    ),
    "daiquiri": build(
        pour("white-rum", 1.5),
        ml("lime-juice", 20),
        ml("simple-syrup", 15),
        method=Method.SHAKE,
        glass="cocktail",
        ice=Ice.NONE,
        garnish=garnished("lime"),
    ),
    "pina-colada": build(
        pour("white-rum", 1.5),
        ml("pineapple-juice", 90),
        ml("cream", 30),
        method=Method.BLEND,
        garnish=garnished("cherry"),
    ),
    "three-layers": build(
        ml("coffee-liqueur", 15),
        ml("irish-cream", 15),
        ml("orange-liqueur", 15),
        method=Method.LAYER,
    ),
    "tequila-shot": build(pour("tequila"), glass="shot", ice=Ice.NONE, garnish=()),
    "draught-lager": build(top("lager"), method=Method.DRAUGHT),
    "snakebite": build(top("lager"), top("cider"), method=Method.DRAUGHT),
    "nitro-stout": build(top("stout"), method=Method.TWO_PART),
    "bottled-lager": build(pour("lager", 12, Unit.FLOZ), method=Method.OPEN),
    "still-gin-tonic": build(
        pour("alcohol-free-gin", 30, Unit.ML), top("tonic-water"), alcohol_free=True
    ),
    "light-gin-tonic": build(pour("gin"), top("tonic-water"), ice=Ice.LIGHT, straw=False),
}


def house(spec: BuildSpec | str, rules: HouseRules = RULES) -> HouseSpec:
    """A spec, or a drink of the menu by name, as this house builds it."""
    return resolve(MENU[spec] if isinstance(spec, str) else spec, rules, PANTRY)
