"""`manage.py check_course`."""

import json
import shutil

import pytest
from django.core.management import call_command

from recipes import shipped
from recipes.grammar.coursefile import CourseError, read_course


@pytest.fixture
def folder(tmp_path):
    """A copy of the shipped course, to be spoilt."""
    return shutil.copytree(shipped.COURSE, tmp_path / "course")


def spoil(folder, file, old, new):
    path = folder / file
    text = path.read_text("utf-8")
    assert old in text
    path.write_text(text.replace(old, new, 1), "utf-8")


def check(*args, capsys):
    """Exit code, standard output, standard error."""
    code = 0
    try:
        call_command("check_course", *map(str, args))
    except SystemExit as stop:
        code = stop.code
    said = capsys.readouterr()
    return code, said.out, said.err


def test_the_shipped_course_is_whole(capsys):
    code, out, err = check("--json", capsys=capsys)

    found = json.loads(out)
    assert (code, err) == (0, "")
    assert found.pop("problems") == []
    assert found.pop("whole") is True
    assert found["modules"] == 5
    assert found["drinks"] >= 100
    assert found["must_knows"] >= 40
    assert all(found.values())


def test_its_summary_in_words(capsys):
    code, out, _err = check(capsys=capsys)

    assert code == 0
    assert out.startswith("5 modules, ")
    assert "must-knows" in out


def test_every_problem_is_told_with_file_and_entry(folder, capsys):
    spoil(folder, "10-highballs.toml", 'slug = "madras"', 'slug = "madras"\ncolour = "red"')
    spoil(folder, "ingredients.toml", "abv = 40", "abv = 140")
    (folder / "20-rocks.toml").write_text("[[drinks\n")

    code, out, err = check(folder, capsys=capsys)

    assert (code, out) == (2, "")
    lines = err.splitlines()
    assert any(line.startswith("10-highballs.toml: madras: ") for line in lines)
    assert any(line.startswith("ingredients.toml: ") for line in lines)
    assert any(line.startswith("20-rocks.toml: ") for line in lines)


def test_problems_for_a_program(folder, capsys):
    spoil(folder, "10-highballs.toml", 'slug = "madras"', 'slug = "madras"\ncolour = "red"')

    code, out, err = check(folder, "--json", capsys=capsys)

    found = json.loads(out)
    assert (code, err, found["whole"]) == (2, "", False)
    assert found["problems"][0]["file"] == "10-highballs.toml"
    assert found["problems"][0]["entry"] == "madras"
    assert found["problems"][0]["says"]


def test_no_such_folder(tmp_path, capsys):
    code, _out, err = check(tmp_path / "nowhere", capsys=capsys)

    assert code == 2
    assert "This file is not there." in err


def test_no_such_preset(folder, capsys):
    code, _out, err = check(folder, "--preset", "moon", capsys=capsys)

    assert code == 2
    assert err.startswith("presets/moon.toml: ")


def test_a_spoilt_course_loads_nothing(folder):
    spoil(folder, "10-highballs.toml", 'slug = "madras"', 'slug = "madras"\ncolour = "red"')

    with pytest.raises(CourseError):
        read_course(folder)
