"""What goes on and beside a drink at a guest's word: garnish, rim, straw, splashes, backs."""

from __future__ import annotations

from dataclasses import replace

from recipes.grammar.calls.backs import BETWEEN, backed, offered
from recipes.grammar.calls.everyday import (
    in_or_on,
    is_on_the_rim,
    is_sugar,
    kept_off,
    rimmed,
    rims,
    unrimmed,
    unsweetened,
)
from recipes.grammar.calls.identified import Identity
from recipes.grammar.calls.reading import About, Change, What
from recipes.grammar.calls.stock import CUTS, FINISH
from recipes.grammar.calls.vocabulary import Book
from recipes.grammar.calls.words import BEER_GLASS
from recipes.grammar.calls.work import Work
from recipes.grammar.house_spec import HouseGarnish, HouseSpec, Origin
from recipes.grammar.ingredients import Kind, LiquorClass
from recipes.grammar.reasons import Reason
from recipes.grammar.spec import BuildSpec, Garnish, How, Method, Part, When
from recipes.grammar.units import Unit

Op = tuple[str, str]
_SIMPLE = {w.value: w for w in What}
_KEPT_AS = {"no_slice": "no_garnish", "along": "with", BEER_GLASS: "glass"}
_SLICES = ("wheel", "slice", "wedge")
_GARNISHING = frozenset({"with", "along", "extra", "no", "side", "slice", "no_slice", "no_garnish"})
_POURABLE = frozenset({
    Kind.SODA_MIXER, Kind.JUICE, Kind.CITRUS, Kind.SYRUP, Kind.SOUR_MIX, Kind.DAIRY, Kind.COFFEE,
    Kind.SAUCE, Kind.DASH_BITTERS, Kind.LIQUEUR, Kind.CREAM_LIQUEUR, Kind.BITTER, Kind.VERMOUTH,
})  # fmt: skip


def change_of(code: str, item: str) -> Change | None:
    """What is kept of a change that could not be made yet."""
    if code == "slice":
        return None
    what = _SIMPLE.get(
        {"no_slice": "no_garnish", "along": "with", BEER_GLASS: "glass"}.get(code, code)
    )
    known = "" if BETWEEN in item else item  # "a beer back": nobody knows yet which
    return Change(what, known) if what else None


def beers(book: Book, options: tuple[str, ...], code: str) -> tuple[str, ...]:
    """The drinks among these that come from the tap, in a bottle or in a can."""
    wanted = {"bottle": ("beer-bottle",), "can": ("beer-can",)}.get(code)
    found = []
    for slug in options:
        spec = book.stock.drinks[slug].spec
        drawn = spec.method in (Method.DRAUGHT, Method.TWO_PART)
        half = spec.glass == "half-pint"
        if wanted:
            fits = spec.method is Method.OPEN and spec.glass in wanted
        elif code == "half":
            fits = drawn and (half or not _has_half(book, options))
        else:
            fits = drawn and not half
        found += [slug] if fits else []
    return tuple(found)


def _has_half(book: Book, options: tuple[str, ...]) -> bool:
    return any(book.stock.drinks[s].spec.glass == "half-pint" for s in options)


def as_recipe(book: Book, identity: Identity, slug: str, code: str) -> Identity:
    """The beer that its glass or bottle settled."""
    key = ("settled", slug, code)
    if key not in book.identified:
        drink = book.stock.drinks[slug]
        why = (*identity.why, Reason.of("call_contents", drink=slug))
        build = book.stock.builds[slug]
        if code == "half" and drink.spec.glass != "half-pint" and "half-pint" in book.rules.glasses:
            build = build.model_copy(update={"glass": "half-pint"})
        book.identified[key] = Identity(slug, build, drink.name, why)
    found: Identity = book.identified[key]
    return found


def parts(work: Work, ops: tuple[Op, ...]) -> None:
    """What is poured besides or left out, the glass, the straw; garnish comes later."""
    for place, (code, item) in enumerate(ops):
        if code in ("splash", "dash"):
            _dosed(work, code, item, place)
        elif code == "back":
            backed(work, item, place)
        elif code in ("straw", "no_straw"):
            work.put(straw=code == "straw")
            work.change(What(code))
        elif code in ("no", "no_rim"):
            _without(work, code, item, place)
        elif code == "rim" or (code in ("with", "along", "extra") and rims(work, item)):
            rimmed(work, code, item, place)


def _without(work: Work, code: str, item: str, place: int) -> None:
    if code == "no_rim" or (is_on_the_rim(work, item) and not is_sugar(work, item)):
        unrimmed(work)
    elif is_sugar(work, item):
        unsweetened(work, item, place)
    else:
        finish = work.book.stock.roles.get(item) == FINISH
        for slug in kept_off(work, item) if finish else (item,):
            _left_out(work, slug, place)


def _dosed(work: Work, code: str, item: str, place: int) -> None:
    book = work.book
    if not item:
        work.ask.append((About.MIXER, offered(book)[:4]))
        work.change(What(code))
        return
    if book.pantry[item].kind not in _POURABLE or item in {p.ingredient for p in work.build.parts}:
        work.refused.append(place)
        return
    bitter = book.pantry[item].kind in (Kind.DASH_BITTERS, Kind.SAUCE)
    unit = Unit.DASH if code == "dash" or bitter else Unit.SPLASH
    work.added.append(Part(ingredient=item, how=How.DASH, amount=1, unit=unit))
    work.change(What.DASH if unit is Unit.DASH else What.SPLASH, item)


def added(work: Work, build: BuildSpec, base: HouseSpec) -> BuildSpec:
    """Splashes leave the garnish as it was without them."""
    if not work.added:
        return build
    own = build.garnish
    if own is None:
        own = tuple(Garnish(item=g.item, when=g.when) for g in base.garnish)
    return build.model_copy(update={"parts": (*build.parts, *work.added), "garnish": own})


def _left_out(work: Work, item: str, place: int) -> None:
    """ "No tonic", "hold the bitters": gone, if something is left to drink and no spirit is."""
    stock, core = work.book.stock, work.book.stock.cores.get(item)
    same = [p for p in work.build.parts if p.ingredient == item]
    if not same:
        on_it = {stock.cores.get(g.item) for g in work.build.garnish or ()}
        if core in on_it or _ruled(work, core):
            return  # a garnish: taken off with the others
        work.refused.append(place)
        return
    left = tuple(p for p in work.build.parts if p.ingredient != item)
    alone = same[0].how is How.TOP and not any(p.how is How.TOP for p in left)
    base = stock.is_strong(item) and same[0].how is not How.DASH
    if base or alone or not left:
        work.refused.append(place)
        return
    work.put(parts=left)
    work.change(What.NO, item)
    work.moves_on = True


def _ruled(work: Work, core: str | None) -> bool:
    rules = work.book.rules
    return any(work.book.stock.cores.get(g.item) == core for r in rules.garnish for g in r.garnish)


def pick(work: Work, item: str, now: list[Garnish]) -> str | None:
    """The cut that is meant: one that the drink may have anyway, else the one that was said."""
    stock = work.book.stock
    core = stock.cores.get(item)
    for garnish in now:
        if stock.cores.get(garnish.item) == core:
            return garnish.item
    if stock.roles.get(item) == FINISH:
        return item
    cuts = [s for s, r in stock.roles.items() if r == FINISH and stock.cores[s] == core]
    return cuts[0] if cuts else None


def asked_items(work: Work, base: HouseSpec, ops: tuple[Op, ...]) -> frozenset[str]:
    """What the drink may have on it at a guest's word, and so is no other drink with it."""
    return frozenset(g.item for g in base.garnish)


def garnish(work: Work, base: HouseSpec, ops: tuple[Op, ...]) -> tuple[Garnish, ...] | None:
    """What goes on it where the guest said something about that; None: as the house has it."""
    now = [Garnish(item=g.item, when=g.when) for g in base.garnish]
    touched = False
    for place, (code, item) in enumerate(ops):
        if code not in _GARNISHING or _handled(work, code, item):
            continue
        if code in ("no_garnish", "no_slice"):
            now, touched = [], True
            work.change(What.NO_GARNISH)
        elif code == "no":
            if place in work.refused:
                continue  # said already: it can't be left out
            if (open_now := in_or_on(work, item, now)) is not None:
                now, touched = open_now, True
                continue
            cores = work.book.stock.cores
            gone = {cores.get(c.item) for c in work.changes if c.what is What.NO}
            off = next((g.item for g in now if cores.get(g.item) == cores.get(item)), item)
            kept = [g for g in now if cores.get(g.item) != cores.get(item)]
            touched = touched or kept != now or cores.get(item) not in gone
            now = kept
            if cores.get(item) not in gone:
                work.change(What.NO, off)  # what was on it: the twist, not its juice
        elif code == "along" and _is_beer(work):
            _poured_in(work, item, place)
        else:
            said = _slice(work, now) if code == "slice" else pick(work, item, now)
            if said is None:
                work.refused.append(place)
                continue
            now, touched = _put_on(work, base, now, said, code), True
    return tuple(now) if touched else None


def garnished(spec: HouseSpec, garnish: tuple[Garnish, ...]) -> HouseSpec:
    """As resolving it anew would give it: what is on it now is said, not ruled."""
    origins = replace(spec.origins, garnish=Origin.RECIPE, garnish_rule=None)
    put = tuple(HouseGarnish(g.item, g.when) for g in garnish)
    return replace(spec, garnish=put, origins=origins)


def _is_beer(work: Work) -> bool:
    stock = work.book.stock
    return any(stock.of_class(p.ingredient, LiquorClass.BEER) for p in work.build.parts)


def _poured_in(work: Work, item: str, place: int) -> None:
    """ "Lager and lime" has cordial or juice in it for some and a wedge on it for others."""
    stock = work.book.stock
    core = stock.cores[item]
    liquid = (s for s, i in work.book.pantry.items() if i.kind in _POURABLE)
    choices = tuple(s for s in liquid if s.split("-")[0] == core)
    if choices:
        work.ask.append((About.MIXER, (*choices, item)))
    else:
        work.refused.append(place)


def _handled(work: Work, code: str, item: str) -> bool:
    """A rim, or a part of the drink that was left out."""
    if code in ("with", "along", "extra") and rims(work, item):
        return True
    if code != "no":
        return False
    if is_sugar(work, item):
        return True
    gone = {c.item for c in work.changes if c.what is What.NO}
    finish = work.book.stock.roles.get(item) == FINISH
    return (item in gone and not finish) or (
        any(c.what is What.NO_RIM for c in work.changes) and rims(work, item)
    )


def _put_on(work: Work, base: HouseSpec, now: list[Garnish], said: str, code: str) -> list[Garnish]:
    """Always, since the guest asked; a choice that was open is settled by it. One citrus takes the
    place of another that only a rule put there."""
    if said not in work.asked_for:
        work.moves_on = True
    kept = [g for g in now if g.when is not When.ASK and g.item != said]
    if code in ("with", "along") and base.origins.garnish is Origin.RULE and citrus(said):
        asked = {c.item for c in work.changes if c.what is What.WITH}
        kept = [
            g for g in kept if not citrus(g.item) or g.item in asked or g.when is When.ON_REQUEST
        ]
    work.change({"extra": What.EXTRA, "side": What.SIDE}.get(code, What.WITH), said)
    return [*kept, Garnish(item=said)]


def citrus(item: str) -> bool:
    return item.split("-", maxsplit=1)[0] in ("lime", "lemon", "orange", "grapefruit")


def _slice(work: Work, now: list[Garnish]) -> str | None:
    """ "A slice": of what the drink takes, else of lemon."""
    own = [g.item for g in now if set(g.item.split("-")) & set(_SLICES)]
    if own:
        return own[0]
    pantry = work.book.pantry
    cuts = [f"lemon-{cut}" for cut in _SLICES if f"lemon-{cut}" in pantry]
    lemons = [
        s for s in pantry if pantry[s].kind is Kind.FRUIT and work.book.stock.cores[s] == "lemon"
    ]
    return next(iter((*cuts, *lemons)), None)


__all__ = ["CUTS", "added", "as_recipe", "asked_items", "beers", "change_of", "garnish", "parts"]
