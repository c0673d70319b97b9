from __future__ import annotations

import pytest
from time_machine import TimeMachineFixture

from recipes import shipped
from tests.factories.assessments import NOW
from tests.factories.recipes import small_course


@pytest.fixture(autouse=True)
def _a_small_course_ships(monkeypatch: pytest.MonkeyPatch) -> None:
    """Houses open with the tests' own course: quick, and no test hangs on what ships."""
    course = small_course()
    monkeypatch.setattr(shipped, "shipped_course", lambda: course)
    monkeypatch.setattr(shipped, "shipped_rules", lambda preset="us-classic": course.rules)


@pytest.fixture(autouse=True)
def _two_days_after_the_opening(time_machine: TimeMachineFixture) -> None:
    """Pages read the clock; here it says what the factories say, until a test shifts it."""
    time_machine.move_to(NOW, tick=False)
