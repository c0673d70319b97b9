"""What guests say: a call typed or spoken, and what the house makes of it."""

from __future__ import annotations

from urllib.parse import urlencode

from django.contrib import messages
from django.http import HttpResponse
from django.shortcuts import redirect, render
from django.urls import reverse
from django.utils import timezone
from django.utils.translation import gettext as _
from django.utils.translation import gettext_lazy

from barcourse.people.access import READ_AND_SEND, HouseRequest, member
from barcourse.people.roles import May
from recipes.call_reader_shut import in_the_middle
from recipes.call_sheet import LONGEST, LONGEST_QUERY, answer_in_words, call_sheet
from recipes.grammar.calls import About
from recipes.grammar.calls.reading import NONE
from recipes.hearing import hear_on
from recipes.menu import Menu
from recipes.off_tonight import Tonight, standing
from recipes.views.finding import menu_or_404

EXAMPLES = (
    gettext_lazy("two gin tonics and a beer"),
    gettext_lazy("double vodka cranberry, no ice"),
    gettext_lazy("vodka soda"),
)
MOST_SHOWN_AGAIN = 10_000
"""Characters that stand in the field again; nobody corrects more than that."""
MICROPHONE = "camera=(), geolocation=(), microphone=(self), payment=(), usb=()"
"""As on every page, save that this one may ask for the microphone."""


@member(May.LEARN, methods=READ_AND_SEND)
def calls(request: HouseRequest) -> HttpResponse:
    """`call`: the words, in the address where they fit there, else sent; nothing is written. With
    `drink`, `about` and `choice` a question of it is answered, which leads to the call with the
    answer in it. Whoever is asked for just that in another tab is sent back there."""
    if middle := in_the_middle(request.membership, timezone.now()):
        return render(request, "recipes/calls.html", {"middle": middle})
    menu = menu_or_404(request)
    tonight = Tonight(menu, standing(request.venue))
    said = request.POST if request.method == "POST" else request.GET
    call = said.get("call", "").replace("\0", " ").strip()
    too_long = len(call) > LONGEST
    if call and not too_long and "choice" in request.GET:
        return _answer(request, call, menu, tonight)
    context = {
        "call": call[:MOST_SHOWN_AGAIN],
        "longest": LONGEST,
        "too_long": too_long,
        "said_nothing": "call" in said and not call,
        "sheet": None
        if too_long or not call
        else call_sheet(hear_on(call, menu, tonight), menu, tonight),
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
    query = urlencode({"call": call if text is None else text})
    if text is not None and said["choice"] == NONE and about is not About.GARNISH:
        messages.info(request, _("Something else, then: what does the guest say?"))
    if text is None or len(query) > LONGEST_QUERY:
        messages.info(request, _("Please put that into the call in the guest's own words."))
        query = urlencode({"call": call})
    path = reverse("calls", kwargs={"house": request.venue.slug})
    return redirect(f"{path}?{query}")
