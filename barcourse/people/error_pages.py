"""Every no in the house's own look and words. No traceback reaches anybody."""

from __future__ import annotations

from collections.abc import Sequence

from django.core.exceptions import DisallowedHost
from django.http import HttpRequest, HttpResponse
from django.shortcuts import render
from django.template.loader import render_to_string
from django.urls import reverse
from django.utils.http import url_has_allowed_host_and_scheme
from django.utils.translation import gettext as _

from . import tablet_session
from .models import Membership, Person


def bad_request(request: HttpRequest, exception: Exception) -> HttpResponse:
    words = _(
        "Something was missing from what your browser sent. Open the page anew and try again."
    )
    return _page(request, 400, _("That didn't arrive whole"), words)


def forbidden(request: HttpRequest, exception: Exception) -> HttpResponse:
    words = _("That is for somebody with another role. If you need it, ask the owner of the house.")
    return _page(request, 403, _("Not yours to open"), words)


def csrf_failure(request: HttpRequest, reason: str = "") -> HttpResponse:
    """Set as CSRF_FAILURE_VIEW. Mostly a page left open while somebody came in, seldom an attack.
    Going back would send the same again: it leads on to the page anew, or to whose turn it is."""
    meant = Membership.objects.with_code(request.POST.get("form_by", ""))
    now = _member_now(request, meant)
    if meant is None or now is None:
        words = _("This page had been open for too long. Nothing was changed. Open it anew.")
        return _page(request, 403, _("Once more, please"), words, **_anew(request))
    if meant == now:
        words = _("You came in anew after this page was opened. Nothing was changed. Open it anew.")
        return _page(request, 403, _("Once more, please"), words, **_anew(request))
    words = _(
        "%(meant)s opened this page, and %(now)s is in now. Nothing was changed: nothing goes on "
        "record under another name. %(meant)s comes in again and sends it."
    ) % {"meant": meant.name, "now": now.name}
    title = _("It was meant for %(name)s") % {"name": meant.name}
    turns = tablet_session.is_a_turn(request)
    to = {"to": reverse("tablet"), "label": _("Whose turn?")} if turns else {}
    return _page(request, 403, title, words, **to)


def _member_now(request: HttpRequest, meant: Membership | None) -> Membership | None:
    """Whoever is in now, in the house that the form was meant for. To others no name is told."""
    person = request.user
    if meant is None or not isinstance(person, Person):
        return None
    return Membership.objects.of(person).in_house(meant.venue).select_related("person").first()


def _anew(request: HttpRequest) -> dict[str, str]:
    """Where the page of the form can be opened once more: at its own address, else where the
    browser says that the form stood, if that is here."""
    rule = getattr(request.resolver_match and request.resolver_match.func, "access_rule", None)
    own = request.get_full_path() if rule and "GET" in rule.methods else _came_from(request)
    return {"to": own, "label": _("Open it anew")} if own else {}


def _came_from(request: HttpRequest) -> str:
    said = request.headers.get("Referer", "")
    try:
        ours = {request.get_host()}
    except DisallowedHost:
        return ""
    return said if url_has_allowed_host_and_scheme(said, ours, request.is_secure()) else ""


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


def _page(
    request: HttpRequest, status: int, title: str, words: str, **leads_on: str
) -> HttpResponse:
    """`to` and `label`, if given: where it goes on instead of at the door."""
    context = {"title": title, "words": words, **leads_on}
    return render(request, "people/error.html", context, status=status)
