"""Django's settings. What a house may change comes from the environment (environment.py)."""

import gc
import os
from pathlib import Path
from urllib.parse import urlsplit

import django_stubs_ext

from barcourse import database, environment, logs

# So that ModelForm[Venue] and its like can be written as types where they also run.
django_stubs_ext.monkeypatch()

# A server's processes share the machine already: threads that wait for each other within one small
# multiplication take several times as long as it does. Read when numpy is first imported.
os.environ.setdefault("OPENBLAS_NUM_THREADS", "1")

# A page makes some ten thousand objects and lets go of them all: looking for cycles among them
# every seven hundred, as is usual, takes a tenth of its time.
gc.set_threshold(50_000, 20, 20)

env = environment.read()

BASE_DIR = Path(__file__).resolve().parent.parent
VAR = BASE_DIR / "var"
VAR.mkdir(exist_ok=True)

# Ours, read as settings.X by the apps.
DEMO = env.demo
BASE_URL = env.address
OPEN_HOUSES = env.open_houses

DEBUG = False
SECRET_KEY = env.key
ALLOWED_HOSTS = env.hosts
ROOT_URLCONF = "barcourse.urls"
WSGI_APPLICATION = "barcourse.wsgi.application"

INSTALLED_APPS = [
    "django.contrib.auth",
    "django.contrib.contenttypes",
    "django.contrib.sessions",
    "django.contrib.messages",
    "django.contrib.staticfiles",
    "django_htmx",
    "template_partials",
    "barcourse.people",
    "recipes",
    "assessments",
    "barcourse.papers",
    "barcourse.demo",
]

FORM_RENDERER = "barcourse.form_renderer.FormRenderer"

MIDDLEWARE = [
    "django.middleware.security.SecurityMiddleware",
    "barcourse.csp.ContentSecurityPolicyMiddleware",
    *(["barcourse.loopback.LoopbackOnlyMiddleware"] if DEMO else []),
    "whitenoise.middleware.WhiteNoiseMiddleware",
    # Within it: files are sent as they were compressed beforehand. See docs/decisions/0013.
    "django.middleware.gzip.GZipMiddleware",
    "django.contrib.sessions.middleware.SessionMiddleware",
    "django.middleware.locale.LocaleMiddleware",
    "django.middleware.common.CommonMiddleware",
    "django.middleware.csrf.CsrfViewMiddleware",
    "django.contrib.auth.middleware.AuthenticationMiddleware",
    "django.contrib.messages.middleware.MessageMiddleware",
    "django.middleware.clickjacking.XFrameOptionsMiddleware",
    "django_htmx.middleware.HtmxMiddleware",
]

TEMPLATES = [
    {
        "BACKEND": "django.template.backends.django.DjangoTemplates",
        "DIRS": [BASE_DIR / "templates"],
        "APP_DIRS": True,
        "OPTIONS": {
            "context_processors": [
                "django.template.context_processors.request",
                "django.contrib.auth.context_processors.auth",
                "django.contrib.messages.context_processors.messages",
                "barcourse.people.context.house_context",
            ],
        },
    }
]

# The demo house has a file of its own, so that a real one never wakes up among invented people.
DATABASES = {
    "default": database.connection(
        env.database_url,
        default_file=VAR / ("demo.sqlite3" if DEMO else "barcourse.sqlite3"),
    )
}
DEFAULT_AUTO_FIELD = "django.db.models.BigAutoField"

# Who is signed in, and for how long.
AUTH_USER_MODEL = "people.Person"
LOGIN_URL = "sign_in"
AUTH_PASSWORD_VALIDATORS = [
    {"NAME": f"django.contrib.auth.password_validation.{name}"}
    for name in (
        "UserAttributeSimilarityValidator",
        "MinimumLengthValidator",
        "CommonPasswordValidator",
        "NumericPasswordValidator",
    )
]
SESSION_COOKIE_NAME = "barcourse_session"
SESSION_COOKIE_AGE = 14 * 24 * 60 * 60
CSRF_COOKIE_NAME = "barcourse_csrf"
CSRF_COOKIE_HTTPONLY = True
CSRF_FAILURE_VIEW = "barcourse.people.error_pages.csrf_failure"

# Only https outside the demo. The proxy's word for it counts only where the house says so.
SECURE_SSL_REDIRECT = SESSION_COOKIE_SECURE = CSRF_COOKIE_SECURE = not DEMO
# Thirty days: a bar whose certificate lapses is not locked out for a year.
SECURE_HSTS_SECONDS = 0 if DEMO else 30 * 24 * 60 * 60
SECURE_PROXY_SSL_HEADER = ("HTTP_X_FORWARDED_PROTO", "https") if env.behind_proxy else None
CSRF_TRUSTED_ORIGINS = [BASE_URL] if urlsplit(BASE_URL).scheme == "https" else []
SECURE_REFERRER_POLICY = "same-origin"
X_FRAME_OPTIONS = "DENY"
SECURE_CSP = {
    "default-src": ["'self'"],
    "img-src": ["'self'", "data:"],
    "object-src": ["'none'"],
    "worker-src": ["'self'"],
    "manifest-src": ["'self'"],
    "frame-ancestors": ["'none'"],
    "form-action": ["'self'"],
    "base-uri": ["'none'"],
}
PERMISSIONS_POLICY = "camera=(), geolocation=(), microphone=(), payment=(), usb=()"
SILENCED_SYSTEM_CHECKS = [
    "security.W005",  # the bar's other sites under its name are not ours to force onto https
    "security.W021",  # nor to put on the browsers' preload list
]

# Words, days and hours. Each house's time zone is set when one of its pages is opened.
FORMAT_MODULE_PATH = ["barcourse.formats"]
LANGUAGE_CODE = "en"
LANGUAGES = [("en", "English")]
LOCALE_PATHS = [BASE_DIR / "locale"]
USE_I18N = True
USE_TZ = True
TIME_ZONE = "UTC"

# Files. The demo serves them from where they lie; otherwise `collectstatic` names each by content.
STATIC_URL = "static/"
STATICFILES_DIRS = [BASE_DIR / "static"]
STATIC_ROOT = None if DEMO else VAR / "static"
WHITENOISE_USE_FINDERS = DEMO
WHITENOISE_ALLOW_ALL_ORIGINS = False
STORAGES = {
    "default": {"BACKEND": "django.core.files.storage.FileSystemStorage"},
    "staticfiles": {
        "BACKEND": (
            "barcourse.static_urls.PlainFiles" if DEMO else "barcourse.static_urls.NamedFiles"
        )
    },
}

LOGGING = logs.configuration(level=env.log_level, for_people=DEMO)
logs.configure()
