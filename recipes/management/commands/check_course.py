"""`manage.py check_course [FOLDER] [--preset NAME] [--json]`: can this course be loaded?

Exit 0: it can, and a summary is printed. 2: it can't; every problem stands on a line with its
file, its entry and its reason. Without a folder the shipped course is read.
"""

from __future__ import annotations

import json
import sys
from argparse import ArgumentParser
from pathlib import Path
from typing import Any, ClassVar

from django.core.management.base import CommandParser

from barcourse.people.management.asking import AskingCommand
from recipes import shipped
from recipes.grammar.coursefile import Course, CourseError, CourseProblem, read_course
from recipes.wording import word


class Command(AskingCommand):
    help = "Reads a course folder and says everything that is wrong in it. Needs no database."
    requires_system_checks: ClassVar[list[str]] = []  # type: ignore[misc]  # the base allows a word

    def add_arguments(self, parser: CommandParser | ArgumentParser) -> None:
        parser.add_argument("folder", nargs="?", default=shipped.COURSE, type=Path)
        parser.add_argument("--preset", default="us-classic", help="house rules to prove it under")
        parser.add_argument("--json", action="store_true", dest="as_json")

    def handle(self, *args: Any, folder: Path, preset: str, as_json: bool, **options: Any) -> None:
        try:
            found = _summary(read_course(folder, preset))
        except CourseError as bad:
            _tell(bad.problems, as_json)
            sys.exit(2)
        print(json.dumps({"whole": True, **found, "problems": []}) if as_json else _text(found))


def _summary(course: Course) -> dict[str, int]:
    drinks = [drink for module in course.modules for drink in module.drinks]
    lessons = [lesson for module in course.modules for lesson in module.lessons]
    return {
        "modules": len(course.modules),
        "ingredients": len(course.ingredients),
        "drinks": len(drinks),
        "must_knows": sum(drink.must_know for drink in drinks),
        "lessons": len(lessons),
        "scenarios": sum(len(lesson.scenarios) for lesson in lessons),
    }


def _text(found: dict[str, int]) -> str:
    return ", ".join(f"{count} {name.replace('_', '-')}" for name, count in found.items())


def _tell(problems: tuple[CourseProblem, ...], as_json: bool) -> None:
    if as_json:
        said = [
            {"file": p.file, "entry": p.entry, "code": p.reason.code, "says": word(p.reason)}
            for p in problems
        ]
        print(json.dumps({"whole": False, "problems": said}, ensure_ascii=False))
        return
    for p in problems:
        print(": ".join(x for x in (p.file, p.entry, word(p.reason)) if x), file=sys.stderr)
