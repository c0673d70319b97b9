"""What a browser may load and do on our pages: only what comes from here, and nothing inline.

The setting is named and shaped as in Django 6, so that this file can go when we move there.
"""

from collections.abc import Callable, Mapping, Sequence

from django.conf import settings
from django.http import HttpRequest, HttpResponse

Policy = Mapping[str, Sequence[str]]


def header(policy: Policy) -> str:
    return "; ".join(" ".join((directive, *sources)) for directive, sources in policy.items())


class ContentSecurityPolicyMiddleware:
    """Puts both policies on every answer, files and error pages too."""

    def __init__(self, get_response: Callable[[HttpRequest], HttpResponse]) -> None:
        self.get_response = get_response
        self.content = header(settings.SECURE_CSP)
        self.permissions = settings.PERMISSIONS_POLICY

    def __call__(self, request: HttpRequest) -> HttpResponse:
        response = self.get_response(request)
        response.headers.setdefault("Content-Security-Policy", self.content)
        response.headers.setdefault("Permissions-Policy", self.permissions)
        return response
