"""Permits of everybody here, on one page: what holds, what runs out, and a new one."""

from __future__ import annotations

from django.contrib import messages
from django.http import Http404, HttpResponse
from django.shortcuts import redirect, render
from django.utils import timezone
from django.utils.translation import gettext as _

from barcourse.people import permits
from barcourse.people.access import READ_AND_SEND, SEND, HouseRequest, member
from barcourse.people.forms import PermitForm, refusals_beside
from barcourse.people.models import Membership, Permit
from barcourse.people.reasons import Refused
from barcourse.people.roles import May
from barcourse.people.wording import say


@member(May.SEE_PAPERS, methods=READ_AND_SEND)
def permits_page(request: HouseRequest) -> HttpResponse:
    at = timezone.now()
    here = Membership.objects.in_house(request.venue).here(request.venue.business_day(at))
    form = PermitForm(here.by_name(), request.POST or None)
    if form.is_valid():
        with refusals_beside(form):
            permits.add_permit(by=request.membership, **form.cleaned_data, at=at)
            messages.success(request, _("Noted."))
            return redirect("permits", house=request.venue.slug)
    today = request.venue.local(at).date()
    context = {"form": form, "permits": permits.permits_in(request.venue, today)}
    return render(request, "people/permits.html", context)


@member(May.SEE_PAPERS, methods=SEND)
def remove(request: HouseRequest, code: str) -> HttpResponse:
    permit = Permit.objects.in_house(request.venue).with_code(code)
    if permit is None:
        raise Http404
    try:
        permits.remove_permit(by=request.membership, permit=permit, at=timezone.now())
        messages.success(request, _("Taken out of the list, and its number erased."))
    except Refused as refused:
        messages.error(request, say(refused.reason))
    return redirect("permits", house=request.venue.slug)
