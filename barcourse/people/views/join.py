"""The page behind an invitation's link: GET shows what it is for, POST uses it up."""

from __future__ import annotations

from django.contrib.auth import login
from django.forms import BaseForm
from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.utils import timezone

from barcourse.people import enrol, signing_in
from barcourse.people.access import READ_AND_SEND, anyone
from barcourse.people.forms import EmptyForm, KnownPersonForm, NewPersonForm, refusals_beside
from barcourse.people.models import Invitation, Membership, Person
from barcourse.people.reasons import Refused
from barcourse.people.wording import say

# Which of the page's three forms was sent.
NEW, KNOWN, ME = "new", "known", "me"


@anyone(methods=READ_AND_SEND)
def join(request: HttpRequest, token: str) -> HttpResponse:
    try:
        invitation = enrol.find_invitation(token=token, at=timezone.now())
    except Refused as refused:
        return quietly(
            render(request, "people/cannot.html", {"sentence": say(refused.reason)}, status=410)
        )
    forms = _forms(request)
    sent = forms.get(request.POST.get("way", ""))
    if sent is not None and sent.is_valid():
        with refusals_beside(sent):
            membership = _join(request, token, sent)
            login(request, membership.person)
            return redirect("door")
    return quietly(_page(request, invitation, forms))


def _forms(request: HttpRequest) -> dict[str, BaseForm]:
    """Only the form that was sent is filled in, so only it can have something wrong."""
    kinds = {NEW: NewPersonForm, KNOWN: KnownPersonForm, ME: EmptyForm}
    way = request.POST.get("way")
    return {
        name: kind(request.POST if name == way else None, prefix=None, auto_id=f"{name}_%s")
        for name, kind in kinds.items()
    }


def _join(request: HttpRequest, token: str, form: BaseForm) -> Membership:
    at, typed = timezone.now(), form.cleaned_data
    if isinstance(form, NewPersonForm):
        return enrol.join(token=token, at=at, **typed)
    if isinstance(form, KnownPersonForm):
        return enrol.join(token=token, at=at, person=signing_in.recognise(request, at=at, **typed))
    person = request.user if isinstance(request.user, Person) else None
    return enrol.join(token=token, at=at, person=person)


def _page(request: HttpRequest, invitation: Invitation, forms: dict[str, BaseForm]) -> HttpResponse:
    context = {"invitation": invitation, **{f"{name}_form": form for name, form in forms.items()}}
    return render(request, "people/join.html", context)


def quietly(response: HttpResponse) -> HttpResponse:
    """The token stands in this page's address, so the address is told to nobody: at most the
    site's name is. ("no-referrer" would also blank the Origin of the form, which the protection
    against forged forms needs.) Nor is the page kept."""
    response["Referrer-Policy"] = "strict-origin"
    response["Cache-Control"] = "no-store"
    return response
