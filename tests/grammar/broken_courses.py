"""A small course, and every way to break it that has a reason of its own."""

from recipes.grammar.reasons import Reason

INGREDIENTS = """
[[ingredients]]
slug = "vodka"
name = "vodka"
kind = "vodka"
abv = 40
allergens = []

[[ingredients]]
slug = "cranberry-juice"
name = "cranberry juice"
kind = "juice"
aliases = ["cran"]
"""
DRINK = """
[[drinks]]
slug = "cape-codder"
name = "Cape Codder"
aliases = ["vodka cran"]
share = 2
spec.parts = [
  { ingredient = "vodka", amount = 1 },
  { ingredient = "cranberry-juice", how = "top" },
]
"""
MODULE = """
slug = "highballs"
name = "Highballs"
alcohol = true
stations = ["well"]
notes = "One pour, to the top."

[[lessons]]
slug = "calls"
name = "Calls"
body = "Listen first."

[[lessons.scenarios]]
slug = "heard-badly"
question = "You didn't hear the order. What now?"
choices = ["Ask", "Guess", "Wait"]
right = 0
why = "Asking is quick."
"""
SECOND = """
slug = "juice"
name = "Juice"
alcohol = true
stations = ["well"]
notes = "More of it."
"""

BROKEN = {
    # what is wrong: (file, old text, new text, entry, reason)
    "syntax, with its line": (
        "10-highballs.toml",
        "alcohol = true",
        "alcohol = = true",
        "",
        Reason.of("toml_syntax", line=4, said="Invalid value (at line 4, column 11)"),
    ),
    "a field of a module that nobody knows": (
        "10-highballs.toml",
        "alcohol = true",
        'alcohol = true\ncolour = "red"',
        "",
        Reason.of("field_unknown", field="colour"),
    ),
    "a field of a drink that nobody knows": (
        "10-highballs.toml",
        "share = 2",
        "share = 2\nprice = 9",
        "cape-codder",
        Reason.of("field_unknown", field="price"),
    ),
    "a field of a spec that nobody knows": (
        "10-highballs.toml",
        "spec.parts",
        'spec.colour = "red"\nspec.parts',
        "cape-codder",
        Reason.of("field_unknown", field="colour"),
    ),
    "a drink without a name": (
        "10-highballs.toml",
        'name = "Cape Codder"\n',
        "",
        "cape-codder",
        Reason.of("field_missing", field="name"),
    ),
    "a share of nothing": (
        "10-highballs.toml",
        "share = 2",
        "share = 0",
        "cape-codder",
        Reason.of("not_readable", field="share", said="0"),
    ),
    "an ingredient that is not stocked": (
        "10-highballs.toml",
        'ingredient = "vodka"',
        'ingredient = "vodkka"',
        "cape-codder",
        Reason.of("unknown_ingredient", ingredient="vodkka"),
    ),
    "a drink that runs over": (
        "10-highballs.toml",
        "amount = 1 }",
        "amount = 11 }",
        "cape-codder",
        Reason.of("over_full", glass="highball", liquid_ml=325, room_ml=148),
    ),
    "no alcohol in a module of alcohol": (
        "10-highballs.toml",
        '{ ingredient = "vodka", amount = 1 },',
        "",
        "cape-codder",
        Reason.of("no_alcohol"),
    ),
    "a right answer that is not there": (
        "10-highballs.toml",
        "right = 0",
        "right = 3",
        "calls/heard-badly",
        Reason.of("right_out_of_range", right=3, choices=3),
    ),
    "a right answer counted from the end": (
        "10-highballs.toml",
        "right = 0",
        "right = -1",
        "calls/heard-badly",
        Reason.of("right_out_of_range", right=-1, choices=3),
    ),
    "the same choice twice": (
        "10-highballs.toml",
        '"Guess"',
        '"Ask."',
        "calls/heard-badly",
        Reason.of("choice_twice"),
    ),
    "too few choices": (
        "10-highballs.toml",
        ', "Guess", "Wait"',
        "",
        "calls/heard-badly",
        Reason.of("not_readable", field="scenarios.0.choices", said="['Ask']"),
    ),
    "an allergen that no list has": (
        "ingredients.toml",
        "allergens = []",
        'allergens = ["grass"]',
        "vodka",
        Reason.of("unknown_allergen", allergen="grass"),
    ),
    "a kind that nobody knows": (
        "ingredients.toml",
        'kind = "juice"',
        'kind = "jus"',
        "cranberry-juice",
        Reason.of("not_readable", field="kind", said="jus"),
    ),
    "a list of ingredients under another name": (
        "ingredients.toml",
        INGREDIENTS,
        INGREDIENTS + "\n[[bottles]]\nslug = 'x'\n",
        "",
        Reason.of("field_unknown", field="bottles"),
    ),
    "house rules with a field that nobody knows": (
        "presets/us-classic.toml",
        'country = "us"',
        'country = "us"\nhours = 3',
        "",
        Reason.of("field_unknown", field="hours"),
    ),
    "house rules with a glass that is not there": (
        "presets/us-classic.toml",
        'tall_glass = "pint"',
        'tall_glass = "bucket"',
        "",
        Reason.of("unknown_glass", glass="bucket"),
    ),
    "house rules with slang for what is not stocked": (
        "presets/us-classic.toml",
        "ask_short_or_tall = true",
        'ask_short_or_tall = true\n[slang]\nginger = "ginger-ale"',
        "",
        Reason.of("unknown_ingredient", ingredient="ginger-ale"),
    ),
    "a garnish rule about a word that means nothing": (
        "presets/us-classic.toml",
        "ask_short_or_tall = true",
        'ask_short_or_tall = true\n[[garnish]]\nkey = "x"\nneeds = [["tonnic"]]',
        "",
        Reason.of("unknown_word", word="tonnic"),
    ),
}
