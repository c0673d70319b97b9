"""Lines of a pasted menu that no drink is called, read as a guest would say them."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import replace

from recipes.grammar.calls import Reading, Status
from recipes.grammar.lines import write_parts
from recipes.grammar.menu_lines import By, Match
from recipes.hearing import hear_on
from recipes.menu import Menu


def heard_as_calls(matches: Iterable[Match], menu: Menu) -> tuple[Match, ...]:
    """“Spiced rum and cola” is no drink of the book and can be built all the same: as a guest says
    it. Nothing is taken, only offered; a draft needs every word to be read."""
    return tuple(_heard(m, menu) if _is_open(m) else m for m in matches)


def _is_open(match: Match) -> bool:
    return match.by in (By.NOTHING, By.LIKE) and not match.line.listed and not match.draft


def _heard(match: Match, menu: Menu) -> Match:
    reading = hear_on(match.line.name, menu)
    if len(reading.drinks) != 1:
        return match
    [drink] = reading.drinks
    if drink.recipe is not None and not drink.changes:
        others = [slug for slug in match.drinks if slug != drink.recipe]
        return replace(match, by=By.LIKE, drinks=(drink.recipe, *others))
    if drink.recipe is not None or drink.build is None or not _is_all_read(reading):
        return match
    parts = tuple(write_parts(drink.build.parts, menu.pantry).splitlines())
    garnish = ";".join(g.item for g in drink.build.garnish or ())
    return replace(match, draft=parts, garnish=garnish)


def _is_all_read(reading: Reading) -> bool:
    return reading.status is Status.READY and not reading.unplaced
