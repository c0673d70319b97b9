"""One watched build: what went wrong and why that matters, sign-off, void."""

from __future__ import annotations

from django import forms
from django.contrib import messages
from django.http import HttpResponse
from django.shortcuts import redirect, render
from django.urls import reverse
from django.utils import timezone
from django.utils.translation import gettext as _

from assessments import (
    checklist,
    marked_twice,
    reads,
    record,
    record_practical,
    record_words,
    slips,
)
from assessments.handing_over import handed_over
from assessments.measures.marking import HelpLevel, mark_build
from assessments.measuring import fine_words
from assessments.models import HandedOver, MadeInstead, MeasuredPours, WatchedBuild
from assessments.models.watch import Help
from assessments.record_second import SECOND_WITHIN
from assessments.showing import Naming, show_stored_steps
from assessments.to_look_at import is_blind, reply_to
from assessments.views.finding import build_or_404, menu_now, own_build_or_404
from assessments.views.forms import NoForm, VoidForm, refusals_beside
from assessments.wording import word
from barcourse.people.access import SEND, HouseRequest, member
from barcourse.people.roles import May
from recipes.menu import Menu
from recipes.wording import volume_words


@member(May.SEE_RECORDS)
def shown(request: HouseRequest, code: str) -> HttpResponse:
    return _show(request, build_or_404(request, code))


@member(May.LEARN)
def mine(request: HouseRequest, code: str) -> HttpResponse:
    """A hire's own build, to read."""
    return _show(request, own_build_or_404(request, code))


def _show(
    request: HouseRequest,
    watched: WatchedBuild,
    *,
    signing: forms.Form | None = None,
    voiding: forms.Form | None = None,
) -> HttpResponse:
    menu, handed = menu_now(request), handed_over(watched)
    blind = is_blind(request.membership, watched, menu.at, SECOND_WITHIN)
    (entry,) = reads.show_builds([watched], menu)
    off = [s for s in show_stored_steps(watched, Naming.of(menu)) if s.off]
    context = {
        "entry": entry,
        "blind": blind,
        "off": sorted(off, key=lambda s: not s.fails),
        "with_stand_in": entry.changed and _had_a_stand_in(watched, menu),
        "about_help": _about_help(watched),
        "may_sign": _may_sign(request, entry),
        "may_void": _may_void(request, entry),
        "may_answer": watched.hire_id == request.membership.pk,
        "reply": reply_to(watched),
        "answers": watched.answers.exists(),
        "differently_before": request.GET.get("differently") == "yes",
        "handed": handed,
        "to_watch_again": _to_watch_again(request, watched, handed),
        "trainer_is_here": watched.trainer.is_here(request.venue.business_day(menu.at)),
        "twice": _both_marks(request, watched),
        "erasable": record_words.erasable(request.membership, watched),
        "may_take_back": _may_take_back(request, entry),
        "measured": _measured(request, watched),
        "instead": MadeInstead.objects.filter(watched=watched).select_related("made").first(),
        "proves": watched.help_level == Help.UNPROMPTED,
        "signing": signing or NoForm(),
        "voiding": voiding or VoidForm(),
    }
    return render(request, "assessments/build.html", context)


def _had_a_stand_in(watched: WatchedBuild, menu: Menu) -> bool:
    """Whether other things went in while book and rules are as they were: something stood in for
    a bottle that was out."""
    item = next((i for i in menu.items if i.recipe.pk == watched.recipe_id), None)
    if item is None or item.revision.pk != watched.revision_id:
        return False
    of_book = {step.key for step in checklist.steps_of(item.drink, menu.pantry)}
    same_rules = menu.rules_version.pk == watched.rules_version_id
    return same_rules and not {step["key"] for step in watched.steps} <= of_book


def _about_help(watched: WatchedBuild) -> list[str]:
    """What the help means for the verdict; the verdict itself stands above it."""
    steps = [checklist.step_from(s) for s in watched.steps]
    verdict = mark_build(steps, frozenset(watched.off), HelpLevel(watched.help_level))
    return [word(r) for r in verdict.reasons[1:]]


def _may_sign(request: HouseRequest, entry: reads.BuildShown) -> bool:
    ours = entry.build.trainer_id == request.membership.pk
    return ours and entry.build.passed and not (entry.is_signed or entry.is_void)


def _may_take_back(request: HouseRequest, entry: reads.BuildShown) -> bool:
    return slips.may_slip(request.membership, entry.build, timezone.now())


def _to_watch_again(
    request: HouseRequest, watched: WatchedBuild, handed: HandedOver | None
) -> bool:
    """Whether it was handed over to whoever looks, and nobody has signed the drink off since."""
    theirs = handed is not None and handed.to_id == request.membership.pk
    return theirs and not (hasattr(watched, "void") or watched.is_signed_since())


def _both_marks(request: HouseRequest, watched: WatchedBuild) -> bool:
    mark = marked_twice.find(request.venue, watched.code)
    return mark is not None and marked_twice.may_see(request.membership, mark)


def _measured(request: HouseRequest, watched: WatchedBuild) -> list[tuple[str, str, str]]:
    """Each measured pour: what it was, what was poured and what was wanted."""
    row = MeasuredPours.objects.filter(watched=watched).first()
    if row is None:
        return []
    naming = Naming.of(menu_now(request))
    shown = {s.key: s.does for s in show_stored_steps(watched, naming)}
    country = naming.country
    return [
        (shown[key], fine_words(ml, country), volume_words(wanted, country))
        for key, (wanted, ml) in row.pours.items()
    ]


def _may_void(request: HouseRequest, entry: reads.BuildShown) -> bool:
    someone_else = entry.build.hire_id != request.membership.pk
    return request.membership.may(May.VOID) and someone_else and not entry.is_void


@member(May.WATCH, methods=SEND)
def sign_off(request: HouseRequest, code: str) -> HttpResponse:
    watched, form = build_or_404(request, code), NoForm({})
    with refusals_beside(form):
        record.sign_off(by=request.membership, watched=watched, at=timezone.now())
        said = {"hire": watched.hire.name, "drink": watched.recipe.name}
        messages.success(request, _("Signed off: %(hire)s, %(drink)s.") % said)
        return redirect("build", house=request.venue.slug, code=code)
    return _show(request, watched, signing=form)


@member(May.WATCH, methods=SEND)
def take_back(request: HouseRequest, code: str) -> HttpResponse:
    """Undo a slip of the thumb: the checklist comes back as it was tapped."""
    watched, form = build_or_404(request, code), NoForm({})
    with refusals_beside(form):
        record_practical.take_back(by=request.membership, watched=watched, at=timezone.now())
        parts = {"hire": watched.hire.code, "drink": watched.recipe.slug}
        if watched.recipe.slug not in menu_now(request).by_slug:
            return redirect("build", house=request.venue.slug, code=code)
        again = reverse("watch_build", kwargs={"house": request.venue.slug, **parts})
        return redirect(f"{again}?after={code}")
    return _show(request, watched, signing=form)


@member(May.VOID, methods=SEND)
def void(request: HouseRequest, code: str) -> HttpResponse:
    watched, form = build_or_404(request, code), VoidForm(request.POST)
    if form.is_valid():
        with refusals_beside(form):
            record.void_build(
                by=request.membership,
                watched=watched,
                reason=form.cleaned_data["reason"],
                at=timezone.now(),
            )
            messages.success(request, _("Voided. It stays on record and no longer counts."))
            return redirect("build", house=request.venue.slug, code=code)
    return _show(request, watched, voiding=form)
