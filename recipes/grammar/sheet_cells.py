"""What stands in the cells of a sheet of recipes, read as people write it and written so that it
reads back the same.

Things in one cell are parted by `;` or lines (by commas where there is neither). Beside what
`lines` reads: "top up with cola", "soda to top", "6 mint leaves", "a dash of bitters", "gin 50 ml",
"1-1/2 oz rum". The cell of ingredients may hold `no alcohol`; that of the garnish also `rim salt`,
`half rim sugar`, `rim salt wet with lime wedge`, `straw` and `no straw`.
"""

import re
from collections.abc import Iterable, Iterator, Mapping
from typing import Any

from recipes.grammar.course import fold
from recipes.grammar.ingredients import Ingredient, Pantry
from recipes.grammar.lines import NONE, write_garnish, write_parts
from recipes.grammar.spec import BuildSpec, Ice, Method, Rim

HOUSE = frozenset({"", "house", "house rules", "as the house rules say"})
"""Left to the house rules."""

NO_ALCOHOL = frozenset({"no alcohol", "alcohol free", "non alcoholic"})
NOTHING = frozenset({NONE, "no garnish", "nothing", "-"})
STRAWS = {"straw": True, "with straw": True, "no straw": False, "without straw": False}

METHODS: dict[str, Method] = {
    "": Method.BUILD,
    "built": Method.BUILD,
    "build in glass": Method.BUILD,
    "build in the glass": Method.BUILD,
    "shaken": Method.SHAKE,
    "shake and strain": Method.SHAKE,
    "stirred": Method.STIR,
    "stir and strain": Method.STIR,
    "blended": Method.BLEND,
    "frozen": Method.BLEND,
    "layered": Method.LAYER,
    "draft": Method.DRAUGHT,
    "tap": Method.DRAUGHT,
    "two part": Method.TWO_PART,
    "bottle": Method.OPEN,
    "can": Method.OPEN,
    **{m.value: m for m in Method},
}
ICES: dict[str, Ice] = {
    "no": Ice.NONE,
    "no ice": Ice.NONE,
    "without": Ice.NONE,
    "light ice": Ice.LIGHT,
    "full ice": Ice.FULL,
    "cubed": Ice.FULL,
    "cubes": Ice.FULL,
    "yes": Ice.FULL,
    "crushed ice": Ice.CRUSHED,
    **{i.value: i for i in Ice},
}

_HOW = r"(?P<how>(?:muddled?|float|first in|measured)\s+)?"
_AMOUNT = r"(?P<amount>[\d½⅓⅔¼¾⅛⅜⅝⅞][\d\s./,½⅓⅔¼¾⅛⅜⅝⅞]*)"
_UNIT = r"(?:ml|cl|oz\.?|ounces?|fl\.? ?oz\.?|pours?|dash(?:es)?|tsp|teaspoons?|splash(?:es)?)"
_READ_AS = tuple(
    (re.compile(pattern, re.IGNORECASE), said)
    for pattern, said in (
        (r"^top(?:ped)?\s+(?:up\s+)?(?:with\s+)?", "top "),
        (r"^fill(?:ed)?\s+(?:up\s+)?with\s+", "top "),
        (r"^(.+?),?\s+to (?:top|fill)(?: up)?$", r"top \1"),
        (r"^muddled\s+", "muddle "),
        (r"^(?:an?\s+)?(dash|splash)\s+(?:of\s+)?", r"1 \1 "),
        (r"(?<=\d)-(?=\d+/\d)", " "),
        (rf"^{_HOW}{_AMOUNT}(?P<of>\S.*?)\s+leaves$", r"\g<how>\g<amount> leaves \g<of>"),
        (rf"^(?P<of>[^\d½⅓⅔¼¾⅛⅜⅝⅞]+?)[\s:]+{_AMOUNT}\s*(?P<unit>{_UNIT})$",
         r"\g<amount> \g<unit> \g<of>"),
    )
)  # fmt: skip
_RIM = re.compile(
    r"^(?P<half>half )?(?:rim (?P<item>.+?)|(?P<dipped>.+?) rim)(?: wet with (?P<wet>.+))?$",
    re.IGNORECASE,
)
_POURED = re.compile(
    rf"^(?:top(?:ped)?\s|fill(?:ed)?\s|float\s|first in\s|measured\s|{_AMOUNT}\s*{_UNIT}\s"
    r"|.+\sto (?:top|fill)(?: up)?$)",
    re.IGNORECASE,
)
_COUNTED = re.compile(r"^(?:an?|\d+)\s+", re.IGNORECASE)
_PARTING = re.compile(r"[;\r\n]|,(?!\S)| wet with ", re.IGNORECASE)
"""What a name in a cell must not hold, or the cell would read otherwise."""


def things(cell: str) -> list[str]:
    """Each thing of a cell, tidied."""
    cell = cell.replace("\u2044", "/")  # the fraction slash
    parting = r"[;\r\n]" if re.search(r"[;\r\n]", cell) else r",(?!\d)"
    return [" ".join(t.split()) for t in re.split(parting, cell) if t.strip()]


def spoken_parts(cell: str) -> tuple[list[str], bool]:
    """The parts as `lines` reads them, and whether the cell says that there is no alcohol."""
    said = things(cell)
    parts = [_read_as(t) for t in said if fold(t) not in NO_ALCOHOL]
    return parts, len(parts) < len(said)


def _read_as(thing: str) -> str:
    for pattern, said in _READ_AS:
        thing = pattern.sub(said, thing)
    return " ".join(thing.split())


def spoken_finish(cell: str) -> tuple[list[str] | None, dict[str, Any]]:
    """The garnish as `lines` reads it, None where it is left to the house; and what the cell says
    of rim (ingredients by name) and straw."""
    garnish: list[str] = []
    more: dict[str, Any] = {}
    said_none = False
    for thing in things(cell):
        if fold(thing) in NOTHING or thing == "-":
            said_none = True
        elif fold(thing) in STRAWS:
            more["straw"] = STRAWS[fold(thing)]
        elif not _says_when(thing) and (rim := _RIM.match(thing)):
            item = rim["item"] or rim["dipped"]
            more["rim"] = {"item": item, "wet_with": rim["wet"], "half": bool(rim["half"])}
        else:
            garnish.append(_COUNTED.sub("", thing))
    return (garnish if garnish or said_none else None), more


def poured_things(cell: str) -> list[str]:
    """What stands in a cell of garnish and is poured: it slid there from the ingredients."""
    return [thing for thing in things(cell) if _POURED.match(thing)]


def _says_when(thing: str) -> bool:
    return thing.casefold().startswith(("always ", "ask ", "on request "))


def spoken_aliases(cell: str) -> tuple[str, ...]:
    """Other names, by lines where the cell has any, else by semicolons."""
    parted = re.split(r"[\r\n]+" if re.search(r"[\r\n]", cell) else ";", cell)
    return tuple(name for a in parted if (name := " ".join(a.split())))


def written_parts(build: BuildSpec, pantry: Pantry) -> str:
    lines = write_parts(build.parts, _plainly_named(pantry)).splitlines()
    return "; ".join([*lines, "no alcohol"] if build.alcohol_free else lines)


def written_finish(build: BuildSpec, pantry: Pantry) -> str:
    named = _plainly_named(pantry)
    said = write_garnish(build.garnish, named).splitlines()
    said += [_written_rim(build.rim, named)] if build.rim else []
    said += [] if build.straw is None else ["straw" if build.straw else "no straw"]
    return "; ".join(said)


def written_aliases(aliases: Iterable[str]) -> str:
    names = tuple(aliases)
    if any(";" in name for name in names):
        return "\n".join(names) + ("\n" if len(names) == 1 else "")
    return "; ".join(names)


def _written_rim(rim: Rim, named: Pantry) -> str:
    half = "half " if rim.half else ""
    wet = f" wet with {rim.wet_with}" if rim.wet_with else ""
    return f"{half}rim {rim.item}{wet}"


def _plainly_named(pantry: Pantry) -> Mapping[str, Ingredient]:
    """The pantry in which names that a cell would read otherwise are slugs instead."""
    return {slug: _plain(item) for slug, item in pantry.items()}


def _plain(item: Ingredient) -> Ingredient:
    if _PARTING.search(item.name) or _reads_otherwise(item.name):
        return item.model_copy(update={"name": item.slug})
    return item


def _reads_otherwise(name: str) -> bool:
    line = f"1 pour {name}"
    return _read_as(line) != line or _read_as(f"top {name}") != f"top {name}"


def choices(cell: str, offered: Mapping[str, Any]) -> Iterator[Any]:
    """What the cell chooses, nothing where it is none of what is offered."""
    said = fold(cell.replace("_", " "))
    for word, meant in offered.items():
        if fold(word.replace("_", " ")) == said:
            yield meant
            return
