"""A person's own hook on a drink: written from the back of its card."""

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
            return redirect("shift_cards", house=request.venue.slug)
    page = kept_page(request.venue, "hook", request.membership.pk, recipe.slug, make=lambda: None)
    html = None if form.is_bound else page.html
    return render(request, "assessments/hook.html", {"form": form, "recipe": recipe, "html": html})
