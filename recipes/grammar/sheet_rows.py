"""A row of a sheet as a recipe, and a recipe as a row.

Reading never guesses: a name that the house doesn't have is refused with what was probably meant,
or taken in as a new ingredient where that is wanted and its name tells what kind of thing it is.
"""

from collections.abc import Iterable, Mapping
from dataclasses import dataclass, replace
from typing import Any

from recipes.grammar.course import fold
from recipes.grammar.ingredients import Ingredient, Pantry
from recipes.grammar.kinds import new_ingredient
from recipes.grammar.lines import read_garnish, read_parts
from recipes.grammar.near import near
from recipes.grammar.reasons import CannotBuild, Reason, Value
from recipes.grammar.rules import HouseRules
from recipes.grammar.sheet_cells import (
    HOUSE,
    ICES,
    METHODS,
    choices,
    poured_things,
    spoken_aliases,
    spoken_finish,
    spoken_parts,
    written_aliases,
    written_finish,
    written_parts,
)
from recipes.grammar.sheet_standing import NOTHING_SAID, Standing, read_standing, written_standing
from recipes.grammar.sheet_text import SheetRow
from recipes.grammar.spec import BuildSpec

CODES = frozenset(
    {
        "name_missing",
        "name_too_long",
        "unknown_method",
        "unknown_ice",
        "unknown_module",
        "misspelt_module",
        "misspelt_glass",
        "equally_near",
        "kind_untold",
        "garnish_pours",
    }
)
MOST_IN_A_NAME = 80
_UNKNOWN = ("unknown_ingredient", "misspelt_ingredient")


@dataclass(frozen=True)
class House:
    """What the rows are read against. `modules` are names by slug."""

    rules: HouseRules
    pantry: Pantry
    modules: Mapping[str, str]

    def names(self) -> dict[str, str]:
        """Slugs of ingredients by everything that they are called, folded."""
        said: dict[str, str] = {}
        for slug, item in self.pantry.items():
            for name in (slug, item.name, *item.aliases):
                said.setdefault(fold(name), slug)
        return said


@dataclass(frozen=True)
class RecipeRow:
    """A recipe as its row has it, for `refusals.read_spec`. `module` None: the row leaves it open.

    `reasons` say everything that can't be read, each with its line; `spec` is then incomplete.
    `standing` is what it says of the drink on the menu.
    """

    line: int
    name: str
    module: str | None
    aliases: tuple[str, ...]
    spec: Mapping[str, Any]
    reasons: tuple[Reason, ...]
    standing: Standing = NOTHING_SAID


def read_rows(rows: Iterable[SheetRow], house: House, *, adding: bool = False) -> list[RecipeRow]:
    """`adding`: whatever tells its kind has been taken in, so what is still unknown told none."""
    names = house.names()
    return [_Reading(row, house, names, adding).recipe() for row in rows]


def new_ingredients(rows: Iterable[SheetRow], house: House) -> tuple[Ingredient, ...]:
    """What the rows name that the house doesn't have and nobody could have meant by a slip, each
    once; left out are names that tell no kind."""
    names, taken, found = house.names(), set(house.pantry), dict[str, Ingredient]()
    for row in rows:
        if row.reasons:
            continue
        for said in _Reading(row, house, names).unknown():
            if fold(said) not in found and not near(said, names):
                item = new_ingredient(said, taken)
                if item is not None:
                    found[fold(said)] = item
                    taken.add(item.slug)
    return tuple(found.values())


def with_ingredients(house: House, more: Iterable[Ingredient]) -> House:
    return replace(house, pantry={**house.pantry, **{i.slug: i for i in more}})


def written_row(
    name: str,
    module: str,
    aliases: Iterable[str],
    build: BuildSpec,
    pantry: Pantry,
    standing: Standing | None = None,
) -> dict[str, str]:
    return {
        "name": name,
        "module": module,
        "glass": build.glass or "",
        "ice": build.ice.value if build.ice else "",
        "method": build.method.value,
        "ingredients": written_parts(build, pantry),
        "garnish": written_finish(build, pantry),
        "aliases": written_aliases(aliases),
        **written_standing(standing or NOTHING_SAID),
    }


class _Reading:
    """One row, and every reason against it as it is read."""

    def __init__(
        self, row: SheetRow, house: House, names: Mapping[str, str], adding: bool = False
    ) -> None:
        self.row, self.house, self.names, self.adding = row, house, names, adding
        self.reasons: list[Reason] = []

    def recipe(self) -> RecipeRow:
        cells = self.row.cells
        name = " ".join(cells["name"].split())
        if self.row.reasons:
            return RecipeRow(self.row.line, name[:80], None, (), {}, self.row.reasons)
        if not fold(name):
            self.refuse("name_missing")
        elif len(name) > MOST_IN_A_NAME:
            self.refuse("name_too_long", most=MOST_IN_A_NAME)
        spec = {**self._build(), **self._contents()}
        module, aliases = self._module(), spoken_aliases(cells["aliases"])
        if any(len(alias) > MOST_IN_A_NAME for alias in aliases):
            self.refuse("name_too_long", most=MOST_IN_A_NAME)
        standing, wrong = read_standing(cells)
        for reason in wrong:
            self.refuse(reason.code, **reason.values)
        return RecipeRow(self.row.line, name, module, aliases, spec, tuple(self.reasons), standing)

    def unknown(self) -> list[str]:
        """Names in the row that are nothing of the house's, as they are written."""
        self._contents()
        values = (r.values for r in self.reasons if r.code == "unknown_ingredient")
        return [str(v["ingredient"]) for v in values]

    def refuse(self, code: str, **values: Value) -> None:
        reason = Reason.of(code, **values, line=self.row.line)
        if reason not in self.reasons:
            self.reasons.append(reason)

    def _build(self) -> dict[str, Any]:
        cells = self.row.cells
        method = next(choices(cells["method"], METHODS), None)
        if method is None:
            self.refuse("unknown_method", said=cells["method"][:80])
        ice = next(choices(cells["ice"], ICES), None)
        if ice is None and fold(cells["ice"]) not in HOUSE:
            self.refuse("unknown_ice", said=cells["ice"][:80])
        return {"method": method, "ice": ice, "glass": self._glass()}

    def _glass(self) -> str | None:
        said = self.row.cells["glass"]
        if fold(said) in HOUSE:
            return None
        offered: dict[str, str] = {}
        for slug, glass in self.house.rules.glasses.items():
            for name in (slug, glass.name, fold(glass.name).removesuffix(" glass")):
                offered.setdefault(fold(name), slug)
        bare = fold(said).removesuffix(" glass")
        found = offered.get(fold(said)) or offered.get(bare)
        if found:
            return found
        meant = near(said, offered)
        if len(meant) == 1:
            self.refuse("misspelt_glass", said=said[:80], glass=meant[0])
        else:
            self.refuse("unknown_glass", glass=said[:80])
        return None

    def _module(self) -> str | None:
        said = self.row.cells["module"]
        if not fold(said):
            return None
        offered: dict[str, str] = {}
        for slug, name in self.house.modules.items():
            for word in (slug, name):
                offered.setdefault(fold(word), slug)
        if fold(said) in offered:
            return offered[fold(said)]
        meant, had = near(said, offered), ", ".join(self.house.modules.values())
        if len(meant) == 1:
            self.refuse("misspelt_module", said=said[:80], module=self.house.modules[meant[0]])
        else:
            self.refuse("unknown_module", said=said[:80], modules=had)
        return None

    def _contents(self) -> dict[str, Any]:
        cells = self.row.cells
        lines, alcohol_free = spoken_parts(cells["ingredients"])
        parts = [p for line in lines for p in self._read(read_parts, line)]
        if not lines:
            self.refuse("no_parts")
        garnish, more = self._finish(cells["garnish"])
        if more.get("rim"):
            more["rim"] = self._rim(more["rim"])
        read = None if garnish is None else [g for x in garnish for g in self._read(_garnish, x)]
        return {"parts": parts, "garnish": read, "alcohol_free": alcohol_free, **more}

    def _finish(self, cell: str) -> tuple[list[str] | None, dict[str, Any]]:
        """What slid here from the ingredients is refused, and not read as a garnish."""
        slid = poured_things(cell)
        for said in slid:
            self.refuse("garnish_pours", said=said[:80])
        return (None, {}) if slid else spoken_finish(cell)

    def _rim(self, said: Mapping[str, Any]) -> dict[str, Any]:
        wet = said["wet_with"]
        return {
            "item": self._named(said["item"]),
            "wet_with": self._named(wet) if wet else None,
            "half": said["half"],
        }

    def _named(self, said: str) -> str | None:
        """The slug of an ingredient by name."""
        read = self._read(_garnish, said)
        return str(read[0]["item"]) if read else None

    def _read(self, read: Any, line: str) -> list[dict[str, Any]]:
        """One line as `lines` reads it, or its reasons; nothing where it can't be read."""
        try:
            found: list[dict[str, Any]] = read(line, self.house.pantry) or []
        except CannotBuild as bad:
            for reason in bad.reasons:
                self._unread(reason)
            return []
        return found

    def _unread(self, reason: Reason) -> None:
        values = {k: v for k, v in reason.values.items() if k != "line"}
        if reason.code not in _UNKNOWN:
            self.refuse(reason.code, **values)
            return
        said = str(values.get("said", values["ingredient"])).removeprefix("of ")
        meant = near(said, self.names)
        if len(meant) == 1:
            self.refuse("misspelt_ingredient", said=said, ingredient=meant[0])
        elif meant:
            one, other = (self.house.pantry[slug].name for slug in meant[:2])
            self.refuse("equally_near", said=said, one=one, other=other)
        elif self.adding:
            self.refuse("kind_untold", said=said)
        else:
            self.refuse("unknown_ingredient", ingredient=said)


def _garnish(line: str, pantry: Pantry) -> list[dict[str, Any]]:
    return read_garnish(f"always {line}" if fold(line) == "none" else line, pantry) or []
