"""How it is served: neat, on the rocks, up, as a shot; without alcohol; dirty and dry; its ice."""

from __future__ import annotations

from recipes.grammar.calls.icing import WITHOUT_ICE, comes_cold, has_such_ice, ice_of
from recipes.grammar.calls.identified import Ask
from recipes.grammar.calls.reading import About, What
from recipes.grammar.calls.tokens import words_of
from recipes.grammar.calls.vocabulary import Book
from recipes.grammar.calls.work import Work
from recipes.grammar.ingredients import Kind
from recipes.grammar.reasons import Reason
from recipes.grammar.rules import Family, family
from recipes.grammar.spec import BuildSpec, Garnish, How, Ice, Method, Part
from recipes.grammar.units import Unit

STYLES = frozenset({
    "neat", "rocks", "up", "straight_up", "shot", "virgin", "dirty", "dry", "extra_dry", "no_ice",
    "light_ice", "full_ice", "more_ice", "crushed_ice", "blended", "cold",
})  # fmt: skip
DRIER = {"dry": 0.5, "extra_dry": 0.25}
"""A dry martini has this part of the vermouth (common practice, no source; tastes differ)."""
BRINE_FLOZ = 0.5
"""Olive brine in a dirty drink (common practice, no source)."""
_IN_A_BLENDER = frozenset({"frozen", "blended"})
_ICE = {
    "no_ice": (Ice.NONE, What.NO_ICE), "light_ice": (Ice.LIGHT, What.LIGHT_ICE),
    "full_ice": (Ice.FULL, What.FULL_ICE), "more_ice": (Ice.FULL, What.FULL_ICE),
    "crushed_ice": (Ice.CRUSHED, What.CRUSHED_ICE),
}  # fmt: skip
_WAYS = ("neat", "rocks", "up")
"""Ways of serving of which a drink has one: two of them said are a contradiction."""
_ICES = {what for _, what in _ICE.values()}


def restyle(work: Work, code: str, place: int) -> None:
    if code in _ICE:
        _iced(work, code, place)
    elif code == "cold":
        if not comes_cold(work):
            work.refused.append(place)
    elif code == "blended":
        _blended(work, place)
    elif code == "virgin":
        _without_alcohol(work)
    elif code == "dirty":
        _dirty(work, place)
    elif code in DRIER:
        _dry(work, code, place)
    else:
        _served(work, code, place)


def _served(work: Work, code: str, place: int) -> None:
    if _contradicts(work, code):
        if work.identity.bare:
            _which_way(work)
        else:
            work.refused.append(place)
        return
    if work.identity.bare:
        _bare(work, code)
        return
    kind = family(work.build)
    done = {
        "rocks": lambda: _on_the_rocks(work, kind),
        "up": lambda: _up(work, kind),
        "straight_up": lambda: _up(work, kind),
        "shot": lambda: kind is Family.SHOT,
    }.get(code, lambda: False)()
    if not done:
        work.refused.append(place)


def _contradicts(work: Work, code: str) -> bool:
    """ "Whiskey neat on the rocks": a second way of serving, after one that was said."""
    if code not in _WAYS:
        return False
    if code == "rocks" and any(c.what is What.NO_ICE for c in work.changes):
        work.ways.append("neat")
    work.ways = list(dict.fromkeys((*_ways(work), code)))
    return len(work.ways) > 1


def _ways(work: Work) -> list[str]:
    """Those said so far, in the name as well: "whiskey on the rocks"."""
    named = work.identity.why[0].values.get("said", "") if work.identity.why else ""
    return work.ways or [w for w in _WAYS if w in words_of(str(named))]


def _other_way(work: Work, ice: Ice) -> bool:
    """ "On the rocks, no ice", "neat with ice"."""
    against, way = ("rocks", "neat") if ice is Ice.NONE else ("neat", "rocks")
    return against in _ways(work) and _contradicts(work, way)


def _which_way(work: Work) -> None:
    work.ask = [a for a in work.ask if a[0] is not About.STYLE]
    work.ask.append((About.STYLE, tuple(work.ways)))
    work.style = work.ways[0]
    work.other, work.moves_on = True, False


def _bare(work: Work, code: str) -> None:
    """A spirit by itself: the house's recipe for it where there is one, else one pour."""
    if code == "straight_up":
        work.ask.append((About.STYLE, ("up", "neat")))
        work.style = "up"
        return
    work.style = code
    found = work.book.stock.by_style.get((work.identity.bare, code), ())
    if found:
        slug = found[0]
        work.put(**dict(work.book.stock.builds[slug]))
    else:
        fields: dict[str, dict[str, object]] = {
            "neat": {"glass": "rocks", "ice": Ice.NONE, "method": Method.BUILD},
            "rocks": {"glass": None, "ice": None, "method": Method.BUILD},
            "up": {"glass": None, "ice": Ice.NONE, "method": Method.STIR},
            "shot": {"glass": "shot", "ice": Ice.NONE, "method": Method.BUILD},
        }
        work.put(**fields[code], rim=None, garnish=None, straw=None)
    if work.identity.recipe and work.identity.recipe not in found:
        work.other = True
    work.moves_on = True
    if not found:
        work.change(What(code))
    work.why.append(Reason.of("call_style", style=code))


def _on_the_rocks(work: Work, kind: Family) -> bool:
    if kind in (Family.ROCKS, Family.HIGHBALL):
        if work.build.ice is Ice.NONE:
            work.put(ice=None)
        return work.build.method is not Method.LAYER
    if kind is not Family.UP:
        return False
    work.put(glass=_glass(work, "double-rocks"), ice=Ice.FULL)
    work.change(What.ROCKS)
    return True


def _up(work: Work, kind: Family) -> bool:
    if kind is Family.UP:
        return True
    if kind is not Family.ROCKS or any(p.how is How.MUDDLED for p in work.build.parts):
        return False
    method = work.build.method if work.build.method is not Method.BUILD else Method.STIR
    work.put(glass=work.book.rules.default_glass[Family.UP], ice=Ice.NONE, method=method)
    work.change(What.UP)
    return True


def _glass(work: Work, wanted: str) -> str:
    return wanted if wanted in work.book.rules.glasses else "rocks"


def _iced(work: Work, code: str, place: int) -> None:
    ice, what = _ICE[code]
    said = {c.what for c in work.changes} & _ICES
    if said:
        if what not in said:
            work.refused.append(place)  # "no ice, light ice": which one nobody knows
        return
    if work.identity.bare and _other_way(work, ice):
        _which_way(work)
        return
    if work.identity.bare and not work.style and ice is not Ice.NONE:
        _bare(work, "rocks")
    kind = family(work.build)
    if ice is Ice.NONE:
        if kind in WITHOUT_ICE or work.build.method is Method.LAYER:
            return
    elif not has_such_ice(work, code, kind):
        work.refused.append(place)
        return
    elif code == "full_ice" and ice_of(work, kind) is Ice.CRUSHED:
        return  # "with ice", and there is
    work.change(what)
    work.why.append(Reason.of("call_guest_ice", ice=ice.value))
    if kind is Family.ROCKS and ice is Ice.NONE:
        # Without its ice it would look like a drink served up: keep the glass that it comes in.
        glass = work.build.glass or work.book.rules.default_glass[kind]
        work.put(glass=glass)
    work.put(ice=ice)


def _without_alcohol(work: Work) -> None:
    """The house's own version where it has one, else all that has alcohol is left out."""
    stock = work.book.stock
    ready = own_version(work.book, work.identity.name)
    if ready:
        work.put(**dict(stock.builds[ready]))
        work.moves_on = True
        work.change(What.VIRGIN)
        return
    if work.build.alcohol_free:
        return
    left = tuple(p for p in work.build.parts if not stock.is_strong(p.ingredient))
    if not any(p.how in (How.TOP, How.MEASURED) for p in left):
        work.gone = True
        return
    method = work.build.method
    if method in (Method.LAYER, Method.DRAUGHT, Method.TWO_PART, Method.OPEN):
        method = Method.BUILD
    work.put(parts=left, alcohol_free=True, method=method)
    work.ask = [_without(work, a) for a in work.ask if a[0] is not About.BASE]
    work.change(What.VIRGIN)
    work.why.append(Reason.of("call_virgin"))
    work.other = False
    work.moves_on = True


def _without(work: Work, asked: Ask) -> Ask:
    about, choices = asked
    if about is not About.MIXER:
        return asked
    return about, tuple(c for c in choices if not work.book.stock.is_strong(c))


def _blended(work: Work, place: int) -> None:
    """From the blender, where the house has the drink so; another way of making it is no style
    that a guest may choose."""
    if work.build.method is Method.BLEND:
        return
    said = set(words_of(work.identity.name)) | _IN_A_BLENDER
    for slug, drink in work.book.stock.drinks.items():
        name = set(words_of(drink.name))
        if drink.spec.method is Method.BLEND and name <= said and name & _IN_A_BLENDER:
            work.put(**dict(work.book.stock.builds[slug]))
            work.moves_on = True
            return
    work.refused.append(place)


def own_version(book: Book, called: str) -> str | None:
    """The alcohol-free drink whose name is this one's after the word for having none."""
    name = called.casefold()
    for drink in book.stock.drinks.values():
        said = [n.casefold() for n in (drink.name, *drink.aliases)]
        if drink.spec.alcohol_free and any(s.endswith(f" {name}") for s in said):
            return drink.slug
    return None


def _vermouth(work: Work) -> str | None:
    """The dry one: a manhattan has none, and is no martini."""
    pantry = work.book.pantry
    here = (pantry[p.ingredient] for p in work.build.parts)
    found = (i.slug for i in here if i.kind is Kind.VERMOUTH and "dry" in words_of(i.name))
    return next(found, None)


def _dirty(work: Work, place: int) -> None:
    brine = next((s for s in work.book.pantry if s == "olive-brine"), None)
    if brine is None or _vermouth(work) is None:
        work.refused.append(place)
        return
    if not any(p.ingredient == brine for p in work.build.parts):
        part = Part(ingredient=brine, amount=BRINE_FLOZ, unit=Unit.FLOZ)
        olive = (Garnish(item="olive"),) if "olive" in work.book.pantry else ()
        work.put(parts=(*work.build.parts, part), garnish=olive)
        work.moves_on = work.other = True
    work.change(What.DIRTY)


def _dry(work: Work, code: str, place: int) -> None:
    vermouth = _vermouth(work)
    if vermouth is None:
        work.refused.append(place)
        return

    def drier(part: Part) -> Part:
        if part.ingredient != vermouth or part.amount is None:
            return part
        return part.model_copy(update={"amount": part.amount * DRIER[code]})

    work.put(parts=tuple(map(drier, work.build.parts)))
    work.change(What(code))


__all__ = ["STYLES", "BuildSpec", "restyle"]
