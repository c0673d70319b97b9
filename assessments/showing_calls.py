"""Calls to practise, and what came of them, as the words that a page shows."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from itertools import groupby
from typing import Any

from django.utils.translation import gettext as _
from django.utils.translation import gettext_lazy as lazy
from django.utils.translation import ngettext

from assessments.measures.call_build import IN_THE_BLENDER
from assessments.measures.call_marking import (
    OPENS,
    DrinkAsked,
    DrinkGiven,
    DrinkMarked,
    mark_drink,
)
from assessments.measures.call_parts import CallPart, Picked, Piece
from assessments.measures.call_writing import CallAsked
from assessments.models import Call
from assessments.showing import Naming
from recipes.grammar.aspects import Aspect, Content
from recipes.grammar.calls import About
from recipes.grammar.calls.reading import IDENTITY as WHICH_DRINK
from recipes.grammar.spec import Ice
from recipes.wording import label
from recipes.words_aspects import how_words

NOTHING = "none"
"""Sent where nothing goes there: choosing nothing at all leaves it open."""

_PIECES = {
    Piece.GLASS: lazy("Glass"),
    Piece.ICE: lazy("Ice"),
    Piece.HOW: lazy("How it is made"),
    Piece.POUR: lazy("Pour"),
    Piece.SIZE: lazy("How much of it"),
    Piece.POURS: lazy("Pour or draw"),
    Piece.MIXERS: lazy("Fill up with"),
    Piece.FINISH: lazy("On it"),
}
_COUNTING = lazy("How many")
_ASKING = lazy("Ask back")
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
        PickShown(str(n), _option(part.piece, option, naming), str(n) in said)
        for n, option in enumerate(part.options)
    ]
    if part.takes_several:
        picks.append(PickShown(NOTHING, _("nothing"), NOTHING in said))
    return GroupShown(name, str(_PIECES[part.piece]), part.aspect.value, part.takes_several, picks)


def _option(piece: Piece, option: Content, naming: Naming) -> str:
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


def _words(part: CallPart, picked: Picked | None, naming: Naming) -> str:
    if picked is None:
        return _("depends on the answer")
    words = (_option(part.piece, part.options[n], naming) for n in sorted(picked))
    return _(", ").join(words) or _("nothing")


@dataclass(frozen=True)
class LineTold:
    """One aspect, or the asking: what is right, and what was said where that differs."""

    label: str
    right: str
    said: str
    came: str


@dataclass(frozen=True)
class DrinkTold:
    """`name` is what the drink was called by; where it is open which drink it is, it says what is
    open."""

    name: str
    came: str
    lines: list[LineTold]

    @property
    def missed(self) -> list[LineTold]:
        return [line for line in self.lines if line.came != "right"]

    @property
    def held(self) -> list[LineTold]:
        return [line for line in self.lines if line.came == "right"]


@dataclass(frozen=True)
class CallTold:
    """A call with what came of it; `handed_on` where a colleague would have been asked for all of
    it."""

    position: int
    text: str
    came: str
    milliseconds: int | None
    drinks: list[DrinkTold]
    handed_on: bool = False


@dataclass(frozen=True)
class AspectTally:
    """How one part of the calls went, over a whole run."""

    label: str
    right: int
    ask: int
    wrong: int

    @property
    def of(self) -> int:
        return self.right + self.ask + self.wrong


def tally(told: Sequence[CallTold]) -> list[AspectTally]:
    """By what there is to hear, ask and choose, in that order, whatever was called."""
    came: dict[str, list[str]] = {str(said): [] for said in (_COUNTING, _ASKING, *_PIECES.values())}
    for call in told:
        for drink in call.drinks:
            for line in drink.lines:
                came[line.label].append(line.came)
    return [
        AspectTally(label, got.count("right"), got.count("ask"), got.count("wrong"))
        for label, got in came.items()
        if got
    ]


def tell_call(row: Call, naming: Naming) -> CallTold:
    """Marked once more from what was asked and said: the page says what the server had marked."""
    asked, answer = CallAsked.from_json(row.asked), row.answer
    drinks = [
        _tell(drink, given_of(said), naming)
        for drink, said in zip(asked.drinks, answer.said, strict=True)
    ]
    handed_on = all(said is None for said in answer.said)
    return CallTold(row.position, asked.text, answer.came, answer.milliseconds, drinks, handed_on)


def given_of(said: Mapping[str, Any] | None) -> DrinkGiven | None:
    """An answer as it is stored."""
    if said is None:
        return None
    parts = (None if picked is None else frozenset(picked) for picked in said["parts"])
    asks = frozenset(About(a) for a in said["ask"])
    return DrinkGiven(tuple(parts), asks, said.get("count", 0))


def _tell(drink: DrinkAsked, given: DrinkGiven | None, naming: Naming) -> DrinkTold:
    mark = mark_drink(drink, given)
    lines = [_counting(drink, given, mark)] if drink.count else []
    lines += [_asking(drink, given, mark)]
    lines += _built(drink, given, mark, naming)
    return DrinkTold(_name(drink), mark.came, lines)


def _name(drink: DrinkAsked) -> str:
    if which := [about for about in drink.ask if about in WHICH_DRINK]:
        return _("Open: %(what)s") % {"what": _asks(which)}
    return drink.name


def _built(
    drink: DrinkAsked, given: DrinkGiven | None, mark: DrinkMarked, naming: Naming
) -> Iterator[LineTold]:
    chosen = given.parts if given else (None,) * len(drink.parts)
    for part, picked, came in zip(drink.parts, chosen, mark.parts, strict=True):
        said = _("I'd ask") if given is None else _words(part, picked, naming)
        right = None if drink.opened_by(part) else part.right
        yield LineTold(
            str(_PIECES[part.piece]),
            _words(part, right, naming),
            "" if came == "right" else said,
            came,
        )


def _counting(drink: DrinkAsked, given: DrinkGiven | None, mark: DrinkMarked) -> LineTold:
    said = _("I'd ask") if given is None else str(given.count)
    said = "" if mark.counted == "right" else said
    return LineTold(str(_COUNTING), str(drink.count), said, mark.counted)


def _asking(drink: DrinkAsked, given: DrinkGiven | None, mark: DrinkMarked) -> LineTold:
    said = _asks(tuple(a for a in About if a in given.ask)) if given else _("I'd ask")
    said = "" if mark.asking == "right" else said
    return LineTold(str(_ASKING), _asks(drink.ask), said, mark.asking)


def _asks(about: Sequence[About]) -> str:
    return _(", ").join(label(a) for a in about) or _("nothing")
