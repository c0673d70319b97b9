"""What is out tonight: read by everybody, said and lifted by trainers."""

from __future__ import annotations

from django.contrib import messages
from django.http import Http404, HttpResponse
from django.shortcuts import redirect, render
from django.utils import timezone
from django.utils.translation import gettext as _

from barcourse.people.access import SEND, HouseRequest, member
from barcourse.people.roles import May
from recipes import off_words, publish_off
from recipes.forms.off import BOTTLE, OffForm
from recipes.grammar.reasons import CannotBuild
from recipes.models import Ingredient, OffTonight
from recipes.models.off_tonight import OffTonightQuerySet
from recipes.off_preview import OffPreview, preview, touched
from recipes.off_tonight import Tonight, standing
from recipes.saying import sentences
from recipes.views.finding import menu_or_404
from recipes.views.two_steps import seen_digest, wants_to_publish


@member(May.LEARN)
def off_tonight(request: HouseRequest) -> HttpResponse:
    """`?what=bottle:gin` has the form begin with that one."""
    tonight = _tonight(request)
    form = _form(request, tonight, initial={"what": request.GET.get("what", "")[:80]})
    return _page(request, tonight, form)


@member(May.EDIT_BOOK, methods=SEND)
def off_say(request: HouseRequest) -> HttpResponse:
    """Where something is to stand in, the drinks are shown first, and said with a second tap."""
    tonight = _tonight(request)
    form = _form(request, tonight, data=request.POST)
    shown: dict[str, object] = {}
    if form.is_valid():
        said = OffTonight.objects.in_house(request.venue).count()
        try:
            if form.stands_in is None or _is_meant(request, form, said):
                return _say(request, form, tonight)
            shown = {
                "preview": _look(request, form, tonight),
                "seen": seen_digest(request.POST, said),
            }
        except CannotBuild as bad:
            for reason in bad.reasons:
                form.add_error(form.field_for(reason), sentences([reason], tonight.menu))
    return _page(request, tonight, form, shown)


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


def _is_meant(request: HouseRequest, form: OffForm, said: int) -> bool:
    """The drinks were seen, and so was that the substitute is of another kind."""
    if not wants_to_publish(request.POST, said):
        return False
    if form.is_far and not form.cleaned_data["sure"]:
        form.add_error("sure", _("Tick it if you mean it, or choose another substitute."))
        return False
    return True


def _look(request: HouseRequest, form: OffForm, tonight: Tonight) -> OffPreview | None:
    out, use = form.ingredient, form.stands_in
    if out is None or use is None:
        return None
    return preview(by=request.membership, tonight=tonight, out=out, use=use, at=timezone.now())


def _page(
    request: HouseRequest, tonight: Tonight, form: OffForm, shown: dict[str, object] | None = None
) -> HttpResponse:
    context = {
        "out": off_words.out_sheets(tonight),
        "off": off_words.off_sheets(tonight),
        "changed": off_words.changed_sheets(tonight),
        "form": form,
        **(shown or {}),
    }
    return render(request, "recipes/off_tonight.html", context)


def _say(request: HouseRequest, form: OffForm, before: Tonight) -> HttpResponse:
    by, at = request.membership, timezone.now()
    if form.recipe:
        publish_off.say_drink_out(by=by, recipe=form.recipe, at=at)
    elif form.ingredient:
        use = form.stands_in
        publish_off.say_bottle_out(by=by, ingredient=form.ingredient, substitute=use, at=at)
    messages.success(request, off_words.said_after(touched(before, _tonight(request))))
    return redirect("off_tonight", house=request.venue.slug)
