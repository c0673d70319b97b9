"""A drink in service, or one that a guest sent back: hire, drink, and how it went out."""

from __future__ import annotations

from django.contrib import messages
from django.http import HttpResponse
from django.shortcuts import redirect, render
from django.urls import reverse
from django.utils import timezone
from django.utils.html import format_html
from django.utils.translation import gettext as _

from assessments import prints, record_practical
from assessments.models import SpotMark
from assessments.models.practical import Came
from assessments.showing_entries import came
from assessments.views.finding import drink_or_404, hire_here_or_404, menu_now
from assessments.views.forms import SpotForm, refusals_beside
from assessments.views.oneself import of_somebody_else
from barcourse.people.access import READ_AND_SEND, HouseRequest, member
from barcourse.people.roles import May
from recipes.menu import Menu, MenuDrink

OFTEN = 12
"""So many of the drinks that sell most stand ready to be tapped; the rest is folded away."""


@member(May.WATCH)
@of_somebody_else
def pick(request: HouseRequest, hire: str) -> HttpResponse:
    """Which drink: what sells most first, since that is what is in the hand."""
    person, menu = hire_here_or_404(request, hire), menu_now(request)
    find = request.GET.get("find", "").strip()
    found = by_share(menu, find.casefold())
    context = {
        "hire": person,
        "find": find,
        "often": found if find else found[:OFTEN],
        "rest": () if find else sorted(found[OFTEN:], key=lambda i: i.drink.name.casefold()),
        "drinks": len(menu.items),
    }
    return render(request, "assessments/spot.html", context)


def by_share(menu: Menu, find: str) -> list[MenuDrink]:
    named = [
        i for i in menu.items if any(find in n.casefold() for n in (i.drink.name, *i.drink.aliases))
    ]
    return sorted(named, key=lambda i: (-i.drink.share, i.drink.name.casefold()))


def _on_record(request: HouseRequest, row: SpotMark) -> str:
    """What was put there, and the way to take a slip of the thumb back."""
    said = _("On record: %(drink)s by %(hire)s, %(came)s.") % {
        "drink": row.recipe.name, "hire": row.hire.name, "came": came(row),
    }  # fmt: skip
    back = reverse("take_back_hand", kwargs={"house": request.venue.slug, "code": row.code})
    return format_html('{} <a class="do quiet" href="{}">{}</a>', said, back, _("Take it back"))


@member(May.WATCH, methods=READ_AND_SEND)
@of_somebody_else
def mark(request: HouseRequest, hire: str, drink: str) -> HttpResponse:
    person, menu = hire_here_or_404(request, hire), menu_now(request)
    item, form = drink_or_404(menu, drink), SpotForm(request.POST or None)
    if form.is_valid():
        with refusals_beside(form):
            row = record_practical.mark_spot(
                by=request.membership, hire=person, menu=menu, item=item,
                came=Came(form.cleaned_data["came"]), sent_back=form.cleaned_data["sent_back"],
                at=timezone.now(), seen=request.POST.get("build", ""),
            )  # fmt: skip
            messages.success(request, _on_record(request, row))
            return redirect("spot", house=request.venue.slug, hire=hire)
    context = {
        "hire": person,
        "item": item,
        "build": prints.of_build(item.drink),
        "form": form,
        "choices": Came.choices,
    }
    return render(request, "assessments/spot_drink.html", context)
