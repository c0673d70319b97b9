"""What the reader of calls says: what was changed, what to ask."""

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
}
SERVING: dict[Serving, str | Promise] = {
    Serving.SINGLE: lazy("a single"),
    Serving.DOUBLE: lazy("a double"),
    Serving.HALF: lazy("half a pint"),
    Serving.PINT: lazy("a pint"),
    Serving.ANY_SPIRIT: lazy("a measure of any spirit"),
}
