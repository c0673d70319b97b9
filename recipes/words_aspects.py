"""The content of an aspect in words: backs of cards, answers to choose from, out-of-date notes.

Content comes from `aspects.contents`, fresh or back from JSON, so pairs may be tuples or lists.
"""

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass
from typing import Any

from django.utils.translation import gettext as _

from recipes.grammar.aspects import Aspect, Content, contents
from recipes.grammar.drink import Drink
from recipes.grammar.spec import How, Ice, Method, When
from recipes.grammar.units import Unit
from recipes.words_amounts import part_words, share_words, volume_words
from recipes.words_labels import label

Names = Mapping[str, str]
"""Names by slug."""

_NO_WORD_ON_ICE = frozenset({Method.DRAUGHT, Method.TWO_PART, Method.OPEN, Method.BLEND})


@dataclass(frozen=True)
class _House:
    names: Names
    glass_names: Names
    country: str

    def item(self, slug: str) -> str:
        return name_of(slug, self.names)


def name_of(slug: str, names: Names) -> str:
    """The name, or the slug in plain letters where it is gone from the list."""
    return names.get(slug) or slug.replace("-", " ").replace("_", " ")


def aspect_words(
    aspect: Aspect, content: Content, names: Names, glass_names: Names, country: str = "us"
) -> list[str]:
    """One short line a thing, never empty: an aspect that holds nothing says so."""
    house = _House(names, glass_names, country)
    return _LINES[Aspect(aspect)](content, house)


def drink_card(
    drink: Drink, names: Names, glass_names: Names, country: str = "us"
) -> list[tuple[str, list[str]]]:
    """The back of a card: the label of each aspect and its lines, in the order of a build."""
    held = contents(drink.spec)
    return [(label(a), aspect_words(a, held[a], names, glass_names, country)) for a in Aspect]


def _glass(content: Content, house: _House) -> list[str]:
    name = name_of(content["glass"], house.glass_names)
    size = volume_words(float(content["glass_ml"]), house.country)
    return [_("%(glass)s, %(size)s") % {"glass": name, "size": size}]


LARGEST_POUR_ML = 200
"""Nobody speaks of a pour of more: a bottle of beer is so much beer (our own number)."""


def _pour(entry: Sequence[Any], house: _House) -> str:
    item, ml = house.item(entry[0]), float(entry[3] or 0)
    if entry[2] == Unit.POUR and ml > LARGEST_POUR_ML:
        said = {"amount": volume_words(ml, house.country), "item": item}
        return _("%(amount)s %(item)s") % said
    return part_words(float(entry[1] or 0), entry[2], item)


def _pours(content: Content, house: _House) -> list[str]:
    poured: list[Sequence[Any]] = sorted(content["poured"], key=lambda p: -float(p[3] or 0))
    lines = [_pour(p, house) for p in poured]
    if content["alcohol_free"]:
        lines.append(_("alcohol-free"))
    return lines or [_("nothing measured")]


def _mixers(content: Content, house: _House) -> list[str]:
    top = [(house.item(slug), 100 * float(share)) for slug, share in content["top"]]
    if len(top) < 2:
        return [name for name, _share in top] or [_("no mixer")]
    if len({round(share) for _name, share in top}) == 1:
        together = _("in equal parts")
        return [*(name for name, _share in top), together]
    top.sort(key=lambda pair: -pair[1])
    return [_("%(share)s %(item)s") % {"share": share_words(s), "item": n} for n, s in top]


def _finish(content: Content, house: _House) -> list[str]:
    garnish = [(house.item(slug), When(when)) for slug, when in content["garnish"]]
    lines = _rim(content["rim"], house) if content["rim"] else []
    for name, when in garnish:
        if when is not When.ASK:
            lines.append(_("%(item)s, %(when)s") % {"item": name, "when": label(when)})
    asked = [name for name, when in garnish if when is When.ASK]
    if asked:
        lines.append(_("%(items)s (ask the guest)") % {"items": either(asked)})
    if not garnish:
        lines.append(_("no garnish"))
    if content["straw"]:
        lines.append(_("straw"))
    for glass, *inside in content.get("beside", ()):
        told = {"glass": name_of(glass, house.glass_names), "items": listed(inside, house.names)}
        lines.append(_("beside it: %(glass)s, %(items)s") % told)
    return lines


def listed(slugs: Sequence[str], names: Names) -> str:
    return ", ".join(name_of(slug, names) for slug in slugs)


def _rim(rim: Sequence[Any], house: _House) -> list[str]:
    item, wet_with, half = rim
    values = {"item": house.item(item), "wet": house.item(wet_with)}
    if half:
        return [_("half rim of %(item)s, wet with %(wet)s") % values]
    return [_("rim of %(item)s, wet with %(wet)s") % values]


def either(items: Sequence[str]) -> str:
    """ "lemon or lime", "lemon, lime or orange"."""
    if len(items) < 2:
        return "".join(items)
    values = {"first": ", ".join(items[:-1]), "last": items[-1]}
    return _("%(first)s or %(last)s") % values


def how_words(content: Content, names: Names) -> list[str]:
    """How it is put together, without a word on the ice in the glass."""
    return _how(content, _House(names, {}, ""))


def _method(content: Content, house: _House) -> list[str]:
    return [*_ice(Ice(content["ice"]), Method(content["method"])), *_how(content, house)]


def _how(content: Content, house: _House) -> list[str]:
    method = Method(content["method"])
    lines = [label(method)]
    muddled = [part_words(float(m[1] or 0), m[2], house.item(m[0])) for m in content["muddled"]]
    if muddled:
        lines.append(_("muddle %(parts)s") % {"parts": ", ".join(muddled)})
    places = [(house.item(slug), How(how)) for slug, how in content["places"]]
    if method is Method.LAYER:
        order = ", ".join(name for name, how in places if how is How.MEASURED)
        lines.append(_("from the bottom: %(parts)s") % {"parts": order})
    return lines + [_PLACED[how]() % {"item": n} for n, how in places if how in _PLACED]


_PLACED: dict[How, Callable[[], str]] = {
    How.FIRST_IN: lambda: _("%(item)s first, under the ice"),
    How.FLOAT: lambda: _("%(item)s last, floated"),
}


def _ice(ice: Ice, method: Method) -> list[str]:
    if (method in _NO_WORD_ON_ICE and ice is Ice.NONE) or method is Method.BLEND:
        return []
    if ice is Ice.NONE and method in (Method.SHAKE, Method.STIR):
        return [_("no ice in the glass")]
    return [label(ice)]


_LINES: dict[Aspect, Callable[[Content, _House], list[str]]] = {
    Aspect.GLASS: _glass,
    Aspect.POURS: _pours,
    Aspect.MIXERS: _mixers,
    Aspect.FINISH: _finish,
    Aspect.METHOD: _method,
}
