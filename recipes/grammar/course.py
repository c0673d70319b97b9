"""What a course holds, as frozen values: ingredients, modules, lessons, scenarios, drinks."""

import re
from dataclasses import dataclass
from functools import lru_cache
from typing import Any, Self

from pydantic import BaseModel, ConfigDict, Field, model_validator
from pydantic_core import PydanticCustomError

from recipes.grammar.ingredients import Ingredient, Pantry
from recipes.grammar.reasons import Reason
from recipes.grammar.rules import HouseRules
from recipes.grammar.spec import BuildSpec

APOSTROPHES = "'\u2019`"
SLUG = r"^[a-z0-9]+(-[a-z0-9]+)*$"


MOST_FOLDED = 20_000
"""Names of a big house several times over; a till file of strange ones asks for the same names of
drinks thousands of times."""


@lru_cache(maxsize=MOST_FOLDED)
def fold(text: str) -> str:
    """Letters and digits in lower case, without apostrophes: how two spellings of one name are
    known to be one."""
    plain = "".join(c for c in text.casefold() if c not in APOSTROPHES)
    return " ".join(re.findall(r"\w+", plain))


class _Entry(BaseModel):
    model_config = ConfigDict(frozen=True, extra="forbid")


class Listed(_Entry):
    """That an international list has this drink too, and in a sentence how the house differs."""

    list: str = Field(min_length=1)
    year: int = Field(ge=1900, le=2100)
    differs: str = Field(min_length=1)


class Scenario(_Entry):
    """A question with one right choice, `right` counting from 0. `critical`: wrong can hurt."""

    slug: str = Field(pattern=SLUG, max_length=60)
    question: str = Field(min_length=1)
    choices: tuple[str, ...] = Field(min_length=3, max_length=4)
    right: int
    critical: bool = False
    why: str = Field(min_length=1)

    @model_validator(mode="after")
    def _one_right_choice(self) -> Self:
        if not 0 <= self.right < len(self.choices):
            told = {"right": self.right, "choices": len(self.choices)}
            raise PydanticCustomError("right_out_of_range", "no such choice", told)
        if len({fold(c) for c in self.choices}) < len(self.choices):
            raise PydanticCustomError("choice_twice", "two choices say the same", {})
        return self


class Lesson(_Entry):
    slug: str = Field(pattern=SLUG, max_length=60)
    name: str = Field(min_length=1, max_length=80)
    body: str = Field(min_length=1)  # Markdown
    scenarios: tuple[Scenario, ...] = ()


class DrinkEntry(_Entry):
    """A drink as its file has it, its spec not yet read."""

    slug: str = Field(pattern=SLUG, max_length=60)
    name: str = Field(min_length=1, max_length=80)
    aliases: tuple[str, ...] = ()
    must_know: bool = False
    share: float = Field(gt=0)
    spec: dict[str, Any]
    listed: Listed | None = None


class ModuleHead(_Entry):
    """What a module's file says before its lessons and drinks."""

    slug: str = Field(pattern=SLUG, max_length=60)
    name: str = Field(min_length=1, max_length=80)
    alcohol: bool
    gate: bool = False
    stations: tuple[str, ...] = Field(min_length=1)
    notes: str = Field(min_length=1)  # Markdown


@dataclass(frozen=True)
class CourseDrink:
    """`share` is a relative weight of sales; the weights of a course need not sum to anything."""

    slug: str
    name: str
    aliases: tuple[str, ...]
    must_know: bool
    share: float
    spec: BuildSpec
    listed: Listed | None


@dataclass(frozen=True)
class CourseModule:
    """`alcohol`: its drinks have some unless they say not. `gate`: nobody is ready without it."""

    slug: str
    name: str
    position: int
    alcohol: bool
    gate: bool
    stations: tuple[str, ...]
    notes: str
    lessons: tuple[Lesson, ...]
    drinks: tuple[CourseDrink, ...]


@dataclass(frozen=True)
class Course:
    """Everything that ships, with the house rules under which its drinks were proved."""

    ingredients: tuple[Ingredient, ...]
    modules: tuple[CourseModule, ...]
    rules: HouseRules

    @property
    def pantry(self) -> Pantry:
        return {i.slug: i for i in self.ingredients}


@dataclass(frozen=True)
class CourseProblem:
    """One thing wrong: in which file, in which entry of it ("" for the file itself), and what."""

    file: str
    entry: str
    reason: Reason


class CourseError(ValueError):
    """A course that can't be read, with every problem found."""

    def __init__(self, problems: tuple[CourseProblem, ...]) -> None:
        said = (f"{p.file}: {p.entry}: {p.reason.code} {dict(p.reason.params)}" for p in problems)
        super().__init__("\n".join(said))
        self.problems = problems
