"""What a call was understood to mean, in words, ready to be shown."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from urllib.parse import urlencode

from django.utils.safestring import SafeString
from django.utils.translation import gettext as _

from recipes.call_one_more import one_more
from recipes.drawing_words import describe
from recipes.drink_sheet import StepSheet
from recipes.grammar.aspects import Aspect, contents
from recipes.grammar.calls import About, CalledDrink, Question, Reading, Status
from recipes.grammar.calls.answering import answered, phrases
from recipes.grammar.calls.reading import MOST_LETTERS
from recipes.grammar.drawing import draw
from recipes.grammar.house_spec import HouseSpec
from recipes.grammar.steps import build_steps
from recipes.hearing import hear_on
from recipes.menu import Menu
from recipes.off_tonight import Tonight
from recipes.strength_sheet import Line, lines_of
from recipes.wording import aspect_words, label, step_words
from recipes.words_calls import ASK_KIND
from recipes.words_hearing import (
    ask_above,
    ask_words,
    change_words,
    choice_words,
    offered_words,
    status_words,
    unsold_lines,
    why_words,
)
from recipes.words_mixers import aspect_label

LONGEST = MOST_LETTERS
"""Characters of a call: as many as are read; nobody says more at once."""
LONGEST_QUERY = 3000
"""What an address holds of a call, so that servers take it; a longer one is sent, not linked to."""
MOST_SHOWN = 8
"""Drinks of a round shown with all that is known of them; the rest as lines."""
HEIGHT = 150


@dataclass(frozen=True)
class ChoiceSheet:
    """`query` leads to the call with this answer in it; empty where only the guest can say it."""

    text: str
    query: str


@dataclass(frozen=True)
class AskSheet:
    """`text` is the whole question, `above` the one whose choices stand below it."""

    text: str
    above: str
    kind: str
    choices: tuple[ChoiceSheet, ...]


@dataclass(frozen=True)
class CalledSheet:
    """One drink of the call. Without `aspects` nothing is known yet but what to ask."""

    count: int
    name: str
    changes: tuple[str, ...]
    asks: tuple[AskSheet, ...]
    aspects: tuple[tuple[str, tuple[str, ...]], ...] = ()
    steps: tuple[StepSheet, ...] = ()
    strength: tuple[Line, ...] = ()
    why: tuple[str, ...] = ()
    drawing: str = ""
    open_base: str = ""


@dataclass(frozen=True)
class CallSheet:
    """`state` is the status; `drinks` with everything, `rest` what more was called."""

    heard: str
    state: Status
    said: str
    read_as: tuple[tuple[str, str], ...]
    drinks: tuple[CalledSheet, ...]
    rest: tuple[CalledSheet, ...]
    glasses: int
    unplaced: tuple[str, ...]
    did_you_mean: tuple[ChoiceSheet, ...]
    unsold: tuple[str, ...] = ()
    allergy: str = ""


def call_sheet(reading: Reading, menu: Menu, tonight: Tonight | None = None) -> CallSheet:
    shown = [_called(at, d, reading, menu, tonight) for at, d in enumerate(reading.drinks)]
    return CallSheet(
        heard=reading.heard,
        state=reading.status,
        said=_("an allergy: ask first") if reading.allergy else label(reading.status),
        read_as=tuple((r.said, r.meant) for r in reading.read_as),
        drinks=tuple(shown[:MOST_SHOWN]),
        rest=tuple(shown[MOST_SHOWN:]),
        glasses=reading.count,
        unplaced=tuple(dict.fromkeys(reading.unplaced)),
        did_you_mean=tuple(
            _meant(reading, slug, phrase, menu)
            for slug, phrase in zip(reading.did_you_mean, reading.meant_for, strict=True)
        ),
        unsold=tuple(unsold_lines(reading)),
        allergy=status_words(reading) if reading.allergy else "",
    )


def _called(
    at: int, drink: CalledDrink, reading: Reading, menu: Menu, tonight: Tonight | None
) -> CalledSheet:
    asks = tuple(_ask(q, reading, menu, tonight) for q in reading.asks_about(at))
    changes = tuple(change_words(c, menu) for c in drink.changes)
    spec, country = drink.shown or drink.spec, menu.rules.country
    if spec is None or at >= MOST_SHOWN:
        return CalledSheet(drink.count, drink.name, changes, asks)
    return CalledSheet(
        count=drink.count,
        name=drink.name,
        changes=changes,
        asks=asks,
        aspects=tuple(_aspects(spec, menu)),
        steps=tuple(
            StepSheet(*step_words(s, glass_names=menu.glass_names, country=country), fails=s.fails)
            for s in build_steps(spec, menu.pantry)
        ),
        strength=tuple(lines_of(spec, menu)) if reading.is_measured(at) else (),
        why=tuple(dict.fromkeys(why_words(r, menu) for r in drink.why)),
        drawing=drawing_of(spec, menu, f"called-{at}-"),
        open_base=_open_base(at, reading, menu) if drink.shown else "",
    )


def _open_base(at: int, reading: Reading, menu: Menu) -> str:
    """What the house pours of its own accord where it is asked which bottle."""
    choices = next((q.choices for q in reading.asks_about(at) if q.about is About.BASE), ())
    bottle = next((menu.pantry[c] for c in choices if c in menu.pantry), None)
    return menu.names[bottle.bottle_of or bottle.slug] if bottle else ""


def drawing_of(spec: HouseSpec, menu: Menu, prefix: str) -> SafeString:
    title = describe(spec, menu.pantry, menu.names, menu.glass_names)
    svg = draw(spec, menu.pantry, title=title, prefix=prefix, height=HEIGHT)
    return SafeString(svg)  # safe: our own drawing, which escapes the one text in it


def _aspects(spec: HouseSpec, menu: Menu) -> Iterator[tuple[str, tuple[str, ...]]]:
    held = contents(spec)
    for aspect in Aspect:
        words = aspect_words(aspect, held[aspect], menu.names, menu.glass_names, menu.rules.country)
        yield aspect_label(aspect, spec, menu.pantry), tuple(words)


def _ask(question: Question, reading: Reading, menu: Menu, tonight: Tonight | None) -> AskSheet:
    choices = tuple(_choice(question, c, reading, menu) for c in question.choices)
    if again := one_more(reading, question.drink, menu, tonight):
        choices = (ChoiceSheet(again[0], _fitting({"call": again[1]})), *choices)
    drink = reading.drinks[question.drink]
    text, above = ask_words(question, menu, drink), ask_above(question, menu, drink)
    return AskSheet(text, above, str(ASK_KIND[question.kind]), choices)


def _choice(question: Question, choice: str, reading: Reading, menu: Menu) -> ChoiceSheet:
    text = choice_words(choice, question.about, menu)
    shown = offered_words(choice, question, reading.drinks[question.drink], menu)
    said: dict[str, str | int] = {
        "call": reading.heard,
        "drink": question.drink,
        "about": question.about.value,
    }
    can = phrases(question, choice, text)
    return ChoiceSheet(shown, _fitting({**said, "choice": choice}) if can else "")


def _meant(reading: Reading, slug: str, phrase: str, menu: Menu) -> ChoiceSheet:
    """The drink in place of the words that may be it, or by itself."""
    name, words = choice_words(slug, About.DRINK, menu), phrase or " ".join(reading.unplaced)
    text = reading.heard.replace(words, name, 1) if words in reading.heard else name
    return ChoiceSheet(name, _fitting({"call": text}))


def _fitting(said: Mapping[str, str | int]) -> str:
    query = urlencode(said)
    return query if len(query) <= LONGEST_QUERY else ""


def answer_in_words(
    text: str, drink: int, about: About, choice: str, menu: Menu, tonight: Tonight
) -> str | None:
    """The call with this choice in it. None where nobody asks that, or only the guest can say."""
    reading = hear_on(text, menu, tonight)
    questions = (q for q in reading.asks_about(drink) if q.about is about)
    asked = next((q for q in questions if choice in q.choices), None)
    if asked is None:
        return None
    said = phrases(asked, choice, choice_words(choice, about, menu))
    return answered(reading, asked, choice, said, lambda call: hear_on(call, menu, tonight))
