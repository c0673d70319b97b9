"""The pure cores import only what they may. The arrows between apps are import-linter's."""

import ast
import sys
from pathlib import Path

import pytest

ROOT = Path(__file__).parent.parent
LIBRARIES = {"pydantic", "pydantic_core", "numpy", "scipy", "rapidfuzz", "fsrs"}
CORES = {
    "recipes/grammar": ("recipes.grammar",),
    "assessments/measures": ("assessments.measures", "recipes.grammar"),
}


def imported(source):
    for node in ast.walk(ast.parse(source)):
        if isinstance(node, ast.Import):
            yield from (name.name for name in node.names)
        elif isinstance(node, ast.ImportFrom):
            dots, module = "." * node.level, node.module or ""
            yield from (f"{dots}{module}.{name.name}".strip() for name in node.names)


def allowed(name, ours):
    top = name.split(".")[0]
    if top in sys.stdlib_module_names or top in LIBRARIES:
        return True
    return any(name == core or name.startswith(core + ".") for core in ours)


def forbidden(source, ours):
    return [name for name in imported(source) if not allowed(name, ours)]


FILES = [(path, ours) for core, ours in CORES.items() for path in (ROOT / core).rglob("*.py")]


@pytest.mark.parametrize(
    ("path", "ours"), FILES, ids=[str(path.relative_to(ROOT)) for path, _ in FILES]
)
def test_a_core_file_imports_only_what_it_may(path, ours):
    assert forbidden(path.read_text(), ours) == []


@pytest.mark.parametrize(
    "line",
    [
        "import django",
        "from django.utils import timezone",
        "from recipes import wording",
        "from recipes.models import Recipe",
        "import statsmodels",
        "from .. import wording",
        "def late():\n    from barcourse.people import log",
    ],
)
def test_the_rule_catches(line):
    assert forbidden(line, CORES["recipes/grammar"]) != []


def test_grammar_does_not_know_what_is_measured_with_it():
    assert forbidden("from assessments.measures import pours", CORES["recipes/grammar"]) != []
    assert forbidden("from recipes.grammar import spec", CORES["assessments/measures"]) == []


@pytest.mark.parametrize("package", ["recipes", "assessments"])
def test_the_package_above_a_core_imports_nothing(package):
    """Importing a core runs it first."""
    assert list(imported((ROOT / package / "__init__.py").read_text())) == []
