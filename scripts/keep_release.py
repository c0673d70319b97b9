#!/usr/bin/env python
"""Keeps the houses of this release for the tests of later ones: `keep_release.py DAY`.

Run it on the commit that was released, once. It writes `tests/data/released/DAY.sqlite3.xz`: the
demo house and the two houses of `tests/factories/whole_house.py`, which between them have rows in
every table. `tests/test_upgrade.py` opens it in every release that follows.
"""

import lzma
import os
import sqlite3
import subprocess
import sys
import tempfile
from pathlib import Path

ROOT = Path(__file__).resolve().parent.parent
RELEASED = ROOT / "tests" / "data" / "released"
FILL = """
import django
django.setup()
import time_machine
from tests.factories import whole_house
with time_machine.travel(whole_house.NOW, tick=False):
    whole_house._town(str)
"""


def keep(day: str) -> Path:
    kept = RELEASED / f"{day}.sqlite3.xz"
    if kept.exists():
        sys.exit(f"{kept.name} is there already; a release is kept once.")
    with tempfile.TemporaryDirectory() as folder:
        house = Path(folder) / "house.sqlite3"
        _run(house, "manage.py", "migrate", "--verbosity", "0")
        _run(house, "manage.py", "seed_demo")
        _free_the_names(house)
        _run(house, "-c", FILL)
        opened = sqlite3.connect(house)
        opened.execute("VACUUM")
        opened.close()
        RELEASED.mkdir(parents=True, exist_ok=True)
        kept.write_bytes(lzma.compress(house.read_bytes(), preset=9 | lzma.PRESET_EXTREME))
    return kept


def _run(house: Path, *words: str) -> None:
    own = {
        "BARCOURSE_DEMO": "1",
        "DATABASE_URL": f"sqlite:///{house}",
        "DJANGO_SETTINGS_MODULE": "tests.settings",
    }
    subprocess.run([sys.executable, *words], cwd=ROOT, env={**os.environ, **own}, check=True)


def _free_the_names(house: Path) -> None:
    """The people of the demo house and of the other two share sign-in names."""
    opened = sqlite3.connect(house)
    with opened:
        opened.execute("UPDATE people_person SET sign_in = sign_in || '.demo'")
    opened.close()


if __name__ == "__main__":
    print(keep(sys.argv[1]))
