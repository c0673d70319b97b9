"""What the server runs; it refuses to start with a page or a table left open."""

import os

from django.core.wsgi import get_wsgi_application

os.environ.setdefault("DJANGO_SETTINGS_MODULE", "barcourse.settings")

application = get_wsgi_application()

from barcourse.people.start import refuse_unsafe_start  # noqa: E402  (needs the apps)

refuse_unsafe_start()
