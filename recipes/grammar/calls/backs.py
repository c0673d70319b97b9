"""A back: something to drink beside a drink, in a glass of its own, and no part of it.

Nothing is measured into a back but what is strong: water and soft drinks fill a short glass, beer
its smallest glass here, a spirit a shot glass (common practice, no source).
"""

from __future__ import annotations

from recipes.grammar.calls import compose
from recipes.grammar.calls.identified import Ask
from recipes.grammar.calls.reading import About, What
from recipes.grammar.calls.stock import FINISH, MIXER
from recipes.grammar.calls.vocabulary import Book
from recipes.grammar.calls.work import Work
from recipes.grammar.house_spec import HouseSpec, resolve
from recipes.grammar.ingredients import LiquorClass
from recipes.grammar.spec import BuildSpec, Ice

BETWEEN = " "
"""Stands between the slugs of what an open word may be: "a beer back" is asked about."""
_OFFERED = ("water", "club-soda", "cola", "ginger-ale", "lager")
"""What a back that nobody named may be (common practice, no source)."""


def offered(book: Book) -> tuple[str, ...]:
    return tuple(s for s in _OFFERED if s in book.pantry)


def backed(work: Work, said: str, place: int) -> None:
    """What was said to stand beside the drink; nothing, or several things, are asked about."""
    items = tuple(said.split(BETWEEN)) if said else ()
    if any(work.book.stock.roles.get(item) == FINISH for item in items):
        work.refused.append(place)
        return
    work.change(What.BACK, items[0] if len(items) == 1 else "")
    if len(items) != 1:
        work.ask.append(_which(work.book, items))
    elif (back := _in_its_glass(work.book, items[0])) is not None:
        work.beside.append(back)


def _which(book: Book, items: tuple[str, ...]) -> Ask:
    return About.MIXER, items or offered(book)


def _in_its_glass(book: Book, item: str) -> HouseSpec | None:
    try:
        return resolve(_build(book, item), book.rules, book.pantry)
    except KeyError:
        return None


def _build(book: Book, item: str) -> BuildSpec:
    stock = book.stock
    plain = {"ice": Ice.NONE, "garnish": (), "straw": False}
    if stock.of_class(item, LiquorClass.BEER):
        drawn = compose.draught((item,))
        return drawn.model_copy(update={**plain, "glass": _glass(book, "half-pint")})
    if stock.of_class(item, LiquorClass.WINE):
        return compose.glass_of(book, item).model_copy(update=plain)
    if compose.is_short(book, item):
        return compose.alone(item).model_copy(update={**plain, "glass": _glass(book, "shot")})
    short = "rocks" if stock.roles[item] == MIXER else "shot"
    soft = compose.soft((item,))
    return soft.model_copy(update={**plain, "glass": _glass(book, short)})


def _glass(book: Book, wanted: str) -> str | None:
    return wanted if wanted in book.rules.glasses else None
