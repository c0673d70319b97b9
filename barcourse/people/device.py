"""The browser's own cookie: a random code, signed, that outlives signing in and out.

It ties a sent form to the browser that sent it, and wrong passwords to where they were typed.
"""

from __future__ import annotations

from django.conf import settings
from django.http import HttpRequest, HttpResponse

from .codes import new_code

COOKIE = "device"
_TWO_YEARS = 2 * 365 * 24 * 3600


def device_of(request: HttpRequest) -> str:
    """The code of this browser; a new one, sent along with the answer, at its first form."""
    known: str | None = getattr(request, "_device", None)
    if known is None:
        known = request.get_signed_cookie(COOKIE, default="") or new_code()
        request._device = known  # type: ignore[attr-defined]
    return known


def send_device(request: HttpRequest, response: HttpResponse) -> None:
    """Set the cookie if this request was the first to ask for it."""
    code = getattr(request, "_device", None)
    if code and not request.get_signed_cookie(COOKIE, default=""):
        response.set_signed_cookie(
            COOKIE,
            code,
            max_age=_TWO_YEARS,
            httponly=True,
            samesite="Lax",
            secure=settings.SESSION_COOKIE_SECURE,
        )
