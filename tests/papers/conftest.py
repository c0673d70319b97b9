from __future__ import annotations

import pytest

from barcourse.papers.issue import issue_certificate
from barcourse.papers.models import Certificate
from barcourse.people.models import Membership
from recipes import shipped
from tests import replay
from tests.factories.recipes import small_course
from tests.papers import ready


@pytest.fixture(autouse=True)
def _a_small_course_ships(monkeypatch: pytest.MonkeyPatch) -> None:
    """Houses open with the tests' own course: quick, and no test hangs on what ships."""
    course = small_course()
    monkeypatch.setattr(shipped, "shipped_course", lambda: course)
    monkeypatch.setattr(shipped, "shipped_rules", lambda preset="us-classic": course.rules)


@pytest.fixture
def ready_nils(nils: Membership, tamsin: Membership) -> Membership:
    """Nils, ready at the beer point since Tuesday."""
    made = replay.once(
        "nils, ready", lambda: ready.make_ready(nils, tamsin), shipped.shipped_course()
    )
    assert isinstance(made, Membership)
    made.venue = nils.venue
    return made


@pytest.fixture
def certificate(ready_nils: Membership, marek: Membership) -> Certificate:
    """Issued by Marek on March 12, 2026."""
    return issue_certificate(
        by=marek, hire=ready_nils, station=ready.station(marek), at=ready.ISSUED
    )
