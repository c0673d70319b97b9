"""A drink with its size, its style and its changes: what to build, what to ask, what can't be done.

A change that makes no sense with the drink (a neat highball, a dry shandy) is handed back, and so
its words stay unplaced: nothing is dropped.
"""

from __future__ import annotations

from dataclasses import dataclass, field, replace

from recipes.grammar.calls import finish
from recipes.grammar.calls.bottles import with_open_base
from recipes.grammar.calls.contrary import HANDED_BACK, contrary
from recipes.grammar.calls.everyday import known_by_its_rim, nothing_else
from recipes.grammar.calls.identified import Ask, Identity
from recipes.grammar.calls.loose import settled
from recipes.grammar.calls.placeholder import NOT_TOPPED, opened_by
from recipes.grammar.calls.reading import NONE, About, Change, What
from recipes.grammar.calls.reasoning import rule_reasons
from recipes.grammar.calls.sizes import SIZES, mixers, one_or_more, resize, settle
from recipes.grammar.calls.stock import spec_key
from recipes.grammar.calls.styles import STYLES, own_version, restyle
from recipes.grammar.calls.vocabulary import Book
from recipes.grammar.calls.wines import the_wine
from recipes.grammar.calls.words import BEER_GLASS, BOTTLED
from recipes.grammar.calls.work import Work
from recipes.grammar.house_spec import HouseSpec, resolve
from recipes.grammar.reasons import Reason
from recipes.grammar.spec import BuildSpec, How, When
from recipes.grammar.strength import melted_ml

Op = tuple[str, str]
BARE = ("neat", "rocks", "shot", "mixer")
_OF_BEERS = frozenset({BEER_GLASS, "half", "pint", "bottle", "can", "draught", "shot"})
_OF_A_BEER = frozenset({BEER_GLASS, "half", "pint"})
_SAYS_NOTHING_MORE = frozenset({"single", "any_spirit", "garnish", "slice", "cold"})
_NOBODY = Identity(None, None, "")
MOST_KEPT = 50_000


@dataclass(eq=False, slots=True)
class Served:
    """`refused` are the changes that nothing could be made of, by their place in the list."""

    recipe: str | None
    name: str
    build: BuildSpec | None
    spec: HouseSpec | None
    changes: tuple[Change, ...]
    why: tuple[Reason, ...]
    ask: tuple[tuple[About, tuple[str, ...]], ...]
    refused: tuple[int, ...] = ()
    shown: HouseSpec | None = None
    drop: bool = False  # nothing is left of it
    meant: tuple[str, ...] = field(default=())


def serve(book: Book, identity: Identity, ops: tuple[Op, ...]) -> Served:
    """Reckoned once for each drink with these changes."""
    key = (id(identity), ops)
    kept = book.served.get(key)
    if kept is None:
        if len(book.served) >= MOST_KEPT:
            book.served.clear()
        made = _serve(book, identity, ops)
        made.ask = tuple((about, _two_or_more(choices)) for about, choices in made.ask)
        kept = book.served[key] = (made, identity)
    found: Served = kept[0]
    return found


def _two_or_more(choices: tuple[str, ...]) -> tuple[str, ...]:
    """A question with one answer is none: that, or something else?"""
    return (*choices, NONE) if len(choices) == 1 and choices != (NONE,) else choices


def _serve(book: Book, identity: Identity, said: tuple[Op, ...]) -> Served:
    opening = opened_by(identity.why) if identity.build is None else ""
    if against := contrary(book, said, opening) if len(said) > 1 or opening else ():
        kept = tuple(HANDED_BACK if n in against else op for n, op in enumerate(said))
        made = serve(book, identity, kept)
        return replace(made, refused=tuple(sorted({*made.refused, *against})))
    ops = said and tuple(settled(book, identity, op) for op in said)
    if identity.build is None and (wine := the_wine(book, identity.ask, ops)):
        return serve(book, finish.as_recipe(book, identity, wine, ""), ops)
    if identity.build is None:
        return _unbuilt(book, identity, ops)
    work = Work(book, identity, identity.build, list(identity.ask), list(identity.why),
                list(identity.changes))  # fmt: skip
    for place, (code, item) in enumerate(ops):
        if code in SIZES:
            resize(work, code, place, item)
        elif code in STYLES:
            restyle(work, code, place)
        elif code == "before":
            work.refused.append(place)
    if work.gone:
        return Served(None, identity.name, None, None, (), (), (), drop=True,
                      meant=work.meant)  # fmt: skip
    if work.tall and work.bare and work.style in NOT_TOPPED:
        work.refused += [n for n, (code, _) in enumerate(ops) if code == "tall"]
        work.changes = [c for c in work.changes if c.what is not What.TALL]
    settle(work)
    finish.parts(work, ops)
    known_by_its_rim(work)
    return _finished(work, ops)


def _unbuilt(book: Book, identity: Identity, ops: tuple[Op, ...]) -> Served:
    """Nobody knows yet what it is: changes wait, and a beer's glass picks among the beers."""
    changes, refused = [], []
    ask = list(identity.ask)
    if any(code == "virgin" for code, _ in ops):
        left = [n for n, (code, _) in enumerate(ops) if code != "virgin"]
        if own := own_version(book, identity.name):
            found = _less(book, finish.as_recipe(book, identity, own, "virgin"), ops, left)
            return replace(found, changes=(Change(What.VIRGIN), *found.changes))
        ask = [(about, _sober(book, about, choices, ops)) for about, choices in ask]
        if not all(choices for _, choices in ask):
            return Served(None, identity.name, None, None, (), (), (), drop=True)
    for place, (code, item) in enumerate(ops):
        if code in _OF_BEERS and identity.options:
            narrowed = finish.beers(book, identity.options, code)
            if len(narrowed) == 1:
                left = [n for n in range(len(ops)) if n != place or code == BEER_GLASS]
                return _less(book, finish.as_recipe(book, identity, narrowed[0], code), ops, left)
            if narrowed:
                ask = [(About.DRINK, narrowed)]
        change = finish.change_of(code, item)
        known = change is not None or code in _SAYS_NOTHING_MORE
        known = known or (code in BOTTLED and ask != list(identity.ask))
        if not known or (change and not _taken(book, ask, (code, item))):
            refused.append(place)
        elif change is not None:
            changes.append(change)
    return _the_only_one(book, identity, ops, ask) or Served(
        None, identity.name, None, None, tuple(changes), identity.why, tuple(ask), tuple(refused)
    )


def _the_only_one(
    book: Book, identity: Identity, ops: tuple[Op, ...], ask: list[Ask]
) -> Served | None:
    """Of all drinks that it may be just one takes these changes."""
    [(about, choices), *more] = ask or [(About.DRINK, ())]
    if about is not About.DRINK or len(choices) != 1 or more:
        return None
    return serve(book, finish.as_recipe(book, identity, choices[0], ""), ops)


def _less(book: Book, known: Identity, ops: tuple[Op, ...], left: list[int]) -> Served:
    """With these of the changes; what is refused is told by its place among all of them."""
    found = serve(book, known, tuple(ops[n] for n in left))
    return replace(found, refused=tuple(left[n] for n in found.refused))


def _taken(book: Book, ask: list[Ask], op: Op) -> bool:
    """Whether a drink that it may be takes this change; those that don't are no choice then."""
    for at, (about, choices) in enumerate(ask):
        if about is About.BASE and op[0] in _OF_A_BEER:
            return False  # "a double half"
        if about is About.DRINK and op[0] not in _OF_BEERS:
            whole = [(c, finish.as_recipe(book, _NOBODY, c, "")) for c in choices]
            fits = tuple(c for c, one in whole if not serve(book, one, (op,)).refused)
            if not fits:
                return False
            ask[at] = (about, fits)
    return True


def _sober(
    book: Book, about: About, choices: tuple[str, ...], ops: tuple[Op, ...]
) -> tuple[str, ...]:
    """The choices of which something is left without alcohol."""
    if about is not About.DRINK:
        return tuple(c for c in choices if not book.stock.is_strong(c))
    whole = (finish.as_recipe(book, _NOBODY, c, "") for c in choices)
    served = ((c, serve(book, one, ops)) for c, one in zip(choices, whole, strict=True))
    return tuple(c for c, found in served if not found.drop)


def _finished(work: Work, ops: tuple[Op, ...]) -> Served:
    book, identity = work.book, work.identity
    open_drink = any(about in (About.BASE, About.MIXER, About.DRINK) for about, _ in work.ask)
    base = _base(work)
    if base is None:
        return Served(None, identity.name, None, None, tuple(work.changes), tuple(work.why),
                      tuple(work.ask), tuple(work.refused))  # fmt: skip
    work.asked_for = finish.asked_items(work, base, ops)
    garnish = finish.garnish(work, base, ops) if ops else None
    if ops:
        nothing_else(work, base, garnish, ops)
    build, spec = work.build, base
    if garnish is not None:
        build = build.model_copy(update={"garnish": garnish})
        spec = finish.garnished(base, garnish)
    if work.added:
        build = finish.added(work, build, base)
        spec = _resolved(book, build) or base
    build, spec = _fitting(work, build, spec)
    ask = list(work.ask)
    if work.bare and not work.style and work.tall:
        ask.append((About.MIXER, mixers(book)))  # a tall one is topped up
        recipe = None
    elif work.bare and not work.style:
        iced = not any(c.what is What.NO_ICE for c in work.changes)
        ask.append((About.STYLE, tuple(w for w in BARE if iced or w != "rocks")))
        recipe = None  # neat, on the rocks, a shot: each may be a recipe of its own
    else:
        recipe = identity.recipe if open_drink else _recipe_of(work, spec)
    options = tuple(g.item for g in spec.garnish if g.when is When.ASK)
    if options and _settles_garnish(work) and not (work.bare and not work.style):
        ask.append((About.GARNISH, options))
    name = book.stock.drinks[recipe].name if recipe else work.name
    if recipe and recipe != identity.recipe:
        work.why.append(Reason.of("call_contents", drink=recipe))
    why = (*work.why, *rule_reasons(book, spec, garnish is not None))
    so_far = with_open_base(work, work.build)
    shown = _resolved(book, so_far) if so_far else None
    if work.beside:
        spec = replace(spec, beside=(*spec.beside, *work.beside))
        shown = shown and replace(shown, beside=spec.beside)
    return Served(recipe, name, build, spec, tuple(work.changes), why, tuple(ask),
                  tuple(sorted(work.refused)), shown)  # fmt: skip


def _settles_garnish(work: Work) -> bool:
    """What goes on can be asked once the base is known, whichever of its mixers it will be."""
    return not any(about in (About.BASE, About.DRINK) for about, _ in work.ask)


def _base(work: Work) -> HouseSpec | None:
    """Before its garnish is changed; resolved on the menu already where nothing was changed."""
    stock, recipe = work.book.stock, work.identity.recipe
    if recipe and work.build is stock.builds[recipe]:
        return stock.drinks[recipe].spec
    if work.build is work.identity.build:
        if work.identity.spec is None:
            work.identity.spec = _resolved(work.book, work.build)
        return work.identity.spec
    return _resolved(work.book, work.build)


def _resolved(book: Book, build: BuildSpec) -> HouseSpec | None:
    try:
        return resolve(build, book.rules, book.pantry)
    except KeyError:
        return None


def _fitting(work: Work, build: BuildSpec, spec: HouseSpec) -> tuple[BuildSpec, HouseSpec]:
    """A double shot that runs over goes into the rocks glass; anything else that does is asked."""
    poured, room = spec.poured_ml, spec.room_ml + 0.5
    if 2 * poured <= room or poured + melted_ml(spec, work.book.pantry) <= room:
        return build, spec  # never more water melts than was poured
    if spec.glass == "shot" and "rocks" in work.book.rules.glasses:
        bigger = build.model_copy(update={"glass": "rocks", "ice": spec.ice})
        return bigger, _resolved(work.book, bigger) or spec
    if work.factor > 1 and not any(about is About.SIZE for about, _ in work.ask):
        may_be_tall = bool(work.tops) and not work.tall
        sizes = ("single", "tall") if may_be_tall else one_or_more(work)
        work.ask.append((About.SIZE, sizes))
    return build, spec


def _recipe_of(work: Work, spec: HouseSpec) -> str | None:
    """The recipe of this very build; else the one that was named, with its changes."""
    stock, named = work.book.stock, work.identity.recipe
    if named and not work.moves_on:
        return work.kept_recipe
    found = stock.by_spec.get(spec_key(spec))
    if found is None or found == named:
        return work.kept_recipe
    return found


__all__ = ["BARE", "NONE", "How", "Op", "Served", "What", "serve"]
