"""Side work: what is to do at a station, signed by whoever does it; and the lists themselves."""

from __future__ import annotations

from django.contrib import messages
from django.forms import BaseForm
from django.http import Http404, HttpResponse
from django.shortcuts import get_object_or_404, redirect, render
from django.urls import reverse
from django.utils import timezone
from django.utils.translation import gettext as _

from barcourse.people import side_work
from barcourse.people.access import READ_AND_SEND, SEND, HouseRequest, member
from barcourse.people.forms import SideTaskForm, TakeBackForm, refusals_beside
from barcourse.people.models import SideDone, SideTask, Station
from barcourse.people.reasons import Refused
from barcourse.people.roles import May
from barcourse.people.wording import say


@member(May.LEARN, methods=READ_AND_SEND)
def station(request: HouseRequest) -> HttpResponse:
    """`?station=` names one of the house's; the first unless said."""
    if request.method == "POST":
        return _sign(request, _chosen(request, request.POST.get("station", "")))
    return _show(request, _chosen(request, request.GET.get("station", "")))


def _chosen(request: HouseRequest, slug: str) -> Station:
    stations = Station.objects.select_related("venue")
    if slug:
        return get_object_or_404(stations, venue=request.venue, slug=slug)
    first = request.venue.stations.first()
    if first is None:
        raise Http404
    return first


def _sign(request: HouseRequest, chosen: Station) -> HttpResponse:
    codes = request.POST.getlist("done")
    tasks = list(SideTask.objects.in_house(request.venue).with_codes(codes).at(chosen))
    if len(tasks) != len(set(codes)):
        raise Http404
    before = _signed_by_others(request, chosen, codes)
    try:
        side_work.sign(by=request.membership, tasks=tasks, at=timezone.now())
    except Refused as refused:
        return _show(request, chosen, said=say(refused.reason))
    messages.success(request, _("Signed, with the time and your name."))
    for line in before:
        messages.warning(request, line)
    return redirect(_page(request, chosen))


def _signed_by_others(request: HouseRequest, chosen: Station, codes: list[str]) -> list[str]:
    """Who had signed one of these before, perhaps while the page lay open."""
    lines = [line for one in side_work.lists_at(chosen, timezone.now()) for line in one.tasks]
    return [
        _("%(name)s had signed “%(task)s” before you: both are on record.")
        % {"name": line.done.by.name, "task": line.task.text}
        for line in lines
        if line.task.code in codes and line.done and line.done.by_id != request.membership.pk
    ]


def _page(request: HouseRequest, chosen: Station) -> str:
    return f"{reverse('side_work', args=[request.venue.slug])}?station={chosen.slug}"


def _show(request: HouseRequest, chosen: Station, said: str = "") -> HttpResponse:
    lists = side_work.lists_at(chosen, timezone.now())
    context = {
        "station": chosen,
        "stations": list(request.venue.stations.all()),
        "lists": lists,
        "own": side_work.to_take_back(request.membership, lists),
        "said": said,
    }
    return render(request, "people/side_work.html", context)


@member(May.LEARN, methods=READ_AND_SEND)
def take_back(request: HouseRequest, number: int) -> HttpResponse:
    """Why a signature no longer counts."""
    row = SideDone.objects.in_house(request.venue).numbered(number)
    if row is None:
        raise Http404
    form = TakeBackForm(request.POST or None)
    if form.is_valid():
        with refusals_beside(form):
            reason, at = form.cleaned_data["reason"], timezone.now()
            side_work.take_back_done(by=request.membership, row=row, reason=reason, at=at)
            messages.success(request, _("Taken back. It stays on record and no longer counts."))
            return redirect(_page(request, row.task.station))
    concerned = side_work.may_take_back(request.membership, row)
    context = {
        "row": row,
        "why": side_work.why_taken_back(row.void) if row.is_void else "",
        "tells_why": concerned or request.membership.may(May.SEE_RECORDS),
        "may_take_back": concerned,
        "form": form,
    }
    return render(request, "people/side_work_signed.html", context)


@member(May.EDIT_BOOK, methods=READ_AND_SEND)
def edit(request: HouseRequest) -> HttpResponse:
    form = SideTaskForm(request.venue, request.POST or None)
    if form.is_valid():
        with refusals_beside(form):
            side_work.add_task(by=request.membership, **form.cleaned_data, at=timezone.now())
            messages.success(request, _("On the list."))
            return redirect("side_work_edit", house=request.venue.slug)
    return _lists(request, form)


def _lists(request: HouseRequest, form: BaseForm) -> HttpResponse:
    tasks = SideTask.objects.in_house(request.venue).kept().select_related("station")
    rows = [(s, [t for t in tasks if t.station_id == s.pk]) for s in request.venue.stations.all()]
    context = {"form": form, "rows": rows, "some_empty": any(not found for _s, found in rows)}
    return render(request, "people/side_work_edit.html", context)


@member(May.EDIT_BOOK, methods=SEND)
def bring_in(request: HouseRequest) -> HttpResponse:
    side_work.bring_in_shipped(by=request.membership, at=timezone.now())
    return redirect("side_work_edit", house=request.venue.slug)


@member(May.EDIT_BOOK, methods=SEND)
def remove(request: HouseRequest, code: str) -> HttpResponse:
    task = SideTask.objects.in_house(request.venue).with_codes([code]).first()
    if task is None:
        raise Http404
    side_work.remove_task(by=request.membership, task=task, at=timezone.now())
    messages.success(request, _("Off the list. What was signed stays on record."))
    return redirect("side_work_edit", house=request.venue.slug)
