"""Which drink a few words name together: a recipe, a pattern, a base with mixers, or an open one.

What can't be one drink is None; the cheapest way to cut a call into drinks is taken (`grouping`).
"""

from __future__ import annotations

from dataclasses import replace

from recipes.grammar.calls import compose
from recipes.grammar.calls.bottles import with_its_bottle
from recipes.grammar.calls.by_list import by_the_list
from recipes.grammar.calls.entries import NAME, PART, SLANG, Entry, longest
from recipes.grammar.calls.identified import (
    COSTS,
    Ask,
    Identity,
    item_why,
    listed,
    named_why,
    outdone,
    tied,
    unsaid,
)
from recipes.grammar.calls.kinship import is_in, kindred, pieced, remixed, swapped
from recipes.grammar.calls.open_mix import by_contents, is_open, of_open_contents, open_mix
from recipes.grammar.calls.patterned import pattern, patterned
from recipes.grammar.calls.qualified import in_its_kind, is_qualifier, requalified
from recipes.grammar.calls.reading import About
from recipes.grammar.calls.stock import BASE, MIXER, OTHER, spec_key
from recipes.grammar.calls.vocabulary import Book
from recipes.grammar.house_spec import resolve
from recipes.grammar.ingredients import LiquorClass
from recipes.grammar.reasons import Reason
from recipes.grammar.spec import How

Slugs = tuple[str, ...]
MOST_KEPT = 50_000
_UNREAD = Identity(None, None, "")
WITH = "with"
"""Stands between a drink and what is said to be in it: "a screwdriver with gin"."""


def identify(book: Book, said: tuple[Entry, ...], seps: tuple[str, ...]) -> Identity | None:
    """`seps` stand between the entries: "", "and" or ","."""
    key = said[0].key if len(said) == 1 else (*[e.key for e in said], seps)
    found: Identity | None = book.identified.get(key, _UNREAD)
    if found is _UNREAD:
        if len(book.identified) >= MOST_KEPT:
            book.identified.clear()
        found = _as_known(book, _identify(book, said, seps))
        if found is not None:
            told = outdone(book, said, found.build)
            told += unsaid(book, found.recipe, told)
            found.why, found.ask = (*found.why, *told), (*found.ask, *tied(book, said, found, told))
        book.identified[key] = found
    return found


def _as_known(book: Book, found: Identity | None) -> Identity | None:
    """A build that is a recipe's is that recipe, whatever words it was said in."""
    if found is None or found.recipe or found.build is None or found.ask or found.bare:
        return found
    slug = None
    if frozenset([p.ingredient for p in found.build.parts]) in book.stock.by_set:
        found.spec = resolve(found.build, book.rules, book.pantry)
        slug = book.stock.by_spec.get(spec_key(found.spec))
    if slug is None:
        return with_its_bottle(book, found)
    why = (*found.why, Reason.of("call_contents", drink=slug))
    name, build = book.stock.drinks[slug].name, book.stock.builds[slug]
    return replace(
        found, recipe=slug, build=build, name=name, why=why, bare=_bare(book, slug), changes=()
    )


def _identify(book: Book, said: tuple[Entry, ...], parted: tuple[str, ...]) -> Identity | None:
    glued = WITH in parted
    seps = tuple("" if s == WITH else s for s in parted)
    if len(said) == 1:
        return _alone(book, said[0])
    if any(e.pattern for e in said):
        return None if any(seps) else patterned(book, said)
    named = [e for e in said if e.recipes and not (e.items and e.items_by <= SLANG)]
    if not named:
        kinds = requalified(book, said, seps)
        mixed = _mixed(book, *kinds) if kinds else None
        if mixed and is_qualifier(book, said[0]) and not seps[0]:
            mixed.dear += COSTS["torn"]  # "diet gin and tonic" is said of the tonic
        return mixed
    if len(said) == 2 and not any(seps) and any(e.recipes_by == PART for e in named):
        return pieced(book, said) or kindred(book, said)
    if len(named) > 1 or len(named[0].recipes) > 1 or named[0].weak:
        return None
    known = _recipe(book, named[0])
    if any(is_qualifier(book, e) for e in said):
        return in_its_kind(book, said, known)
    return (
        _mentioned(book, said, seps)
        or swapped(book, said, seps, known)
        or remixed(book, said, seps, known, like=True)
        or _extended(book, said, seps)
        or remixed(book, said, seps, known, like=not glued)
    )


def _alone(book: Book, entry: Entry) -> Identity | None:
    if entry.recipes:
        known = _recipe(book, entry)
        return by_the_list(book, entry, known.ask) or known
    if entry.pattern:
        return pattern(book, entry, None)
    if len(entry.items) > 1 or entry.weak:
        return _open_item(book, entry)
    return _item(book, entry)


def _recipe(book: Book, entry: Entry) -> Identity:
    if len(entry.recipes) > 1 or entry.weak:
        ask: tuple[Ask, ...] = ((About.DRINK, entry.recipes),)
        if entry.family:
            bases = entry.bases or tuple(book.stock.base_of(s) or "" for s in entry.recipes)
            ask = ((About.BASE, tuple(dict.fromkeys(b for b in bases if b))),)
        why = (Reason.of("call_open", said=entry.phrase),)
        return Identity(None, None, entry.phrase, why, ask, dear=COSTS["open"])
    slug = entry.recipes[0]
    named = (named_why(entry.recipes_by, entry.phrase, slug),)
    doubt = compose.doubt(book, entry, slug)
    drink = book.stock.drinks[slug]
    options = book.stock.by_set.get(frozenset(entry.items), ()) if entry.items else ()
    return Identity(
        slug, book.stock.builds[slug], drink.name, named, doubt, _bare(book, slug), options=options
    )


def _bare(book: Book, slug: str) -> str:
    """A spirit by itself that a recipe serves in one way: other ways may be asked for."""
    spec = book.stock.drinks[slug].spec
    [part, *more] = spec.parts
    alone = not more and part.how is How.MEASURED and not spec.alcohol_free
    return part.ingredient if alone and compose.is_short(book, part.ingredient) else ""


def _open_item(book: Book, entry: Entry) -> Identity | None:
    if entry.role == OTHER:
        return None
    about = About.MIXER if entry.role == MIXER else About.BASE
    why = (Reason.of("call_open", said=entry.phrase),)
    whole = [] if any(compose.is_short(book, s) for s in entry.items) else _drinks_of(book, entry)
    if whole:
        drinks = tuple(whole)
        ask: tuple[Ask, ...] = ((About.DRINK, drinks),)
        return Identity(None, None, entry.phrase, why, ask, dear=COSTS["open"], options=drinks)
    ask = ((about, entry.items),)
    return Identity(None, None, entry.phrase, why, ask, dear=COSTS["open"] + COSTS["bare"])


def _drinks_of(book: Book, entry: Entry) -> list[str]:
    """The drinks that these things are by themselves: which beer, which wine."""
    sets = (book.stock.by_set.get(frozenset({slug}), ()) for slug in entry.items)
    return [d for drinks in sets for d in drinks]


def _item(book: Book, entry: Entry) -> Identity | None:
    [slug] = entry.items
    item = book.pantry[slug]
    why: tuple[Reason, ...] = (item_why(entry),)
    if entry.role == MIXER:
        return Identity(None, compose.soft((slug,)), item.name, why, dear=COSTS["soft"])
    if entry.role != BASE:
        return None
    if compose.is_short(book, slug):
        build = compose.alone(slug)
        return Identity(None, build, item.name, why, bare=slug, dear=COSTS["bare"])
    drinks = book.stock.by_set.get(frozenset({slug}), ())
    if len(drinks) == 1:
        why = (*why, Reason.of("call_contents", drink=drinks[0]))
        drink = book.stock.drinks[drinks[0]]
        return Identity(drinks[0], book.stock.builds[drinks[0]], drink.name, why, options=drinks)
    if drinks:
        ask = ((About.DRINK, drinks),)
        return Identity(None, None, item.name, why, ask, dear=COSTS["open"], options=drinks)
    if item.liquor_class is LiquorClass.BEER:
        return Identity(None, compose.draught((slug,)), item.name, why)
    if item.liquor_class is LiquorClass.WINE:
        return Identity(None, compose.glass_of(book, slug), item.name, why)
    return None


def _mixed(book: Book, said: tuple[Entry, ...], seps: tuple[str, ...]) -> Identity | None:
    """Ingredients alone, in any order."""
    if not all(e.items for e in said):
        return None
    if any(is_open(e) for e in said):
        return open_mix(book, said, seps) or of_open_contents(book, said)
    if tied := _tied(book, said):
        return tied
    slugs = tuple(dict.fromkeys(e.items[0] for e in said))
    if len(slugs) < len(said):
        return None  # the same thing twice is two drinks
    why = tuple(item_why(e) for e in said)
    return _of_set(book, slugs, seps, why)


def _of_set(
    book: Book, slugs: Slugs, seps: tuple[str, ...], why: tuple[Reason, ...]
) -> Identity | None:
    bases = tuple(s for s in slugs if book.stock.roles[s] == BASE)
    mixers = tuple(s for s in slugs if book.stock.roles[s] == MIXER)
    name = listed([book.pantry[s].name for s in sorted(slugs, key=book.stock.order_of)])
    plain = len(bases) + len(mixers) == len(slugs) and len(mixers) <= compose.MOST_MIXERS
    named = book.stock.by_set.get(frozenset(slugs)) or book.stock.by_cores.get(
        frozenset(book.stock.cores[s] for s in slugs), ()
    )
    if plain and mixers and len(bases) == 1 and compose.is_short(book, bases[0]):
        dear = 0.0 if named or len(mixers) == 1 else 0.1
        build = compose.highball(bases, mixers)
        return Identity(None, build, name, why, dear=dear)
    if named:
        return by_contents(book, named, why)
    if "," in seps:
        return None
    if plain and not bases and (not any(seps) or compose.blend(book, mixers)):
        return Identity(None, compose.soft(mixers), name, why, dear=COSTS["soft"])
    beers = [b for b in bases if book.stock.of_class(b, LiquorClass.BEER)]
    if plain and beers and len(beers) == len(bases) and len(slugs) == 2:
        if "and" in seps and len(beers) == 2:
            return None
        return Identity(None, compose.draught(slugs), name, why)
    if len(bases) > 1 and not any(seps) and plain and all(compose.is_short(book, b) for b in bases):
        ask = ((About.BASE, bases),)
        return Identity(None, None, name, why, ask, dear=COSTS["torn"])
    return None


def _tied(book: Book, said: tuple[Entry, ...]) -> Identity | None:
    """A base and a mixer that are a name said in one: where that name ties with a word of the
    house, so do they."""
    if len(said) != 2:
        return None
    base, mixer = sorted(said, key=lambda e: e.role != BASE)
    named = longest(book.trie, [*base.phrase.split(), *mixer.phrase.split()], 0)[1]
    if named is None or named.recipes_by != NAME or len(named.recipes) != 1:
        return None
    known = _recipe(book, named)
    if by_the_list(book, named, known.ask):
        return None
    return known if known.ask and named.phrase == f"{base.phrase} {mixer.phrase}" else None


def _extended(book: Book, said: tuple[Entry, ...], seps: tuple[str, ...]) -> Identity | None:
    """A plain highball by name with a mixer more: "vodka cranberry and pineapple"."""
    recipe = next(e for e in said if e.recipes and not (e.items and e.items_by <= SLANG))
    more = [e for e in said if e is not recipe]
    plain = compose.plain_parts(book, recipe.recipes[0])
    if plain is None or any(is_open(e) or e.role != MIXER for e in more) or "," in seps:
        return None
    slugs = tuple(dict.fromkeys((*plain, *(e.items[0] for e in more))))
    if len(slugs) == len(plain):
        return None
    named = frozenset(slugs) in book.stock.by_set
    if "and" in seps and not named and not compose.blend(book, slugs[1:]):
        return None
    why = (named_why(recipe.recipes_by, recipe.phrase, recipe.recipes[0]),)
    found = _of_set(book, slugs, seps, (*why, *(item_why(e) for e in more)))
    if found:
        found.dear += 0.1 if named else COSTS["extended"]
    return found


def _mentioned(book: Book, said: tuple[Entry, ...], seps: tuple[str, ...]) -> Identity | None:
    """What is in a drink said beside its name: a lager shandy, a vodka screwdriver."""
    named = next(e for e in said if e.recipes and not (e.items and e.items_by <= SLANG))
    others = [e for e in said if e is not named]
    if any(seps) or not all(len(e.items) == 1 and e.items_by <= SLANG for e in others):
        return None
    if not all(is_in(book, e.items[0], named.recipes[0]) for e in others):
        return None
    known = _recipe(book, named)
    known.dear += 0.2
    return known
