"""Calls in the words that guests and tills use for what this house sells."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from random import Random

from recipes.grammar.calls.compose import plain_parts
from recipes.grammar.calls.utter import SAID, TILL
from recipes.grammar.calls.vocabulary import Book

_BEFORE = ("", "", "", "can I get ", "could I get ", "I'd like ", "I'll have ", "could we have ")
_AFTER = ("", "", "", " please", ", please", ", thanks", ", cheers")
_NUMBERS = {2: ("two", "two", "2", "a couple of"), 3: ("three", "3"), 4: ("four", "4")}
ON_A_TILL = 0.1
"""Part of the calls that come as a till prints them (our own choice)."""
_SAID_SO = (" on the ", " and ", " with ")  # "whiskeys on the rocks"
_UNCHANGED = ("sparkling", "soda", "energy", "diet")


@dataclass(frozen=True)
class Said:
    """One drink as it is asked for: how many, how big, by which words, with what changed."""

    count: int
    size: str
    name: str
    after: tuple[str, ...] = ()


def say(round_: Sequence[Said], rng: Random) -> str:
    if rng.random() < ON_A_TILL:
        return "\n".join(_on_a_till(s) for s in round_)
    said = [_by_a_guest(s, rng) for s in round_]
    text = said[0] if len(said) == 1 else f"{', '.join(said[:-1])} and {said[-1]}"
    return rng.choice(_BEFORE) + text + rng.choice(_AFTER)


def _by_a_guest(said: Said, rng: Random) -> str:
    name = many(said.name) if said.count > 1 else said.name
    words = " ".join(w for w in (said.size, name) if w)
    return ", ".join((_counted(said.count, words, rng), *said.after))


def _counted(count: int, words: str, rng: Random) -> str:
    if count > 1:
        return f"{rng.choice(_NUMBERS[count])} {words}"
    if words.startswith("half a "):
        return words
    article = "an" if words[:1] in "aeio" else "a"
    return f"{rng.choice((article, article, article, 'one'))} {words}"


def _on_a_till(said: Said) -> str:
    count = f"{said.count} " if said.count > 1 else ""
    words = " ".join(w for w in (said.size, said.name, *said.after) if w)
    for code, short in TILL.items():
        words = words.replace(SAID[code][0], short)
    return (count + words).upper()


def many(name: str) -> str:
    """ "Two glasses of red wine", "whiskeys on the rocks", "bloody marys", "vodka tonics"."""
    if " of " in name:
        head, rest = name.split(" of ", 1)
        return f"{_plural(head)} of {rest}"
    for mark in _SAID_SO:
        if mark == " on the " and mark in name:
            head, rest = name.split(mark, 1)
            return f"{_plural(head)}{mark}{rest}"
    return _plural(name)


def _plural(name: str) -> str:
    if name.endswith(_UNCHANGED) and not name.endswith("soda"):
        return name
    if name.endswith(("s", "x", "ch", "sh")):
        return f"{name}es"
    if name.endswith("ky"):
        return f"{name[:-1]}ies"
    return f"{name}s"


def names_of(book: Book, slug: str) -> tuple[str, ...]:
    """The drink's own name first, as one would say it, then its other names."""
    drink = book.stock.drinks[slug]
    said = (_spoken(n) for n in (drink.name, *drink.aliases))
    return tuple(dict.fromkeys(said))


def _spoken(name: str) -> str:
    """Without what stands behind a comma for the sake of the alphabet."""
    return name.split(",", maxsplit=1)[0].casefold()


def words_for(book: Book, slug: str) -> tuple[str, ...]:
    """What an ingredient is called here: its name, the house's slang, its other names."""
    item = book.pantry[slug]
    slang = (word for word, meant in book.rules.slang.items() if meant == slug)
    return tuple(dict.fromkeys(n.casefold() for n in (item.name, *slang, *item.aliases)))


def ways_to_say(book: Book, slug: str, rng: Random) -> Iterator[str]:
    """First what is drawn, so that a call that means something else can be put otherwise: mostly
    the name, often another one, or base and mixer where there is nothing else in it."""
    names, parts = names_of(book, slug), plain_parts(book, slug)
    drawn = rng.random()
    if parts and drawn < 0.2:
        yield by_parts(book, parts, rng)
    elif len(names) > 1 and drawn < 0.55:
        yield rng.choice(names[1:])
    yield names[0]


def by_parts(book: Book, parts: Sequence[str], rng: Random) -> str:
    base, *mixers = [_drawn(words_for(book, part), rng) for part in parts]
    joined = rng.choice((" ", " ", " and ", " & ")) if len(mixers) == 1 else " "
    return base + joined + " and ".join(mixers)


def _drawn(words: Sequence[str], rng: Random) -> str:
    """Half the time the name; what is last on the list is heard least."""
    weights = [len(words), *range(len(words) - 1, 0, -1)]
    return rng.choices(words, weights)[0]
