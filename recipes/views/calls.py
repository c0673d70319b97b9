"""What guests say: a call typed or spoken, and what the house makes of it."""

from __future__ import annotations

from urllib.parse import urlencode

from django.contrib import messages
from django.http import HttpResponse
from django.shortcuts import redirect, render
from django.urls import reverse
from django.utils.translation import gettext as _
from django.utils.translation import gettext_lazy

from barcourse.people.access import HouseRequest, member
from barcourse.people.roles import May
from recipes.call_sheet import LONGEST, answer_in_words, call_sheet
from recipes.grammar.calls import About
from recipes.hearing import hear_on
from recipes.menu import Menu
from recipes.off_tonight import Tonight, standing
from recipes.views.finding import menu_or_404

EXAMPLES = (
    gettext_lazy("two gin tonics and a beer"),
    gettext_lazy("double vodka cranberry, no ice"),
    gettext_lazy("vodka soda"),
)
MICROPHONE = "camera=(), geolocation=(), microphone=(self), payment=(), usb=()"
"""As on every page, save that this one may ask for the microphone."""


@member(May.LEARN)
def calls(request: HouseRequest) -> HttpResponse:
    """`?call=` the words; with `drink`, `about` and `choice` a question of it is answered, which
    leads to the call with the answer in it."""
    menu = menu_or_404(request)
    tonight = Tonight(menu, standing(request.venue))
    call = request.GET.get("call", "").replace("\0", " ").strip()
    if call and len(call) <= LONGEST and "choice" in request.GET:
        return _answer(request, call, menu, tonight)
    too_long = len(call) > LONGEST
    heard = call and not too_long
    context = {
        "call": call[:LONGEST],
        "longest": LONGEST,
        "too_long": too_long,
        "sheet": call_sheet(hear_on(call, menu, tonight), menu) if heard else None,
        "examples": EXAMPLES,
    }
    answer = render(request, "recipes/calls.html", context)
    answer.headers["Permissions-Policy"] = MICROPHONE
    return answer


def _answer(request: HouseRequest, call: str, menu: Menu, tonight: Tonight) -> HttpResponse:
    said = request.GET
    about = next((a for a in About if a.value == said.get("about")), None)
    drink = said.get("drink", "")
    text = None
    if about and drink.isascii() and drink.isdecimal() and len(drink) <= 3:
        text = answer_in_words(call, int(drink), about, said["choice"], menu, tonight)
    if text is None or len(text) > LONGEST:
        messages.info(request, _("Please put that into the call in the guest's own words."))
    path = reverse("calls", kwargs={"house": request.venue.slug})
    return redirect(f"{path}?{urlencode({'call': text or call})}")
