"""Recipes that can't be built, each with the codes it is refused for.

Written as a file or a form gives them: plain values, nothing validated yet.
"""

from collections.abc import Mapping
from typing import Any

LINE = {"ingredient": "vodka", "amount": 1}
COLA = {"ingredient": "cola", "how": "top"}


def recipe(*parts: Mapping[str, Any], **said: Any) -> dict[str, Any]:
    return {"parts": list(parts), **said}


def layers(*slugs: str, **said: Any) -> dict[str, Any]:
    parts = [{"ingredient": s, "amount": 15, "unit": "ml"} for s in slugs]
    return recipe(*parts, method="layer", **said)


REFUSED: tuple[tuple[str, dict[str, Any], set[str]], ...] = (
    ("nothing in it", recipe(), {"no_parts"}),
    (
        "more in it than a drink has",
        recipe(*({**LINE, "ingredient": f"vodka-{n}"} for n in range(15))),
        {"too_many_parts"},
    ),
    ("no list of parts", {"glass": "pint"}, {"field_missing"}),
    ("a field that is none", recipe(LINE, colour="red"), {"field_unknown"}),
    ("ice that is none", recipe(LINE, ice="plenty"), {"not_readable"}),
    ("an amount that is no number", recipe({**LINE, "amount": "two"}), {"not_readable"}),
    ("an amount of no number", recipe({**LINE, "amount": float("nan")}), {"amount_not_positive"}),
    ("an endless amount", recipe({**LINE, "amount": float("inf")}), {"amount_not_positive"}),
    ("a top-up with an amount", recipe(LINE, {**COLA, "amount": 2}), {"top_with_amount"}),
    (
        "a glass filled with spirit",
        recipe({"ingredient": "gin", "how": "top"}),
        {"top_too_strong"},
    ),
    ("a top-up in a unit", recipe(LINE, {**COLA, "unit": "ml"}), {"top_with_amount"}),
    ("a share of nothing", recipe(LINE, {**COLA, "share": 0}), {"share_not_positive"}),
    ("a negative share", recipe(LINE, {**COLA, "share": -1}), {"share_not_positive"}),
    ("an endless share", recipe(LINE, {**COLA, "share": float("inf")}), {"share_not_positive"}),
    ("a pour without amount", recipe({"ingredient": "vodka"}), {"amount_missing"}),
    ("an amount of zero", recipe({**LINE, "amount": 0}), {"amount_not_positive"}),
    ("an amount below zero", recipe({**LINE, "amount": -1}), {"amount_not_positive"}),
    (
        "two amounts wrong at once",
        recipe({**LINE, "amount": 0}, {"ingredient": "gin"}),
        {"amount_not_positive", "amount_missing"},
    ),
    (
        "dashes by the pour",
        recipe(LINE, {"ingredient": "bitters", "how": "dash", "amount": 1}),
        {"dash_in_other_unit"},
    ),
    ("the same part twice", recipe(LINE, LINE), {"part_twice"}),
    (
        "poured and topped with one thing",
        recipe({**LINE, "ingredient": "cola"}, COLA),
        {"part_twice"},
    ),
    (
        "the same garnish twice",
        recipe(LINE, COLA, garnish=[{"item": "lime"}, {"item": "lime", "when": "ask"}]),
        {"garnish_twice"},
    ),
    ("layers over ice", layers("coffee-liqueur", "irish-cream", ice="full"), {"layer_over_ice"}),
    (
        "layers and a top-up",
        {**layers("coffee-liqueur", "irish-cream"), "parts": [LINE, COLA]},
        {"layer_with_top"},
    ),
    ("a layer of one", layers("irish-cream"), {"layer_of_one"}),
    ("an ingredient unknown", recipe({**LINE, "ingredient": "moonshine"}), {"unknown_ingredient"}),
    (
        "a garnish unknown",
        recipe(LINE, COLA, garnish=[{"item": "umbrella"}]),
        {"unknown_ingredient"},
    ),
    ("a rim unknown", recipe(LINE, COLA, rim={"item": "glitter"}), {"unknown_ingredient"}),
    (
        "a rim wet with something unknown",
        recipe(LINE, COLA, rim={"item": "salt", "wet_with": "dew"}),
        {"unknown_ingredient"},
    ),
    ("a glass unknown", recipe(LINE, COLA, glass="boot"), {"unknown_glass"}),
    (
        "a pour of what has no house pour",
        recipe(LINE, {"ingredient": "lime-juice", "amount": 1}),
        {"no_house_pour"},
    ),
    ("a liquid by the piece", recipe({**LINE, "unit": "piece"}), {"counted_liquid"}),
    ("a pour of mint", recipe(LINE, {"ingredient": "mint", "amount": 1}), {"pour_of_solid"}),
    (
        "a rim with nothing to wet it",
        recipe(LINE, COLA, rim={"item": "salt"}),
        {"rim_with_nothing_to_wet"},
    ),
    ("more than the iced glass holds", recipe({**LINE, "amount": 6}), {"over_full"}),
    (
        "more than the glass holds once the shake has thinned it",
        recipe({**LINE, "amount": 4}, method="shake"),
        {"over_full"},
    ),
    ("a top-up with no room", recipe({**LINE, "amount": 5}, COLA), {"no_room_to_top"}),
    ("no alcohol and no word of it", recipe(COLA), {"no_alcohol"}),
    (
        "alcohol in an alcohol-free drink",
        recipe(LINE, COLA, alcohol_free=True),
        {"alcohol_in_alcohol_free"},
    ),
    (
        "two things wrong with the house at once",
        recipe({**LINE, "unit": "piece"}, COLA, rim={"item": "salt"}),
        {"counted_liquid", "rim_with_nothing_to_wet"},
    ),
)
