"""What every bottle holds and costs, on one page."""

from __future__ import annotations

from django.contrib import messages
from django.http import HttpResponse
from django.shortcuts import redirect, render
from django.utils import timezone
from django.utils.translation import ngettext

from barcourse.people.access import READ_AND_SEND, HouseRequest, member
from barcourse.people.roles import May
from recipes.cost_sheet import currency_of
from recipes.price_list import price_list, typed
from recipes.publish_prices import set_prices
from recipes.views.finding import menu_or_404


@member(May.EDIT_BOOK, methods=READ_AND_SEND)
def prices(request: HouseRequest) -> HttpResponse:
    menu, sent = menu_or_404(request), request.POST if request.method == "POST" else None
    shelves = price_list(request.venue, sent)
    wrong = any(shelf.wrong for shelf in shelves)
    if sent is None or wrong:
        context = {"shelves": shelves, "wrong": wrong, "currency": currency_of(menu)}
        return render(request, "recipes/prices.html", context)
    changed = set_prices(
        by=request.membership, prices=typed(request.venue, sent), at=timezone.now()
    )
    said = ngettext("Saved: %(n)s bottle changed.", "Saved: %(n)s bottles changed.", len(changed))
    messages.success(request, said % {"n": len(changed)})
    return redirect("prices", house=request.venue.slug)
