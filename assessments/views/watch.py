"""Watching a build: pick the hire, pick the drink, tap what went wrong."""

from __future__ import annotations

from collections.abc import Collection, Mapping, Sequence
from dataclasses import dataclass
from typing import Any

from django.http import Http404, HttpResponse
from django.shortcuts import redirect, render
from django.utils import timezone
from django.utils.functional import Promise
from django.utils.translation import gettext_lazy as _

from assessments import ahead, board, checklist, doubts, prints, record
from assessments.handing_over import taken_over
from assessments.measures.marking import HelpLevel
from assessments.measuring import UNIT_WORDS, NoVolume, measured, pour_fields, unit_of
from assessments.models import WatchedBuild
from assessments.models.watch import MadeWith
from assessments.open_watches import left_begun, open_watches
from assessments.proving_builds import Proving, proving_builds
from assessments.showing import Naming, show_steps
from assessments.sign_offs import ToWatch, drinks_to_watch, must_knows_among, proven_now
from assessments.to_look_at import plans_of
from assessments.views.finding import (
    build_or_404,
    coming_or_none,
    drink_or_404,
    hire_here_or_404,
    menu_now,
)
from assessments.views.forms import WatchForm, refusals_beside
from assessments.views.oneself import of_somebody_else
from assessments.views.open_watches import put_on_record
from assessments.waiting import Passed, told_to
from barcourse.people.access import READ_AND_SEND, HouseRequest, member
from barcourse.people.models import Membership
from barcourse.people.reasons import refuse
from barcourse.people.roles import May
from recipes.menu import Menu, MenuDrink
from recipes.off_tonight import as_served


@member(May.WATCH)
def pick(request: HouseRequest) -> HttpResponse:
    """Whose build: everybody here who is being trained, and how far they are."""
    menu = menu_now(request)
    hires = board.hires_here(request.venue, menu.at)
    proven, passed = proven_now(hires, menu), told_to(request.membership, hires, menu)
    count, proving = must_knows_among(proven, menu), proving_builds(proven, menu, passed)
    signs = _own_to_sign(request.membership, proven, passed, menu)
    context = {
        "hires": [(h, count[h.pk], proving[h.pk], signs.get(h.pk)) for h in hires],
        "must_knows": len(menu.must_knows()),
        "taken_over": taken_over(request.membership, menu.at),
        "left_begun": left_begun(request.membership, menu.at),
        "under_way": open_watches(request.membership, menu.at),
    }
    return render(request, "assessments/watch_hires.html", context)


def _own_to_sign(
    trainer: Membership, proven: Mapping[int, Collection[int]], passed: Passed, menu: Menu
) -> dict[int, tuple[MenuDrink, str]]:
    """By hire, the first drink that this trainer has watched and has yet to sign off, and the build
    of it."""
    found: dict[int, tuple[MenuDrink, str]] = {}
    for hire, by_drink in passed.items():
        for item in menu.items:
            waits = by_drink.get(item.drink.slug)
            if waits and waits.by == trainer.code and item.recipe.pk not in proven[hire]:
                found.setdefault(hire, (item, waits.build))
    return found


@dataclass(frozen=True)
class Group:
    """Drinks under one heading of the list to pick from; unfolded, or folded away below it."""

    heading: str | Promise
    drinks: list[ToWatch]
    is_open: bool = True


@member(May.WATCH)
@of_somebody_else
def pick_drink(request: HouseRequest, hire: str) -> HttpResponse:
    """Which drink: what the house has changed, then must-knows, then the rest. `?as_of=` a moment
    at which the menu changes: what is coming then."""
    person, today = hire_here_or_404(request, hire), menu_now(request)
    if coming := coming_or_none(request, today):
        context = {"hire": person, "coming": coming, "groups": _coming_groups(person, coming)}
        return render(request, "assessments/watch_coming.html", context)
    find = request.GET.get("find", "").strip()
    passed = told_to(request.membership, [person], today)
    own = passed.get(person.pk, {})
    drinks = drinks_to_watch(person, today, own)
    found = [d for d in drinks if _answers_to(d, find.casefold())]
    context = {
        "hire": person,
        "plans": plans_of(person, today.at),
        "groups": _groups(found),
        "find": find,
        "drinks": len(today.items),
        "proving": None if find else _proving(person, today, passed),
        "passed": own,
        "ahead": [c for c in ahead.coming(today) if c.to_learn],
    }
    return render(request, "assessments/watch_drinks.html", context)


def _proving(person: Membership, today: Menu, passed: Passed) -> Proving:
    return proving_builds(proven_now([person], today), today, passed)[person.pk]


def _coming_groups(hire: Membership, coming: ahead.Coming) -> list[Group]:
    found = [d for d in drinks_to_watch(hire, coming.menu) if d.item in coming.to_learn]
    groups = [
        Group(_("To sign off before"), [d for d in found if not d.is_proven]),
        Group(_("Signed off"), [d for d in found if d.is_proven]),
    ]
    return [g for g in groups if g.drinks]


def _answers_to(choice: ToWatch, find: str) -> bool:
    names = (choice.item.drink.name, *choice.item.drink.aliases)
    return any(find in name.casefold() for name in names)


def _groups(found: Sequence[ToWatch]) -> list[Group]:
    waiting = [d for d in found if d.waits and not d.is_proven]
    rest = [d for d in found if d not in waiting]
    changed = [d for d in rest if d.changed]
    proven = [d for d in rest if d.is_proven]
    left = [d for d in rest if not (d.changed or d.is_proven)]
    must = [d for d in left if d.item.recipe.must_know]
    rest = [d for d in left if not d.item.recipe.must_know]
    groups = [
        Group(_("Passed, to be signed off"), waiting),
        Group(_("Changed since the sign-off"), changed),
        Group(_("Must-knows to sign off"), must),
        Group(_("Other drinks"), rest, is_open=not (changed or must)),
        Group(_("Signed off"), proven, is_open=not (changed or must or rest)),
    ]
    return [g for g in groups if g.drinks]


@member(May.WATCH, methods=READ_AND_SEND)
@of_somebody_else
def build(request: HouseRequest, hire: str, drink: str) -> HttpResponse:
    """The checklist. Every step counts as done until it is tapped. What is out tonight is poured
    and marked with what stands in for it."""
    person, today = hire_here_or_404(request, hire), menu_now(request)
    coming = coming_or_none(request, today)
    menu = coming.menu if coming else today
    before = _taken_back(request, person, book := drink_or_404(menu, drink))
    item = book if coming else as_served(book, menu)
    form = WatchForm(request.POST or None, initial=before.initial if before else None)
    if form.is_valid():
        with refusals_beside(form):
            pours = _measured(request, menu)
            if form.is_believed(_doubts(menu, item, pours, form)):
                watched = _watch(request, person, menu, item, form, pours)
                put_on_record(request)
                return redirect("build", house=request.venue.slug, code=watched.code)
    steps = checklist.steps_of(item.drink, menu.pantry)
    off = request.POST.getlist("off") if request.POST else before.off if before else ()
    shown = show_steps(steps, Naming.of(menu), frozenset(off))
    context = {
        "hire": person,
        "plans": [p for p in plans_of(person, today.at) if p.recipe_id == book.recipe.pk],
        "item": book,
        "otherwise": prints.changed_since(prints.by_aspect(book.drink), item.drink),
        "coming": coming,
        "build": prints.of_build(item.drink),
        "form": form,
        "steps": [s for s in shown if not s.is_conduct],
        "conduct": [s for s in shown if s.is_conduct],
        "pours": pour_fields(item.drink.spec, {s.key: s.does for s in shown}, request.POST),
        "unit": UNIT_WORDS[unit_of(menu.rules.country)],
    }
    return render(request, "assessments/watch_build.html", context)


@dataclass(frozen=True)
class Before:
    """What was tapped in a build that was just taken back, to go on from there."""

    off: list[str]
    initial: dict[str, Any]


def _taken_back(request: HouseRequest, hire: Membership, item: MenuDrink) -> Before | None:
    code = request.GET.get("after")
    if code is None:
        return None
    build = build_or_404(request, code)
    ours = build.hire_id == hire.pk and build.recipe_id == item.recipe.pk
    if not ours or build.trainer_id != request.membership.pk:
        raise Http404
    said = ("help_level", "made_with", "seconds")
    return Before(list(build.off), {name: getattr(build, name) for name in said})


def _measured(request: HouseRequest, menu: Menu) -> dict[str, float]:
    try:
        return measured(request.POST.dict(), menu.rules.country)
    except NoVolume as no:
        raise refuse(no.code) from None


def _doubts(menu: Menu, item: MenuDrink, pours: dict[str, float], form: WatchForm) -> list[str]:
    of_pours = doubts.of_measured(item.drink.spec, pours, menu.rules.country)
    return [*of_pours, *doubts.of_time(form.cleaned_data["seconds"])]


def _watch(
    request: HouseRequest,
    hire: Membership,
    menu: Menu,
    item: MenuDrink,
    form: WatchForm,
    pours: dict[str, float],
) -> WatchedBuild:
    said = form.cleaned_data
    return record.watch_build(
        by=request.membership,
        hire=hire,
        menu=menu,
        item=item,
        off=request.POST.getlist("off"),
        help_level=HelpLevel(said["help_level"]),
        made_with=MadeWith(said["made_with"]),
        seconds=said["seconds"],
        note=said["note"],
        measured=pours,
        at=timezone.now(),
        seen=request.POST.get("build", ""),
    )
