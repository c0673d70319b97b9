"""A person's own hook on a drink: written from the back of its card, or from the house book."""

from __future__ import annotations

from django import forms
from django.contrib import messages
from django.http import HttpResponse
from django.shortcuts import get_object_or_404, redirect, render
from django.utils import timezone
from django.utils.translation import gettext as now
from django.utils.translation import gettext_lazy as _

from assessments import hooks, record_hooks
from assessments.kept_pages import kept_page
from assessments.views.forms import refusals_beside
from barcourse.people.access import READ_AND_SEND, HouseRequest, member
from barcourse.people.roles import May
from recipes.models import Recipe


class HookForm(forms.Form):
    text = forms.CharField(
        label=_("What brings it back to you"),
        help_text=_("A picture, a rhyme, a place. Leave it empty to take your hook off."),
        max_length=record_hooks.LONGEST,
        required=False,
        widget=forms.Textarea({"rows": 3}),
    )
    is_shared = forms.BooleanField(label=_("Show it to the whole house"), required=False)


@member(May.LEARN, methods=READ_AND_SEND)
def hook(request: HouseRequest, drink: str) -> HttpResponse:
    recipe = get_object_or_404(Recipe.objects.in_house(request.venue), slug=drink)
    mine = hooks.own_hook(request.membership, recipe)
    initial = {"text": mine.text, "is_shared": mine.is_shared} if mine else {}
    form = HookForm(request.POST or None, initial=initial)
    if not request.membership.may(May.WATCH):
        del form.fields["is_shared"]
    if form.is_valid():
        with refusals_beside(form):
            kept = record_hooks.keep_hook(
                by=request.membership,
                recipe=recipe,
                text=form.cleaned_data["text"],
                is_shared=form.cleaned_data.get("is_shared", False),
                at=timezone.now(),
            )
            messages.success(request, now("Kept.") if kept else now("Your hook is off."))
            return _back(request, drink)
    key = ("hook", request.membership.pk, recipe.slug, _from_book(request))
    page = kept_page(request.venue, *key, make=lambda: None)
    html = None if form.is_bound else page.html
    context = {"form": form, "recipe": recipe, "html": html, "from_book": _from_book(request)}
    return render(request, "assessments/hook.html", context)


def _from_book(request: HouseRequest) -> bool:
    return request.GET.get("from") != "card" and request.membership.may(May.SEE_BOOK)


def _back(request: HouseRequest, drink: str) -> HttpResponse:
    """To where they came from: their card, or the drink in the house book for whoever sees that."""
    if _from_book(request):
        return redirect("drink", house=request.venue.slug, slug=drink)
    return redirect("shift_cards", house=request.venue.slug)
