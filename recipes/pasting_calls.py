"""Lines of a pasted menu that no drink is called, read as a guest would say them."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import replace

from recipes.grammar.calls import CalledDrink, Reading, Status
from recipes.grammar.lines import write_parts
from recipes.grammar.menu_lines import By, Match
from recipes.hearing import hear_on
from recipes.menu import Menu


def heard_as_calls(matches: Iterable[Match], menu: Menu) -> tuple[Match, ...]:
    """“Spiced rum and cola” is no drink of the book and can be built all the same: as a guest says
    it. Nothing is taken, only offered; a draft needs every word to be read."""
    return tuple(_heard(m, menu) if _is_open(m) else _agreed(m, menu) for m in matches)


def _agreed(match: Match, menu: Menu) -> Match:
    """What seemed clear is so only where a guest who says it would get the same: words that the
    reader of calls can't place, or another drink of the menu, are asked about."""
    if match.by not in (By.PATTERN, By.BUILD) or match.line.listed:
        return match
    reading = hear_on(match.line.name, menu)
    known = [d.recipe for d in reading.drinks if d.recipe]
    if match.by is By.PATTERN and (reading.unplaced or known):
        offered = dict.fromkeys((*known, *match.drinks))
        return replace(match, by=By.LIKE if known else By.NOTHING, drinks=tuple(offered), draft=())
    if match.by is By.PATTERN and _is_all_read(reading) and len(reading.drinks) == 1:
        [drink] = reading.drinks
        return replace(match, draft=_parts_of(drink, menu)) if drink.build else match
    other = _is_all_read(reading) and known and known != [match.chosen]
    if match.by is By.BUILD and other:
        offered = dict.fromkeys((*known, *match.drinks))
        return replace(match, by=By.LIKE, drinks=tuple(offered), chosen=None)
    return match


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
    if drink.recipe is not None and _is_all_read(reading):
        others = [slug for slug in match.drinks if slug != drink.recipe]
        return replace(match, by=By.LIKE, drinks=(drink.recipe, *others), called=True)
    if drink.recipe is not None or drink.build is None or not _is_all_read(reading):
        return match
    parts = _parts_of(drink, menu)
    garnish = ";".join(g.item for g in drink.build.garnish or ())
    return replace(match, draft=parts, garnish=garnish)


def _parts_of(drink: CalledDrink, menu: Menu) -> tuple[str, ...]:
    parts = drink.build.parts if drink.build else ()
    return tuple(write_parts(parts, menu.pantry).splitlines())


def _is_all_read(reading: Reading) -> bool:
    return reading.status is Status.READY and not reading.unplaced
