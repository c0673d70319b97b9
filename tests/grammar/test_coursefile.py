"""A course file with an error names file, entry and reason, and loads nothing."""

import shutil
from pathlib import Path

import pytest

from recipes.grammar.coursefile import (
    CODES,
    CourseError,
    CourseProblem,
    read_course,
    read_preset,
)
from recipes.grammar.reasons import Reason
from recipes.grammar.rules_refusals import CODES as RULES_CODES
from recipes.grammar.units import US_FLOZ_ML
from tests.grammar.broken_courses import BROKEN, DRINK, INGREDIENTS, MODULE, SECOND

SHIPPED = Path(__file__).parents[2] / "fixtures" / "course"


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    """A course of one module, two ingredients and one drink, under the shipped house rules."""
    (tmp_path / "presets").mkdir()
    preset = (SHIPPED / "presets" / "us-classic.toml").read_text()
    start, end = preset.index("[[garnish]]"), preset.index("[doubles]")
    preset = preset[:start] + preset[end:]
    (tmp_path / "presets" / "us-classic.toml").write_text(preset[: preset.index("[slang]")])
    (tmp_path / "ingredients.toml").write_text(INGREDIENTS)
    (tmp_path / "10-highballs.toml").write_text(MODULE + DRINK)
    return tmp_path


def problems(folder: Path) -> tuple[CourseProblem, ...]:
    with pytest.raises(CourseError) as refused:
        read_course(folder)
    return refused.value.problems


def test_a_sound_course_is_read_as_written(folder):
    course = read_course(folder)

    (module,) = course.modules
    (drink,) = module.drinks
    assert (module.slug, module.position, module.gate) == ("highballs", 10, False)
    assert (drink.slug, drink.share, drink.must_know) == ("cape-codder", 2, False)
    assert [p.ingredient for p in drink.spec.parts] == ["vodka", "cranberry-juice"]
    assert course.pantry["cranberry-juice"].allergens is None
    assert course.pantry["vodka"].allergens == ()
    assert module.lessons[0].scenarios[0].choices == ("Ask", "Guess", "Wait")


def test_modules_come_in_the_order_of_their_numbers(folder):
    other = MODULE.replace("highballs", "first").replace("calls", "c2").replace("heard", "h2")
    (folder / "05-first.toml").write_text(other)

    assert [m.slug for m in read_course(folder).modules] == ["first", "highballs"]


@pytest.mark.parametrize(
    ("file", "old", "new", "entry", "reason"), BROKEN.values(), ids=BROKEN.keys()
)
def test_an_error_names_file_entry_and_reason(folder, file, old, new, entry, reason):
    path = folder / file
    sound = path.read_text()
    assert old in sound
    path.write_text(sound.replace(old, new, 1))

    assert problems(folder) == (CourseProblem(file, entry, reason),)


def test_every_problem_is_told_at_once(folder):
    path = folder / "10-highballs.toml"
    path.write_text(path.read_text().replace("share = 2", "share = -1").replace("right = 0", ""))
    (folder / "ingredients.toml").write_text(INGREDIENTS.replace('"juice"', '"jus"'))

    told = {(p.file, p.entry, p.reason.code) for p in problems(folder)}

    assert told == {
        ("ingredients.toml", "cranberry-juice", "not_readable"),
        ("10-highballs.toml", "calls/heard-badly", "field_missing"),
        ("10-highballs.toml", "cape-codder", "not_readable"),
    }


def test_an_alias_twice_names_both_owners(folder):
    drink = DRINK.replace("cape-codder", "cran").replace("Cape Codder", "Cran")
    (folder / "20-juice.toml").write_text(SECOND + drink.replace("vodka cran", "Vodka  CRAN"))

    expected = Reason.of(
        "alias_twice",
        alias="Vodka  CRAN",
        owner="cran",
        other="cape-codder",
        other_file="10-highballs.toml",
    )
    assert problems(folder) == (CourseProblem("20-juice.toml", "cran", expected),)


def test_an_alias_that_is_the_name_of_another_is_refused(folder):
    drink = DRINK.replace("cape-codder", "cran").replace("Cape Codder", "Cran")
    drink = drink.replace("vodka cran", "cape codder")
    (folder / "20-juice.toml").write_text(SECOND + drink)

    assert [p.reason.values["other"] for p in problems(folder)] == ["cape-codder"]


@pytest.mark.parametrize(
    ("more", "entry", "slug"),
    [
        (DRINK.replace("Codder", "C").replace("vodka cran", "vc"), "cape-codder", "cape-codder"),
        ('[[lessons]]\nslug = "calls"\nname = "Calls"\nbody = "Twice."\n', "calls", "calls"),
    ],
)
def test_a_slug_twice_names_the_other_file(folder, more, entry, slug):
    (folder / "20-juice.toml").write_text(SECOND + more)

    expected = Reason.of("slug_twice", slug=slug, other_file="10-highballs.toml")
    assert problems(folder) == (CourseProblem("20-juice.toml", entry, expected),)


def test_a_module_twice_is_refused(folder):
    (folder / "20-juice.toml").write_text(SECOND.replace('"juice"', '"highballs"'))

    assert [p.reason.code for p in problems(folder)] == ["slug_twice"]


@pytest.mark.parametrize("file", ["ingredients.toml", "presets/us-classic.toml"])
def test_a_missing_file_is_named(folder, file):
    (folder / file).unlink()

    assert CourseProblem(file, "", Reason.of("file_missing")) in problems(folder)


def test_a_folder_without_modules_is_no_course(folder):
    (folder / "10-highballs.toml").unlink()

    assert [p.reason.code for p in problems(folder)] == ["file_missing"]


def test_bytes_that_are_no_text_are_named(folder):
    (folder / "10-highballs.toml").write_bytes(b"name = '\xff'")

    assert [(p.file, p.reason.code) for p in problems(folder)] == [
        ("10-highballs.toml", "not_text")
    ]


def test_a_file_cut_off_says_its_last_line(folder):
    (folder / "10-highballs.toml").write_text('slug = "x"\nstations = [')

    (only,) = problems(folder)
    assert (only.reason.code, only.reason.values["line"]) == ("toml_syntax", 2)


def test_drinks_that_are_no_list_are_said(folder):
    (folder / "10-highballs.toml").write_text(SECOND + "drinks = 3")

    assert problems(folder)[0].reason == Reason.of("not_readable", field="drinks", said="3")


def test_an_entry_without_a_slug_is_counted(folder):
    (folder / "10-highballs.toml").write_text(SECOND + DRINK.replace('slug = "cape-codder"', ""))

    assert [(p.entry, p.reason.code) for p in problems(folder)] == [("drinks 1", "field_missing")]


def test_one_wrong_drink_in_the_shipped_course_loads_none_of_it(tmp_path):
    course = tmp_path / "course"
    shutil.copytree(SHIPPED, course)
    path = course / "30-shots.toml"
    path.write_text(path.read_text().replace('ingredient = "irish-cream"', 'ingredient = "x"', 1))

    (only,) = problems(course)
    assert (only.file, only.reason.code) == ("30-shots.toml", "unknown_ingredient")


def test_a_preset_reads_by_itself():
    rules = read_preset(SHIPPED / "presets" / "us-classic.toml")

    assert rules.glasses["highball"].ml == pytest.approx(10 * US_FLOZ_ML)


def test_a_broken_preset_reads_as_a_course_error(tmp_path):
    path = tmp_path / "house.toml"
    path.write_text("preset = 'x'")

    with pytest.raises(CourseError) as refused:
        read_preset(path)

    assert {p.reason.values["field"] for p in refused.value.problems} == {
        "pours",
        "glasses",
        "default_glass",
        "default_ice",
    }


def test_the_error_reads_as_lines_for_a_terminal(folder):
    (folder / "10-highballs.toml").write_text(SECOND + DRINK.replace("share = 2", "share = 0"))

    with pytest.raises(CourseError, match=r"10-highballs\.toml: cape-codder: not_readable"):
        read_course(folder)


def test_every_code_of_the_reader_is_shown_by_a_broken_file():
    shown = {reason.code for *_, reason in BROKEN.values()}
    shown |= {"alias_twice", "slug_twice", "file_missing", "not_text"}  # tests of their own

    assert shown >= CODES | RULES_CODES
