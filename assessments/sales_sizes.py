"""Words of a size beside a drink's name: "vodka soda half", "vodka soda D", "regular size".

They say how it is served and not what it is, unless another drink is called so or a mixer has a
version that begins so: the D of "rum cola D" may be the diet one.
"""

from __future__ import annotations

from collections.abc import Collection, Iterator

from recipes.grammar.course import fold
from recipes.grammar.drink import Drink
from recipes.grammar.till_sizes import is_size
from recipes.menu import Menu, Unsold

_LIGHTER = {"d": ("diet",), "l": ("light", "lite", "low"), "s": ("slim", "slimline")}
"""What a letter may be short for beside a mixer."""
_JOINING = frozenset({"and", "of", "with", "the", "a"})


def without_sizes(said: str, also: Collection[str] = ()) -> Iterator[tuple[str, tuple[str, ...]]]:
    """The name without the words of size at its ends, fewest taken off first, and those words.
    "half of" before a name is one such word; `also` are more of them."""
    words = said.split()
    for count in range(1, len(words)):
        for before in range(count + 1):
            after = len(words) - (count - before)
            taken = (*words[:before], *words[after:])
            sizes = tuple(word.strip(".,-") for word in taken)
            plain = tuple(w for n, w in enumerate(sizes) if not (w == "of" and n == before - 1 > 0))
            if all(is_size(word) or word in also for word in plain):
                yield " ".join(words[before:after]), plain


def may_be_another(sizes: tuple[str, ...], slug: str, menu: Menu) -> bool:
    """Whether with these words it may be another drink of the book, or have another mixer."""
    drink = menu.by_slug[slug].drink
    sold = (item.drink for item in menu.items if item.drink.slug != slug)
    others = [words for other in sold for words in _names(other)]
    others += [words for other in menu.unsold for words in _names(other)]
    own = list(_names(drink))
    return any(
        any(_is_more(other, mine, size) for other in others for mine in own)
        or _is_lighter(size, drink, menu)
        for size in sizes
    )


def _names(drink: Drink | Unsold) -> Iterator[set[str]]:
    for name in (drink.name, *drink.aliases):
        yield set(fold(name).split()) - _JOINING


def _is_more(other: set[str], mine: set[str], size: str) -> bool:
    """Whether the other is called as this one is, with one word more that the size may be."""
    more = other - mine
    short = any(word.startswith(size) if len(size) == 1 else word == size for word in more)
    return mine <= other and len(more) == 1 and short


def _is_lighter(size: str, drink: Drink, menu: Menu) -> bool:
    poured = [fold(menu.names.get(part.ingredient, "")).split() for part in drink.spec.parts]
    mixers = {word for words in poured for word in words}
    return any(
        {*words} & {*_LIGHTER.get(size, ())} and {*words} & mixers
        for words in (fold(name).split() for name in menu.names.values())
    )
