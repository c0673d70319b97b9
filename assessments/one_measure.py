"""Choices of pours beside one another, all in one measure: where one says "330 ml" among pours, its
unit would give it away. So would a word that stands with one of them alone."""

from __future__ import annotations

from collections.abc import Sequence

from recipes.grammar.aspects import Content
from recipes.grammar.units import US_FLOZ_ML, Unit
from recipes.words_amounts import US_MEASURES

VOLUMES = frozenset({Unit.POUR, Unit.ML, Unit.CL, Unit.FLOZ, Unit.IMPERIAL_FLOZ})


def in_one_measure(contents: Sequence[Content], country: str) -> list[Content]:
    """These contents of the pours as they are asked side by side. As they stand where all are in
    one measure already, or where two would read the same."""
    units = {p[2] for content in contents for p in content["poured"] if p[2] in VOLUMES}
    free = len({content["alcohol_free"] for content in contents}) == 1
    told = [
        {**content, "alcohol_free": content["alcohol_free"] and free, "poured": content["poured"]}
        for content in contents
    ]
    if len(units) < 2:
        return list(told)
    same = [{**c, "poured": [_as_volume(p, country) for p in c["poured"]]} for c in told]
    return list(same) if _different(same) == _different(told) else list(told)


def _different(contents: Sequence[Content]) -> int:
    """How many there are that read unlike any other."""
    return len({str([list(p)[:3] for p in content["poured"]]) for content in contents})


def _as_volume(entry: Sequence[str], country: str) -> list[str]:
    """One entry of an aspect's pours: ingredient, amount, unit, ml, measured by."""
    ingredient, _amount, unit, ml, by = entry
    if unit not in VOLUMES or not ml:
        return list(entry)
    if country in US_MEASURES:
        eighths = max(1, round(float(ml) / US_FLOZ_ML * 8)) / 8
        return [ingredient, f"{eighths:.3f}", Unit.FLOZ.value, ml, by]
    return [ingredient, f"{round(float(ml), 1):.3f}", Unit.ML.value, ml, by]
