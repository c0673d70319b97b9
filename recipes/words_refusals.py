"""Why a recipe can't be built at this house, worded for the trainer who wrote it."""

from django.utils.functional import Promise
from django.utils.translation import gettext_lazy as lazy

REFUSALS: dict[str, str | Promise] = {
    "top_with_amount": lazy(
        "%(ingredient)s tops the drink up, so it has no amount. Take the amount out, "
        "or measure it instead."
    ),
    "top_too_strong": lazy(
        "%(ingredient)s has %(abv)s %% alcohol, too much to fill a glass with. Measure it, as in "
        "“1 pour”; wine, beer and mixers may go to the top."
    ),
    "share_not_positive": lazy(
        "%(ingredient)s needs a share of the room above 0. Write 1 for an equal share."
    ),
    "amount_missing": lazy("How much %(ingredient)s? Everything except a top-up needs an amount."),
    "amount_not_positive": lazy(
        "The amount of %(ingredient)s must be more than 0, and must fit in a glass."
    ),
    "dash_in_other_unit": lazy("%(ingredient)s is dashed: count it in dashes or splashes."),
    "part_twice": lazy("%(ingredient)s stands in this recipe twice. Write it once, all of it."),
    "garnish_twice": lazy("%(ingredient)s stands among the garnishes twice. Keep one of them."),
    "layer_over_ice": lazy(
        "Layers don't hold over ice. Take the ice out, or build the drink instead."
    ),
    "layer_with_top": lazy("Every layer is measured, so nothing can be topped up. Give amounts."),
    "layer_of_one": lazy("A layered drink needs at least two measured liquids."),
    "no_parts": lazy("There is nothing in this drink yet. Give it at least one ingredient."),
    "too_many_parts": lazy(
        "More than %(most)s ingredients: that is no drink for a busy bar. Check the list."
    ),
    "field_missing": lazy("%(field)s is missing."),
    "field_unknown": lazy("%(field)s has no place here. Check how it is spelt."),
    "not_readable": lazy("%(field)s can't be read: “%(said)s”."),
    "unknown_ingredient": lazy(
        "This house has no “%(ingredient)s”. Check the spelling, or add the ingredient first."
    ),
    "unknown_glass": lazy(
        "This house has no glass “%(glass)s”. Pick one from the house rules, or add it there."
    ),
    "no_house_pour": lazy(
        "The house rules don't say how much a pour of %(liquor_class)s is, so a pour of "
        "%(ingredient)s has no size. Add the pour to the rules, or write the amount in ml or fl oz."
    ),
    "counted_liquid": lazy("%(ingredient)s is poured, not counted. Give pours, ml or fl oz."),
    "pour_of_solid": lazy("%(ingredient)s can't be poured. Count pieces, leaves or teaspoons."),
    "rim_with_nothing_to_wet": lazy(
        "Nothing in this drink wets the edge, so the %(rim)s won't stick. Name what wets it, "
        "a lime for example."
    ),
    "over_full": lazy(
        "It runs over: %(liquid)s of liquid, but the %(glass)s holds %(room)s with its ice. "
        "Pour less, use less ice or take a bigger glass."
    ),
    "no_room_to_top": lazy(
        "There is no room for the top-up: %(left)s left in the %(glass)s. "
        "Pour less, use less ice or take a bigger glass."
    ),
    "ice_without_water": lazy(
        "Some water always goes in between the ice. Measure what you pour off."
    ),
    "ice_not_there": lazy(
        "%(size)s of water is all that the glass holds without ice (%(room)s). Fill it with ice "
        "first, or check what the glass holds."
    ),
    "no_alcohol": lazy(
        "There is no alcohol in this drink. If that is meant, mark it as alcohol-free."
    ),
    "alcohol_in_alcohol_free": lazy(
        "%(ingredient)s has alcohol in it, so this drink can't be called alcohol-free."
    ),
}
