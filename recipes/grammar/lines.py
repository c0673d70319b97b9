"""A recipe as lines of text, as a trainer types it.

A part a line (or several on one, with `;` between):

    1 pour vodka                 measured; also 45 ml, 1.5 fl oz, ½ pour, 1 1/2 pours
    top cranberry juice          to the top; `top 2 shares cola` takes twice the room of its like
    2 dashes bitters             dashes and splashes are dashed; `measured 1 splash ...` is not
    first in 0.5 pour grenadine  under the ice
    muddle 6 leaves mint
    float 0.5 pour cream         last, on top

Units: pour, ml, cl, fl oz (the US one), imperial fl oz, US pint, imperial pint, teaspoon, bar
spoon, dash, splash, piece, leaf; a number alone counts pieces. Ingredients go by name, other name
or slug, in any case.

A garnish a line: `always lime wedge` (or just `lime wedge`), `ask lemon`, `on request mint`.
`none` says that there is none; no line at all leaves it to the house.

What is written is read back as the same parts, for every recipe.
"""

import re
from collections.abc import Callable, Iterable, Iterator
from fractions import Fraction
from typing import Any

from rapidfuzz import fuzz, process

from recipes.grammar.course import fold
from recipes.grammar.ingredients import LiquorClass, Pantry
from recipes.grammar.reasons import CannotBuild, Reason
from recipes.grammar.spec import Garnish, How, Part, When
from recipes.grammar.unit_words import UNIT_WORDS
from recipes.grammar.units import Unit

CODES = frozenset(
    {
        "amount_negative",
        "amount_range",
        "line_without_ingredient",
        "misspelt_ingredient",
        "number_unreadable",
        "unknown_unit",
        "which_pint",
    }
)
"""Codes that only lines give. Every reason from here says the `line`, counted from 1."""

NONE = "none"
Said = dict[str, Any]
"""A part or garnish as `refusals.read_spec` takes it."""

_HOWS = {
    "first in": How.FIRST_IN,
    "measured": How.MEASURED,
    "muddle": How.MUDDLED,
    "float": How.FLOAT,
    "top": How.TOP,
}
_WHENS = {"on request": When.ON_REQUEST, "always": When.ALWAYS, "ask": When.ASK}
_UNIT_OF = {word.casefold(): unit for unit, words in UNIT_WORDS.items() for word in words}
_SHARE = ("share", "shares")
_GLYPHS = {
    "½": Fraction(1, 2),
    "⅓": Fraction(1, 3),
    "⅔": Fraction(2, 3),
    "¼": Fraction(1, 4),
    "¾": Fraction(3, 4),
    "⅛": Fraction(1, 8),
    "⅜": Fraction(3, 8),
    "⅝": Fraction(5, 8),
    "⅞": Fraction(7, 8),
}
_NUMBER = re.compile(
    rf"""(?P<number>
        (?:\d+\s+)? \d+ / \d+            # 1/2, 1 1/2
        | (?:\d+\s*)? [{"".join(_GLYPHS)}]  # ½, 1½
        | \d+ (?:[.,]\d+)* (?:e[+-]?\d+)?
    )\s*""",
    re.VERBOSE | re.IGNORECASE,
)
_NEGATIVE = re.compile(r"(?<![\w)])[-\u2212\u2013](?=[\d½⅓⅔¼¾⅛⅜⅝⅞])")
_RANGE = re.compile(
    r"(?P<range>\d+(?:[.,]\d+)?\s*(?:[-\u2013\u2014]|to\b)\s*\d+(?:[.,]\d+)?)(?![\d/])",
    re.IGNORECASE,
)
_NO_NUMBER = re.compile(r"(?:nan|inf|infinity|none|null)\s", re.IGNORECASE)
"""What programs write where there was no number."""
_OF = re.compile(r"^of\s+", re.IGNORECASE)
_ALIKE = 80.0
"""From what likeness on (0 to 100, rapidfuzz ratio) a misspelling is worth asking about."""


class _UnreadableError(ValueError):
    def __init__(self, reason: Reason) -> None:
        super().__init__(reason.code)
        self.reason = reason


def read_parts(text: str, pantry: Pantry) -> list[Said]:
    """The parts that the lines say; `CannotBuild` with a reason for each that can't be read."""
    stock = _Stock(pantry)
    return _each_line(text, lambda line: _read_part(line, stock))


def read_garnish(text: str, pantry: Pantry) -> list[Said] | None:
    """The garnish that the lines say: None for no lines, nothing for `none`."""
    lines = [line.casefold() for _, line in _lines(text)]
    if not lines:
        return None
    if lines == [NONE]:
        return []
    stock = _Stock(pantry)
    return _each_line(text, lambda line: _read_garnish(line, stock))


def read_amount(text: str) -> float:
    """A number by itself: "1.5", "1,5", "½", "1 1/2". Raises ValueError for anything else."""
    try:
        amount, rest = _read_number(text.strip())
    except _UnreadableError as bad:
        raise ValueError(text) from bad
    if amount is None or rest:
        raise ValueError(text)
    return amount


def write_amount(value: float) -> str:
    """As short as reads back the same: "2", "1.5", "1/3"."""
    if value == int(value):
        return str(int(value))
    thirds = round(value * 3)
    return f"{thirds}/3" if thirds / 3 == value else repr(value)


def write_parts(parts: Iterable[Part], pantry: Pantry) -> str:
    stock = _Stock(pantry)
    return "\n".join(_write_part(part, stock) for part in parts)


def write_garnish(garnish: Iterable[Garnish] | None, pantry: Pantry) -> str:
    if garnish is None:
        return ""
    stock, said = _Stock(pantry), {when: word for word, when in _WHENS.items()}
    return "\n".join(f"{said[g.when]} {stock.name_of(g.item)}" for g in garnish) or NONE


class _Stock:
    """What the house has, by what people call it: a slug beats a name, a name beats an alias."""

    def __init__(self, pantry: Pantry) -> None:
        self.pantry = pantry
        self.slugs: dict[str, str] = {}
        names = ((i.name, i.slug) for i in pantry.values())
        aliases = ((alias, i.slug) for i in pantry.values() for alias in i.aliases)
        for said, slug in (*((s, s) for s in pantry), *names, *aliases):
            self.slugs.setdefault(fold(said), slug)

    def slug_of(self, said: str) -> str | None:
        return self.slugs.get(fold(said)) if fold(said) else None

    def name_of(self, slug: str) -> str:
        """The name where it leads back to this ingredient, else the slug."""
        name = self.pantry[slug].name if slug in self.pantry else slug
        plain = name == " ".join(name.split()) and ";" not in name
        return name if plain and self.slug_of(name) == slug else slug

    def find(self, said: str) -> str:
        """The slug of what was typed, or why there is none."""
        said = said.strip()
        if not fold(said):
            raise _UnreadableError(Reason.of("line_without_ingredient"))
        slug = self.slug_of(said) or self.slug_of(_OF.sub("", said))
        if slug is not None:
            return slug
        near = process.extract(fold(said), list(self.slugs), scorer=fuzz.ratio, limit=1)
        if not near or near[0][1] < _ALIKE:
            raise _UnreadableError(Reason.of("unknown_ingredient", ingredient=said[:80]))
        meant = self.slugs[near[0][0]]
        raise _UnreadableError(Reason.of("misspelt_ingredient", said=said[:80], ingredient=meant))


def _each_line(text: str, read: Callable[[str], Said]) -> list[Said]:
    said, reasons = [], []
    for number, line in _lines(text):
        try:
            said.append(read(line))
        except _UnreadableError as bad:
            values = {**bad.reason.values, "line": number}
            reasons.append(Reason.of(bad.reason.code, **values))
    if reasons:
        raise CannotBuild(tuple(reasons))
    return said


def _lines(text: str) -> Iterator[tuple[int, str]]:
    """Lines with something on them; a line may hold several, parted by semicolons."""
    for number, row in enumerate(text.splitlines(), start=1):
        for line in row.split(";"):
            if line.strip():
                yield number, " ".join(line.split())


def _after(text: str, words: Iterable[str]) -> tuple[str | None, str]:
    """The longest of these words that the text begins with, and what follows it."""
    low = text.casefold()
    for word in sorted(words, key=len, reverse=True):
        if low == word or low.startswith(f"{word} "):
            return word, text[len(word) :].strip()
    return None, text


def _read_part(line: str, stock: _Stock) -> Said:
    how_said, rest = _after(line, _HOWS)
    how = _HOWS[how_said] if how_said else How.MEASURED
    if how is How.TOP:
        return _read_top(rest, stock)
    if found := _RANGE.match(rest):
        raise _UnreadableError(Reason.of("amount_range", said=found["range"][:40]))
    if _NO_NUMBER.match(rest):
        raise _UnreadableError(Reason.of("number_unreadable", said=rest.split()[0][:40]))
    if _NEGATIVE.search(rest):
        raise _UnreadableError(Reason.of("amount_negative", said=line[:80]))
    amount, rest = _read_number(rest)
    if amount is None:
        raise _UnreadableError(Reason.of("amount_missing", ingredient=stock.find(rest)))
    unit, rest = _read_unit(rest)
    if unit is Unit.PIECE:
        _refuse_unknown_unit(rest, stock)
    if how_said is None and unit in (Unit.DASH, Unit.SPLASH):
        how = How.DASH
    return {"ingredient": stock.find(rest), "how": how, "amount": amount, "unit": unit}


def _read_top(said: str, stock: _Stock) -> Said:
    if slug := stock.slug_of(said):
        return {"ingredient": slug, "how": How.TOP}
    amount, rest = _read_number(said)
    share, named = _after(rest, _SHARE)
    if amount is not None and share:
        return {"ingredient": stock.find(named), "how": How.TOP, "share": amount}
    if amount is not None:
        raise _UnreadableError(
            Reason.of("top_with_amount", ingredient=stock.find(_read_unit(rest)[1]))
        )
    return {"ingredient": stock.find(said), "how": How.TOP}


def _read_unit(text: str) -> tuple[Unit, str]:
    word, rest = _after(text, _UNIT_OF)
    if word:
        return _UNIT_OF[word], rest
    if _after(text, ("pint", "pints"))[0]:
        raise _UnreadableError(Reason.of("which_pint"))
    return Unit.PIECE, text


def _refuse_unknown_unit(said: str, stock: _Stock) -> None:
    """Where a liquid is named behind words that measure nothing: "3 glugs gin". Nobody counts
    pieces of a liquid, so these words were meant as its measure."""
    words = said.split()
    if stock.slug_of(said):
        return
    for end in range(1, len(words)):
        slug = stock.slug_of(_OF.sub("", " ".join(words[end:])))
        if slug and stock.pantry[slug].liquor_class is not LiquorClass.SOLID:
            unit = " ".join(words[:end])[:40]
            raise _UnreadableError(Reason.of("unknown_unit", said=unit, ingredient=slug))


def _read_number(text: str) -> tuple[float | None, str]:
    """The number that the text begins with, None where it begins with a letter."""
    found = _NUMBER.match(text)
    if found is None:
        return None, text
    said = found["number"]
    try:
        return float(_fraction(said)), text[found.end() :]
    except (ValueError, ZeroDivisionError, OverflowError) as bad:
        raise _UnreadableError(Reason.of("number_unreadable", said=said[:40])) from bad


def _fraction(said: str) -> Fraction | float:
    """A comma is a decimal sign where at most two digits follow; else nobody knows which it is."""
    if said[-1] in _GLYPHS:
        return Fraction(said[:-1].strip() or "0") + _GLYPHS[said[-1]]
    if "/" in said:
        return sum((Fraction(word) for word in said.split()), Fraction(0))
    if "," in said and not re.fullmatch(r"\d+,\d{1,2}", said):
        raise ValueError(said)
    return float(said.replace(",", "."))


def _read_garnish(line: str, stock: _Stock) -> Said:
    word, rest = _after(line, _WHENS)
    return {"item": stock.find(rest), "when": _WHENS[word] if word else When.ALWAYS}


def _write_part(part: Part, stock: _Stock) -> str:
    name = stock.name_of(part.ingredient)
    if part.how is How.TOP:
        words = "" if part.share == 1 else f"{write_amount(part.share)} shares "
        return f"top {words}{name}"
    amount = part.amount or 0.0
    one, many, *_ = UNIT_WORDS[part.unit]
    how = {how: word for word, how in _HOWS.items()}.get(part.how, "")
    if part.how is How.MEASURED and part.unit not in (Unit.DASH, Unit.SPLASH):
        how = ""
    return f"{how} {write_amount(amount)} {many if amount > 1 else one} {name}".strip()
