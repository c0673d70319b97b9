"""A drink with another base or mixer than its recipe has: "rye old fashioned", "vodka martini"
where only gin martinis are sold, "cuba libre with diet".

Said before the name or after "with". Nothing is swapped where the drink has several spirits.
"""

from __future__ import annotations

from recipes.grammar.calls import compose
from recipes.grammar.calls.entries import PART, Entry
from recipes.grammar.calls.identified import COSTS, Identity, named_why, titled
from recipes.grammar.calls.reading import About, Change, What
from recipes.grammar.calls.stock import BASE, MIXER
from recipes.grammar.calls.tokens import words_of
from recipes.grammar.calls.trade import KIND_WORDS
from recipes.grammar.calls.vocabulary import Book
from recipes.grammar.ingredients import Kind, LiquorClass
from recipes.grammar.reasons import Reason
from recipes.grammar.spec import BuildSpec, How

_SAY_LITTLE = frozenset({"juice", "soda", "water", "drink", "ale", "beer", "light"})
"""Words that unlike mixers share: club soda is no grapefruit soda."""


def is_in(book: Book, slug: str, recipe: str) -> bool:
    return any(p.ingredient == slug for p in book.stock.drinks[recipe].spec.parts)


def swapped(
    book: Book, said: tuple[Entry, ...], seps: tuple[str, ...], known: Identity
) -> Identity | None:
    """A recipe with another spirit said beside its name: "rye old fashioned"."""
    if len(said) != 2 or any(seps):
        return None
    base, named = sorted(said, key=lambda e: bool(e.recipes and not e.items))
    if not _is_spirit(book, base) or not named.recipes:
        return None
    slug = named.recipes[0]
    leads = _only_spirit(book, slug)
    kinds = {book.pantry[p.ingredient].kind for p in book.stock.drinks[slug].spec.parts}
    generic: Kind | None = KIND_WORDS.get(base.phrase)
    if generic in kinds or any(is_in(book, i, slug) for i in base.items):
        known.dear += 0.2  # it is in there anyway
        return known
    if leads is None or len(base.items) > 1:
        return None
    new = base.items[0]
    found = _with_base(book, known, leads, new, known.name)
    if book.pantry[new].kind is not book.pantry[leads].kind:
        # A gin moscow mule is no drink of the trade: it is a moscow mule with gin.
        found.name = f"{known.name} with {book.pantry[new].name}"
    return found


def pieced(book: Book, said: tuple[Entry, ...]) -> Identity | None:
    """A word out of a name beside a name: "frozen marg" is the one drink that has both."""
    part, other = sorted(said, key=lambda e: e.recipes_by != PART)
    drinks = book.stock.drinks
    words = {w for slug in other.recipes for w in words_of(drinks[slug].name)}
    words |= set(words_of(other.phrase))
    both = [s for s in part.recipes if other.recipes and words & set(words_of(drinks[s].name))]
    if len(both) != 1:
        return None
    why = (Reason.of("call_part", said=f"{part.phrase} {other.phrase}", drink=both[0]),)
    return Identity(both[0], book.stock.builds[both[0]], drinks[both[0]].name, why)


def kindred(book: Book, said: tuple[Entry, ...]) -> Identity | None:
    """A spirit before the last word of a name: a vodka martini where gin martinis are sold, a
    vodka collins where Tom Collins is. Several fit: which one is asked."""
    base, family = sorted(said, key=lambda e: bool(e.recipes and not e.items))
    if not _is_spirit(book, base) or family.recipes_by != PART or family.weak:
        return None
    fits = family.kin
    held: tuple[str, ...] = ()
    if not fits:
        fits = tuple(s for s in family.recipes if any(is_in(book, i, s) for i in base.items))
        if len(fits) == 1:
            return _recipe(book, family, fits[0])
        held = fits
        fits = fits or family.recipes
    leads = [_only_spirit(book, s) for s in fits]
    alike = {_but(book.stock.builds[s], lead) for s, lead in zip(fits, leads, strict=True)}
    if len(base.items) > 1 or None in leads or len(alike) > 1:
        if not held:
            return None  # a gin breeze: the spirit is handed back, and which breeze is asked
        why = (Reason.of("call_open", said=family.phrase),)
        ask = ((About.DRINK, fits),)
        return Identity(None, None, family.phrase, why, ask, dear=COSTS["open"])
    [new], lead = base.items, leads[0]
    known = _recipe(book, family, fits[0])
    return _with_base(book, known, lead or "", new, titled(family.phrase))


def remixed(
    book: Book, said: tuple[Entry, ...], seps: tuple[str, ...], known: Identity, *, like: bool
) -> Identity | None:
    """A recipe with another mixer in place of its own: one that is called much the same (`like`:
    diet cola for cola), else the only one of its kind."""
    if len(said) != 2 or any(seps) or known.build is None:
        return None
    mixer, _named = sorted(said, key=lambda e: bool(e.recipes and not e.items))
    if mixer.role != MIXER or len(mixer.items) != 1 or mixer.items_by == PART:
        return None
    [new] = mixer.items
    tops = [p.ingredient for p in known.build.parts if p.how is How.TOP]
    slang = book.stock.slang  # still lemonade in a shandy, and the fizzy one that the word means
    old = [t for t in tops if slang.get(" ".join(words_of(t))) == new]
    old = old or [t for t in tops if (_alike if like else _of_kind)(book, t, new)]
    if len(old) != 1 or new in tops:
        return None
    return other_mixer(book, known, old[0], new)


def other_mixer(book: Book, known: Identity, old: str, new: str) -> Identity | None:
    if known.build is None:
        return None
    why = (*known.why, Reason.of("call_other_mixer", ingredient=new, instead=old))
    build = compose.with_base(known.build, old, new)
    name = f"{known.name} with {book.pantry[new].name}"
    changes = (Change(What.MIXER, new),)
    return Identity(None, build, name, why, dear=COSTS["swapped"], changes=changes)


def _alike(book: Book, one: str, other: str) -> bool:
    shared = set(words_of(book.pantry[one].name)) & set(words_of(book.pantry[other].name))
    return bool(shared - _SAY_LITTLE)


def _of_kind(book: Book, one: str, other: str) -> bool:
    return book.pantry[one].kind is book.pantry[other].kind


def _is_spirit(book: Book, entry: Entry) -> bool:
    sure = entry.role == BASE and entry.items and entry.items_by < PART
    return bool(sure) and all(book.stock.of_class(i, LiquorClass.SPIRIT) for i in entry.items)


def _only_spirit(book: Book, recipe: str) -> str | None:
    """The spirit that leads the drink; None where it has several, or none."""
    parts = {p.ingredient for p in book.stock.drinks[recipe].spec.parts}
    spirits = [s for s in parts if book.stock.of_class(s, LiquorClass.SPIRIT)]
    leads = book.stock.base_of(recipe)
    return leads if spirits == [leads] else None


def _led_by(base: str, name: str) -> str:
    """ "Gin Screwdriver"; "Dark Rum and Cola", not with rum twice."""
    words = name.split(" ")
    while len(words) > 1 and set(words_of(words[0])) <= set(words_of(base)):
        words = words[1:]
    return f"{titled(base)} {' '.join(words)}"


def _but(build: BuildSpec, lead: str | None) -> object:
    parts = tuple((p.how, p.amount, p.unit) if p.ingredient == lead else p for p in build.parts)
    return (build.glass, build.ice, build.method, build.rim, build.garnish, repr(parts))


def _recipe(book: Book, entry: Entry, slug: str) -> Identity:
    why = (named_why(entry.recipes_by, entry.phrase, slug),)
    return Identity(slug, book.stock.builds[slug], book.stock.drinks[slug].name, why)


def _with_base(book: Book, known: Identity, old: str, new: str, name: str) -> Identity:
    build = compose.with_base(book.stock.builds[known.recipe or ""], old, new)
    why = (*known.why, Reason.of("call_other_base", ingredient=new, instead=old))
    changes = (Change(What.BASE, new),)
    said = _led_by(book.pantry[new].name, name)
    return Identity(None, build, said, why, known.ask, dear=COSTS["swapped"], changes=changes)
