"""What the reader of calls says: what was changed, what to ask, and why it is so."""

from __future__ import annotations

from django.utils.functional import Promise
from django.utils.translation import gettext_lazy as lazy
from django.utils.translation import pgettext_lazy as in_context

from recipes.grammar.calls import About, AskKind, Status, What
from recipes.grammar.rules import Serving

STATUS: dict[Status, str | Promise] = {
    Status.READY: lazy("ready to build"),
    Status.ASK: lazy("ask first"),
    Status.UNKNOWN: lazy("not understood"),
}
ABOUT: dict[About, str | Promise] = {
    About.DRINK: in_context("what a question is about", "which drink"),
    About.BASE: in_context("what a question is about", "which base"),
    About.MIXER: in_context("what a question is about", "which mixer"),
    About.SIZE: in_context("what a question is about", "which size"),
    About.STYLE: in_context("what a question is about", "served how"),
    About.GARNISH: in_context("what a question is about", "which garnish"),
}
ASK_KIND: dict[AskKind, str | Promise] = {
    AskKind.IDENTITY: lazy("what drink it is"),
    AskKind.SERVICE: lazy("how it is served"),
}
WHAT: dict[What, str | Promise] = {
    What.DOUBLE: lazy("double"),
    What.TRIPLE: lazy("triple"),
    What.TALL: lazy("tall"),
    What.SHORT: lazy("short"),
    What.PINT: lazy("a pint"),
    What.HALF: lazy("a half"),
    What.NEAT: lazy("neat"),
    What.ROCKS: lazy("on the rocks"),
    What.UP: lazy("up"),
    What.SHOT: lazy("as a shot"),
    What.VIRGIN: lazy("without alcohol"),
    What.CALL: lazy("a step above the house pour"),
    What.PREMIUM: lazy("with a premium bottle"),
    What.DIRTY: lazy("dirty"),
    What.DRY: lazy("dry"),
    What.EXTRA_DRY: lazy("extra dry"),
    What.NO_ICE: lazy("no ice"),
    What.LIGHT_ICE: lazy("light ice"),
    What.FULL_ICE: lazy("plenty of ice"),
    What.CRUSHED_ICE: lazy("crushed ice"),
    What.NO_GARNISH: lazy("no garnish"),
    What.NO_RIM: lazy("no rim"),
    What.NO_STRAW: lazy("no straw"),
    What.STRAW: lazy("with a straw"),
    What.RIM: lazy("with a rim"),
    What.WITH: lazy("with"),
    What.EXTRA: lazy("extra"),
    What.NO: lazy("without"),
    What.SPLASH: lazy("with a splash"),
    What.DASH: lazy("with a dash"),
    What.BACK: lazy("with a back"),
    What.SIDE: lazy("on the side"),
    What.GLASS: lazy("in another glass"),
    What.BASE: lazy("with another base"),
    What.MIXER: lazy("with another mixer"),
}
SERVING: dict[Serving, str | Promise] = {
    Serving.SINGLE: lazy("a single"),
    Serving.DOUBLE: lazy("a double"),
    Serving.HALF: lazy("half a pint"),
    Serving.PINT: lazy("a pint"),
    Serving.ANY_SPIRIT: lazy("a measure of any spirit"),
}
CALLS: dict[str, str | Promise] = {
    "call_name": lazy("“%(said)s” is the name of a drink: %(drink)s."),
    "call_alias": lazy("“%(said)s” is another name of the %(drink)s."),
    "call_part": lazy("“%(said)s” is in the name of just one drink: %(drink)s."),
    "call_slang_drink": lazy("“%(said)s” is what guests of this house call the %(drink)s."),
    "call_slang": lazy("“%(said)s” means %(ingredient)s here: it is in the house's list of words."),
    "call_kind": lazy("“%(said)s” is %(ingredient)s: the house has no other of that kind."),
    "call_ingredient": lazy("“%(said)s” is %(ingredient)s."),
    "call_contents": lazy("With just this in it, it is the %(drink)s."),
    "call_pattern": lazy("“%(said)s” is a pattern: the house rules say what goes with the base."),
    "call_open": lazy("“%(said)s” may be several things."),
    "call_step": lazy("%(ingredient)s is the bottle of this house on that step (%(step)s)."),
    "call_no_step": lazy(
        "The house has no bottle of %(ingredient)s on that step (%(step)s), so ask which instead."
    ),
    "call_other_base": lazy("%(ingredient)s was said, so it takes the place of %(instead)s."),
    "call_other_mixer": lazy("%(ingredient)s was said, so it takes the place of %(instead)s."),
    "call_word_outdone": lazy(
        "“%(said)s” alone means %(ingredient)s here, by the house's list of words. The drink of "
        "this name has %(instead)s."
    ),
    "call_serving": lazy("“%(said)s” says how, not what."),
    "call_double": lazy("The size has %(pours)s pours."),
    "call_tall": lazy("Tall is the %(glass)s here, by the house rules."),
    "call_style": lazy("It was called like this: %(style)s."),
    "call_virgin": lazy("Without alcohol: everything with alcohol in it is left out."),
    "call_guest_garnish": lazy("The guest said what goes on it."),
    "call_guest_ice": lazy("The guest said how much ice: %(ice)s."),
    "call_rule_glass": lazy("Nobody said a glass: the house rules say %(glass)s."),
    "call_rule_ice": lazy("Nobody said how much ice: the house rules say %(ice)s."),
    "call_rule_pour": lazy("One pour is %(size)s, by the house rules."),
    "call_rule_garnish": lazy("What goes on it: the house's garnish rule for %(rule)s says so."),
    "call_no_rule": lazy("No garnish rule speaks of it, so nothing goes on."),
}
"""Why it is read and built like this; for `calls.reasoning.CODES`."""
