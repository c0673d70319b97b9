"""The settings as they really load, in a process of their own: demo, and a house on the net."""

import json
import os
import subprocess
import sys
from pathlib import Path

import pytest
from django.utils.module_loading import import_string
from whitenoise.storage import CompressedManifestStaticFilesStorage

ROOT = Path(__file__).parent.parent
HOUSE = {
    "BARCOURSE_SECRET_KEY": "Zu5-long-and-varied-enough-for-a-check-of-the-deployment-0123456789",
    "BARCOURSE_BASE_URL": "https://train.bar.example",
}
DEMO = {"BARCOURSE_DEMO": "1"}


def run_with(variables, *command):
    """Our own variables alone: nothing of the machine's may reach the settings."""
    kept = {"PATH": os.environ["PATH"], "HOME": os.environ.get("HOME", "")}
    return subprocess.run(
        [sys.executable, *command],
        cwd=ROOT,
        env=kept | variables,
        capture_output=True,
        text=True,
        check=False,
    )


def setting(name, variables):
    code = (
        "import json; from django.conf import settings;"
        f"print(json.dumps(settings.{name}, default=str))"
    )
    run = run_with(variables | {"DJANGO_SETTINGS_MODULE": "barcourse.settings"}, "-c", code)
    assert run.returncode == 0, run.stderr
    return json.loads(run.stdout)


def test_without_a_key_a_command_ends_with_one_plain_line():
    run = run_with({}, "manage.py", "check")

    assert run.returncode == 1
    assert run.stderr.startswith("BARCOURSE_SECRET_KEY must be set")
    assert "Traceback" not in run.stderr
    assert len(run.stderr.splitlines()) == 1


@pytest.mark.parametrize("variables", [{}, {"BARCOURSE_BASE_URL": "https://bar.example"}])
@pytest.mark.parametrize(
    "words",
    [("import_recipes", "--help"), ("export_recipes", "-h"), ("help", "import_recipes")],
)
def test_how_a_command_is_called_can_be_read_before_anything_is_set(words, variables):
    run = run_with(variables, "manage.py", *words)

    assert run.returncode == 0, run.stderr
    assert "--venue" in run.stdout


def test_a_house_on_the_net_passes_djangos_own_deployment_check():
    run = run_with(HOUSE, "manage.py", "check", "--deploy", "--fail-level", "WARNING")

    assert run.returncode == 0, run.stderr


SAFE = [
    ("DEBUG", False, False),
    ("SECURE_SSL_REDIRECT", True, False),
    ("SESSION_COOKIE_SECURE", True, False),
    ("CSRF_COOKIE_SECURE", True, False),
    ("SECURE_HSTS_SECONDS", 30 * 24 * 60 * 60, 0),
    ("SECURE_PROXY_SSL_HEADER", None, None),
    ("OPEN_HOUSES", False, False),
    ("ALLOWED_HOSTS", ["train.bar.example"], ["127.0.0.1", "localhost", "[::1]"]),
    ("CSRF_TRUSTED_ORIGINS", ["https://train.bar.example"], []),
]


@pytest.mark.parametrize(("name", "house", "demo"), SAFE, ids=[row[0] for row in SAFE])
def test_what_a_house_and_the_demo_start_with(name, house, demo):
    assert setting(name, HOUSE) == house
    assert setting(name, DEMO) == demo


def test_the_demo_keeps_to_a_file_of_its_own():
    house = setting("DATABASES['default']['NAME']", HOUSE)
    demo = setting("DATABASES['default']['NAME']", DEMO)

    assert (Path(house).name, Path(demo).name) == ("barcourse.sqlite3", "demo.sqlite3")


def test_a_proxys_word_for_https_counts_only_where_the_house_says_so():
    behind = HOUSE | {"BARCOURSE_BEHIND_PROXY": "1"}

    assert setting("SECURE_PROXY_SSL_HEADER", behind) == ["HTTP_X_FORWARDED_PROTO", "https"]


def test_files_of_a_house_are_named_by_their_content():
    house = setting("STORAGES['staticfiles']['BACKEND']", HOUSE)

    assert issubclass(import_string(house), CompressedManifestStaticFilesStorage)
