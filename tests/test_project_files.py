"""What the project says of itself must be so."""

import re
import subprocess
import sys
import tomllib
from pathlib import Path

import pytest

ROOT = Path(__file__).parent.parent
PROJECT_TEXT = (ROOT / "pyproject.toml").read_text()
PROJECT = tomllib.loads(PROJECT_TEXT)
LOCKS = ["requirements.txt", "requirements-dev.txt"]
NAME = re.compile(r"^[A-Za-z0-9_.-]+")


def normal(name):
    return re.sub(r"[-_.]+", "-", name).lower()


def pins(lock):
    lines = (ROOT / lock).read_text().splitlines()
    return {line.rstrip(" \\") for line in lines if re.match(r"[a-z0-9]", line)}


def test_every_place_names_the_same_oldest_python():
    oldest = re.fullmatch(r">=(\d+)\.(\d+)", PROJECT["project"]["requires-python"])
    major, minor = oldest.groups()

    assert PROJECT["tool"]["ruff"]["target-version"] == f"py{major}{minor}"
    assert PROJECT["tool"]["mypy"]["python_version"] == f"{major}.{minor}"
    assert f"< ({major}, {minor})" in (ROOT / "scripts/setup.sh").read_text()
    assert f"--python-version {major}.{minor}" in (ROOT / "scripts/lock.sh").read_text()


def direct(group):
    listed = PROJECT["project"]["dependencies"] if group == "run" else (
        PROJECT["dependency-groups"]["dev"]
    )  # fmt: skip
    return [NAME.match(line).group() for line in listed]


@pytest.mark.parametrize("name", direct("run") + direct("dev"))
def test_every_dependency_has_its_reason_beside_it(name):
    [line] = re.findall(rf'^ +"{re.escape(name)}[\[><=].*$', PROJECT_TEXT, re.MULTILINE)

    assert re.search(r", +# \w.{10,}$", line)


@pytest.mark.parametrize("lock", LOCKS)
def test_a_lock_names_no_place_to_download_from(lock):
    text = (ROOT / lock).read_text()

    assert "://" not in text
    assert not re.search(r"^--?(i|f|index|extra|find|trusted)", text, re.MULTILINE)


@pytest.mark.parametrize("lock", LOCKS)
def test_every_line_of_a_lock_is_an_exact_version_with_hashes(lock):
    blocks = re.split(r"\n(?=[a-z0-9])", (ROOT / lock).read_text().strip())

    assert all("==" in block and "--hash=sha256:" in block for block in blocks)


def test_development_runs_the_versions_that_a_house_runs():
    assert pins("requirements.txt") <= pins("requirements-dev.txt")


def test_every_dependency_is_locked():
    locked = {normal(NAME.match(pin).group()) for pin in pins("requirements-dev.txt")}

    assert {normal(name) for name in direct("run") + direct("dev")} <= locked


def test_every_target_of_the_makefile_is_declared_and_explained():
    makefile = (ROOT / "Makefile").read_text()
    targets = set(re.findall(r"^([a-z]+):(?!=)", makefile, re.MULTILINE))
    explained = set(re.findall(r"^([a-z]+):.*## ", makefile, re.MULTILINE))
    declared = set(re.search(r"^\.PHONY: (.*)$", makefile, re.MULTILINE).group(1).split())

    assert targets == explained == declared


def test_every_script_that_the_makefile_names_is_there():
    named = re.findall(r"scripts/\w+\.(?:sh|py)", (ROOT / "Makefile").read_text())

    assert named
    assert [name for name in named if not (ROOT / name).is_file()] == []


def test_the_version_is_said_once_in_the_form_of_the_index():
    assert re.fullmatch(r"\d+\.\d+\.\d+", PROJECT["project"]["version"])


def test_setup_does_nothing_where_the_environment_is_already_made():
    if Path(sys.prefix) != ROOT / ".venv":
        pytest.skip("these tests run from an environment that `make setup` did not make")
    stamp = ROOT / ".venv/made-from"
    before = stamp.stat().st_mtime_ns

    run = subprocess.run(
        ["bash", "scripts/setup.sh"], cwd=ROOT, capture_output=True, text=True, check=False
    )

    assert (run.returncode, run.stdout) == (0, "")
    assert stamp.stat().st_mtime_ns == before
