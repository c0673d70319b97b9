"""Words for what is odd about house rules, and for the rules that ship."""

from __future__ import annotations

from collections.abc import Sequence

from django.utils.functional import Promise
from django.utils.translation import gettext as _
from django.utils.translation import gettext_lazy as lazy

from barcourse.people.models import Venue
from recipes.grammar.reasons import Reason
from recipes.grammar.rules import GarnishRule, HouseRules
from recipes.grammar.rules_preset import PRESETS
from recipes.menu import Menu
from recipes.rules_sheet import any_word, which_drinks
from recipes.shipped import shipped_rules
from recipes.wording import name_of

NOTICES: dict[str, str | Promise] = {
    "garnish_shadowed": lazy(
        "Garnish rule %(rule)s (%(drinks)s) never gets its turn: rule %(earlier)s "
        "(%(earlier_drinks)s) stands before it and decides for every drink that it fits. "
        "Move it up, or take it out."
    ),
    "garnish_shadowed_together": lazy(
        "Garnish rule %(rule)s (%(drinks)s) never gets its turn: between them, the rules before "
        "it decide for every drink that it fits. Move it up, or take it out."
    ),
    "garnish_word_unstocked": lazy(
        "Garnish rule %(rule)s speaks of %(thing)s, and nothing of that kind is in stock."
    ),
    "garnish_contradicts": lazy(
        "Garnish rules %(earlier)s and %(rule)s speak of the same drinks (%(drinks)s) and put "
        "different things on them. Rule %(earlier)s decides; take one of the two out."
    ),
    "garnish_of_no_drink": lazy(
        "Garnish rule %(rule)s (%(drinks)s): no drink on the menu has these together, so it "
        "speaks of none."
    ),
    "slang_is_a_name": lazy(
        "“%(word)s” means %(ingredient)s in your list of words, but %(other)s answers to it too. "
        "Guests may get the wrong one."
    ),
    "slang_twice": lazy(
        "“%(word)s” is on the list of words twice, spelt two ways: once it means %(ingredient)s, "
        "once %(other)s. Keep one."
    ),
    "garnish_left_out": lazy(
        "Left out, because the house doesn't stock what it speaks of: garnish rule %(rule)s "
        "(%(drinks)s)."
    ),
    "slang_left_out": lazy(
        "Left out, because the house doesn't stock what they mean: %(count)s of its words for "
        "things."
    ),
    "word_left_out": lazy(
        "Left out, because something in this house is called that already: “%(word)s”."
    ),
    "glass_kept": lazy("Kept, because your recipes may be poured in it: the %(glass)s."),
}
"""For `rules_check.CODES` and `rules_preset.CODES`."""


def notice(reason: Reason, garnish: Sequence[GarnishRule], menu: Menu) -> str:
    """The sentence. The rules that it numbers are these; names are those of the menu's house."""
    values = reason.values
    said = {name: str(value) for name, value in values.items()}
    if "rule" in values:
        said["drinks"] = which_drinks(garnish[int(values["rule"]) - 1], menu)
    if "earlier" in values:
        said["earlier_drinks"] = which_drinks(garnish[int(values["earlier"]) - 1], menu)
    for name in ("ingredient", "other"):
        said[name] = name_of(said.get(name, ""), menu.names)
    if "glass" in values:
        said["glass"] = name_of(said["glass"], menu.glass_names)
    said["thing"] = any_word(said.get("word", ""), menu)
    return str(NOTICES[reason.code]) % said


_PRESETS: dict[str, str | Promise] = {
    "us-classic": lazy("United States, classic: 1 fl oz by jigger"),
    "us-free-pour": lazy("United States, free pour: 1½ fl oz by count"),
    "great-britain": lazy("Great Britain: 25 ml by stamped measure, imperial pints"),
    "ireland": lazy("Ireland: 35.5 ml by stamped measure, imperial pints"),
    "australia": lazy("Australia: 30 ml by jigger, schooners"),
    "europe": lazy("Europe: 40 ml by jigger, half litres"),
}
_CAUTIONS: dict[str, str | Promise] = {
    "us": lazy("Some of the United States require metering, or cap the pour."),
    "gb": lazy(
        "In Great Britain gin, rum, vodka and whisky go by 25 or 35 ml or multiples, one size for "
        "the whole premises: change the pours to 35 if that is yours. Cocktails of three or more "
        "liquids are exempt. Draught beer goes by the third, half or two thirds of a pint or the "
        "whole one."
    ),
    "ie": lazy("In Ireland a measure of spirits is 35.5 ml."),
    "au": lazy(
        "Each of Australia's states and territories has names and sizes of beer glasses of its own."
    ),
}


def preset_name(preset: str) -> str:
    """The preset as a reader knows it; as it is written, where it didn't ship."""
    return str(_PRESETS.get(preset, preset))


def rules_caution(venue: Venue, rules: HouseRules) -> str:
    """Of the place where the house stands, and of the one whose rules it began with."""
    began = shipped_rules(rules.preset).country if rules.preset in PRESETS else venue.country
    return local_caution(venue.country, began)


def local_caution(*countries: str) -> str:
    """What is special about each country's measures, from memory of its law; local law decides."""
    said = " ".join(str(_CAUTIONS[c]) for c in dict.fromkeys(countries) if c in _CAUTIONS)
    decides = _(
        "Whether a pour must be metered, how big it may be and which measures may be sold is "
        "local law: ask your licensing authority."
    )
    return f"{said} {decides}".strip()
