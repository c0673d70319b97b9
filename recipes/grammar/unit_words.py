"""What units are called where a recipe is typed."""

from recipes.grammar.units import Unit

UNIT_WORDS: dict[Unit, tuple[str, ...]] = {
    # The first is what one of it is written as, the second more than one.
    Unit.POUR: ("pour", "pours"),
    Unit.ML: ("ml", "ml", "millilitre", "millilitres", "milliliter", "milliliters"),
    Unit.CL: ("cl", "cl", "centilitre", "centilitres", "centiliter", "centiliters"),
    Unit.FLOZ: (
        "fl oz",
        "fl oz",
        "floz",
        "fl. oz.",
        "fl. oz",
        "fl.oz.",
        "fl.oz",
        "oz.",
        "oz",
        "ounce",
        "ounces",
        "fluid ounce",
        "fluid ounces",
        "us fl oz",
    ),
    Unit.IMPERIAL_FLOZ: ("imperial fl oz", "imperial fl oz", "imperial oz"),
    Unit.US_PINT: ("US pint", "US pints"),
    Unit.IMPERIAL_PINT: ("imperial pint", "imperial pints"),
    Unit.TSP: ("teaspoon", "teaspoons", "tsp", "tsp."),
    Unit.BARSPOON: ("bar spoon", "bar spoons", "barspoon", "barspoons"),
    Unit.DASH: ("dash", "dashes"),
    Unit.SPLASH: ("splash", "splashes"),
    Unit.PIECE: ("piece", "pieces"),
    Unit.LEAF: ("leaf", "leaves"),
}
