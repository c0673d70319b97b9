"""The house rules: read, and published anew."""

from __future__ import annotations

from django.contrib import messages
from django.http import HttpResponse
from django.shortcuts import redirect, render
from django.utils import timezone
from django.utils.formats import date_format
from django.utils.translation import gettext as _

from barcourse.people.access import READ_AND_SEND, HouseRequest, member
from barcourse.people.roles import May
from recipes import rules_sheet
from recipes.forms.rules import RulesForm
from recipes.grammar.reasons import CannotBuild
from recipes.in_effect import waiting
from recipes.models import Recipe, RulesVersion
from recipes.proposed import sign_rules
from recipes.publish import publish_rules
from recipes.rehearsal import by_aspects, rehearse
from recipes.views.finding import menu_or_404
from recipes.views.two_steps import put_refusals, seen_digest, wants_to_publish


@member(May.SEE_BOOK)
def house_rules(request: HouseRequest) -> HttpResponse:
    menu = menu_or_404(request)
    rules = menu.rules
    versions = list(RulesVersion.objects.in_house(request.venue).with_publisher().newest_first())
    context = {
        "version": menu.rules_version,
        "rules": rules,
        "pours": rules_sheet.pours(rules),
        "tolerance": rules_sheet.tolerance(rules),
        "glasses": rules_sheet.glasses(rules),
        "ice": rules_sheet.ice(rules),
        "garnish": rules_sheet.garnish(menu),
        "straw": rules_sheet.straw(rules),
        "doubles": rules_sheet.doubles(rules),
        "slang": rules_sheet.slang(menu),
        "versions": versions,
        "waiting": waiting(versions, menu.at),
    }
    return render(request, "recipes/house_rules.html", context)


@member(May.EDIT_BOOK, methods=READ_AND_SEND)
def house_rules_change(request: HouseRequest) -> HttpResponse:
    """Type, look at the drinks that would change, publish."""
    menu = menu_or_404(request)
    form = RulesForm(request.POST or None, rules=menu.rules)
    versions = list(RulesVersion.objects.in_house(request.venue))
    context: dict[str, object] = {"form": form, "waiting": waiting(versions, menu.at)}
    if request.method == "POST" and form.is_valid():
        try:
            if wants_to_publish(request, len(versions)):
                return _publish(request, form)
            context |= _preview(request, form)
            context["seen"] = seen_digest(request, len(versions))
        except CannotBuild as bad:
            put_refusals(form, bad.reasons, menu, _names(request))
    return render(request, "recipes/house_rules_change.html", context)


def _names(request: HouseRequest) -> dict[str, str]:
    return {recipe.slug: recipe.name for recipe in Recipe.objects.in_house(request.venue)}


def _publish(request: HouseRequest, form: RulesForm) -> HttpResponse:
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


def _preview(request: HouseRequest, form: RulesForm) -> dict[str, object]:
    at = timezone.now()

    def publish() -> RulesVersion:
        return publish_rules(
            by=request.membership,
            rules=form.new_rules(),
            at=at,
            takes_effect_at=form.takes_effect,
        )

    changed = rehearse(request.venue, max(at, form.takes_effect or at), publish)
    return {
        "preview": True,
        "count": len(changed),
        "changes": by_aspects(changed),
        "proposed": sign_rules(request.venue, form.new_rules(), form.takes_effect),
    }
