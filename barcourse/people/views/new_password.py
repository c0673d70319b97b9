"""Forgotten passwords: a manager's page that makes a link, and the page behind that link."""

from __future__ import annotations

from django.contrib.auth import login
from django.http import Http404, HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.utils import timezone

from barcourse.people import new_password
from barcourse.people.access import READ_AND_SEND, HouseRequest, anyone, member
from barcourse.people.forms import EmptyForm, NewPasswordForm, refusals_beside
from barcourse.people.links import password_address, qr_code
from barcourse.people.models import Membership
from barcourse.people.reasons import Refused
from barcourse.people.roles import May
from barcourse.people.views.join import quietly
from barcourse.people.wording import say

JUST_MADE = "password_link"


@member(May.INVITE, methods=READ_AND_SEND)
def for_somebody(request: HouseRequest, code: str) -> HttpResponse:
    """A button; after it the link and its QR code, once: until then the token waits in the maker's
    session on the server and nowhere else."""
    someone = Membership.objects.in_house(request.venue).with_code(code)
    if someone is None:
        raise Http404
    form, at = EmptyForm(request.POST or None), timezone.now()
    if form.is_valid():
        with refusals_beside(form):
            _, token = new_password.make_link(by=request.membership, membership=someone, at=at)
            request.session[JUST_MADE] = [code, token]
            return redirect("password_link", house=request.venue.slug, code=code)
    made_for, token = request.session.pop(JUST_MADE, ["", ""])
    url = password_address(token) if made_for == code else ""
    refused = new_password.why_not(request.membership, someone, at)
    context = {
        "someone": someone, "form": form, "url": url, "qr": qr_code(url) if url else "",
        "sentence": say(refused.reason) if refused else "",
    }  # fmt: skip
    return quietly(render(request, "people/password_link.html", context))


@anyone(methods=READ_AND_SEND)
def renew(request: HttpRequest, token: str) -> HttpResponse:
    """GET shows whose password it is, POST uses the link up and lets them in."""
    at = timezone.now()
    try:
        link = new_password.find_link(token=token, at=at)
    except Refused as refused:
        sentence = say(refused.reason)
        return quietly(render(request, "people/cannot.html", {"sentence": sentence}, status=410))
    form = NewPasswordForm(request.POST or None)
    if form.is_valid():
        with refusals_beside(form):
            password = form.cleaned_data["password"]
            membership = new_password.set_password(token=token, password=password, at=at)
            login(request, membership.person)
            return redirect("door")
    return quietly(render(request, "people/new_password.html", {"link": link, "form": form}))
