from __future__ import annotations

import pytest

from recipes import shipped
from tests.factories.recipes import small_course


@pytest.fixture(autouse=True)
def _a_small_course_ships(monkeypatch: pytest.MonkeyPatch) -> None:
    """Houses open with the tests' own course: quick, and no test hangs on what ships."""
    course = small_course()
    monkeypatch.setattr(shipped, "shipped_course", lambda: course)
    monkeypatch.setattr(shipped, "shipped_rules", lambda preset="us-classic": course.rules)
