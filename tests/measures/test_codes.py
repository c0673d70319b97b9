"""The list of codes is what the measures really give, found in their source."""

import ast
from collections.abc import Iterator
from pathlib import Path

import pytest

from assessments import measures
from assessments.measures.codes import CODES

SOURCES = sorted(p for folder in measures.__path__ for p in Path(folder).rglob("*.py"))


def reasons(path: Path) -> Iterator[ast.Call]:
    """Every `Reason.of(...)` of a file."""
    for node in ast.walk(ast.parse(path.read_text())):
        if isinstance(node, ast.Call) and ast.unparse(node.func) == "Reason.of":
            yield node


def written(call: ast.Call) -> str:
    (code,) = call.args
    assert isinstance(code, ast.Constant), f"a code that can't be read: {ast.unparse(call)}"
    return str(code.value)


CALLS = [
    (path.name, call)
    for path in SOURCES
    for call in reasons(path)
    if path.name != "items.py"  # it reads stored reasons back
]


@pytest.mark.parametrize(("where", "call"), CALLS, ids=lambda x: getattr(x, "lineno", x))
def test_a_reason_is_listed_with_its_parameters(where, call):
    listed = CODES[written(call)]
    given = {k.arg for k in call.keywords}

    assert given in (set(listed), {None}), where  # None: the two volumes of a pour, tested there


def test_every_code_in_the_list_is_given_somewhere():
    assert set(CODES) == {written(call) for _, call in CALLS}


def test_the_measures_import_no_framework():
    allowed = {"assessments", "recipes", "numpy", "scipy", "fsrs"}
    for path in SOURCES:
        for node in ast.walk(ast.parse(path.read_text())):
            names = [a.name for a in node.names] if isinstance(node, ast.Import) else []
            names += [node.module or ""] if isinstance(node, ast.ImportFrom) else []
            for name in names:
                top = name.partition(".")[0]
                assert top in allowed or top in STDLIB, f"{path.name} imports {name}"
                if top in ("assessments", "recipes"):
                    assert name.startswith(("assessments.measures", "recipes.grammar"))


STDLIB = {"__future__", "bisect", "collections", "dataclasses", "datetime", "decimal", "enum",
          "functools", "hashlib", "heapq", "itertools", "math", "random", "statistics",
          "typing"}  # fmt: skip
