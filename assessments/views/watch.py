"""Watching a build: pick the hire, pick the drink, tap what went wrong, sign off or void."""

from __future__ import annotations

from django import forms
from django.http import HttpResponse
from django.shortcuts import redirect, render
from django.utils import timezone
from django.utils.translation import gettext_lazy as _

from assessments import board, checklist, reads, record
from assessments.measures.marking import HelpLevel, mark_build
from assessments.models.watch import Help, MadeWith
from assessments.showing import House, show_steps, show_stored_steps
from assessments.views.finding import build_or_404, drink_or_404, hire_or_404, menu_now
from assessments.wording import word
from assessments.wording_refusals import say
from barcourse.people.access import READ_AND_SEND, SEND, HouseRequest, member
from barcourse.people.reasons import Refused
from barcourse.people.roles import May
from recipes.wording import label

NOTE_LENGTH = 500


class WatchForm(forms.Form):
    """How the build went, beside the steps themselves."""

    help_level = forms.ChoiceField(
        label=_("Help"), choices=Help.choices, widget=forms.RadioSelect, initial=Help.UNPROMPTED
    )
    made_with = forms.ChoiceField(
        label=_("Made with"),
        choices=MadeWith.choices,
        widget=forms.RadioSelect,
        initial=MadeWith.STOCK,
    )
    seconds = forms.IntegerField(
        label=_("Seconds taken"), required=False, min_value=0, max_value=3600
    )
    note = forms.CharField(
        label=_("Note"),
        required=False,
        max_length=NOTE_LENGTH,
        widget=forms.Textarea({"rows": 2}),
        help_text=_("The hire sees it at once. It can be erased later."),
    )


class VoidForm(forms.Form):
    reason = forms.CharField(
        label=_("Why does it not count?"),
        max_length=NOTE_LENGTH,
        widget=forms.Textarea({"rows": 2}),
    )


@member(May.WATCH)
def pick(request: HouseRequest) -> HttpResponse:
    """Whose build: everybody here who is being trained."""
    hires = [h for h in board.hires_here(request.venue, timezone.now()) if _not_me(request, h)]
    return render(request, "assessments/watch_hires.html", {"hires": hires})


def _not_me(request: HouseRequest, hire: object) -> bool:
    return hire != request.membership


@member(May.WATCH)
def pick_drink(request: HouseRequest, hire: str) -> HttpResponse:
    """Which drink: must-knows that still need a sign-off first."""
    person, menu = hire_or_404(request, hire), menu_now(request)
    found = [(w, [label(a) for a in w.changed]) for w in reads.drinks_to_watch(person, menu)]
    find = request.GET.get("find", "").strip().casefold()
    if find:
        found = [f for f in found if _answers_to(f[0], find)]
    context = {"hire": person, "drinks": found, "find": request.GET.get("find", "")}
    return render(request, "assessments/watch_drinks.html", context)


def _answers_to(choice: reads.ToWatch, find: str) -> bool:
    names = (choice.item.drink.name, *choice.item.drink.aliases)
    return any(find in name.casefold() for name in names)


@member(May.WATCH, methods=READ_AND_SEND)
def build(request: HouseRequest, hire: str, drink: str) -> HttpResponse:
    """The checklist. Every step counts as done until it is tapped."""
    person, menu = hire_or_404(request, hire), menu_now(request)
    item = drink_or_404(menu, drink)
    form = WatchForm(request.POST or None)
    sentence = ""
    if request.method == "POST" and form.is_valid():
        try:
            watched = record.watch_build(
                by=request.membership,
                hire=person,
                menu=menu,
                item=item,
                off=request.POST.getlist("off"),
                help_level=HelpLevel(form.cleaned_data["help_level"]),
                made_with=MadeWith(form.cleaned_data["made_with"]),
                seconds=form.cleaned_data["seconds"],
                note=form.cleaned_data["note"],
                at=timezone.now(),
            )
        except Refused as refused:
            sentence = say(refused.reason)
        else:
            return redirect("build", house=request.venue.slug, code=watched.code)
    steps = checklist.steps_of(item.drink, menu.pantry)
    off = frozenset(request.POST.getlist("off"))
    context = {
        "hire": person,
        "item": item,
        "form": form,
        "sentence": sentence,
        "steps": show_steps(steps, House.of(menu), off),
    }
    return render(request, "assessments/watch_build.html", context)


@member(May.SEE_RECORDS)
def shown(request: HouseRequest, code: str) -> HttpResponse:
    """One watched build: what went wrong and why that matters, sign-off, void."""
    return _show(request, code, VoidForm())


def _show(request: HouseRequest, code: str, form: VoidForm, sentence: str = "") -> HttpResponse:
    watched = build_or_404(request, code)
    menu = menu_now(request)
    (entry,) = reads.show_builds([watched], menu)
    steps = show_stored_steps(watched, House.of(menu))
    verdict = mark_build(
        tuple(checklist.step_from(s) for s in watched.steps),
        frozenset(watched.off),
        HelpLevel(watched.help_level),
    )
    context = {
        "entry": entry,
        "steps": steps,
        "off": [s for s in steps if s.off],
        "reasons": [word(r) for r in verdict.reasons],
        "changed": [label(a) for a in entry.changed],
        "may_sign": _may_sign(request, entry),
        "may_void": watched.hire_id != request.membership.pk and not entry.is_void,
        "form": form,
        "sentence": sentence,
    }
    return render(request, "assessments/build.html", context)


def _may_sign(request: HouseRequest, entry: reads.BuildShown) -> bool:
    ours = entry.build.trainer_id == request.membership.pk
    return ours and entry.build.passed and not (entry.is_signed or entry.is_void)


@member(May.WATCH, methods=SEND)
def sign_off(request: HouseRequest, code: str) -> HttpResponse:
    watched = build_or_404(request, code)
    try:
        record.sign_off(by=request.membership, watched=watched, at=timezone.now())
    except Refused as refused:
        return _show(request, code, VoidForm(), say(refused.reason))
    return redirect("build", house=request.venue.slug, code=code)


@member(May.VOID, methods=SEND)
def void(request: HouseRequest, code: str) -> HttpResponse:
    watched = build_or_404(request, code)
    form = VoidForm(request.POST)
    if not form.is_valid():
        return _show(request, code, form)
    try:
        record.void_build(
            by=request.membership,
            watched=watched,
            reason=form.cleaned_data["reason"],
            at=timezone.now(),
        )
    except Refused as refused:
        return _show(request, code, form, say(refused.reason))
    return redirect("build", house=request.venue.slug, code=code)
