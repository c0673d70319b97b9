"""The house rules that some drinks rest on, in words: what a handout prints beside them."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass

from django.utils.translation import gettext as _

from recipes.grammar.aspects import Aspect
from recipes.grammar.drink import Drink
from recipes.grammar.house_spec import Origin
from recipes.grammar.ingredients import Kind, LiquorClass
from recipes.grammar.rules import Family, GarnishRule
from recipes.grammar.units import Unit
from recipes.menu import Menu
from recipes.wording import amount_words, aspect_words, either, label, name_of, volume_words


@dataclass(frozen=True)
class RuleLines:
    """One kind of rule, and each case of it: what it is about, what the house says."""

    title: str
    lines: tuple[tuple[str, str], ...]


def rules_behind(menu: Menu, drinks: Sequence[Drink]) -> tuple[RuleLines, ...]:
    """Only rules that at least one of these drinks uses; kinds without any are left out."""
    if not drinks:
        return ()
    found = (
        RuleLines(_("One pour"), tuple(_pours(menu, drinks))),
        RuleLines(_("Glass and ice"), tuple(_families(menu, drinks))),
        RuleLines(_("Garnish"), tuple(_garnish(menu, drinks))),
        RuleLines(_("Straw, doubles, leeway"), tuple(_others(menu, drinks))),
    )
    return tuple(rules for rules in found if rules.lines)


def _pours(menu: Menu, drinks: Iterable[Drink]) -> Iterable[tuple[str, str]]:
    used = {
        menu.pantry[part.ingredient].liquor_class
        for drink in drinks
        for part in drink.spec.parts
        if part.unit is Unit.POUR and part.amount
    }
    for liquor_class in (c for c in LiquorClass if c in used and c in menu.rules.pours):
        rule = menu.rules.pours[liquor_class]
        values = {"amount": amount_words(rule.amount, rule.unit), "by": label(rule.measured_by)}
        yield label(liquor_class), _("%(amount)s, %(by)s") % values


def _families(menu: Menu, drinks: Iterable[Drink]) -> Iterable[tuple[str, str]]:
    """Where the recipe says nothing, the kind of drink decides."""
    used = {
        drink.spec.family
        for drink in drinks
        if Origin.RULE in (drink.spec.origins.glass, drink.spec.origins.ice)
    }
    for family in (f for f in Family if f in used):
        slug = menu.rules.default_glass.get(family)
        ice = menu.rules.default_ice.get(family)
        if slug is None or ice is None:
            continue
        size = volume_words(menu.rules.glasses[slug].ml, menu.rules.country)
        values = {"glass": name_of(slug, menu.glass_names), "size": size, "ice": label(ice)}
        yield label(family), _("%(glass)s, %(size)s, %(ice)s") % values


def _garnish(menu: Menu, drinks: Iterable[Drink]) -> Iterable[tuple[str, str]]:
    used = {drink.spec.origins.garnish_rule for drink in drinks}
    for rule in (r for r in menu.rules.garnish if r.key in used):
        garnish = [[g.item, g.when.value] for g in rule.garnish]
        content = {"rim": None, "garnish": garnish, "straw": False}
        said = aspect_words(Aspect.FINISH, content, menu.names, menu.glass_names)
        yield _about(rule, menu), "; ".join(said)


def _about(rule: GarnishRule, menu: Menu) -> str:
    """What a garnish rule speaks of: "vodka and club soda, nothing else in it"."""
    groups = [either([_thing(word, menu) for word in group]) for group in rule.needs]
    if not groups:
        families = either([label(family) for family in rule.families])
        return families or _("anything else")
    about = _(" and ").join(groups)
    if rule.families:
        values = {"about": about, "family": either([label(f) for f in rule.families])}
        about = _("%(about)s in a %(family)s") % values
    return _("%(about)s, nothing else in it") % {"about": about} if rule.only else about


def _thing(word: str, menu: Menu) -> str:
    """A rule's word is an ingredient, a kind or a class."""
    if word in menu.names:
        return menu.names[word]
    if word in set(Kind):
        return label(Kind(word))
    if word in set(LiquorClass):
        return label(LiquorClass(word))
    return name_of(word, {})


def _others(menu: Menu, drinks: Sequence[Drink]) -> Iterable[tuple[str, str]]:
    rules = menu.rules
    families = {drink.spec.family for drink in drinks}
    straws = [label(family) for family in rules.straw_families if family in families]
    if straws:
        yield _("a straw"), _("in a %(kinds)s") % {"kinds": either(straws)}
    if Family.HIGHBALL in families:
        values = {
            "pours": rules.doubles.pours,
            "glass": name_of(rules.doubles.tall_glass, menu.glass_names),
        }
        if rules.doubles.ask_short_or_tall:
            said = _("%(pours)s pours; ask: short (same glass) or tall (%(glass)s)?")
        else:
            said = _("%(pours)s pours; tall goes in the %(glass)s")
        yield _("a double"), said % values
    leeway = {"volume": amount_words(rules.tolerance, rules.tolerance_unit)}
    yield _("a pour"), _("may be off by %(volume)s; a stamped measure never under") % leeway
