#!/usr/bin/env python
"""Django's commands and Barcourse's own. `python manage.py help` lists them."""

import os
import sys

from django.conf import settings
from django.core.exceptions import ImproperlyConfigured
from django.core.management import execute_from_command_line


def main() -> None:
    os.environ.setdefault("DJANGO_SETTINGS_MODULE", "barcourse.settings")
    try:
        _ = settings.INSTALLED_APPS
    except ImproperlyConfigured as problem:
        sys.exit(str(problem))
    execute_from_command_line(sys.argv)


if __name__ == "__main__":
    main()
