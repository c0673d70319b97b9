"""The house rules as they are read; rules_change has the pages on which they are changed."""

from __future__ import annotations

from django.http import HttpResponse
from django.shortcuts import render

from barcourse.people.access import HouseRequest, member
from barcourse.people.roles import May
from recipes import rules_sheet
from recipes.drink_sheet import drinks_off_measure
from recipes.grammar.rules_check import idle_notices, rules_notices
from recipes.in_effect import waiting
from recipes.models import RulesVersion
from recipes.views.finding import menu_or_404
from recipes.words_rules import notice, preset_name, rules_caution


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
        "patterns": rules_sheet.patterns(menu),
        "servings": rules_sheet.servings(menu),
        "notices": [
            notice(reason, rules.garnish, menu)
            for reason in (
                *rules_notices(rules, menu.pantry),
                *idle_notices(rules.garnish, menu.pantry, (d.spec for d in menu.drinks)),
            )
        ],
        "off_measure": drinks_off_measure(menu),
        "currency": rules.currency,
        "caution": rules_caution(request.venue, rules),
        "preset": preset_name(rules.preset),
        "versions": versions,
        "waiting": waiting(versions, menu.at),
    }
    return render(request, "recipes/house_rules.html", context)
