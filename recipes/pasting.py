"""A menu that was pasted: what each of its lines means, what may be done with it, and what was
chosen."""

from __future__ import annotations

import datetime as dt
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from enum import StrEnum

from django.utils.translation import gettext as _

from barcourse.people.models import Venue
from recipes.grammar.aspects import fingerprint
from recipes.grammar.menu_book import Book, Known
from recipes.grammar.menu_lines import By, Match
from recipes.menu import Menu, resolve_all, revisions_at
from recipes.models import Recipe
from recipes.pasting_choices import LEAVE, MIXED, NEW, is_alias_at_first, may_be_alias
from recipes.pasting_draft import Prefilled, prefilled
from recipes.wording import label
from recipes.words_amounts import US_MEASURES

MOST_SOLD = 0.8
"""Must-knows are proposed until they make up this share of what is sold (our choice, no source)."""
FIRST = 15
"""So many are proposed where nothing is known of what sells."""


MORE = ("glass", "ice", "method", "module", "kind")
"""Fields of a new drink that are folded away."""


class Group(StrEnum):
    """Where a line stands on the form."""

    OPEN = "open"  # nobody has said yet what it is, or what was said can't be
    NEW = "new"
    CLEAR = "clear"
    OUT = "out"


@dataclass(frozen=True)
class Choice:
    value: str
    words: str
    chosen: bool


@dataclass(frozen=True)
class Row:
    """A line as it stands on the form: what it is taken for, and the fields as they are filled.
    `other` is a drink of the book by name, in the place of what is offered. `opens`: what a new
    drink would need stands open at once. `more`: its glass, ice, method, module, and the kind of
    what it brings."""

    number: int
    said: str
    how: str
    group: Group
    taken: str
    choices: tuple[Choice, ...]
    other: str
    name: str
    parts: str
    garnish: str
    price: str
    must_know: bool
    opens: bool
    alias: str  # the menu's name, where it may become another name of a drink
    alias_on: bool
    stock: bool
    more: Mapping[str, str]
    wrong: tuple[str, ...] = ()

    @property
    def anchor(self) -> str:
        return f"line-{self.number}"


def book_of(venue: Venue, menu: Menu, at: dt.datetime) -> Book:
    """Every drink of the house that hasn't left it for good, poured or not."""
    current = revisions_at(venue, at)
    recipes = Recipe.objects.in_house(venue).select_related("module")
    pairs = [(r, current[r.pk]) for r in recipes if r.pk in current and not r.is_retired(at)]
    found = resolve_all(pairs, menu.rules, menu.pantry)
    drinks = (Known(i.drink.slug, i.recipe.name, i.drink.aliases, i.drink.spec) for i in found)
    metric = menu.rules.country not in US_MEASURES
    return Book(tuple(drinks), menu.pantry, menu.rules.slang, metric)


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
    menu: Menu,
    shares: Mapping[str, float],
    sent: Mapping[str, str] | None = None,
    wrong: Mapping[int, tuple[str, ...]] | None = None,
) -> list[Row]:
    """The form: as it is proposed, or with `sent` as it came back."""
    proposed = must_knows(matches, shares)
    return [
        _row(m, _Page(book, menu, sent), m.chosen in proposed, (wrong or {}).get(m.line.number, ()))
        for m in matches
    ]


@dataclass(frozen=True)
class _Page:
    book: Book
    menu: Menu
    sent: Mapping[str, str] | None


def _row(match: Match, page: _Page, must: bool, wrong: tuple[str, ...]) -> Row:
    line, n = match.line, match.line.number
    book, sent = page.book, page.sent
    filled = sent or {}
    chosen = filled.get(f"do-{n}", _proposed(match)) if sent is not None else _proposed(match)
    offered = _offered(match, book)
    if chosen not in dict(offered):
        chosen = ""  # nothing was said, or what is offered has changed since
    choices = tuple(Choice(v, words, v == chosen) for v, words in offered)
    other = filled.get(f"other-{n}", "").strip()
    first = prefilled(match, page.menu) if sent is None else Prefilled()
    return Row(
        number=n,
        said=line.said,
        how=_how(match, book),
        group=Group.OPEN if wrong else _group(chosen, other),
        taken=other or _taken(choices, filled.get(f"name-{n}", line.name[:80])),
        choices=choices,
        other=other,
        name=filled.get(f"name-{n}", line.name[:80]),
        parts=filled.get(f"parts-{n}", first.parts),
        garnish=filled.get(f"garnish-{n}", first.garnish),
        price=filled.get(f"price-{n}", _priced(match)),
        must_know=must if sent is None else f"must-{n}" in sent,
        opens=chosen == NEW,
        alias=line.name if may_be_alias(match, book) else "",
        alias_on=is_alias_at_first(match, book) if sent is None else f"alias-{n}" in sent,
        stock=first.stock if sent is None else f"stock-{n}" in sent,
        more={field: filled.get(f"{field}-{n}", "") for field in MORE},
        wrong=wrong,
    )


def _offered(match: Match, book: Book) -> list[tuple[str, str]]:
    offered = [(f"drink {slug}", book.by_slug[slug].name) for slug in match.drinks]
    if match.mixed:
        names = ", ".join(book.by_slug[slug].name for slug in match.mixed)
        offered.append((MIXED, _("With a mixer: %(drinks)s") % {"drinks": names}))
    return [*offered, (NEW, _("A new drink")), (LEAVE, _("Leave it out"))]


def _taken(choices: Iterable[Choice], name: str) -> str:
    """What is chosen; of a new drink also its name."""
    for choice in choices:
        if choice.chosen:
            return _("new: %(name)s") % {"name": name} if choice.value == NEW else choice.words
    return ""


def _group(chosen: str, other: str) -> Group:
    if other:
        return Group.CLEAR
    return {"": Group.OPEN, NEW: Group.NEW, LEAVE: Group.OUT}.get(chosen, Group.CLEAR)


def _priced(match: Match) -> str:
    """A double's price is not that of its drink."""
    double = match.by in (By.DOUBLE, By.DOUBLE_ONLY)
    return "" if double or match.line.price is None else str(match.line.price)


def _proposed(match: Match) -> str:
    """Nothing where somebody has to decide."""
    if match.chosen:
        return f"drink {match.chosen}"
    proposals = {By.PATTERN: NEW, By.HEADING: LEAVE, By.DOUBLE: LEAVE}
    return proposals.get(match.by, "")


def without_open(matches: Iterable[Match], sent: Mapping[str, str]) -> dict[str, str]:
    """What the form says, with every line left out of which it says nothing."""
    said = dict(sent.items())
    for match in matches:
        n = match.line.number
        if not said.get(f"do-{n}") and not said.get(f"other-{n}", "").strip():
            said[f"do-{n}"] = LEAVE
    return said


def _how(match: Match, book: Book) -> str:
    said = label(match.by)
    if match.by is By.SPELT:
        said = _("read as %(drink)s") % {"drink": book.by_slug[match.drinks[0]].name}
    two = _("two prices: type the one that counts") if match.line.two_prices else ""
    strange = ", ".join(match.unread)
    unread = _("not in the house: %(words)s") % {"words": strange} if strange else ""
    guessed = match.draft and match.by is not By.PATTERN
    guess = _("as a new drink its amounts are guesses: check them") if guessed else ""
    return "; ".join(text for text in (said, two, unread, guess) if text)
