"""What a line may mean that is no drink's name: a spirit by itself, a double, something nearly
called that. All of it is offered, nothing taken for granted."""

from collections.abc import Iterator, Mapping
from dataclasses import replace

from recipes.grammar.ingredients import Kind
from recipes.grammar.kinds import kind_of
from recipes.grammar.menu_book import Book, is_base
from recipes.grammar.menu_text import (
    MenuLine,
    heard,
    key_of,
    spoken_ingredients,
    words_of,
)
from recipes.grammar.near import is_slip

MOST_OFFERS = 4
_BY_THEMSELVES = frozenset({Kind.WINE, Kind.SPARKLING, Kind.BEER, Kind.CIDER})
DOUBLES = frozenset({"double", "doubles", "dbl", "x2", "2x"})
TELLS: Mapping[str, str] = {
    "dark": "dark-rum",
    "stormy": "ginger-beer",
    "mule": "ginger-beer",
    "buck": "ginger-ale",
    "libre": "cola",
    "sunrise": "grenadine",
    "spritz": "sparkling-wine",
}
"""Words in names from which bartenders hear an ingredient (common practice, no source)."""
_TELL_LITTLE = frozenset({
    "shot", "shots", "glass", "bottle", "bottled", "draught", "pint", "half", "rocks", "neat", "up",
    "frozen", "cocktail", "cocktails", "drink", "drinks", "special", "classic", "double", "single",
    "large", "small", "free", "alcohol",
})  # fmt: skip
"""Words of names that tell what it is served in, not which drink it is."""


def single_of(line: MenuLine, book: Book) -> MenuLine | None:
    """The line without what makes it a double; None where it is none, or a drink is called so."""
    if key_of(line.whole) in book.by_key or key_of(line.bare) in book.by_key:
        return None
    if heard(line.listed) in DOUBLES:
        return replace(line, listed="", bare=line.name)
    words = heard(line.name).split()
    kept = [word for word in words if word not in DOUBLES]
    if not kept or len(kept) == len(words):
        return None
    name = " ".join(kept)
    return replace(line, name=name, whole=name, bare=name)


def bare_base(line: MenuLine, book: Book) -> str | None:
    """The spirit or liqueur that is all the line says."""
    said, unread = spoken_ingredients(line.name, book.ingredients)
    if line.listed or unread or len(said) != 1:
        return None
    slug = said[0][0]
    return slug if is_base(book.pantry[slug]) else None


def alike(line: MenuLine, book: Book) -> tuple[str, ...]:
    """Drinks whose name this one holds, best first; where there is none, those that hold what its
    words tell; where there is none, those that share a telling word with it."""
    words = tuple(words_of(line.name))
    found = (*_held(words, book), *_told(words, book))
    if not found:
        found = tuple(_sharing(words, book))
    if not found and not line.listed:
        found = (*_of_its_kind(line.name, book), *_with_its_base(words, book))
    return tuple(dict.fromkeys(found))[:MOST_OFFERS]


def _held(words: tuple[str, ...], book: Book) -> list[str]:
    """ "Spicy margarita" holds "margarita"; the longest name is the likeliest."""
    held = [
        (-len(name), slug)
        for name, slug in book.spelt.items()
        if _tells(name.split(), book) and all(_among(word, words) for word in name.split())
    ]
    return [slug for _length, slug in sorted(held)]


def _told(words: tuple[str, ...], book: Book) -> list[str]:
    """Drinks with every ingredient that the words tell, two at least, and as little else as can
    be."""
    told = {TELLS[word] for word in words if TELLS.get(word) in book.pantry}
    told |= {slug for slug, _word in spoken_ingredients(" ".join(words), book.ingredients)[0]}
    cores = {book.core(slug) for slug in told}
    holding = {slug: poured for slug, poured in book.poured.items() if cores <= poured}
    if len(cores) < 2 or not holding:
        return []
    least = min(map(len, holding.values()))
    return [slug for slug, poured in holding.items() if len(poured) == least]


def _sharing(words: tuple[str, ...], book: Book) -> Iterator[str]:
    for name, slug in book.spelt.items():
        if any(word in words and _tells([word], book) for word in name.split()):
            yield slug


def _of_its_kind(name: str, book: Book) -> tuple[str, ...]:
    """A word for wine, sparkling wine, beer or cider: the drinks that are just that."""
    kind = kind_of(name)
    return book.of_kind(kind) if kind in _BY_THEMSELVES else ()


def _with_its_base(words: tuple[str, ...], book: Book) -> tuple[str, ...]:
    """A spirit and a word that nobody knows: that spirit with its mixers."""
    said, unread = spoken_ingredients(" ".join(words), book.ingredients)
    bases = [slug for slug, _word in said if is_base(book.pantry[slug])]
    return book.with_mixer(bases[0]) if unread and len(said) == len(bases) == 1 else ()


def _tells(words: list[str], book: Book) -> bool:
    """Whether these words are more than an ingredient and what it is served in."""
    return any(word not in book.stock_words | _TELL_LITTLE and len(word) > 2 for word in words)


def _among(word: str, words: tuple[str, ...]) -> bool:
    return any(is_slip(word, other) for other in words)
