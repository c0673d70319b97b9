"""The calls of a try-out: a drink as guests say it over the bar, to be built part by part.

A call that changes the drink or leaves something open says nothing of the house's own build, so
only words that are heard as that very build are taken.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from random import Random

from assessments.measures.call_writing import Bar
from assessments.measures.quiz.items import ItemAsked
from recipes.grammar import calls
from recipes.grammar.aspects import Aspect, aspect_fingerprints
from recipes.grammar.calls import over_the_bar
from recipes.grammar.drink import Drink
from recipes.grammar.reasons import Reason

CALLS_FIRST = 10
"""So many questions of a try-out come as calls, about ten minutes of the twenty-five; those after
them are quiz items, which are read faster (our own number, no source)."""

CODES: dict[str, tuple[str, ...]] = {"ask_call": ()}

TRIES = 20
"""Calls drawn for a drink before its plain name is taken."""


def called(item: ItemAsked, drink: Drink, bar: Bar, random: Random) -> ItemAsked:
    """A build to choose part by part, asked for as a guest would; as it is where no words for the
    drink are heard as the house's own build."""
    text = next((t for t in _said(drink, bar, random) if _is_heard(t, drink, bar)), None)
    if text is None:
        return item
    return replace(item, prompt=Reason.of("ask_call"), said=text[:1].upper() + text[1:])


def _said(drink: Drink, bar: Bar, random: Random) -> Iterator[str]:
    """What guests may call it; its name last."""
    guests = over_the_bar.Bar(bar.book, {drink.slug: 1.0})
    for _try in range(TRIES):
        if made := over_the_bar.call_over_the_bar(guests, random, 1):
            yield made.text
    yield drink.name.lower()


def _is_heard(text: str, drink: Drink, bar: Bar) -> bool:
    """Whether these words mean one of this drink in the house's build, and nothing is open."""
    heard = calls.read(text, bar.book)
    if heard.ask or heard.unplaced or len(heard.drinks) != 1:
        return False
    [one] = heard.drinks
    if one.count != 1 or one.recipe != drink.slug or one.spec is None:
        return False
    prints = aspect_fingerprints(one.spec)
    return all(prints[aspect] == drink.fingerprints[aspect] for aspect in Aspect)
