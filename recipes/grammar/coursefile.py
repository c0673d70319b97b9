"""The shipped course: TOML files read into frozen values, or refused with every problem at once.

A course folder holds `ingredients.toml`, `presets/NAME.toml` (house rules) and one `NN-name.toml`
a module, in the order of their numbers. Nothing of a course with a problem is handed out.
"""

import re
import tomllib
from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from pathlib import Path
from typing import Any, TypeVar

from pydantic import BaseModel, ValidationError

from recipes.grammar.allergens import ALLERGENS
from recipes.grammar.course import (
    Course,
    CourseDrink,
    CourseError,
    CourseModule,
    CourseProblem,
    DrinkEntry,
    Lesson,
    Listed,
    ModuleHead,
    Scenario,
    fold,
)
from recipes.grammar.course_words import in_words_of
from recipes.grammar.ingredients import Ingredient, Pantry
from recipes.grammar.reasons import CannotBuild, Reason
from recipes.grammar.refusals import read_spec, shape_reasons
from recipes.grammar.rules import HouseRules
from recipes.grammar.rules_refusals import rules_problems

__all__ = [
    "CODES",
    "Course",
    "CourseDrink",
    "CourseError",
    "CourseModule",
    "CourseProblem",
    "Lesson",
    "Listed",
    "Scenario",
    "read_course",
    "read_preset",
]

CODES = frozenset(
    {
        "file_missing",
        "not_text",
        "toml_syntax",
        "slug_twice",
        "alias_twice",
        "unknown_allergen",
        "right_out_of_range",
        "choice_twice",
    }
)
"""Codes that only a course file gives; fields, recipes and rules are refused elsewhere."""

MODULE_FILES = "[0-9][0-9]-*.toml"


HOME = "us-classic"
"""The preset in whose words the course is written."""


def read_course(folder: Path, preset: str = HOME) -> Course:
    """The whole course, every drink proved to be buildable under the preset; or `CourseError`.

    Recipes are judged when ingredients and house rules are right, so that one wrong ingredient
    is not told once more for every drink that has it.
    """
    desk = _Desk(folder)
    ingredients = desk.ingredients()
    pantry = {i.slug: i for i in ingredients}
    rules = desk.preset(folder / "presets" / f"{preset}.toml", pantry)
    home = rules if preset == HOME else desk.preset(folder / "presets" / f"{HOME}.toml", pantry)
    modules = tuple(desk.modules(None if desk.problems else rules, pantry))
    desk.refuse_doubles()
    if desk.problems or rules is None or home is None:
        raise CourseError(tuple(desk.problems))
    return in_words_of(Course(ingredients, modules, rules), rules, home.slang)


def read_preset(path: Path) -> HouseRules:
    """House rules from a file, judged by themselves; or `CourseError`."""
    desk = _Desk(path.parent)
    rules = desk.preset(path, None)
    if rules is None:
        raise CourseError(tuple(desk.problems))
    return rules


_Model = TypeVar("_Model", bound=BaseModel)


@dataclass(frozen=True)
class _Name:
    """A slug or a spoken name, whose it is and where it stands."""

    kind: str
    name: str
    owner: str
    file: str


class _Desk:
    """Reads the files of one course and keeps every problem and every name that it met."""

    def __init__(self, folder: Path) -> None:
        self.folder = folder
        self.problems: list[CourseProblem] = []
        self.slugs: list[_Name] = []
        self.names: list[_Name] = []

    def say(self, file: str, entry: str, reasons: Iterable[Reason]) -> None:
        self.problems += [CourseProblem(file, entry, reason) for reason in reasons]

    def ingredients(self) -> tuple[Ingredient, ...]:
        path = self.folder / "ingredients.toml"
        data = self._load(path)
        if data is None:
            return ()
        for field in sorted(set(data) - {"ingredients"}):
            self.say(path.name, "", [Reason.of("field_unknown", field=field)])
        found = [i for _, i in self._entries(Ingredient, data, "ingredients", path.name)]
        for item in found:
            unknown = [a for a in item.allergens or () if a not in ALLERGENS]
            reasons = (Reason.of("unknown_allergen", allergen=a) for a in unknown)
            self.say(path.name, item.slug, reasons)
            self._met("ingredient", path.name, item.slug, (item.name, *item.aliases))
        return tuple(found)

    def preset(self, path: Path, pantry: Pantry | None) -> HouseRules | None:
        """The house rules; with a pantry, also whether they name only what is in it."""
        data = self._load(path)
        if data is None:
            return None
        rules = self._validate(HouseRules, data, self._file(path), "")
        if rules is not None and pantry is not None:
            self.say(self._file(path), "", rules_problems(rules, pantry))
        return rules

    def modules(self, rules: HouseRules | None, pantry: Pantry) -> Iterator[CourseModule]:
        paths = sorted(self.folder.glob(MODULE_FILES))
        if not paths:
            self.say(MODULE_FILES, "", [Reason.of("file_missing")])
        for path in paths:
            data = self._load(path)
            module = data and self._module(path.name, data, rules, pantry)
            if module:
                yield module

    def _module(
        self, file: str, data: dict[str, Any], rules: HouseRules | None, pantry: Pantry
    ) -> CourseModule | None:
        lists = {"lessons", "drinks"}
        raw = {key: value for key, value in data.items() if key not in lists}
        head = self._validate(ModuleHead, raw, file, "")
        lessons = [lesson for _, lesson in self._entries(Lesson, data, "lessons", file)]
        for lesson in lessons:
            self._met("lesson", file, lesson.slug)
            for scenario in lesson.scenarios:
                self._met("scenario", file, scenario.slug)
        alcohol = head is None or head.alcohol
        drinks = [
            self._drink(file, entry, rules, pantry, alcohol)
            for _, entry in self._entries(DrinkEntry, data, "drinks", file)
        ]
        if head is None:
            return None
        self._met("module", file, head.slug)
        return CourseModule(
            slug=head.slug,
            name=head.name,
            position=int(file[:2]),
            alcohol=head.alcohol,
            gate=head.gate,
            stations=head.stations,
            notes=head.notes,
            lessons=tuple(lessons),
            drinks=tuple(d for d in drinks if d),
        )

    def _drink(
        self,
        file: str,
        entry: DrinkEntry,
        rules: HouseRules | None,
        pantry: Pantry,
        alcohol: bool,
    ) -> CourseDrink | None:
        self._met("drink", file, entry.slug, (entry.name, *entry.aliases))
        if rules is None:
            return None  # what is wrong with ingredients or rules is said already
        try:
            spec = read_spec(entry.spec, rules, pantry, alcohol_module=alcohol)
        except CannotBuild as bad:
            self.say(file, entry.slug, bad.reasons)
            return None
        told = {name: getattr(entry, name) for name in DrinkEntry.model_fields}
        return CourseDrink(**{**told, "spec": spec})

    def refuse_doubles(self) -> None:
        """Slugs and spoken names are one of a kind over the whole course, however spelt."""
        first: dict[tuple[str, str], _Name] = {}
        for n in self.slugs:
            other = first.setdefault((n.kind, n.name), n)
            if other is not n:
                reason = Reason.of("slug_twice", slug=n.name, other_file=other.file)
                self.say(n.file, n.owner, [reason])
        first.clear()
        for n in self.names:
            other = first.setdefault((n.kind, fold(n.name)), n)
            if other is not n:
                reason = Reason.of(
                    "alias_twice",
                    alias=n.name,
                    owner=n.owner,
                    other=other.owner,
                    other_file=other.file,
                )
                self.say(n.file, n.owner, [reason])

    def _met(self, kind: str, file: str, slug: str, names: Iterable[str] = ()) -> None:
        self.slugs.append(_Name(kind, slug, slug, file))
        self.names += [_Name(kind, name, slug, file) for name in names]

    def _file(self, path: Path) -> str:
        return path.relative_to(self.folder).as_posix()

    def _load(self, path: Path) -> dict[str, Any] | None:
        try:
            return tomllib.loads(path.read_text("utf-8"))
        except FileNotFoundError:
            reason = Reason.of("file_missing")
        except UnicodeDecodeError:
            reason = Reason.of("not_text")
        except tomllib.TOMLDecodeError as bad:
            reason = _syntax_reason(str(bad), path)
        self.say(self._file(path), "", [reason])
        return None

    def _entries(
        self, model: type[_Model], data: dict[str, Any], key: str, file: str
    ) -> Iterator[tuple[str, _Model]]:
        raw = data.get(key, [])
        if not isinstance(raw, list):
            self.say(file, "", [Reason.of("not_readable", field=key, said=str(raw)[:80])])
            return
        for number, one in enumerate(raw, start=1):
            entry = _slug(one) or f"{key} {number}"
            value = self._validate(model, one, file, entry)
            if value is not None:
                yield entry, value

    def _validate(self, model: type[_Model], data: object, file: str, entry: str) -> _Model | None:
        try:
            return model.model_validate(data)
        except ValidationError as bad:
            self.problems += _told(bad, data, file, entry)
        return None


def _told(bad: ValidationError, data: object, file: str, entry: str) -> Iterator[CourseProblem]:
    """pydantic's errors, each with the innermost entries that it lies in."""
    for error, shape in zip(bad.errors(include_url=False), shape_reasons(bad), strict=True):
        inner = "/".join([entry, *_slugs_on_the_way(data, error["loc"])]).strip("/")
        own = error["type"] in CODES
        reason = Reason.of(error["type"], **error.get("ctx", {})) if own else shape
        yield CourseProblem(file, inner, reason)


def _slugs_on_the_way(data: Any, loc: tuple[int | str, ...]) -> Iterator[str]:
    for step in loc:
        try:
            data = data[step]
        except (KeyError, IndexError, TypeError):
            return
        if slug := _slug(data):
            yield slug


def _slug(data: object) -> str | None:
    slug = data.get("slug") if isinstance(data, dict) else None
    return slug if isinstance(slug, str) else None


def _syntax_reason(said: str, path: Path) -> Reason:
    """tomllib says the line in words only."""
    found = re.search(r"line (\d+)", said)
    line = int(found.group(1)) if found else len(path.read_text("utf-8").splitlines())
    return Reason.of("toml_syntax", line=line, said=said)
