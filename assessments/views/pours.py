"""Pour checks: the trainer types what was read off, one pour after the other."""

from __future__ import annotations

from django.http import HttpResponse
from django.shortcuts import get_object_or_404, redirect, render
from django.utils import timezone

from assessments import doubts, hands, record_practical
from assessments.measuring import NoVolume, read_numbers
from assessments.models import PourCheck
from assessments.models.watch import MadeWith
from assessments.pour_policy import in_words, policy_at, versions_of
from assessments.views.finding import hire_here_or_404, menu_now
from assessments.views.forms import refusals_beside
from assessments.views.forms_practical import FIELDS, PoursForm, pours_here
from assessments.views.oneself import of_somebody_else
from assessments.views.open_watches import put_on_record
from assessments.voids import void_of
from barcourse.people.access import READ_AND_SEND, HouseRequest, member
from barcourse.people.reasons import refuse
from barcourse.people.roles import May
from recipes.menu import Menu
from recipes.models import Ingredient


@member(May.WATCH, methods=READ_AND_SEND)
@of_somebody_else
def check(request: HouseRequest, hire: str) -> HttpResponse:
    """The form, and below it what was checked before."""
    person, menu = hire_here_or_404(request, hire), menu_now(request)
    form = PoursForm(request.POST or None, menu=menu)
    if form.is_valid():
        with refusals_beside(form):
            bottle, poured = _poured(request, form)
            if form.is_believed(_doubts(menu, bottle, poured)):
                row = record_practical.check_pours(
                    by=request.membership, hire=person, menu=menu, ingredient=bottle,
                    poured=poured, at=timezone.now(),
                )  # fmt: skip
                put_on_record(request)
                return redirect("pour_check", house=request.venue.slug, code=row.code)
    typed = request.POST.getlist("pour")
    context = {
        "hire": person,
        "form": form,
        "first": [(n, value) for n, value in _typed(typed, FIELDS) if n <= FIELDS // 2],
        "more": [(n, value) for n, value in _typed(typed, FIELDS) if n > FIELDS // 2],
        "house": _of_house(menu),
        "series": hands.series_of(person, menu),
    }
    return render(request, "assessments/pours.html", context)


def _typed(typed: list[str], fields: int) -> list[tuple[int, str]]:
    values = typed + [""] * fields
    return [(n + 1, values[n]) for n in range(max(fields, len(typed)))]


def _poured(request: HouseRequest, form: PoursForm) -> tuple[Ingredient, record_practical.Poured]:
    said = form.cleaned_data
    try:
        amounts = read_numbers(request.POST.getlist("pour"))
    except NoVolume as no:
        raise refuse(no.code) from None
    bottles = Ingredient.objects.in_house(request.venue)
    poured = record_practical.Poured(
        amounts=amounts, unit=said["unit"], pours=int(said["pours"]),
        made_with=MadeWith(said["made_with"]), pours_a_week=said["pours_a_week"],
    )  # fmt: skip
    return get_object_or_404(bottles, slug=said["ingredient"]), poured


def _doubts(menu: Menu, bottle: Ingredient, poured: record_practical.Poured) -> list[str]:
    read = record_practical.in_ml(menu, bottle, poured)
    return doubts.of_pours(read.ml, read.aim.target, menu.rules.country)


def _of_house(menu: Menu) -> dict[str, object]:
    """What the house pours, whether it may be poured freely here, and its rule of a check."""
    policy = policy_at(versions_of(menu.venue), menu.at)
    return {
        "pours": pours_here(menu),
        "least": policy.least_pours,
        "passed": in_words(policy, menu.rules.country),
    }


@member(May.SEE_RECORDS)
def shown(request: HouseRequest, code: str) -> HttpResponse:
    rows = PourCheck.objects.in_house(request.venue).with_people()
    return _show(request, get_object_or_404(rows.select_related("ingredient"), code=code))


@member(May.LEARN)
def mine(request: HouseRequest, code: str) -> HttpResponse:
    """A hire's own, to read."""
    rows = PourCheck.objects.of(request.membership).with_people()
    return _show(request, get_object_or_404(rows.select_related("ingredient"), code=code))


def _show(request: HouseRequest, row: PourCheck) -> HttpResponse:
    menu = menu_now(request)
    policy = policy_at(versions_of(request.venue), row.at)
    context = {"shown": hands.show_pours(row, menu, policy), "row": row, "void": void_of(row)}
    return render(request, "assessments/pour_check.html", context)
