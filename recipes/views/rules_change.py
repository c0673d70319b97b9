"""The house rules, published anew: a page for each section of them.

Every page goes the same way: type, look at the drinks that would change, publish.
"""

from __future__ import annotations

from dataclasses import replace
from typing import Any

from django.contrib import messages
from django.http import HttpResponse
from django.shortcuts import redirect, render
from django.utils import timezone
from django.utils.formats import date_format
from django.utils.translation import gettext as _

from barcourse.people.access import READ_AND_SEND, HouseRequest, member
from barcourse.people.roles import May
from recipes.forms.rules import RulesForm, SectionForm
from recipes.forms.rules_garnish import GarnishForm, moved
from recipes.forms.rules_glasses import GlassesForm, IceForm
from recipes.forms.rules_kinds import KindsForm
from recipes.forms.rules_words import PresetForm, WordsForm
from recipes.grammar.reasons import CannotBuild
from recipes.grammar.rules_check import idle_notices, rules_notices
from recipes.in_effect import holding_at, waiting
from recipes.menu import Menu
from recipes.models import Recipe, RulesVersion
from recipes.proposed import sign_rules
from recipes.publish import publish_rules
from recipes.rehearsal import changes, rehearse_menus
from recipes.rules_changes import grouped, words_altered
from recipes.shipped import shipped_rules
from recipes.views.finding import menu_or_404
from recipes.views.overtaken import joined, of_rules, opened
from recipes.views.two_steps import put_refusals, seen_digest, wants_to_publish
from recipes.words_rules import local_caution, notice


@member(May.EDIT_BOOK, methods=READ_AND_SEND)
def house_rules_change(request: HouseRequest) -> HttpResponse:
    """Pours, what they may be off by, money."""
    menu = menu_or_404(request)
    form = RulesForm(request.POST or None, menu=menu)
    return _section(request, form, "house_rules_change")


@member(May.EDIT_BOOK, methods=READ_AND_SEND)
def house_rules_kinds(request: HouseRequest) -> HttpResponse:
    form = KindsForm(request.POST or None, menu=menu_or_404(request))
    return _section(request, form, "house_rules_kinds")


@member(May.EDIT_BOOK, methods=READ_AND_SEND)
def house_rules_glasses(request: HouseRequest) -> HttpResponse:
    form = GlassesForm(request.POST or None, menu=menu_or_404(request))
    return _section(request, form, "house_rules_glasses")


@member(May.EDIT_BOOK, methods=READ_AND_SEND)
def house_rules_ice(request: HouseRequest) -> HttpResponse:
    """What a glass was measured to hold beside its ice."""
    form = IceForm(request.POST or None, menu=menu_or_404(request))
    return _section(request, form, "house_rules_ice")


@member(May.EDIT_BOOK, methods=READ_AND_SEND)
def house_rules_garnish(request: HouseRequest) -> HttpResponse:
    """Rules are moved and begun without saving anything; the page comes back with them so."""
    menu = menu_or_404(request)
    rearranged = moved(request.POST) if request.method == "POST" else None
    if rearranged is not None:
        form = GarnishForm(rearranged, menu=menu)
        context = _context(request, form, menu, _versions(request))
        return render(request, "recipes/house_rules_garnish.html", context)
    return _section(request, GarnishForm(request.POST or None, menu=menu), "house_rules_garnish")


@member(May.EDIT_BOOK, methods=READ_AND_SEND)
def house_rules_words(request: HouseRequest) -> HttpResponse:
    form = WordsForm(request.POST or None, menu=menu_or_404(request))
    return _section(request, form, "house_rules_words")


@member(May.EDIT_BOOK, methods=READ_AND_SEND)
def house_rules_preset(request: HouseRequest) -> HttpResponse:
    """Start from the rules that ship for a country."""
    form = PresetForm(request.POST or None, menu=menu_or_404(request))
    return _section(request, form, "house_rules_preset")


def _section(request: HouseRequest, form: SectionForm, page: str) -> HttpResponse:
    menu, versions = form.menu, _versions(request)
    if "onto" in request.POST:
        form = _joined(request, form, versions)
    context = _context(request, form, menu, versions)
    if request.method == "POST" and form.is_valid():
        published = len(versions)
        try:
            context["caution"] = local_caution(form.menu.venue.country, form.country)
            menu = replace(menu, rules=form.new_rules())  # whose glasses a refusal may name
            if wants_to_publish(form.data, published):
                return _publish(request, form)
            context |= _preview(request, form, page)
            context["seen"] = seen_digest(form.data, published)
        except CannotBuild as bad:
            put_refusals(form, bad.reasons, menu, _names(request))
    return render(request, f"recipes/{page}.html", context)


def _versions(request: HouseRequest) -> list[RulesVersion]:
    return list(RulesVersion.objects.in_house(request.venue).with_publisher())


def _joined(request: HouseRequest, form: SectionForm, versions: list[RulesVersion]) -> SectionForm:
    """What was typed, with a colleague's changes wherever nothing was."""
    menu, known = form.menu, opened(form.data, len(versions))
    base = holding_at([v for v in versions if v.number <= known], menu.at)
    if base is None or not form.can_join:
        return form
    newest = max(versions, key=lambda version: version.number).house_rules
    then, now = (type(form)(menu=replace(menu, rules=r)) for r in (base.house_rules, newest))
    return type(form)(joined(request.POST, then, now, len(versions)), menu=menu)


def _context(
    request: HouseRequest, form: SectionForm, menu: Menu, versions: list[RulesVersion]
) -> dict[str, Any]:
    return {
        "form": form,
        "waiting": waiting(versions, menu.at),
        "caution": local_caution(menu.venue.country, form.country),
        "opened": opened(form.data, len(versions)),
        "overtaken": of_rules(form, versions) if form.is_bound else None,
    }


def _names(request: HouseRequest) -> dict[str, str]:
    return {recipe.slug: recipe.name for recipe in Recipe.objects.in_house(request.venue)}


def _publish(request: HouseRequest, form: SectionForm) -> HttpResponse:
    version = publish_rules(
        by=request.membership,
        rules=form.new_rules(),
        at=timezone.now(),
        takes_effect_at=form.takes_effect,
    )
    messages.success(request, _published(version))
    return redirect("house_rules", house=request.venue.slug)


def _published(version: RulesVersion) -> str:
    if version.takes_effect_at == version.published_at:
        return _("House rules %(number)s are published and count from now.") % {
            "number": version.number
        }
    when = date_format(timezone.localtime(version.takes_effect_at), "DATETIME_FORMAT")
    return _("House rules %(number)s are published; from %(when)s they count.") % {
        "number": version.number,
        "when": when,
    }


def _preview(request: HouseRequest, form: SectionForm, page: str) -> dict[str, object]:
    at = timezone.now()
    rules = form.new_rules()

    def publish() -> RulesVersion:
        return publish_rules(
            by=request.membership, rules=rules, at=at, takes_effect_at=form.takes_effect
        )

    moment = max(at, form.takes_effect or at)
    before, after = rehearse_menus(request.venue, moment, publish)
    changed = changes(before, after)
    return {
        "preview": True,
        "count": len(changed),
        "changes": grouped(changed, before, after),
        "words": words_altered(before, after),
        "notices": _notices(form),
        "proposed": sign_rules(request.venue, rules, form.takes_effect, page),
    }


def _notices(form: SectionForm) -> list[str]:
    """What comes of it besides, then what is odd about the rules as they would be."""
    rules, menu = form.new_rules(), form.menu
    told = form.told()
    preset = shipped_rules(form.cleaned_data["preset"]).garnish if told else ()
    specs = (d.spec for d in menu.drinks)
    odd = (*rules_notices(rules, menu.pantry), *idle_notices(rules.garnish, menu.pantry, specs))
    return [
        *(notice(reason, preset, menu) for reason in told),
        *(notice(reason, rules.garnish, menu) for reason in odd),
    ]
