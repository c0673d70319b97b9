"""Who works here: the list, inviting, and what an owner changes about one person."""

from __future__ import annotations

from collections.abc import Callable

from django.contrib import messages
from django.forms import BaseForm
from django.http import Http404, HttpResponse
from django.shortcuts import redirect, render
from django.utils import timezone
from django.utils.translation import gettext as _

from barcourse.people import enrol
from barcourse.people.access import SEND, HouseRequest, member
from barcourse.people.forms import (
    EmptyForm,
    EraseForm,
    InviteForm,
    LeftForm,
    RoleForm,
    refusals_beside,
)
from barcourse.people.links import link_for
from barcourse.people.models import Invitation, Membership
from barcourse.people.roles import May

JUST_INVITED = "just_invited"


@member(May.INVITE)
def people(request: HouseRequest) -> HttpResponse:
    return _list(request, InviteForm(request.membership))


@member(May.INVITE, methods=SEND)
def invite(request: HouseRequest) -> HttpResponse:
    form = InviteForm(request.membership, request.POST)
    if form.is_valid():
        with refusals_beside(form):
            names = form.cleaned_data["names"]
            made = enrol.invite(by=request.membership, names=names, at=timezone.now())
            return _show_once(request, made)
    return _list(request, form)


@member(May.INVITE)
def just_invited(request: HouseRequest) -> HttpResponse:
    """The links and their QR codes, once. Until then the tokens wait in the inviter's session on
    the server and nowhere else; the form that made them must end in a redirect, and an address
    would keep them in the browser's history."""
    shown = dict(request.session.pop(JUST_INVITED, []))
    invitations = Invitation.objects.in_house(request.venue).with_codes(shown)
    links = [link_for(invitation, shown[invitation.code]) for invitation in invitations]
    response = render(request, "people/just_invited.html", {"links": links})
    response["Cache-Control"] = "no-store"
    return response


@member(May.INVITE, methods=SEND)
def fresh_link(request: HouseRequest, code: str) -> HttpResponse:
    form, invitation = EmptyForm(request.POST), _invitation(request, code)
    with refusals_beside(form):
        token = enrol.fresh_link(by=request.membership, invitation=invitation, at=timezone.now())
        return _show_once(request, [(invitation, token)])
    return _list(request, InviteForm(request.membership), refused=form)


@member(May.INVITE, methods=SEND)
def withdraw_invitation(request: HouseRequest, code: str) -> HttpResponse:
    form, invitation = EmptyForm(request.POST), _invitation(request, code)
    with refusals_beside(form):
        enrol.withdraw_invitation(by=request.membership, invitation=invitation, at=timezone.now())
        messages.success(request, _("Taken back. The link is dead."))
        return redirect("people", house=request.venue.slug)
    return _list(request, InviteForm(request.membership), refused=form)


@member(May.CHANGE_PEOPLE)
def person(request: HouseRequest, code: str) -> HttpResponse:
    return _person(request, _someone(request, code))


@member(May.CHANGE_PEOPLE, methods=SEND)
def change_role(request: HouseRequest, code: str) -> HttpResponse:
    def change(someone: Membership, form: BaseForm) -> str:
        role = form.cleaned_data["role"]
        enrol.change_role(by=request.membership, membership=someone, role=role, at=timezone.now())
        return _("The role is changed.")

    return _change(request, code, "role_form", RoleForm(request.POST), change)


@member(May.CHANGE_PEOPLE, methods=SEND)
def mark_left(request: HouseRequest, code: str) -> HttpResponse:
    def leave(someone: Membership, form: BaseForm) -> str:
        day = form.cleaned_data["day"]
        enrol.mark_left(by=request.membership, membership=someone, day=day, at=timezone.now())
        return _("Marked as left. They can't open this house's pages any more.")

    return _change(request, code, "left_form", LeftForm(request.POST), leave)


@member(May.CHANGE_PEOPLE, methods=SEND)
def come_back(request: HouseRequest, code: str) -> HttpResponse:
    def take_back(someone: Membership, form: BaseForm) -> str:
        enrol.come_back(by=request.membership, membership=someone, at=timezone.now())
        return _("Back in the house.")

    return _change(request, code, "back_form", EmptyForm(request.POST), take_back)


@member(May.CHANGE_PEOPLE, methods=SEND)
def erase_person(request: HouseRequest, code: str) -> HttpResponse:
    def erase(someone: Membership, form: BaseForm) -> str:
        enrol.erase_person(by=request.membership, membership=someone, at=timezone.now())
        return _("Erased. The log stays whole: it never held the name.")

    return _change(request, code, "erase_form", EraseForm(request.POST), erase)


def _change(
    request: HouseRequest,
    code: str,
    name: str,
    form: BaseForm,
    verb: Callable[[Membership, BaseForm], str],
) -> HttpResponse:
    """Do it and say so on the person's page, or show there what is in the way."""
    someone = _someone(request, code)
    if form.is_valid():
        with refusals_beside(form):
            messages.success(request, verb(someone, form))
            return redirect("person", house=request.venue.slug, code=code)
    return _person(request, someone, **{name: form})


def _show_once(request: HouseRequest, made: list[tuple[Invitation, str]]) -> HttpResponse:
    request.session[JUST_INVITED] = [[invitation.code, token] for invitation, token in made]
    return redirect("just_invited", house=request.venue.slug)


def _list(
    request: HouseRequest, form: InviteForm, refused: EmptyForm | None = None
) -> HttpResponse:
    at = timezone.now()
    today = request.venue.business_day(at)
    members = Membership.objects.in_house(request.venue).by_name()
    waiting = Invitation.objects.in_house(request.venue).waiting().newest_first()
    context = {
        "here": members.here(today),
        "gone": members.gone(today),
        "waiting": [(invitation, invitation.state(at)) for invitation in waiting],
        "form": form,
        "refused": refused,
    }
    return render(request, "people/people.html", context)


def _person(request: HouseRequest, someone: Membership, **sent: BaseForm) -> HttpResponse:
    today = request.venue.business_day(timezone.now())
    forms = {
        "role_form": RoleForm(initial={"role": someone.role}),
        "left_form": LeftForm.today(today),
        "back_form": EmptyForm(),
        "erase_form": EraseForm(),
    }
    context = {"someone": someone, "watches": someone.may(May.WATCH), **forms, **sent}
    return render(request, "people/person.html", context)


def _someone(request: HouseRequest, code: str) -> Membership:
    someone = Membership.objects.in_house(request.venue).with_code(code)
    if someone is None:
        raise Http404
    return someone


def _invitation(request: HouseRequest, code: str) -> Invitation:
    found = list(Invitation.objects.in_house(request.venue).with_codes([code]))
    if not found:
        raise Http404
    return found[0]
