"""The course that comes with the program, and how it gets into a house that has just opened."""

from __future__ import annotations

import datetime as dt
from functools import cache
from pathlib import Path

from django.conf import settings

from barcourse.people.models import Membership
from recipes import publish
from recipes.grammar.course_words import in_words_of
from recipes.grammar.coursefile import Course, read_course, read_preset
from recipes.grammar.metric import in_millilitres
from recipes.grammar.rules import HouseRules
from recipes.grammar.rules_preset import preset_for
from recipes.words_amounts import US_MEASURES

COURSE = Path(settings.BASE_DIR) / "fixtures" / "course"


@cache
def shipped_course() -> Course:
    """The shipped course, read once a process. Raises `CourseError` with everything wrong in it."""
    return read_course(COURSE)


@cache
def shipped_rules(preset: str = "us-classic") -> HouseRules:
    return read_preset(COURSE / "presets" / f"{preset}.toml")


def load_into_new_house(*, by: Membership, at: dt.datetime, **_unused: object) -> None:
    """The country picks the preset, and whether amounts are taught in ounces or millilitres."""
    country = by.venue.country
    rules = shipped_rules(preset_for(country)).model_copy(update={"country": country})
    course = in_words_of(shipped_course(), rules)
    if country not in US_MEASURES:
        course = in_millilitres(course)
    publish.load_course(by=by, course=course, rules=rules, at=at)
