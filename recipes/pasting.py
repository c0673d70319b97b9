"""A menu that was pasted: what each of its lines means, what may be done with it, and what was
chosen."""

from __future__ import annotations

import datetime as dt
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from decimal import Decimal, InvalidOperation

from django.utils.translation import gettext as _

from barcourse.people.models import Venue
from recipes.grammar.aspects import fingerprint
from recipes.grammar.lines import read_garnish, read_parts
from recipes.grammar.menu_lines import Book, By, Known, Match
from recipes.grammar.reasons import CannotBuild
from recipes.menu import Menu, resolve_all, revisions_at
from recipes.models import Recipe
from recipes.publish_pasted import Sold
from recipes.saying import sentences
from recipes.wording import label

MOST_SOLD = 0.8
"""Must-knows are proposed until they make up this share of what is sold (our choice, no source)."""
FIRST = 15
"""So many are proposed where nothing is known of what sells."""
_MOST_PRICE = Decimal(1_000_000)
NEW, LEAVE = "new", "leave"


@dataclass(frozen=True)
class Choice:
    value: str
    words: str
    chosen: bool


@dataclass(frozen=True)
class Row:
    """A line as it stands on the form: what it is taken for, and the fields as they are filled.
    `opens`: what a new drink would need stands open at once."""

    number: int
    said: str
    how: str
    sure: bool
    choices: tuple[Choice, ...]
    name: str
    parts: str
    garnish: str
    price: str
    must_know: bool
    opens: bool
    wrong: tuple[str, ...] = ()


class NotChosen(ValueError):  # noqa: N818  # an answer to who sent it, no error of the program
    """Lines that can't be taken as they are filled in: sentences by their number."""

    def __init__(self, wrong: Mapping[int, tuple[str, ...]]) -> None:
        super().__init__(f"{len(wrong)} lines")
        self.wrong = wrong


def book_of(venue: Venue, menu: Menu, at: dt.datetime) -> Book:
    """Every drink of the house that hasn't left it for good, poured or not."""
    current = revisions_at(venue, at)
    recipes = Recipe.objects.in_house(venue).select_related("module")
    pairs = [(r, current[r.pk]) for r in recipes if r.pk in current and not r.is_retired(at)]
    found = resolve_all(pairs, menu.rules, menu.pantry)
    drinks = (Known(i.drink.slug, i.recipe.name, i.drink.aliases, i.drink.spec) for i in found)
    return Book(tuple(drinks), menu.pantry, menu.rules.slang)


def seen_digest(matches: Iterable[Match]) -> str:
    """Of what the lines were taken for: whoever was overtaken looks once more."""
    return fingerprint([[m.line.number, m.by.value, *m.drinks, *m.draft] for m in matches])


def must_knows(matches: Iterable[Match], shares: Mapping[str, float]) -> set[str]:
    """The drinks of the menu that sell most, until they are `MOST_SOLD` of what it sells; where
    every share is the same, the first of the menu."""
    sold = list(dict.fromkeys(m.chosen for m in matches if m.chosen))
    if not sales_known(sold, shares):
        return set(sold[:FIRST])
    ranked = sorted(sold, key=lambda slug: -shares[slug])
    most, reached, found = MOST_SOLD * sum(shares[s] for s in sold), 0.0, set[str]()
    for slug in ranked:
        if reached >= most:
            break
        found.add(slug)
        reached += shares[slug]
    return found


def sales_known(slugs: Iterable[str], shares: Mapping[str, float]) -> bool:
    """Whether the shares tell these drinks apart at all."""
    return len({shares[slug] for slug in slugs}) > 1


def rows(
    matches: Sequence[Match],
    book: Book,
    shares: Mapping[str, float],
    sent: Mapping[str, str] | None = None,
    wrong: Mapping[int, tuple[str, ...]] | None = None,
) -> list[Row]:
    """The form: as it is proposed, or with `sent` as it came back."""
    proposed = must_knows(matches, shares)
    return [_row(m, book, m.chosen in proposed, sent, (wrong or {}).get(m.line.number, ()))
            for m in matches]  # fmt: skip


def _row(
    match: Match, book: Book, must: bool, sent: Mapping[str, str] | None, wrong: tuple[str, ...]
) -> Row:
    line, n = match.line, match.line.number
    filled = sent or {}
    chosen = filled.get(f"do-{n}", _proposed(match)) if sent is not None else _proposed(match)
    offered = [(f"drink {slug}", book.by_slug[slug].name) for slug in match.drinks]
    offered += [(NEW, _("A new drink")), (LEAVE, _("Leave it out"))]
    return Row(
        number=n,
        said=line.said,
        how=_how(match, book),
        sure=match.chosen is not None,
        choices=tuple(Choice(value, words, value == chosen) for value, words in offered),
        name=filled.get(f"name-{n}", line.name[:80]),
        parts=filled.get(f"parts-{n}", "\n".join(match.draft)),
        garnish=filled.get(f"garnish-{n}", _garnish(match, book)),
        price=filled.get(f"price-{n}", "" if line.price is None else str(line.price)),
        must_know=must if sent is None else f"must-{n}" in sent,
        opens=bool(wrong) or chosen == NEW or (match.by is By.NOTHING and bool(match.draft)),
        wrong=wrong,
    )


def _proposed(match: Match) -> str:
    """Nothing where somebody has to decide."""
    if match.chosen:
        return f"drink {match.chosen}"
    return {By.PATTERN: NEW, By.HEADING: LEAVE}.get(match.by, "")


def _how(match: Match, book: Book) -> str:
    said = label(match.by)
    if match.by is By.SPELT:
        said = _("read as %(drink)s") % {"drink": book.by_slug[match.drinks[0]].name}
    two = _("two prices: type the one that counts") if match.line.two_prices else ""
    strange = ", ".join(match.unread)
    unread = _("not understood: %(words)s") % {"words": strange} if strange else ""
    return "; ".join(text for text in (said, two, unread) if text)


def _garnish(match: Match, book: Book) -> str:
    return book.pantry[match.garnish].name if match.garnish else ""


def chosen(matches: Iterable[Match], sent: Mapping[str, str], menu: Menu) -> list[Sold]:
    """What the form says is sold. Raises `NotChosen` with everything that is wrong in it."""
    sold, wrong = [], dict[int, tuple[str, ...]]()
    for match in matches:
        n = match.line.number
        do = sent.get(f"do-{n}", "")
        if do == LEAVE:
            continue
        try:
            sold.append(_sold(match, do, sent, menu))
        except _WrongError as bad:
            wrong[n] = bad.sentences
    if wrong:
        raise NotChosen(wrong)
    return sold


class _WrongError(ValueError):
    def __init__(self, *said: str) -> None:
        super().__init__(*said)
        self.sentences = said


def _sold(match: Match, do: str, sent: Mapping[str, str], menu: Menu) -> Sold:
    n = match.line.number
    price, must = _price(sent.get(f"price-{n}", "")), f"must-{n}" in sent
    if do == NEW:
        name = " ".join(sent.get(f"name-{n}", "").split())
        if not name or len(name) > 80:
            raise _WrongError(_("A new drink needs a name, of at most 80 characters."))
        return Sold(n, None, name, price, must, spec=_spec(n, sent, menu))
    slug = do.removeprefix("drink ")
    if slug not in match.drinks:
        raise _WrongError(_("Choose one of these."))
    named = match.by is By.BUILD and match.line.listed and match.line.name != match.line.listed
    return Sold(n, slug, match.line.name if named else "", price, must)


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
        price = Decimal(said.strip().replace(",", ".")).quantize(Decimal("0.01"))
    except InvalidOperation:
        raise _WrongError(_("That is no price. Write 9.50 or leave it empty.")) from None
    if not 0 <= price < _MOST_PRICE:
        raise _WrongError(_("That is no price. Write 9.50 or leave it empty."))
    return price
