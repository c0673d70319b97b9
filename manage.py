#!/usr/bin/env python
"""Django's commands and Barcourse's own. `python manage.py help` lists them."""

import os
import sys

from django.conf import settings
from django.core.exceptions import ImproperlyConfigured
from django.core.management import execute_from_command_line


def asks_for_help(words: list[str]) -> bool:
    """Whether nothing is done but to print how the commands are called."""
    return words[:1] == ["help"] or bool({"-h", "--help"} & set(words))


def main() -> None:
    os.environ.setdefault("DJANGO_SETTINGS_MODULE", "barcourse.settings")
    if asks_for_help(sys.argv[1:]):
        # How a command is called depends on no setting, and may be read before there are any.
        os.environ["BARCOURSE_DEMO"] = "1"
        os.environ.pop("BARCOURSE_BASE_URL", None)
    try:
        _ = settings.INSTALLED_APPS
    except ImproperlyConfigured as problem:
        sys.exit(str(problem))
    execute_from_command_line(sys.argv)


if __name__ == "__main__":
    main()
