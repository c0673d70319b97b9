"""How much of something without of what: "a half", "a short", "two shots". It is asked."""

from __future__ import annotations

from recipes.grammar.calls import compose
from recipes.grammar.calls.identified import Identity
from recipes.grammar.calls.reading import About
from recipes.grammar.calls.vocabulary import Book
from recipes.grammar.calls.words import BEER_GLASS
from recipes.grammar.reasons import Reason
from recipes.grammar.rules import Family
from recipes.grammar.spec import Method

ALONE = frozenset({BEER_GLASS, "half", "pint", "any_spirit", "shot", "bottle", "can", "draught"})
OPENS = frozenset({"double", "triple", "single", "tall", "neat", "rocks", "up", "short",
                   "straight_up"})  # fmt: skip
_DRAWN = frozenset({Method.DRAUGHT, Method.TWO_PART})


def open_serving(book: Book, code: str) -> Identity | None:
    """What may be meant; None where the word says nothing by itself or the house has nothing."""
    if code in ("any_spirit", *OPENS):
        spirits = compose.spirits(book)
        return _asked(code, About.BASE, spirits)
    if code not in ALONE:
        return None
    return _asked(code, About.DRINK, tuple(_drinks(book, code)))


def _asked(code: str, about: About, choices: tuple[str, ...]) -> Identity | None:
    if not choices:
        return None
    why = (Reason.of("call_serving", said=code),)
    return Identity(None, None, code.replace("_", " "), why, ((about, choices),))


def _drinks(book: Book, code: str) -> list[str]:
    drinks = book.stock.drinks.values()
    if code == "shot":
        return [d.slug for d in drinks if d.spec.family is Family.SHOT]
    if code in ("bottle", "can"):
        return [d.slug for d in drinks if d.spec.method is Method.OPEN]
    drawn = [d for d in drinks if d.spec.method in _DRAWN and len(d.spec.parts) == 1]
    whole = {d.spec.parts[0].ingredient: d.slug for d in reversed(drawn)}
    return [d.slug for d in drawn if whole[d.spec.parts[0].ingredient] == d.slug]
