"""Settings for the tests: the real ones, from an environment that no machine can bend.

Only DATABASE_URL is taken from outside, so that the same tests run on PostgreSQL.
"""

import atexit
import os
import shutil
import tempfile
from pathlib import Path

OF_THE_TESTS = {"BARCOURSE_NO_SKIPS", "BARCOURSE_SLOWER"}
for _name in [name for name in os.environ if name.startswith("BARCOURSE_")]:
    if _name not in OF_THE_TESTS:
        del os.environ[_name]
os.environ["BARCOURSE_DEMO"] = "1"
os.environ["BARCOURSE_BASE_URL"] = "http://127.0.0.1:8000"
os.environ["BARCOURSE_LOG_LEVEL"] = "WARNING"

from barcourse.settings import *  # noqa: E402, F403
from barcourse.settings import DATABASES  # noqa: E402

# Fast, and for tests alone.
PASSWORD_HASHERS = ["django.contrib.auth.hashers.MD5PasswordHasher"]

# pytest keeps what is logged and shows it beside a failure.
LOGGING_CONFIG = None

# A file, not memory: journal mode, locks and several connections behave as they do in a house.
if DATABASES["default"]["ENGINE"] == "django.db.backends.sqlite3":
    _folder = tempfile.mkdtemp(prefix="barcourse-tests-")
    atexit.register(shutil.rmtree, _folder, ignore_errors=True)
    if not os.environ.get("DATABASE_URL"):
        # A test that opens the database unasked finds an empty file, never a house of this machine.
        DATABASES["default"]["NAME"] = str(Path(_folder) / "nothing.sqlite3")
    DATABASES["default"]["TEST"] = {"NAME": str(Path(_folder) / "test.sqlite3")}
