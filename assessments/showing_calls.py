"""Calls to practise, and what came of them, as the words that a page shows."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from itertools import groupby

from django.utils.translation import gettext as _
from django.utils.translation import gettext_lazy as lazy
from django.utils.translation import ngettext

from assessments.measures.call_build import IN_THE_BLENDER
from assessments.measures.call_marking import (
    OPENS,
    DrinkAsked,
    DrinkGiven,
    is_miscounted,
    left_out,
)
from assessments.measures.call_parts import CallPart, Piece
from assessments.measures.call_writing import CallAsked
from assessments.showing import Naming
from recipes.grammar.aspects import Aspect, Content
from recipes.grammar.calls import About
from recipes.grammar.spec import Ice
from recipes.words_aspects import how_words

NOTHING = "none"
"""Sent where nothing goes there: choosing nothing at all leaves it open."""

PIECES = {
    Piece.GLASS: lazy("Glass"),
    Piece.ICE: lazy("Ice"),
    Piece.HOW: lazy("How it is made"),
    Piece.POUR: lazy("Pour"),
    Piece.SIZE: lazy("How much of it"),
    Piece.POURS: lazy("Pour or draw"),
    Piece.MIXERS: lazy("Fill up with"),
    Piece.FINISH: lazy("On it"),
}
COUNTING = lazy("How many")
ASKING = lazy("Ask back")
_ASKS = {
    About.DRINK: lazy("which drink"),
    About.BASE: lazy("base"),
    About.MIXER: lazy("mixer"),
    About.SIZE: lazy("size"),
    About.STYLE: lazy("how served"),
    About.GARNISH: lazy("garnish"),
}
_ICE = {
    Ice.FULL: lazy("full"),
    Ice.LIGHT: lazy("light"),
    Ice.NONE: lazy("none"),
    Ice.CRUSHED: lazy("crushed"),
}
_IN_THE_BLENDER = lazy("in the blender")
_STEPS = {Piece.SIZE: Piece.POUR}
"""Chosen on the step of another piece."""


@dataclass(frozen=True)
class PickShown:
    """Something to choose; `value` is what the form sends, `opens` the aspects that wait once
    this is asked back."""

    value: str
    text: str
    picked: bool
    opens: str = ""


@dataclass(frozen=True)
class GroupShown:
    """Choices for one part of the build."""

    name: str
    label: str
    aspect: str
    several: bool
    picks: list[PickShown]


@dataclass(frozen=True)
class DrinkShown:
    """`counts` is how many there are, with which it begins, and `steps` are the groups, those
    together that are chosen in one go."""

    count_name: str
    counts: list[PickShown]
    ask_name: str
    asks: list[PickShown]
    steps: list[list[GroupShown]]


def show_call(
    asked: CallAsked, naming: Naming, typed: Mapping[str, Sequence[str]]
) -> list[DrinkShown]:
    """Each drink's groups, with what was chosen before where the page comes again."""
    return [_drink(n, drink, naming, typed) for n, drink in enumerate(asked.drinks)]


@dataclass(frozen=True)
class MissingShown:
    """A part without a choice: of which drink, the field that leads there, what it is called."""

    number: int
    name: str
    label: str


def show_missing(asked: CallAsked, given: Sequence[DrinkGiven | None]) -> list[MissingShown]:
    """What a call waits for, in the order in which it is built."""
    return [
        missing
        for n, (drink, said) in enumerate(zip(asked.drinks, given, strict=True))
        if said is not None
        for missing in _missing(n, drink, said)
    ]


def _missing(number: int, drink: DrinkAsked, given: DrinkGiven) -> Iterator[MissingShown]:
    if is_miscounted(drink, given):
        yield MissingShown(number + 1, count_field(number), str(COUNTING))
    for n in left_out(drink, given):
        part = drink.parts[n]
        yield MissingShown(number + 1, field(number, part), str(PIECES[part.piece]))


def field(number: int, part: CallPart) -> str:
    return f"d{number}-{part.piece.value}"


def ask_field(number: int) -> str:
    return f"d{number}-ask"


def count_field(number: int) -> str:
    return f"d{number}-count"


def _drink(
    number: int, drink: DrinkAsked, naming: Naming, typed: Mapping[str, Sequence[str]]
) -> DrinkShown:
    asked, counted = typed.get(ask_field(number), ()), typed.get(count_field(number), ())
    steps = groupby(drink.parts, key=lambda p: _STEPS.get(p.piece, p.piece))
    return DrinkShown(
        count_name=count_field(number),
        counts=[PickShown(str(n), str(n), str(n) in counted) for n in drink.counts],
        ask_name=ask_field(number),
        asks=[PickShown(a.value, str(_ASKS[a]), a.value in asked, _opens(a)) for a in About],
        steps=[[_group(field(number, p), p, naming, typed) for p in parts] for _s, parts in steps],
    )


def _opens(about: About) -> str:
    return " ".join(sorted(aspect.value for aspect in OPENS[about]))


def _group(
    name: str, part: CallPart, naming: Naming, typed: Mapping[str, Sequence[str]]
) -> GroupShown:
    said = typed.get(name, ())
    picks = [
        PickShown(str(n), option_words(part.piece, option, naming), str(n) in said)
        for n, option in enumerate(part.options)
    ]
    if part.takes_several:
        picks.append(PickShown(NOTHING, _("nothing"), NOTHING in said))
    return GroupShown(name, str(PIECES[part.piece]), part.aspect.value, part.takes_several, picks)


def option_words(piece: Piece, option: Content, naming: Naming) -> str:
    return _WORDS[piece](option, naming)


def _glass(option: Content, naming: Naming) -> str:
    slug = str(option["glass"])
    return naming.glass_names.get(slug) or slug.replace("-", " ")


def _ingredient(option: Content, naming: Naming) -> str:
    slug = str(option["ingredient"])
    return naming.names.get(slug, slug) if slug else _("nothing")


def _ice(option: Content) -> str:
    blended = option == IN_THE_BLENDER
    return str(_IN_THE_BLENDER if blended else _ICE[Ice(option["ice"])])


def _pours(option: Content, naming: Naming) -> str:
    if "ingredient" in option:
        return _ingredient(option, naming)
    return _(", ").join(naming.aspect(Aspect.POURS, option))


def _size(option: Content, _naming: Naming) -> str:
    pours = int(option["pours"])
    return ngettext("%(n)s pour", "%(n)s pours", pours) % {"n": pours}


def _finish(option: Content, naming: Naming) -> str:
    if "straw" in option:
        return _("straw")
    if "rim" in option:
        item = str(option["rim"][0])
        return _("rim of %(item)s") % {"item": naming.names.get(item, item)}
    item = str(option["garnish"])
    return naming.names.get(item, item)


_WORDS: dict[Piece, Callable[[Content, Naming], str]] = {
    Piece.GLASS: _glass,
    Piece.ICE: lambda o, _naming: _ice(o),
    Piece.HOW: lambda o, naming: _(", ").join(how_words(o, naming.names)),
    Piece.POUR: _ingredient,
    Piece.SIZE: _size,
    Piece.POURS: _pours,
    Piece.MIXERS: _ingredient,
    Piece.FINISH: _finish,
}
