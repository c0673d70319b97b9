"""Volumes as a trainer types them and as a page says them: fluid ounces or millilitres."""

from __future__ import annotations

import math
from collections.abc import Iterable, Mapping
from dataclasses import dataclass

from django.utils.formats import number_format
from django.utils.translation import gettext as _
from django.utils.translation import gettext_lazy as _lazy

from assessments import checklist
from recipes.grammar.house_spec import HouseSpec
from recipes.grammar.units import ML, US_FLOZ_ML, Unit
from recipes.words_amounts import US_MEASURES, amount_words

UNIT_WORDS = {Unit.FLOZ: _lazy("fl oz"), Unit.ML: _lazy("ml")}

PINTS = {"us": Unit.US_PINT, "gb": Unit.IMPERIAL_PINT, "ie": Unit.IMPERIAL_PINT}
"""Countries where draught is counted in pints."""

MOST = 2000.0
"""More of any unit than anybody pours."""


class NoVolume(ValueError):  # noqa: N818  (read as a sentence: raise NoVolume)
    """What was typed is no volume; `code` is that of the refusal that says so."""

    code = "pours_impossible"


class TooLarge(NoVolume):
    """It is a volume, but nobody pours so much."""

    code = "pours_too_large"


def unit_of(country: str) -> Unit:
    return Unit.FLOZ if country in US_MEASURES else Unit.ML


def read_number(said: str) -> float:
    """A number from 0 as it is typed on a phone, with a point or a comma. Raises NoVolume."""
    try:
        number = float(said.strip().replace(",", "."))
    except ValueError:
        raise NoVolume(said) from None
    if not (math.isfinite(number) and number >= 0):
        raise NoVolume(said)
    if number > MOST:
        raise TooLarge(said)
    return number


def read_numbers(said: Iterable[str]) -> list[float]:
    """What was typed into several fields; the empty ones are left out."""
    return [read_number(s) for s in said if s.strip()]


def sizes_read(density: float | None) -> tuple[float, ...]:
    """Millilitres in one of what pours are read off in: grams of that density, or a cylinder's."""
    return (1.0, US_FLOZ_ML) if density is None else (1 / density,)


def fine_words(ml: float, country: str, *, signed: bool = False) -> str:
    """A volume as finely as a cylinder shows it: "0.875 fl oz", "24.6 ml"; "+0.04 fl oz" signed."""
    ounces = unit_of(country) is Unit.FLOZ
    places = 3 if ounces else 1
    value = round(ml / US_FLOZ_ML if ounces else ml, places) + 0.0
    sign = "+" if signed and value > 0 else ""
    number = sign + number_format(f"{value:.{places}f}".rstrip("0").rstrip("."))
    return (_("%(n)s fl oz") if ounces else _("%(n)s ml")) % {"n": number}


def drawn_words(ml: float, country: str) -> str:
    """What a keg gave, to a tenth: in pints where the country draws them, else in litres."""
    unit = PINTS.get(country)
    value = round(ml / ML[unit] if unit else ml / 1000, 1)
    if unit:
        return amount_words(value, unit)
    return _("%(n)s l") % {"n": number_format(value)}


@dataclass(frozen=True)
class PourField:
    """A pour of a checklist that can be measured: its name in the form, and what is typed."""

    name: str
    does: str
    typed: str


PREFIX = "measured-"


def pour_fields(
    spec: HouseSpec, does: Mapping[str, str], typed: Mapping[str, str], prefix: str = PREFIX
) -> list[PourField]:
    """`does`: what each step is called, by its key."""
    return [
        PourField(prefix + key, does[key], typed.get(prefix + key, ""))
        for key in checklist.measurable(spec)
        if key in does
    ]


def measured(typed: Mapping[str, str], country: str, prefix: str = PREFIX) -> dict[str, float]:
    """Millilitres by the key of the step; raises NoVolume."""
    size = US_FLOZ_ML if unit_of(country) is Unit.FLOZ else 1.0
    return {
        name.removeprefix(prefix): read_number(said) * size
        for name, said in typed.items()
        if name.startswith(prefix) and said.strip()
    }
