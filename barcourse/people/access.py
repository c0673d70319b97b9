"""Who may open a page. Every view wears one of `anyone`, `signed_in`, `member`; one that doesn't
keeps the site from starting (`checks.py`).

A house's pages live under /h/<slug:house>/. To a stranger they don't exist (404), and somebody
who has left is a stranger; a member whose role is too little is told so (403); nobody is asked to
sign in. Only then is the method looked at (405), and a POST is answered at most once (`once.py`).
"""

from __future__ import annotations

import functools
from collections.abc import Callable
from contextlib import AbstractContextManager, nullcontext
from dataclasses import dataclass
from typing import Any, overload

from django.contrib.auth.views import redirect_to_login
from django.core.exceptions import PermissionDenied
from django.http import Http404, HttpRequest, HttpResponse
from django.shortcuts import redirect
from django.utils import timezone

from . import tablet_session
from .device import send_device
from .error_pages import wrong_method
from .models import Membership, Person, Venue
from .once import once, once_read
from .roles import May

View = Callable[..., HttpResponse]
First = Callable[..., Any]
Methods = tuple[str, ...]
READ: Methods = ("GET",)
SEND: Methods = ("POST",)
READ_AND_SEND: Methods = ("GET", "POST")


class PersonRequest(HttpRequest):
    """What a view under `signed_in` is called with."""

    user: Person


class HouseRequest(PersonRequest):
    """What a view under `member` is called with."""

    venue: Venue
    membership: Membership


@dataclass(frozen=True)
class Rule:
    """The rule a view wears, as `view.access_rule`: what a table of all pages is held against."""

    who: str
    may: May | None
    methods: Methods


@overload
def anyone(view: View) -> View: ...
@overload
def anyone(*, methods: Methods) -> Callable[[View], View]: ...
def anyone(view: View | None = None, *, methods: Methods = READ) -> View | Callable[[View], View]:
    """Everybody, signed in or not. `@anyone` or `@anyone(methods=READ_AND_SEND)`."""
    return _decorator(view, Rule("anyone", None, methods), lambda request, kwargs: None)


@overload
def signed_in(view: View) -> View: ...
@overload
def signed_in(*, methods: Methods) -> Callable[[View], View]: ...
def signed_in(
    view: View | None = None, *, methods: Methods = READ
) -> View | Callable[[View], View]:
    """Whoever is signed in, with or without a house."""

    def admit(request: HttpRequest, kwargs: dict[str, Any]) -> HttpResponse | None:
        return _needs_person(request, methods)

    return _decorator(view, Rule("signed_in", None, methods), admit)


def member(
    may: May, *, methods: Methods = READ, first: First | None = None
) -> Callable[[View], View]:
    """Whoever is here in the house named in the address and may do this. Takes `house` out of the
    view's arguments and sets `request.venue` and `request.membership`. With `first`, what was sent
    is read by that before anything is locked, and given to the view as `found` (`once_read`)."""

    def admit(request: HttpRequest, kwargs: dict[str, Any]) -> HttpResponse | None:
        return _needs_member(request, kwargs.pop("house"), may, methods)

    return lambda view: _wrap(view, Rule("member", may, methods), admit, first)


_Admit = Callable[[HttpRequest, dict[str, Any]], HttpResponse | None]


def _decorator(view: View | None, rule: Rule, admit: _Admit) -> View | Callable[[View], View]:
    if view is not None:
        return _wrap(view, rule, admit)
    return lambda decorated: _wrap(decorated, rule, admit)


def _wrap(view: View, rule: Rule, admit: _Admit, first: First | None = None) -> View:
    """`admit` raises, or answers in the view's place, or lets the request through."""

    @functools.wraps(view)
    def guarded(request: HttpRequest, *args: object, **kwargs: Any) -> HttpResponse:
        response = admit(request, kwargs)
        if response is None:
            with _clock_of_the_house(request):
                response = _answer(view, rule, request, args, kwargs, first)
        send_device(request, response)
        return response

    guarded.access_rule = rule  # type: ignore[attr-defined]
    return guarded


def _clock_of_the_house(request: HttpRequest) -> AbstractContextManager[None]:
    """Times on a house's page are read off the house's own clock."""
    venue: Venue | None = getattr(request, "venue", None)
    return timezone.override(venue.zone) if venue else nullcontext()


def _answer(
    view: View, rule: Rule, request: HttpRequest, args: tuple[object, ...], kwargs: dict[str, Any],
    first: First | None,
) -> HttpResponse:  # fmt: skip
    method = "GET" if request.method == "HEAD" else request.method
    if method not in rule.methods:
        return wrong_method(request, rule.methods)
    if method == "POST" and first:
        return once_read(
            request,
            lambda: first(request, *args, **kwargs),
            lambda found: view(request, *args, found=found, **kwargs),
        )
    if method == "POST":
        return once(request, lambda: view(request, *args, **kwargs))
    return view(request, *args, **kwargs)


def _needs_person(request: HttpRequest, methods: Methods) -> HttpResponse | None:
    """Whoever has to sign in first is led back to the page, also from a form sent too late."""
    if tablet_session.end_if_over(request, timezone.now()):
        return redirect("tablet")
    if isinstance(request.user, Person) and request.user.is_authenticated:
        return None
    return redirect_to_login(request.get_full_path() if "GET" in methods else "/")


def _needs_member(
    request: HttpRequest, house: str, may: May, methods: Methods
) -> HttpResponse | None:
    if (to_sign_in := _needs_person(request, methods)) is not None:
        return to_sign_in
    membership = _membership(request, house)
    request.venue, request.membership = membership.venue, membership  # type: ignore[attr-defined]
    membership.venue.is_only_read = request.method in ("GET", "HEAD")
    if not tablet_session.may(request, membership, may):
        raise PermissionDenied
    return None


def _membership(request: HttpRequest, house: str) -> Membership:
    person = request.user
    if not isinstance(person, Person):
        raise Http404
    membership = Membership.objects.of(person).select_related("venue").at_address(house).first()
    if membership is None or not membership.is_here(membership.venue.business_day(timezone.now())):
        raise Http404
    if tablet_session.is_elsewhere(request, membership):
        raise Http404
    membership.person = person  # saves asking for it once more
    return membership
