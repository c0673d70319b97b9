"""A menu as it is typed or copied: lines into names, what they list, and prices.

"Sea Breeze: vodka, cranberry, grapefruit … 10" has a name, a list and a price. A price is a
number at the end of a line, after a blank, dots or the sign of a currency; where two stand there
("6 / 8") nobody can tell which size the house means, so there is none. Strengths and volumes
("4.5 %", "330 ml") are no prices; "1,200.00" and "1.200" are twelve hundred. A line that only lists
goes with the line before it.
"""

import re
import unicodedata
from collections.abc import Iterable, Mapping
from dataclasses import dataclass, replace
from decimal import Decimal

from recipes.grammar.course import fold
from recipes.grammar.ingredients import Pantry

FILLERS = frozenset({
    "a", "an", "and", "the", "of", "with", "on", "our", "house", "n", "to", "over", "ice", "fresh",
    "served", "topped", "top", "in", "by",
})  # fmt: skip
"""Words of a menu that tell no two drinks apart."""

_SPELT = {"whisky": "whiskey", "whiskys": "whiskey", "whiskies": "whiskey", "whiskeys": "whiskey",
          "draft": "draught"}  # fmt: skip
"""Words that have two spellings, and the one that they are compared in."""

_SIGN = r"(?:[$£€¥]|\b[A-Z]{3}\b)"
_FIGURE = r"(?:\d{1,3}(?:[.,'\u2019]\d{3})+|\d{1,4})(?:[.,]\d{1,2})?"
_MONEY = re.compile(rf"{_SIGN}?\s?(?P<figure>{_FIGURE}|\d{{5,7}}(?:[.,]\d{{1,2}})?)\s?{_SIGN}?")
_PRICE = re.compile(
    rf"(?:^|(?<=[\s.…·_])|(?={_SIGN}))\s*{_SIGN}?\s?(?P<figure>{_FIGURE})\s?(?:{_SIGN}|,-|\.-)?$"
)
_BARE_PRICE = re.compile(rf"(?<=\s)(?P<figure>{_FIGURE})$")
_TWO = re.compile(rf"\s{_SIGN}?\s?{_FIGURE}\s?{_SIGN}?\s*[/|]\s*{_SIGN}?\s?{_FIGURE}\s?{_SIGN}?$")
_MEASURE = re.compile(
    r"\b\d+(?:[.,]\d+)?\s*(?:ml|cl|l|fl\.?\s?oz|oz|%(?:\s*(?:abv|vol\.?))?)(?!\w)", re.IGNORECASE
)
_BULLET = re.compile(r"^(?:[-*•·\u2013\u2014>]+|\d{1,3}[.)])\s+")
_LEADERS = re.compile(r"(?:\.{2,}|…|·{2,}|_{2,})")
_PARTING = re.compile(r"\s+[\u2013\u2014-]\s+|:\s+|\s*\|\s*|\t+|\s*\(")


@dataclass(frozen=True)
class MenuLine:
    """One drink of a menu. `whole` is the line without bullet, dots and measures but with what may
    be its price: "French 75" has none. `bare` is it without; `listed` is what follows the name."""

    number: int
    said: str
    whole: str
    bare: str
    name: str
    listed: str
    price: Decimal | None
    two_prices: bool = False


def read_menu(text: str, names: Mapping[str, str]) -> tuple[MenuLine, ...]:
    """The lines with something on them. `names` leads from names as `heard` to ingredients."""
    lines: list[MenuLine] = []
    for number, said in enumerate(text.splitlines(), start=1):
        if not fold(said):
            continue
        line = _read_line(number, " ".join(said.replace("\t", "  |  ").split()), names)
        if lines and _goes_on(lines[-1], line, names):
            lines[-1] = replace(lines[-1], listed=line.whole, said=f"{lines[-1].said} {line.said}")
        else:
            lines.append(line)
    return tuple(lines)


def _read_line(number: int, said: str, names: Mapping[str, str]) -> MenuLine:
    text = _MEASURE.sub(" ", _BULLET.sub("", said))
    two = _TWO.search(text)
    found = None if two else _PRICE.search(text)
    cut = two or found
    bare = _tidy(text[: cut.start()] if cut else text)
    if not fold(bare) and (found := _BARE_PRICE.search(text)):
        bare = _tidy(text[: found.start()])  # "IPA 7": three capitals and no currency
    if not fold(bare):
        bare, found = _tidy(text), None
    name, listed = _parted(bare, names)
    price = _figure(found["figure"]) if found else None
    return MenuLine(number, said, _tidy(text), bare, name, listed, price, two is not None)


def read_money(text: str) -> Decimal:
    """ "9.50", "9,5", "$1,200.00", "8 EUR". Raises ValueError for anything else."""
    found = _MONEY.fullmatch(text.strip())
    if found is None:
        raise ValueError(text)
    return _figure(found["figure"])


def _figure(said: str) -> Decimal:
    """Three digits after a point or comma part thousands, one or two are cents."""
    whole, cents = said, ""
    if found := re.search(r"[.,](\d{1,2})$", said):
        whole, cents = said[: found.start()], found[1]
    whole = re.sub(r"[^0-9]", "", whole)
    return Decimal(f"{whole}.{cents}" if cents else whole)


def _tidy(text: str) -> str:
    return " ".join(_LEADERS.sub(" ", text).split()).strip(" |-\u2013\u2014:;,.()")


def _parted(bare: str, names: Mapping[str, str]) -> tuple[str, str]:
    """Name and list. Where only commas part them, the first thing is the name unless it is an
    ingredient itself: then the whole is a list without a name of its own."""
    parted = _PARTING.split(bare, maxsplit=1)
    if len(parted) == 1 and "," in bare:
        first, rest = bare.split(",", 1)
        if heard(first) in names:
            return bare, bare
        parted = [first, rest]
    name = parted[0].strip()
    return name, parted[1].strip(" )|") if len(parted) > 1 else ""


def _goes_on(before: MenuLine, line: MenuLine, names: Mapping[str, str]) -> bool:
    """Whether the line only lists what the drink before it is made of."""
    if before.listed or line.price is not None or "," not in line.whole:
        return False
    found, unread = spoken_ingredients(line.whole, names)
    return len(found) > 1 and not unread


def spoken_ingredients(
    text: str, names: Mapping[str, str]
) -> tuple[tuple[tuple[str, str], ...], tuple[str, ...]]:
    """What the text names, in order, as (slug, the words for it); and the words left over.

    The longest name wins: "ginger beer" is no beer.
    """
    words, found, unread, at = heard(text).split(), dict[str, str](), list[str](), 0
    while at < len(words):
        for end in range(min(len(words), at + 5), at, -1):
            said = " ".join(words[at:end])
            if said in names:
                found.setdefault(names[said], said)
                at = end
                break
        else:
            if words[at] not in FILLERS:
                unread.append(words[at])
            at += 1
    return tuple(found.items()), tuple(unread)


def ingredient_names(pantry: Pantry, slang: Mapping[str, str]) -> dict[str, str]:
    """Slugs by everything said for them, the house's own slang first."""
    said = {heard(word): slug for word, slug in slang.items() if slug in pantry}
    for slug, item in pantry.items():
        for name in (item.name, *item.aliases, slug):
            said.setdefault(heard(name), slug)
    said.pop("", None)
    return said


def key_of(name: str) -> tuple[str, ...]:
    """What a name says whatever its order and its small words: "Gin & Tonic", "tonic and gin"."""
    return tuple(sorted(words_of(name)))


def words_of(name: str) -> Iterable[str]:
    return [word for word in heard(name).split() if word not in FILLERS]


def heard(text: str) -> str:
    """Folded, without accents, each word in one spelling: whisky is whiskey."""
    letters = unicodedata.normalize("NFKD", text)
    bare = "".join(c for c in letters if not unicodedata.combining(c))
    return " ".join(_SPELT.get(word, word) for word in fold(bare).split())
