"""What was chosen for each line of a pasted menu, and why it can't be taken."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from decimal import Decimal

from django.utils.translation import gettext as _

from recipes.grammar.lines import read_garnish, read_parts
from recipes.grammar.menu_book import Book
from recipes.grammar.menu_lines import By, Match
from recipes.grammar.menu_text import key_of, read_money
from recipes.grammar.reasons import CannotBuild
from recipes.menu import Menu
from recipes.pasting import LEAVE, MIXED, NEW
from recipes.publish_pasted import Sold
from recipes.saying import sentences

_MOST_PRICE = Decimal(1_000_000)


class NotChosen(ValueError):  # noqa: N818  # an answer to who sent it, no error of the program
    """Lines that can't be taken as they are filled in: sentences by their number."""

    def __init__(self, wrong: Mapping[int, tuple[str, ...]]) -> None:
        super().__init__(f"{len(wrong)} lines")
        self.wrong = wrong


def chosen(matches: Iterable[Match], sent: Mapping[str, str], menu: Menu, book: Book) -> list[Sold]:
    """What the form says is sold. Raises `NotChosen` with everything that is wrong in it."""
    sold, mixed, wrong = list[Sold](), list[Sold](), dict[int, tuple[str, ...]]()
    for match in matches:
        n = match.line.number
        do, other = sent.get(f"do-{n}", ""), sent.get(f"other-{n}", "").strip()
        try:
            if other:
                sold.append(_as_drink(match, _slug_of(other, book), sent, book))
            elif do == MIXED and match.mixed:
                must = f"must-{n}" in sent
                mixed += [Sold(n, slug, "", None, must) for slug in match.mixed]
            elif do != LEAVE:
                sold.append(_sold(match, do, sent, menu, book))
        except _WrongError as bad:
            wrong[n] = bad.sentences
    if wrong:
        raise NotChosen(wrong)
    by_themselves = {line.slug for line in sold}
    return [*sold, *(line for line in mixed if line.slug not in by_themselves)]


class _WrongError(ValueError):
    def __init__(self, *said: str) -> None:
        super().__init__(*said)
        self.sentences = said


def _slug_of(said: str, book: Book) -> str:
    found = book.by_key.get(key_of(said), ())
    if len(found) != 1:
        raise _WrongError(_("There is no drink “%(said)s” in the book.") % {"said": said[:80]})
    return found[0]


def _sold(match: Match, do: str, sent: Mapping[str, str], menu: Menu, book: Book) -> Sold:
    n = match.line.number
    if do == NEW:
        price = _price(sent.get(f"price-{n}", ""))
        name = " ".join(sent.get(f"name-{n}", "").split())
        if not name or len(name) > 80:
            raise _WrongError(_("A new drink needs a name, of at most 80 characters."))
        return Sold(n, None, name, price, f"must-{n}" in sent, spec=_spec(n, sent, menu))
    slug = do.removeprefix("drink ")
    if slug not in match.drinks:
        raise _WrongError(_("Choose one of these."))
    return _as_drink(match, slug, sent, book)


def _as_drink(match: Match, slug: str, sent: Mapping[str, str], book: Book) -> Sold:
    n, name = match.line.number, _name_for(match, slug, book)
    return Sold(n, slug, name, _price(sent.get(f"price-{n}", "")), f"must-{n}" in sent)


def _name_for(match: Match, slug: str, book: Book) -> str:
    """The menu's own name, which finds this drink from now on; empty where that says nothing new:
    it means a drink already, is a list of what goes in, or was a misspelling of this one."""
    line = match.line
    if key_of(line.name) in book.by_key or line.name == line.listed or len(line.name) > 80:
        return ""
    told = {
        By.BUILD: bool(line.listed),
        By.LIKE: True,
        By.NOTHING: True,
        By.SPELT: slug not in match.drinks,
    }
    return line.name if told.get(match.by) else ""


def _spec(n: int, sent: Mapping[str, str], menu: Menu) -> dict[str, object]:
    try:
        parts = read_parts(sent.get(f"parts-{n}", "")[:2000], menu.pantry)
        garnish = read_garnish(sent.get(f"garnish-{n}", "")[:500], menu.pantry)
    except CannotBuild as bad:
        raise _WrongError(*sentences(bad.reasons, menu)) from bad
    return {"parts": parts, "garnish": garnish}


def _price(said: str) -> Decimal | None:
    if not said.strip():
        return None
    try:
        price = read_money(said).quantize(Decimal("0.01"))
    except ValueError:
        raise _WrongError(_("That is no price. Write 9.50 or leave it empty.")) from None
    if not 0 <= price < _MOST_PRICE:
        raise _WrongError(_("That is no price. Write 9.50 or leave it empty."))
    return price
