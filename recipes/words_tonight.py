"""Why a drink is off tonight, and why somebody can't say that a bottle is out like this."""

from django.utils.functional import Promise
from django.utils.translation import gettext as _
from django.utils.translation import gettext_lazy as lazy

from recipes.grammar.ingredients import Ingredient, Kind, LiquorClass, liquor_class

TONIGHT: dict[str, str | Promise] = {
    "bottle_out": lazy("%(ingredient)s is out and nothing stands in for it."),
    "drink_out": lazy("It is off by itself, whatever is in the bottles."),
    "in_it_already": lazy(
        "%(ingredient)s would stand in, but it is in this drink already in another measure."
    ),
    "substitute_is_itself": lazy("%(ingredient)s can't stand in for itself. Choose another."),
    "substitute_is_out": lazy("%(ingredient)s is out too. Choose another, or none."),
}

_SPIRIT = lazy("a spirit")
_A: dict[Kind, str | Promise] = {
    **{kind: _SPIRIT for kind in Kind if liquor_class(kind) is LiquorClass.SPIRIT},
    Kind.LIQUEUR: lazy("a liqueur"),
    Kind.CREAM_LIQUEUR: lazy("a cream liqueur"),
    Kind.BITTER: lazy("an aperitif"),
    Kind.VERMOUTH: lazy("a fortified wine"),
    Kind.WINE: lazy("a wine"),
    Kind.SPARKLING: lazy("a sparkling wine"),
    Kind.BEER: lazy("a beer"),
    Kind.CIDER: lazy("a cider"),
    Kind.LOW_NO: lazy("a drink with little or no alcohol"),
    Kind.DASH_BITTERS: lazy("a bottle of bitters"),
    Kind.SODA_MIXER: lazy("a fizzy mixer"),
    Kind.JUICE: lazy("a juice"),
    Kind.CITRUS: lazy("a sour juice"),
    Kind.SYRUP: lazy("a syrup"),
    Kind.SOUR_MIX: lazy("a sour mix"),
    Kind.DAIRY: lazy("a thing from the dairy"),
    Kind.EGG: lazy("an egg"),
    Kind.COFFEE: lazy("a coffee or tea"),
    Kind.SAUCE: lazy("a sauce"),
    Kind.FRUIT: lazy("a fruit"),
    Kind.HERB: lazy("a herb"),
    Kind.RIM: lazy("a thing for the rim"),
    Kind.PANTRY: lazy("a thing from the pantry"),
}
"""Every kind, as one says "a syrup doesn't stand in for a spirit"."""


def another_kind(out: Ingredient, use: Ingredient) -> str:
    """That what is to stand in is of another kind than what is out."""
    told = {
        "this": str(_A[use.kind]),
        "that": str(_A[out.kind]),
        "use": use.name,
        "bottle": out.name,
    }
    said = _(
        "%(this)s doesn't stand in for %(that)s: as much %(use)s would go in as the drinks have "
        "%(bottle)s."
    )
    text = said % told
    return text[:1].upper() + text[1:]
