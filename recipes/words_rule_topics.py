"""What a house rule that has to be known says, in a few words."""

from __future__ import annotations

from collections.abc import Callable

from django.utils.translation import gettext as _

from recipes.grammar.aspects import Aspect, contents
from recipes.grammar.house_spec import HouseSpec
from recipes.grammar.ingredients import LiquorClass
from recipes.menu import Menu
from recipes.rules_sheet import size_words
from recipes.wording import aspect_words, label


def rule_says(rule: str, spec: HouseSpec, menu: Menu) -> str:
    """`rule` is the name of a topic (`recipes.grammar.aspects`), `spec` that of a drink which goes
    by it. Unknown kinds raise KeyError."""
    kind, _colon, of = rule.partition(":")
    return _SAYS[kind](of, spec, menu)


def garnish_words(spec: HouseSpec, menu: Menu) -> str:
    """The garnish alone: the finish without rim and straw."""
    content = {**contents(spec)[Aspect.FINISH], "rim": None, "straw": False}
    return "; ".join(aspect_words(Aspect.FINISH, content, menu.names, menu.glass_names))


def straw_words(straw: bool) -> str:
    return _("a straw") if straw else _("no straw")


def _glass(_of: str, spec: HouseSpec, menu: Menu) -> str:
    content = contents(spec)[Aspect.GLASS]
    glass = aspect_words(Aspect.GLASS, content, menu.names, menu.glass_names, menu.rules.country)
    return ", ".join(glass)


def _pour(of: str, _spec: HouseSpec, menu: Menu) -> str:
    kind = LiquorClass(of)
    pour = menu.rules.pours[kind]
    size = size_words(pour.amount, pour.unit, pour.ml)
    return _("one pour of %(liquor)s is %(size)s") % {"liquor": label(kind), "size": size}


_SAYS: dict[str, Callable[[str, HouseSpec, Menu], str]] = {
    "glass": _glass,
    "ice": lambda _of, spec, _menu: label(spec.ice),
    "build": lambda _of, spec, _menu: label(spec.method),
    "pour": _pour,
    "equal-mixers": lambda _of, _spec, _menu: _("in equal parts"),
    "garnish": lambda _of, spec, menu: garnish_words(spec, menu),
    "straw": lambda _of, spec, _menu: straw_words(spec.straw),
}
