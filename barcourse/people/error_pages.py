"""Every no in the house's own look and words. No traceback reaches anybody."""

from __future__ import annotations

from collections.abc import Sequence

from django.http import HttpRequest, HttpResponse
from django.shortcuts import render
from django.template.loader import render_to_string
from django.utils.translation import gettext as _


def bad_request(request: HttpRequest, exception: Exception) -> HttpResponse:
    words = _(
        "Something was missing from what your browser sent. Open the page anew and try again."
    )
    return _page(request, 400, _("That didn't arrive whole"), words)


def forbidden(request: HttpRequest, exception: Exception) -> HttpResponse:
    words = _("That is for somebody with another role. If you need it, ask the owner of the house.")
    return _page(request, 403, _("Not yours to open"), words)


def csrf_failure(request: HttpRequest, reason: str = "") -> HttpResponse:
    """Set as CSRF_FAILURE_VIEW. Mostly a page left open over a sign-in, seldom an attack."""
    words = _("This page had been open for too long. Nothing was changed. Go back and try again.")
    return _page(request, 403, _("Once more, please"), words)


def not_found(request: HttpRequest, exception: Exception) -> HttpResponse:
    words = _("Nothing hangs here. Perhaps the address has a slip in it, or it is another house's.")
    return _page(request, 404, _("No such page"), words)


def wrong_method(request: HttpRequest, allowed: Sequence[str]) -> HttpResponse:
    """Mostly the address of a button, opened by hand or from the browser's history."""
    words = _("There is nothing to look at here by itself. Nothing was changed. Start at the door.")
    response = _page(request, 405, _("That opens only from its own page"), words)
    response["Allow"] = ", ".join(allowed)
    return response


def sent_already(request: HttpRequest) -> HttpResponse:
    """A form's key came back with something else in it (`once.py`)."""
    words = _(
        "This form was sent before with something else in it, and the first one counts. "
        "Open the page anew to send another."
    )
    return _page(request, 409, _("Sent already"), words)


def server_error(request: HttpRequest) -> HttpResponse:
    """Rendered without the request, so that nothing here asks the database, which may be down."""
    context = {
        "title": _("That's on us"),
        "words": _(
            "Something broke on our side. Nothing half-done was kept. Try again in a minute."
        ),
    }
    return HttpResponse(render_to_string("people/error.html", context), status=500)


def _page(request: HttpRequest, status: int, title: str, words: str) -> HttpResponse:
    return render(request, "people/error.html", {"title": title, "words": words}, status=status)
