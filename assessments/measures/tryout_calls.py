"""The calls of a try-out: a drink as a guest would say it, to be built part by part.

A call that changes the drink or leaves something open says nothing of the house's own build, so
only words that are heard as that very build are taken, and only where the choices show every topic
of the drink: credit is given topic by topic.
"""

from collections.abc import Iterator
from random import Random

from assessments.measures.call_writing import Bar, CallAsked, call_of
from assessments.measures.quiz.items import ItemAsked, ItemKind
from recipes.grammar import calls
from recipes.grammar.aspects import Aspect, fingerprint
from recipes.grammar.drink import Drink
from recipes.grammar.reasons import Reason

CALLS_FIRST = 10
"""So many questions of a try-out come as calls, about ten minutes of the twenty-five; those after
them are quiz items, which are read faster (our own number, no source)."""

CODES: dict[str, tuple[str, ...]] = {"ask_call": ("call",)}

TRIES = 40
"""Calls drawn for a drink before its plain name is taken."""


def call_item(drink: Drink, bar: Bar, random: Random, *, critical: bool) -> ItemAsked | None:
    """None where no words for it are heard as the house's build, or a topic can't be asked."""
    heard = (call_of(text, bar) for text in _said(drink, bar, random))
    asked = next((call for call in heard if _fits(call, drink)), None)
    if asked is None:
        return None
    return ItemAsked(
        kind=ItemKind.BUILD,
        aspect=None,
        recipe=drink.slug,
        scenario=None,
        prompt=Reason.of("ask_call", call=asked.text[:1].upper() + asked.text[1:]),
        choices=(),
        right=0,
        critical=critical,
        topics=tuple(t.fingerprint for t in drink.topics),
        fingerprints={a.value: f for a, f in drink.fingerprints.items()},
        parts=asked.drinks[0].parts,
    )


def _said(drink: Drink, bar: Bar, random: Random) -> Iterator[str]:
    """Words that were made of one of this drink as it is; its name last."""
    for _try in range(TRIES):
        made = calls.generate(bar.book, random, {drink.slug: 1.0}, 1)
        [called] = made.drinks
        plain = called.count == 1 and not called.changes and not made.ask
        if plain and called.recipe == drink.slug:
            yield made.text
    yield drink.name.lower()


def _fits(call: CallAsked, drink: Drink) -> bool:
    """Whether a call is heard as one of this drink in the house's build, all of it to be chosen."""
    if len(call.drinks) != 1:
        return False
    [heard] = call.drinks
    shown = {topic for part in heard.parts for topic in part.topics}
    return (
        heard.recipe == drink.slug
        and not heard.ask
        and heard.build == fingerprint([drink.fingerprints[aspect] for aspect in Aspect])
        and shown >= {t.fingerprint for t in drink.topics}
    )
