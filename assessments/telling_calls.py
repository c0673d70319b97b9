"""What came of calls that were practised, as the words that a page shows."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from typing import Any

from django.utils.translation import gettext as _

from assessments.measures.call_marking import DrinkAsked, DrinkGiven, DrinkMarked, mark_drink
from assessments.measures.call_parts import CallPart, Picked
from assessments.measures.call_writing import CallAsked
from assessments.models import Call
from assessments.showing import Naming
from assessments.showing_calls import ASKING, COUNTING, PIECES, option_words
from recipes.grammar.calls import About
from recipes.grammar.calls.reading import IDENTITY as WHICH_DRINK
from recipes.wording import label


def _words(part: CallPart, picked: Picked | None, naming: Naming) -> str:
    if picked is None:
        return _("depends on the answer")
    words = (option_words(part.piece, part.options[n], naming) for n in sorted(picked))
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
    came: dict[str, list[str]] = {str(said): [] for said in (COUNTING, ASKING, *PIECES.values())}
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
            str(PIECES[part.piece]),
            _words(part, right, naming),
            "" if came == "right" else said,
            came,
        )


def _counting(drink: DrinkAsked, given: DrinkGiven | None, mark: DrinkMarked) -> LineTold:
    said = _("I'd ask") if given is None else str(given.count)
    said = "" if mark.counted == "right" else said
    return LineTold(str(COUNTING), str(drink.count), said, mark.counted)


def _asking(drink: DrinkAsked, given: DrinkGiven | None, mark: DrinkMarked) -> LineTold:
    said = _asks(tuple(a for a in About if a in given.ask)) if given else _("I'd ask")
    said = "" if mark.asking == "right" else said
    return LineTold(str(ASKING), _asks(drink.ask), said, mark.asking)


def _asks(about: Sequence[About]) -> str:
    return _(", ").join(label(a) for a in about) or _("nothing")
