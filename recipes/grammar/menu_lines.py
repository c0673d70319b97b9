"""Which drink a line of a menu means.

By name or other name; by a name misspelt, which is said back; by its ingredients; by a pattern of
the trade (rickey, press, a spirit and a mixer); or by nothing. Nothing is matched where two drinks
answer equally, or where a name says one drink and the list another: then both are offered. A bare
spirit and a double are asked about too.
"""

import re
from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace
from enum import StrEnum

from recipes.grammar.menu_book import MIXERS, Book, is_base
from recipes.grammar.menu_draft import draft, listed_things
from recipes.grammar.menu_offers import alike, bare_base, single_of
from recipes.grammar.menu_text import (
    FILLERS,
    MenuLine,
    heard,
    key_of,
    read_menu,
    spoken_ingredients,
    words_of,
)
from recipes.grammar.near import near


class By(StrEnum):
    """How a line was understood."""

    NAME = "name"
    SPELT = "spelt"
    BUILD = "build"
    PATTERN = "pattern"
    TIE = "tie"  # two answer equally
    CONFLICT = "conflict"  # the name says one drink, the list another
    TWICE = "twice"  # an earlier line means that drink
    BARE = "bare"  # a spirit and nothing else: its shot, or poured with mixers?
    DOUBLE = "double"  # of a drink that has a line of its own
    DOUBLE_ONLY = "double_only"
    LIKE = "like"  # no drink is called that, but some are called nearly that
    NOTHING = "nothing"
    HEADING = "heading"


@dataclass(frozen=True)
class Match:
    """`drinks` are offered, likeliest first; `chosen` is one of them where there is no doubt.

    `draft` are lines of parts for a new drink, guesses except where `by` is a pattern; `garnish`
    (slugs, parted by semicolons) goes with it. `unread` is what its list names and the house
    doesn't have. `mixed` are the drinks of a bare spirit and one mixer.
    """

    line: MenuLine
    by: By
    drinks: tuple[str, ...] = ()
    chosen: str | None = None
    draft: tuple[str, ...] = ()
    garnish: str = ""
    unread: tuple[str, ...] = ()
    mixed: tuple[str, ...] = ()
    called: bool = False  # its name is a call that the house understands: no other name of a drink


_UNSAID = frozenset({"simple-syrup"})
"""What menus leave out of their lists."""
_PATTERNS: dict[str, tuple[tuple[str, ...], str]] = {
    "rickey": (("club-soda",), "lime-wedge"),
    "press": (("ginger-ale", "club-soda"), ""),
}
"""The mixers of a pattern, and what goes on it."""
_HEADINGS = frozenset({
    "cocktails", "cocktail", "highballs", "shots", "shooters", "beers", "beer", "wines", "wine",
    "spirits", "softs", "mocktails", "draught", "draft", "bottles", "cans", "classics", "specials",
    "menu", "drinks", "long", "short", "shorts", "tall", "up", "sours", "spritzes", "spritz",
    "frozen", "soft", "no", "low", "alcohol", "free", "hot", "signature", "signatures", "seasonal",
    "aperitifs", "digestifs", "bubbles", "sparkling", "tap", "bottled", "bottle", "glass", "food",
    "snacks", "mixed", "non", "alcoholic", "favourites", "favorites",
})  # fmt: skip
_BETWEEN_SIGNS = re.compile(r"[-\u2013\u2014=*~_#•·]+\s*[^\d]+?\s*[-\u2013\u2014=*~_#•·]+")
"""A word between dashes or stars."""


def match_menu(text: str, book: Book) -> tuple[Match, ...]:
    """Every line with what it means; a second line for a drink is asked about."""
    met: set[str] = set()
    found = []
    for line in read_menu(text, book.ingredients):
        match = match_line(line, book)
        if match.chosen in met:
            match = replace(match, by=By.TWICE, drinks=(str(match.chosen),), chosen=None)
        elif match.chosen:
            met.add(match.chosen)
        found.append(match)
    return tuple(_alone(m) if m.by is By.DOUBLE and m.drinks[0] not in met else m for m in found)


def _alone(double: Match) -> Match:
    return replace(double, by=By.DOUBLE_ONLY)


def match_line(line: MenuLine, book: Book) -> Match:
    single = single_of(line, book)
    if single is not None and (of := _match(single, book)).chosen:
        return Match(line, By.DOUBLE, of.drinks)
    found, base = _match(line, book), bare_base(line, book)
    if base is not None and found.by is not By.NAME:
        drinks, mixed = book.alone(base), book.with_mixer(base)
        return Match(line, By.BARE, drinks, draft=found.draft, mixed=mixed)
    if found.by is By.NOTHING and (offers := alike(line, book)):
        return replace(found, by=By.LIKE, drinks=offers)
    return found


def _match(line: MenuLine, book: Book) -> Match:
    whole = book.by_key.get(key_of(line.whole), ())
    if whole and line.price is not None and not line.listed:
        line = replace(line, name=line.whole, price=None)  # the figure belongs to its name
    if line.listed in line.bare and key_of(line.bare) in book.by_key:
        line = replace(line, name=line.bare, listed="")  # a name with a comma in it
    slugs = book.by_key.get(key_of(line.name), ())
    by = By.NAME
    if not slugs and _is_heading(line):
        return Match(line, By.HEADING)
    if not slugs:
        slugs, by = near(" ".join(words_of(line.name)), book.spelt), By.SPELT
    if len(slugs) == 1 and by is By.SPELT and not line.listed and _reads_as_things(line, book):
        slugs = ()  # what it says is a thing of its own, near another only in its letters
    if len(slugs) > 1:
        return Match(line, By.TIE, slugs)
    if slugs:
        return _agreed(line, slugs[0], by, book)
    return _by_contents(line, book)


def _reads_as_things(line: MenuLine, book: Book) -> bool:
    found, unread = spoken_ingredients(line.name, book.ingredients)
    return bool(found) and not unread


def _agreed(line: MenuLine, slug: str, by: By, book: Book) -> Match:
    """The drink that the name says, unless the list says another."""
    said, unread = spoken_ingredients(line.listed, book.ingredients)
    inside = book.poured[slug] | book.on_it[slug]
    kinds = {book.pantry[p.ingredient].kind.value for p in book.by_slug[slug].spec.parts}
    strange = [s for s, word in said if book.core(s) not in inside and word not in kinds]
    if not strange:
        return Match(line, by, (slug,), slug, unread=unread)
    others = [s for s in _same(said, book) if s != slug]
    made = draft(said, (), book)
    garnish = ";".join(made.garnish)
    return Match(line, By.CONFLICT, (slug, *others), None, made.parts, garnish, unread)


def _by_contents(line: MenuLine, book: Book) -> Match:
    patterned = _pattern(line, book)
    if patterned:
        said, garnish = patterned
    else:
        said, unread = spoken_ingredients(line.listed or line.name, book.ingredients)
        garnish = ""
        if unread or not said:
            return _unread(line, book)
    same = _same((*said, (garnish, "")) if garnish else said, book)
    if same:
        sure = same[0] if len(same) == 1 else None
        return Match(line, By.BUILD if sure else By.TIE, same, sure)
    made = draft(said, (), book)
    return Match(line, By.PATTERN if _is_highball(said, book) else By.NOTHING,
                 (), None, made.parts, garnish or ";".join(made.garnish))  # fmt: skip


def _unread(line: MenuLine, book: Book) -> Match:
    """Something in the line names nothing the house has."""
    if not line.listed:
        return Match(line, _nothing(line))
    said, unknown = listed_things(line.listed, book)
    if not said and _nothing(line) is By.HEADING:
        return Match(line, By.HEADING)
    made = draft(said, unknown, book)
    garnish = ";".join(made.garnish)
    return Match(line, By.NOTHING, (), None, made.parts, garnish, made.unknown)


def _pattern(line: MenuLine, book: Book) -> tuple[tuple[tuple[str, str], ...], str] | None:
    """ "Gin rickey": that spirit with what the pattern says."""
    words = list(words_of(line.name))
    if line.listed or len(words) < 2 or words[-1] not in _PATTERNS:
        return None
    mixers, garnish = _PATTERNS[words[-1]]
    base, unread = spoken_ingredients(" ".join(words[:-1]), book.ingredients)
    if unread or len(base) != 1 or not all(m in book.pantry for m in mixers):
        return None
    return (*base, *((m, "") for m in mixers)), garnish if garnish in book.pantry else ""


def _same(said: Iterable[tuple[str, str]], book: Book) -> tuple[str, ...]:
    """Drinks into which just these are poured, with their herbs; what is only on them may be said
    or not."""
    cores = {book.core(slug) for slug, _word in said}
    return tuple(
        d.slug
        for d in book.drinks
        if cores
        and cores <= book.poured[d.slug] | book.on_it[d.slug]
        and book.poured[d.slug] | book.herbs[d.slug] <= cores | _UNSAID
    )


def _is_highball(said: Sequence[tuple[str, str]], book: Book) -> bool:
    """One pour with some alcohol, and a mixer or two: all that a highball needs."""
    items = [book.pantry[slug] for slug, _word in said]
    bases = [i for i in items if is_base(i)]
    mixers = [i for i in items if i.kind in MIXERS]
    return len(bases) == 1 and 1 <= len(mixers) <= 2 and len(items) == len(bases) + len(mixers)


def _is_heading(line: MenuLine) -> bool:
    """A line without a price that stands for a part of the menu."""
    if line.price is not None or line.two_prices or line.listed:
        return False
    said = line.said.strip()
    if said.endswith(":") or _BETWEEN_SIGNS.fullmatch(said):
        return True
    return set(heard(line.name).split()) <= _HEADINGS | FILLERS


def _nothing(line: MenuLine) -> By:
    """In capitals and without a price it is a heading, if it is no drink of the house."""
    capitals = line.said.isupper() and line.price is None and not line.two_prices
    return By.HEADING if capitals else By.NOTHING
