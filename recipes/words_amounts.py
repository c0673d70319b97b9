"""Amounts as a bartender says them: "1½ pours", "45 ml", "2 dashes", "6 leaves"."""

import math
from collections.abc import Callable
from fractions import Fraction

from django.utils.formats import number_format
from django.utils.translation import gettext as _
from django.utils.translation import ngettext

from recipes.grammar.units import US_FLOZ_ML, Unit

_GLYPHS = {
    Fraction(1, 8): "⅛",
    Fraction(1, 4): "¼",
    Fraction(1, 3): "⅓",
    Fraction(3, 8): "⅜",
    Fraction(1, 2): "½",
    Fraction(5, 8): "⅝",
    Fraction(2, 3): "⅔",
    Fraction(3, 4): "¾",
    Fraction(7, 8): "⅞",
}
_CLOSE = 0.004
"""How near a number must be to a fraction to be written as one: 0.33 and 0.667 are."""

US_MEASURES = frozenset({"us"})
"""Countries whose bars speak of fluid ounces; everywhere else it is millilitres."""


def number_words(value: float) -> str:
    """ "1½", "⅔", "22.5": a bar's fraction where there is one, else at most two decimals."""
    whole = math.floor(value + _CLOSE)
    rest = value - whole
    if abs(rest) <= _CLOSE:
        return number_format(whole)
    for fraction, glyph in _GLYPHS.items():
        if abs(rest - fraction) <= _CLOSE:
            return f"{number_format(whole) if whole else ''}{glyph}"
    return _decimal(value)


def _decimal(value: float) -> str:
    return number_format(f"{value:.2f}".rstrip("0").rstrip("."))


def volume_words(ml: float, country: str = "us") -> str:
    """A volume in the measure of the country, rounded to what can be seen in a glass."""
    if country not in US_MEASURES:
        return _("%(n)s ml") % {"n": number_words(round(ml))}
    eighths = round(ml / US_FLOZ_ML * 8) / 8
    return _("%(n)s fl oz") % {"n": number_words(eighths)}


def measure_words(ml: float, country: str = "us") -> str:
    """What is measured out, to the tenth of a millilitre: "35.5 ml" is a measure, 36 is not."""
    if country in US_MEASURES:
        return volume_words(ml, country)
    return _("%(n)s ml") % {"n": _decimal(round(ml, 1))}


_Template = Callable[[int], str]

_SAID: dict[Unit, _Template] = {
    # The count is that of the plural rule; the number itself may be "1½".
    Unit.POUR: lambda c: ngettext("%(n)s pour", "%(n)s pours", c),
    Unit.ML: lambda c: _("%(n)s ml"),
    Unit.CL: lambda c: _("%(n)s cl"),
    Unit.FLOZ: lambda c: _("%(n)s fl oz"),
    Unit.IMPERIAL_FLOZ: lambda c: _("%(n)s imperial fl oz"),
    Unit.US_PINT: lambda c: ngettext("%(n)s US pint", "%(n)s US pints", c),
    Unit.IMPERIAL_PINT: lambda c: ngettext("%(n)s pint", "%(n)s pints", c),
    Unit.TSP: lambda c: ngettext("%(n)s teaspoon", "%(n)s teaspoons", c),
    Unit.BARSPOON: lambda c: ngettext("%(n)s bar spoon", "%(n)s bar spoons", c),
    Unit.DASH: lambda c: ngettext("%(n)s dash", "%(n)s dashes", c),
    Unit.SPLASH: lambda c: ngettext("%(n)s splash", "%(n)s splashes", c),
    Unit.PIECE: lambda c: ngettext("%(n)s piece", "%(n)s pieces", c),
    Unit.LEAF: lambda c: ngettext("%(n)s leaf", "%(n)s leaves", c),
}

_METRIC = frozenset({Unit.ML, Unit.CL})  # nobody reads a third of a millilitre


def _plural(amount: float) -> int:
    """½ and 1 take the singular, 1½ the plural."""
    return max(1, math.ceil(amount - _CLOSE))


def amount_words(
    amount: float, unit: Unit | str, ml: float | None = None, country: str = "us"
) -> str:
    """What a bartender says. With `ml`, a house pour also says how much that is here."""
    unit = Unit(unit)
    number = _decimal(amount) if unit in _METRIC else number_words(amount)
    said = _SAID[unit](_plural(amount)) % {"n": number}
    if unit is Unit.POUR and ml:
        values = {"amount": said, "volume": measure_words(ml, country)}
        return _("%(amount)s (%(volume)s)") % values
    return said


def part_words(
    amount: float, unit: Unit | str, item: str, ml: float | None = None, country: str = "us"
) -> str:
    """An amount of something: "1 pour vodka", "6 leaves of mint", "½ lime", "3 × raspberry"."""  # noqa: RUF002
    unit = Unit(unit)
    values = {"n": number_words(amount), "item": item}
    if unit is Unit.PIECE:
        many = amount > 1 + _CLOSE
        said = _("%(n)s × %(item)s") if many else _("%(n)s %(item)s")  # noqa: RUF001
        return said % values
    if unit is Unit.LEAF:
        said = ngettext("%(n)s leaf of %(item)s", "%(n)s leaves of %(item)s", _plural(amount))
        return said % values
    values = {"amount": amount_words(amount, unit, ml, country), "item": item}
    return _("%(amount)s %(item)s") % values


def share_words(percent: float) -> str:
    """A share of the room: "½", "⅓", else "40 %"."""
    for fraction, glyph in _GLYPHS.items():
        if abs(percent - 100 * fraction) <= 0.51:
            return glyph
    return _("%(n)s %%") % {"n": number_words(round(percent))}
