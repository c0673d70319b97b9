"""How much: doubles short and tall, singles in the big glass, pints, halves, bottles, cans."""

from __future__ import annotations

from recipes.grammar.calls import compose
from recipes.grammar.calls.bottles import pour_from
from recipes.grammar.calls.reading import About, What
from recipes.grammar.calls.vocabulary import Book
from recipes.grammar.calls.wines import OF_WINE, ask_size, is_wine, measured
from recipes.grammar.calls.words import BEER_GLASS, SAID_IN_UNITS
from recipes.grammar.calls.work import Work
from recipes.grammar.ingredients import LiquorClass
from recipes.grammar.reasons import Reason
from recipes.grammar.rules import Family
from recipes.grammar.spec import How, Ice, Method, Part

SIZES = frozenset({
    "single", "double", "triple", "tall", "short", "any_spirit", "half", "pint", "bottle", "can",
    "draught", BEER_GLASS, "premium", "call", "any_mixer", "glass", "measure",
})  # fmt: skip
_DRAWN = frozenset({Method.DRAUGHT, Method.TWO_PART})
_UNDOUBLED = frozenset({Method.DRAUGHT, Method.TWO_PART, Method.OPEN, Method.LAYER})
MIXERS_OF_HALVES = 2
MOST_POURS = 3
"""A triple: more than that is no measure of a spirit."""
ALIKE = 0.02
"""Part of a pour that two measures differ by and are one: 35 and 35.5 ml, 30 ml and an ounce."""
ONE_OR_MORE = {"double": ("single", "two"), "triple": ("single", "three")}
"""What a double of a mixed drink may be made as."""
_SHORT = frozenset({"rocks", "double-rocks"})
"""A double in one of these is a short one, and there is nothing to ask."""
_GLASSES = {"half": "half-pint", "pint": "pint"}


def resize(work: Work, code: str, place: int, item: str) -> None:
    if is_wine(work) and (code == "measure" or code in OF_WINE):
        measured(work, item, place)
    elif code == "measure":
        _of_spirit(work, item, place)
    else:
        _sized(work, code, place, item)


def _of_spirit(work: Work, said: str, place: int) -> None:
    """ "25 ml of gin", "2 oz vodka": kept where it is the house's pour, a double where it is two.
    What nobody pours at a bar, and a measure of more than a spirit and its mixers, is handed back.
    """
    strong = _strong(work)
    poured = [p.ingredient for p in strong if compose.is_short(work.book, p.ingredient)]
    if not said.endswith(SAID_IN_UNITS) or len(poured) != 1 or _is_mixed(work):
        work.refused.append(place)
        return
    rules, kind = work.book.rules, work.book.stock.classes[poured[0]]
    doubles = rules.doubles.pours
    pours = float(said.removesuffix(SAID_IN_UNITS)) / rules.pours[kind].ml
    if not 0 < pours <= MOST_POURS:
        work.refused.append(place)
    elif abs(pours - doubles) <= ALIKE * doubles:
        _more(work, "double", place)
    elif abs(pours - 1) > ALIKE:
        ask_size(work)


def _sized(work: Work, code: str, place: int, item: str) -> None:
    if code in ("half", "pint", "bottle", "can", "draught"):
        _beer(work, code, place)
    elif code in (BEER_GLASS, "glass"):
        _put_in(work, code, place, item)
    elif code in ("premium", "call"):
        _step_up(work, code, place)
    elif code == "any_mixer":
        _some_mixer(work, place)
    elif code in ("double", "triple"):
        _more(work, code, place)
    elif code == "tall":
        _tall(work, place)
    elif code in ("short", "any_spirit"):
        work.short = True
        if not work.factor > 1:
            work.changes = [c for c in work.changes if c.what is not What.SHORT]
        work.change(What.SHORT)
    elif work.factor > 1:  # "single" and "double" of one drink
        work.refused.append(place)


def _some_mixer(work: Work, place: int) -> None:
    """ "With a mixer": with which one?"""
    if not work.bare:
        work.refused.append(place)
        return
    work.ask.append((About.MIXER, mixers(work.book)))
    work.style = "mixer"


def mixers(book: Book) -> tuple[str, ...]:
    return tuple(s for s, role in book.stock.roles.items() if role == "mixer")


def _strong(work: Work) -> list[Part]:
    stock = work.book.stock
    poured = [p for p in work.build.parts if p.how is How.MEASURED]
    return [
        p
        for p in poured
        if stock.is_strong(p.ingredient)
        and not stock.of_class(p.ingredient, LiquorClass.WINE, LiquorClass.BEER)
    ]


def _more(work: Work, code: str, place: int) -> None:
    if work.build.method in _UNDOUBLED or not (_strong(work) or work.is_open()):
        work.refused.append(place)
        return
    if work.factor > 1:
        work.refused.append(place)
        return
    work.factor = work.book.rules.doubles.pours if code == "double" else 3
    work.change(What.DOUBLE if code == "double" else What.TRIPLE)


def _tall(work: Work, place: int) -> None:
    fits = (work.tops and work.build.method not in _DRAWN) or work.bare
    if not fits or work.book.rules.doubles.tall_glass not in work.book.rules.glasses:
        work.refused.append(place)
        return
    if not work.tall:
        work.tall = True
        work.change(What.TALL)


def _put_in(work: Work, code: str, place: int, glass: str) -> None:
    if code == BEER_GLASS:
        _beer_in(work, place, glass)
    else:
        _in_glass(work, place, glass)


def _in_glass(work: Work, place: int, item: str) -> None:
    if item == work.book.rules.doubles.tall_glass and work.tops and work.build.glass is None:
        _tall(work, place)
    else:
        work.put(glass=item)
        work.change(What.GLASS, item)
        work.short = work.short or item in _SHORT


def settle(work: Work) -> None:
    """Pours and glass of a size. Short or tall is asked where the house asks it."""
    rules = work.book.rules
    if work.step and (strong := _strong(work)):
        pour_from(work, strong[0])
    if work.factor == 1 and not work.tall:
        return
    if work.factor > 1 and _is_mixed(work):
        work.ask.append((About.SIZE, one_or_more(work)))
    elif work.factor > 1:
        poured = {id(p) for p in _strong(work)}
        parts = tuple(
            p.model_copy(update={"amount": (p.amount or 0) * work.factor}) if id(p) in poured else p
            for p in work.build.parts
        )
        work.put(parts=parts)
        work.why.append(Reason.of("call_double", pours=work.factor))
    highball = bool(work.tops) and work.build.method not in _DRAWN
    if work.tall and highball:
        work.put(glass=rules.doubles.tall_glass)
        work.why.append(Reason.of("call_tall", glass=rules.doubles.tall_glass))
    elif (
        work.factor > 1
        and highball
        and not _is_mixed(work)
        and not work.short
        and rules.doubles.ask_short_or_tall
    ):
        work.ask.append((About.SIZE, ("short", "tall")))


def one_or_more(work: Work) -> tuple[str, ...]:
    triple = any(c.what is What.TRIPLE for c in work.changes)
    return ONE_OR_MORE["triple" if triple else "double"]


def _is_mixed(work: Work) -> bool:
    """More than a pour and its mixers: with twice the alcohol it is out of balance. So nobody
    guesses whether a double manhattan is a bigger one or two."""
    alone = len(work.build.parts) == 1 or work.is_open()
    return not alone and (len(_strong(work)) > 1 or not work.tops)


def _beer(work: Work, code: str, place: int) -> None:
    """A pint or a half of what is drawn; a bottle or a can of what comes in one."""
    method = work.build.method
    if code == "half" and method is Method.BUILD and len(work.tops) == MIXERS_OF_HALVES:
        return  # "half ginger ale, half soda": two mixers share the room equally anyway
    if code in _GLASSES and method in _DRAWN and _GLASSES[code] in work.book.rules.glasses:
        if not (code == "half" and work.build.glass == "half-pint"):
            work.put(glass=_GLASSES[code])
            work.change(What.HALF if code == "half" else What.PINT)
            work.moves_on = True
        return
    if code == "draught" and method in _DRAWN:
        return
    if code in ("bottle", "can") and method is Method.OPEN:
        return
    from recipes.grammar.calls.finish import beers

    options = beers(work.book, work.identity.options, code)
    if len(options) == 1:
        slug = options[0]
        work.put(**dict(work.book.stock.builds[slug]))
        work.moves_on = True
    elif code == "pint" and work.tops and method is Method.BUILD:
        _tall(work, place)
    else:
        work.refused.append(place)


def _beer_in(work: Work, place: int, glass: str) -> None:
    if work.build.method not in _DRAWN:
        work.refused.append(place)
        return
    as_usual = work.book.rules.default_glass.get(Family.DRAUGHT)
    if (work.build.glass or as_usual) != glass:
        work.put(glass=glass)
        work.change(What.GLASS, glass)
        work.moves_on = True


def _step_up(work: Work, code: str, place: int) -> None:
    if _strong(work) or work.is_open():
        work.step = code
        work.change(What(code))
    else:
        work.refused.append(place)


__all__ = ["SIZES", "Ice", "compose", "resize", "settle"]
