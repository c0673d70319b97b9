"""What every answer carries, whatever the page."""

import pytest
from django.http import HttpResponse
from django.test import RequestFactory

from barcourse.csp import ContentSecurityPolicyMiddleware, header
from barcourse.loopback import LoopbackOnlyMiddleware

POLICY = (
    "default-src 'self'; img-src 'self' data:; object-src 'none'; worker-src 'self'; "
    "manifest-src 'self'; frame-ancestors 'none'; form-action 'self'; base-uri 'none'"
)


@pytest.mark.parametrize(
    "address", ["/", "/no-such-page/", "/static/icons/barcourse.svg"], ids=["page", "404", "file"]
)
@pytest.mark.django_db
def test_pages_error_pages_and_files_all_carry_the_policies(client, address):
    answer = client.get(address)
    answer.close()

    assert answer.headers["Content-Security-Policy"] == POLICY
    assert answer.headers["Permissions-Policy"].startswith("camera=()")
    assert answer.headers["Referrer-Policy"] == "same-origin"
    assert answer.headers["X-Content-Type-Options"] == "nosniff"
    assert "Access-Control-Allow-Origin" not in answer.headers


def test_nothing_inline_is_let_through():
    assert "unsafe" not in POLICY
    assert "*" not in POLICY


def test_a_page_may_set_a_policy_of_its_own():
    own = HttpResponse(headers={"Content-Security-Policy": "default-src 'none'"})
    answer = ContentSecurityPolicyMiddleware(lambda _: own)(RequestFactory().get("/"))

    assert answer.headers["Content-Security-Policy"] == "default-src 'none'"


def test_a_policy_reads_as_browsers_read_it():
    assert header({"default-src": ["'self'"], "img-src": ["'self'", "data:"]}) == (
        "default-src 'self'; img-src 'self' data:"
    )


@pytest.mark.parametrize(
    ("caller", "status"), [("127.0.0.1", 200), ("::1", 200), ("192.168.0.7", 403), ("", 403)]
)
@pytest.mark.django_db
def test_the_demo_answers_this_machine_alone(client, caller, status):
    answer = client.get("/static/icons/barcourse.svg", REMOTE_ADDR=caller)
    answer.close()

    assert answer.status_code == status


def test_the_guard_stands_before_files_and_sessions(settings):
    guard = f"{LoopbackOnlyMiddleware.__module__}.{LoopbackOnlyMiddleware.__qualname__}"

    assert settings.MIDDLEWARE.index(guard) < settings.MIDDLEWARE.index(
        "whitenoise.middleware.WhiteNoiseMiddleware"
    )
