"""A drawing in words, for those who listen to a page instead of looking at it."""

from django.utils.functional import Promise
from django.utils.translation import gettext as _
from django.utils.translation import gettext_lazy as lazy

from recipes.grammar.house_spec import HouseSpec
from recipes.grammar.ingredients import Pantry
from recipes.grammar.reasons import Reason
from recipes.grammar.seen import seen
from recipes.grammar.steps import CHOICE
from recipes.words_aspects import Names, either, name_of

SEEN: dict[str, str | Promise] = {
    "seen_glass": "%(glass)s",
    "seen_ice_full": lazy("ice to the top"),
    "seen_ice_light": lazy("a little ice"),
    "seen_ice_crushed": lazy("crushed ice to the top"),
    "seen_liquid": "%(items)s",
    "seen_bottom": lazy("%(items)s at the bottom"),
    "seen_above": lazy("%(items)s above it"),
    "seen_head": lazy("a head of foam"),
    "seen_rim": lazy("%(rim)s round the edge"),
    "seen_half_rim": lazy("%(rim)s round half of the edge"),
    "seen_garnish": "%(ingredient)s",
    "seen_choice": lazy("%(choices)s if the guest says so"),
    "seen_straw": lazy("a straw"),
    "seen_back": lazy("beside it a glass of its own (%(glass)s) with %(items)s"),
}


def describe(spec: HouseSpec, pantry: Pantry, names: Names, glass_names: Names) -> str:
    """What `drawing.draw` shows of this drink, in one sentence, without the drink's name."""
    said = ", ".join(_fragment(reason, names, glass_names) for reason in seen(spec, pantry))
    return f"{said[:1].upper()}{said[1:]}."


def together(items: list[str]) -> str:
    """ "gin and tonic water", "tequila, lime juice and salt"."""
    if len(items) < 2:
        return "".join(items)
    return _("%(first)s and %(last)s") % {"first": ", ".join(items[:-1]), "last": items[-1]}


def _fragment(reason: Reason, names: Names, glass_names: Names) -> str:
    said = {}
    for key, value in reason.values.items():
        words = [name_of(slug, glass_names if key == "glass" else names)
                 for slug in str(value).split(CHOICE)]  # fmt: skip
        said[key] = either(words) if key == "choices" else together(words)
    return str(SEEN[reason.code]) % said
