"""Calls to practise, and what came of them, as the words that a page shows."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from django.utils.translation import gettext as _

from assessments.measures.call_marking import LATER, DrinkAsked, DrinkGiven, mark_drink
from assessments.measures.call_writing import FEW, CallAsked
from assessments.measures.quiz.items import BuildPart
from assessments.models import Call
from assessments.showing import Naming
from recipes.grammar.calls import About
from recipes.wording import label


@dataclass(frozen=True)
class PickShown:
    """Something to choose; `value` is what the form sends."""

    value: str
    text: str
    picked: bool


@dataclass(frozen=True)
class GroupShown:
    """Choices for one aspect: a few seen at once, `more` a tap away; `later` is the one that says
    that it depends on what the guest answers."""

    name: str
    label: str
    few: list[PickShown]
    more: list[PickShown]
    later: PickShown

    @property
    def more_open(self) -> bool:
        return any(pick.picked for pick in self.more)


@dataclass(frozen=True)
class DrinkShown:
    groups: list[GroupShown]
    ask_name: str
    asks: list[PickShown]


def show_call(
    asked: CallAsked, naming: Naming, typed: Mapping[str, Sequence[str]]
) -> list[DrinkShown]:
    """Each drink's groups, with what was chosen before where the page comes again."""
    return [_drink(n, drink, naming, typed) for n, drink in enumerate(asked.drinks)]


def field(number: int, part: BuildPart) -> str:
    return f"d{number}-{part.aspect.value}"


def ask_field(number: int) -> str:
    return f"d{number}-ask"


def _drink(
    number: int, drink: DrinkAsked, naming: Naming, typed: Mapping[str, Sequence[str]]
) -> DrinkShown:
    asked = typed.get(ask_field(number), ())
    return DrinkShown(
        groups=[_group(field(number, p), p, naming, typed) for p in drink.parts],
        ask_name=ask_field(number),
        asks=[PickShown(a.value, label(a).capitalize(), a.value in asked) for a in About],
    )


def _group(
    name: str, part: BuildPart, naming: Naming, typed: Mapping[str, Sequence[str]]
) -> GroupShown:
    said = typed.get(name, ())
    picks = [
        PickShown(str(n), _words(part, n, naming), str(n) in said) for n in range(len(part.choices))
    ]
    later = PickShown(str(LATER), _words(part, LATER, naming), str(LATER) in said)
    return GroupShown(name, label(part.aspect), picks[:FEW], picks[FEW:], later)


def _words(part: BuildPart, choice: int, naming: Naming) -> str:
    if choice == LATER:
        return _("Depends on the answer")
    return _(", ").join(naming.aspect(part.aspect, part.choices[choice].content))


@dataclass(frozen=True)
class LineTold:
    """One aspect, or the asking: what is right, and what was said where that differs."""

    label: str
    right: str
    said: str
    came: str


@dataclass(frozen=True)
class DrinkTold:
    """`name` is empty for a drink that only its ingredients name."""

    name: str
    came: str
    lines: list[LineTold]


@dataclass(frozen=True)
class CallTold:
    """A call with what came of it."""

    position: int
    text: str
    came: str
    milliseconds: int | None
    drinks: list[DrinkTold]


def tell_call(row: Call, naming: Naming) -> CallTold:
    """Marked once more from what was asked and said: the page says what the server had marked."""
    asked, answer = CallAsked.from_json(row.asked), row.answer
    drinks = [
        _tell(drink, given_of(said), naming)
        for drink, said in zip(asked.drinks, answer.said, strict=True)
    ]
    return CallTold(row.position, asked.text, answer.came, answer.milliseconds, drinks)


def given_of(said: Mapping[str, Sequence[int | str]] | None) -> DrinkGiven | None:
    """An answer as it is stored."""
    if said is None:
        return None
    return DrinkGiven(
        tuple(int(n) for n in said["parts"]), frozenset(About(str(a)) for a in said["ask"])
    )


def _tell(drink: DrinkAsked, given: DrinkGiven | None, naming: Naming) -> DrinkTold:
    mark = mark_drink(drink, given)
    chosen = given.parts if given else (LATER,) * len(drink.parts)
    lines = [
        LineTold(
            label(part.aspect),
            _right(drink, part, naming),
            "" if came == "right" else _("I'd ask") if given is None else _words(part, n, naming),
            came,
        )
        for part, n, (_aspect, came) in zip(drink.parts, chosen, mark.aspects, strict=True)
    ]
    asking = "wrong" if mark.not_asked else "ask" if mark.asked_too_much else "right"
    said = _asks(tuple(a for a in About if given and a in given.ask))
    if given is not None:
        lines.append(
            LineTold(_("Ask back"), _asks(drink.ask), "" if asking == "right" else said, asking)
        )
    return DrinkTold(drink.name if drink.recipe else "", mark.came, lines)


def _right(drink: DrinkAsked, part: BuildPart, naming: Naming) -> str:
    return _words(part, LATER if part.aspect in drink.open else part.right, naming)


def _asks(about: Sequence[About]) -> str:
    return _(", ").join(label(a) for a in about) or _("nothing")
