"""What is out tonight: read by everybody, said and lifted by trainers."""

from __future__ import annotations

from django.contrib import messages
from django.http import Http404, HttpResponse
from django.shortcuts import redirect, render
from django.utils import timezone
from django.utils.translation import gettext as _
from django.utils.translation import ngettext

from barcourse.people.access import SEND, HouseRequest, member
from barcourse.people.roles import May
from recipes import off_words, publish_off
from recipes.forms.off import BOTTLE, OffForm
from recipes.grammar.reasons import CannotBuild
from recipes.models import Ingredient, OffTonight
from recipes.models.off_tonight import OffTonightQuerySet
from recipes.off_tonight import Tonight, standing
from recipes.saying import sentences
from recipes.views.finding import menu_or_404


@member(May.LEARN)
def off_tonight(request: HouseRequest) -> HttpResponse:
    """`?what=bottle:gin` has the form begin with that one."""
    tonight = _tonight(request)
    form = _form(request, tonight, initial={"what": request.GET.get("what", "")[:80]})
    return _page(request, tonight, form)


@member(May.EDIT_BOOK, methods=SEND)
def off_say(request: HouseRequest) -> HttpResponse:
    tonight = _tonight(request)
    form = _form(request, tonight, data=request.POST)
    if form.is_valid():
        try:
            return _say(request, form)
        except CannotBuild as bad:
            for reason in bad.reasons:
                form.add_error(form.field_for(reason), sentences([reason], tonight.menu))
    return _page(request, tonight, form)


@member(May.EDIT_BOOK, methods=SEND)
def off_lift(request: HouseRequest) -> HttpResponse:
    """It is there again. Lifted by a colleague meanwhile is as good; what was never out is 404."""
    rows = _said_of(request, request.POST.get("out", ""))
    newest = rows.newest_first().first()
    if newest is None:
        raise Http404
    publish_off.lift(by=request.membership, off=newest, at=timezone.now())
    name = off_words.name_of(newest)
    messages.success(request, _("%(name)s is there again.") % {"name": name})
    return redirect("off_tonight", house=request.venue.slug)


def _said_of(request: HouseRequest, code: str) -> OffTonightQuerySet:
    """Every time that this bottle or drink was out, by the code that the page gave it."""
    kind, _colon, slug = code.partition(":")
    rows = OffTonight.objects.in_house(request.venue).with_all()
    return rows.bottle(slug) if kind == BOTTLE else rows.drink(slug)


def _tonight(request: HouseRequest) -> Tonight:
    return Tonight(menu_or_404(request), standing(request.venue))


def _form(request: HouseRequest, tonight: Tonight, **said: object) -> OffForm:
    bottles = Ingredient.objects.in_house(request.venue).by_name()
    return OffForm(**said, bottles=bottles, drinks=[i.recipe for i in tonight.menu.items])


def _page(request: HouseRequest, tonight: Tonight, form: OffForm) -> HttpResponse:
    context = {
        "out": off_words.out_sheets(tonight),
        "off": off_words.off_sheets(tonight),
        "changed": off_words.changed_sheets(tonight),
        "form": form,
    }
    return render(request, "recipes/off_tonight.html", context)


def _say(request: HouseRequest, form: OffForm) -> HttpResponse:
    by, at = request.membership, timezone.now()
    if form.recipe:
        publish_off.say_drink_out(by=by, recipe=form.recipe, at=at)
    elif form.ingredient:
        use = form.stands_in
        publish_off.say_bottle_out(by=by, ingredient=form.ingredient, substitute=use, at=at)
    messages.success(request, _said(_tonight(request)))
    return redirect("off_tonight", house=request.venue.slug)


def _said(tonight: Tonight) -> str:
    """How many drinks of the menu are touched, all that is out taken together."""
    off, changed = len(tonight.off), len(tonight.changed)
    return " ".join(
        (
            _("Everybody on shift sees it now."),
            ngettext("%(n)s drink is off.", "%(n)s drinks are off.", off) % {"n": off},
            ngettext(
                "%(n)s drink is built otherwise.", "%(n)s drinks are built otherwise.", changed
            )
            % {"n": changed},
        )
    )
