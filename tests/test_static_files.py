"""Files as a house serves them: each named by its content, none missing."""

import re
from pathlib import Path

import pytest
from django.contrib.staticfiles.storage import staticfiles_storage
from django.core.management import call_command

ROOT = Path(__file__).parent.parent
NAMED = re.compile(r"""{%\s*static\s+["']([^"']+)["']\s*%}""")
HASHED = re.compile(r"\.[0-9a-f]{12}\.")


def named_in_templates():
    templates = (ROOT / "templates").rglob("*.html")
    return sorted({name for path in templates for name in NAMED.findall(path.read_text())})


@pytest.fixture(scope="module")
def collected(tmp_path_factory):
    """What `collectstatic` makes of our files under a house's own settings."""
    from django.test import override_settings

    storages = {
        "default": {"BACKEND": "django.core.files.storage.FileSystemStorage"},
        "staticfiles": {"BACKEND": "barcourse.static_urls.NamedFiles"},
    }
    folder = tmp_path_factory.mktemp("static")
    with override_settings(STATIC_ROOT=folder, STORAGES=storages):
        call_command("collectstatic", verbosity=0, interactive=False)
        yield folder


def test_templates_name_files_at_all():
    assert "css/base.css" in named_in_templates()


@pytest.mark.parametrize("name", [*named_in_templates(), "django_htmx/htmx-2.min.js"])
def test_every_file_that_a_template_names_is_served_under_its_content(collected, name):
    url = staticfiles_storage.url(name)

    assert HASHED.search(url)
    assert (collected / url.removeprefix("/static/")).is_file()


def test_files_are_compressed_for_a_bars_bad_signal(collected):
    assert list(collected.glob("css/*.css.br"))
    assert list(collected.glob("css/*.css.gz"))


def test_fonts_come_with_their_licence():
    fonts = ROOT / "static/fonts"

    assert len(list(fonts.glob("*.woff2"))) == 3
    assert "SIL OPEN FONT LICENSE Version 1.1" in (fonts / "LICENSE.txt").read_text()
