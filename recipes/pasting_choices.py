"""What was chosen for each line of a pasted menu, and why it can't be taken."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from decimal import Decimal

from django.utils.translation import gettext as _

from recipes.grammar.course import fold
from recipes.grammar.ingredients import Ingredient, Kind
from recipes.grammar.menu_book import Book
from recipes.grammar.menu_lines import By, Match
from recipes.grammar.menu_text import key_of, read_money, words_of
from recipes.grammar.near import near
from recipes.grammar.reasons import CannotBuild
from recipes.menu import Menu
from recipes.pasting_draft import as_stock, typed_spec, unknown_in
from recipes.publish_pasted import Sold
from recipes.saying import sentences

NEW, LEAVE, MIXED = "new", "leave", "mixed"
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
        spec, module = _spec(n, sent, menu), sent.get(f"module-{n}", "")
        return Sold(n, None, name, price, f"must-{n}" in sent, spec=spec, module=module)
    slug = do.removeprefix("drink ")
    if slug not in match.drinks:
        raise _WrongError(_("Choose one of these."))
    return _as_drink(match, slug, sent, book)


def _as_drink(match: Match, slug: str, sent: Mapping[str, str], book: Book) -> Sold:
    """With the tick the menu's own name finds this drink from now on."""
    n = match.line.number
    name = match.line.name if f"alias-{n}" in sent and may_be_alias(match, book) else ""
    return Sold(n, slug, name, _price(sent.get(f"price-{n}", "")), f"must-{n}" in sent)


def may_be_alias(match: Match, book: Book) -> bool:
    """Whether the menu's name says anything new: it means no drink yet and is no mere list of what
    goes in."""
    line = match.line
    known = key_of(line.name) in book.by_key
    return not known and not match.called and line.name != line.listed and 0 < len(line.name) <= 80


def is_alias_at_first(match: Match, book: Book) -> bool:
    """The tick is set where the names are near, or where the menu lists just what is in it under a
    name of its own. A strange word alone is never taken for a drink's other name."""
    if match.by is By.BUILD and match.line.listed:
        return True
    if match.by is By.SPELT or len(match.drinks) != 1:
        return False  # a slip is no name
    names = {n: slug for n, slug in book.spelt.items() if slug == match.drinks[0]}
    return bool(near(" ".join(words_of(match.line.name)), names))


def stock_of(matches: Iterable[Match], sent: Mapping[str, str], menu: Menu) -> list[Ingredient]:
    """What new drinks need and the house doesn't have, where it is ticked to be taken in."""
    found: dict[str, Ingredient] = {}
    for match in matches:
        n = match.line.number
        if sent.get(f"do-{n}") != NEW or f"stock-{n}" not in sent:
            continue
        said = sent.get(f"kind-{n}", "")
        kind = Kind(said) if said in set(Kind) else None
        for name in unknown_in(_parts(n, sent), _garnish(n, sent), menu.pantry):
            item = as_stock(name, kind)
            if item is not None:
                found.setdefault(fold(name), item)
    return list(found.values())


def _parts(n: int, sent: Mapping[str, str]) -> str:
    return sent.get(f"parts-{n}", "")[:2000]


def _garnish(n: int, sent: Mapping[str, str]) -> str:
    return sent.get(f"garnish-{n}", "")[:500]


def _spec(n: int, sent: Mapping[str, str], menu: Menu) -> dict[str, object]:
    more = {field: sent.get(f"{field}-{n}", "") for field in ("glass", "ice", "method")}
    try:
        spec = typed_spec(_parts(n, sent), _garnish(n, sent), more, menu, menu.pantry)
    except CannotBuild as bad:
        said = sentences(bad.reasons, menu)
        if any(reason.code == "unknown_ingredient" for reason in bad.reasons):
            said.append(
                _("Nothing in its name says what kind of thing it is: choose that under “More”.")
                if f"stock-{n}" in sent
                else _("Tick “Take unknown ingredients in as new” to have it from now on.")
            )
        raise _WrongError(*said) from bad
    return dict(spec)


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
