"""Two changes of one drink of which one takes the other back: "tall, short", "with salt, no salt".

Nobody knows which one is meant. The second one is handed back, so that none is lost in silence.
"""

from __future__ import annotations

from recipes.grammar.calls.stock import FINISH
from recipes.grammar.calls.vocabulary import Book
from recipes.grammar.ingredients import Kind

Op = tuple[str, str]
HANDED_BACK: Op = ("", "")
"""Stands in the place of a change that nothing is made of."""
_EITHER = ({"tall", "short"}, {"straw", "no_straw"}, {"half", "pint"}, {"can", "bottle"})
_OF_AN_OPEN_GLASS = (
    {"double", "triple"}, {"single", "double"}, {"single", "triple"}, {"neat", "rocks"},
    {"neat", "up"}, {"rocks", "up"}, {"tall", "neat"}, {"tall", "rocks"}, {"tall", "up"},
    {"tall", "shot"},
)  # fmt: skip
"""A drink that is known refuses these by what it is; of a glass of nobody knows what they wait."""
_PUT = frozenset({"with", "along", "extra", "side", "rim", "splash", "dash"})
_BARE = frozenset({"no_garnish", "no_slice"})
_DRESSED = frozenset({"slice", "garnish"})


def contrary(book: Book, ops: tuple[Op, ...], opening: str = "") -> tuple[int, ...]:
    """The places of the changes that one said before them goes against. `opening` is the size or
    style that is all that was said of the glass ("a tall")."""
    first: tuple[Op, ...] = ((opening, ""),) if opening else ()
    return tuple(
        place
        for place, op in enumerate(ops)
        if any(_against(book, op, before, bool(opening)) for before in (*first, *ops[:place]))
    )


def _against(book: Book, one: Op, other: Op, is_open: bool) -> bool:
    if any({one[0], other[0]} == pair for pair in _EITHER):
        return True
    if is_open and any({one[0], other[0]} == pair for pair in _OF_AN_OPEN_GLASS):
        return True
    if _other_glass(book, one, other) or _other_glass(book, other, one):
        return True
    return _undone(book, one, other) or _undone(book, other, one)


def _other_glass(book: Book, one: Op, other: Op) -> bool:
    """ "A tall one in a rocks glass"."""
    return one[0] == "tall" and other[0] == "glass" and other[1] != book.rules.doubles.tall_glass


def _undone(book: Book, put: Op, left_out: Op) -> bool:
    code, item = put
    against, gone = left_out
    if against in _BARE:
        on_it = code in _PUT and item in book.pantry and not _is_rim(book, item)
        return code in _DRESSED or (on_it and book.stock.roles.get(item) == FINISH)
    if against == "no_rim":
        return code == "rim" or (code in _PUT and _is_rim(book, item))
    if against != "no" or code not in _PUT or not item:
        return False
    cores = book.stock.cores
    another = code != "extra"  # "no lime, with a lime wheel" says which of them stays
    return item == gone or (not another and item in cores and cores[item] == cores.get(gone))


def _is_rim(book: Book, item: str) -> bool:
    return item in book.pantry and book.pantry[item].kind is Kind.RIM
