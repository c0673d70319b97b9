"""A course in other words: everything that it says, names and notes, put through a function."""

from __future__ import annotations

import re
from collections.abc import Callable
from dataclasses import replace
from typing import Any

from recipes.grammar.course import Course, CourseDrink, CourseModule

Words = Callable[[str], str]


def in_words(course: Course, words: Words) -> Course:
    glasses = {
        key: glass.model_copy(update={"name": words(glass.name)})
        for key, glass in course.rules.glasses.items()
    }
    return replace(
        course,
        ingredients=tuple(_said(i, words, "name", "aliases") for i in course.ingredients),
        modules=tuple(_module_in(module, words) for module in course.modules),
        rules=course.rules.model_copy(update={"glasses": glasses}),
    )


def _module_in(module: CourseModule, words: Words) -> CourseModule:
    return replace(
        module,
        name=words(module.name),
        notes=_lines(module.notes, words),
        drinks=tuple(_drink_in(drink, words) for drink in module.drinks),
        lessons=tuple(
            _said(lesson, words, "name").model_copy(
                update={
                    "body": _lines(lesson.body, words),
                    "scenarios": tuple(
                        _said(s, words, "question", "choices", "why") for s in lesson.scenarios
                    ),
                }
            )
            for lesson in module.lessons
        ),
    )


def _drink_in(drink: CourseDrink, words: Words) -> CourseDrink:
    listed = drink.listed and _said(drink.listed, words, "list", "differs")
    aliases = tuple(words(alias) for alias in drink.aliases)
    return replace(drink, name=words(drink.name), aliases=aliases, listed=listed)


def _said(entry: Any, words: Words, *names: str) -> Any:
    """A copy of the entry with these texts, or tuples of texts, put through `words`."""
    old = {name: getattr(entry, name) for name in names}
    new = {
        name: words(value) if isinstance(value, str) else tuple(map(words, value))
        for name, value in old.items()
    }
    return entry.model_copy(update=new)


def _lines(markdown: str, words: Words) -> str:
    """Line by line, so that a heading stays one; without what makes single words bold."""
    found = (re.fullmatch(r"(#* ?)(.*)", line) for line in markdown.replace("*", "").splitlines())
    return "\n".join(f"{m[1]}{words(m[2])}" if m and m[2] else "" for m in found)
