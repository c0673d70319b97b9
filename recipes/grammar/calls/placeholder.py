"""How much of something without of what: "a half", "a short", "two shots". It is asked."""

from __future__ import annotations

from collections.abc import Iterable

from recipes.grammar.calls import compose
from recipes.grammar.calls.atoms import CHANGE, Atom
from recipes.grammar.calls.identified import Identity
from recipes.grammar.calls.reading import About, CalledDrink, Change, What
from recipes.grammar.calls.vocabulary import Book
from recipes.grammar.calls.words import BEER_GLASS
from recipes.grammar.reasons import Reason
from recipes.grammar.rules import Family
from recipes.grammar.spec import Method

ALONE = frozenset({BEER_GLASS, "half", "pint", "any_spirit", "shot", "bottle", "can", "draught"})
OPENS = frozenset({"double", "triple", "single", "tall", "neat", "rocks", "up", "short",
                   "straight_up"})  # fmt: skip
MAY_OPEN = OPENS | ALONE
NOT_TOPPED = frozenset({"neat", "rocks", "up", "shot"})
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


def opened_by(why: Iterable[Reason]) -> str:
    """The word that is all that was said of such a glass; "" of any other drink."""
    return next((str(r.values["said"]) for r in why if r.code == "call_serving"), "")


def opening(drink: CalledDrink) -> What | None:
    """The size or the style that is all that was said of a glass: "and a tall"."""
    code = opened_by(drink.why) if drink.spec is None else ""
    return What(code) if code in set(What) else None


def as_said(drink: CalledDrink) -> set[Change]:
    """All its changes, with the one that stands for it."""
    opens = opening(drink)
    return {*drink.changes, Change(opens)} if opens else set(drink.changes)


def glass_of(drink: CalledDrink) -> set[What]:
    """A half of whichever beer it is stays a half."""
    return {c.what for c in as_said(drink)} & {What.HALF, What.PINT} if opening(drink) else set()


def opener(atoms: Iterable[Atom]) -> Atom | None:
    """Of these words the one that stands for a glass. "A tall neat": the tall one is handed back,
    as of any neat drink."""
    found = [a for a in atoms if a.kind == CHANGE and a.code in MAY_OPEN and not a.glued]
    if found and found[0].code == "tall":
        return next((a for a in found if a.code in NOT_TOPPED), found[0])
    return found[0] if found else None


def _drinks(book: Book, code: str) -> list[str]:
    drinks = book.stock.drinks.values()
    if code == "shot":
        return [d.slug for d in drinks if d.spec.family is Family.SHOT]
    if code in ("bottle", "can"):
        return [d.slug for d in drinks if d.spec.method is Method.OPEN]
    drawn = [d for d in drinks if d.spec.method in _DRAWN and len(d.spec.parts) == 1]
    whole = {d.spec.parts[0].ingredient: d.slug for d in reversed(drawn)}
    return [d.slug for d in drawn if whole[d.spec.parts[0].ingredient] == d.slug]
