"""Rows are locked so that nobody waits in a circle."""

import re
from pathlib import Path

ROOT = Path(__file__).parent.parent


def test_a_lock_lets_others_link_to_the_row():
    """PostgreSQL looks at links when a transaction ends, and for that takes a share of the row
    that is linked to. A lock that refuses this share (FOR UPDATE) makes two trainers with one
    hire wait for each other for ever; FOR NO KEY UPDATE keeps out other writers just as well."""
    locks = [
        (str(path.relative_to(ROOT)), call)
        for folder in ("barcourse", "recipes", "assessments")
        for path in sorted((ROOT / folder).rglob("*.py"))
        for call in re.findall(r"\.select_for_update\([^)]*\)", path.read_text())
    ]

    assert len(locks) > 10
    assert [place for place in locks if "no_key=True" not in place[1]] == []
