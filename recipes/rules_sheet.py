"""The house rules in words."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from django.utils.translation import gettext as _
from django.utils.translation import ngettext

from recipes.grammar.house_spec import HouseSpec
from recipes.grammar.ingredients import Kind, LiquorClass
from recipes.grammar.rules import Family, GarnishRule, GlassRule, HouseRules, Pattern
from recipes.grammar.spec import Ice, When
from recipes.menu import Menu
from recipes.wording import amount_words, either, label, name_of, number_words, share_words


@dataclass(frozen=True)
class Line:
    """`label` on the left, `value` on the right, `note` quiet below the label."""

    label: str
    value: str
    note: str = ""


def pours(rules: HouseRules) -> list[Line]:
    return [
        Line(
            _upper(label(kind)),
            size_words(rule.amount, rule.unit, rule.ml),
            label(rule.measured_by),
        )
        for kind, rule in rules.pours.items()
    ]


def tolerance(rules: HouseRules) -> str:
    return size_words(rules.tolerance, rules.tolerance_unit, rules.tolerance_ml)


def glasses(rules: HouseRules) -> list[Line]:
    return [
        Line(
            glass.name,
            size_words(glass.amount, glass.unit, glass.ml),
            _glass_note(key, glass, rules),
        )
        for key, glass in rules.glasses.items()
    ]


_NO_QUESTION_OF_ICE = (Family.BLENDED, Family.DRAUGHT, Family.BOTTLE)


def ice(rules: HouseRules) -> list[Line]:
    """What stands in the glass; where nobody would ask, only an unusual rule is told."""
    return [
        Line(_upper(label(family)), label(kind))
        for family, kind in rules.default_ice.items()
        if kind is not Ice.NONE or family not in _NO_QUESTION_OF_ICE
    ]


def garnish(menu: Menu) -> list[str]:
    """The rules as sentences, in the order in which they are asked: the first that fits counts."""
    return [garnish_rule(rule, menu) for rule in menu.rules.garnish]


def straw(rules: HouseRules) -> str:
    if not rules.straw_families:
        return _("No straw unless a recipe says so or the guest asks.")
    families = either([label(family) for family in rules.straw_families])
    return _("A straw goes into every %(families)s, unless the recipe says not.") % {
        "families": families
    }


def doubles(rules: HouseRules) -> list[str]:
    rule = rules.doubles
    lines = [
        ngettext("A double has %(n)s pour.", "A double has %(n)s pours.", rule.pours)
        % {"n": rule.pours},
        _("Short: in the same glass. Tall: in the %(glass)s, mixer to the top.")
        % {"glass": rules.glasses[rule.tall_glass].name},
        _("The alcohol is the same; the short one tastes stronger."),
    ]
    if rule.ask_short_or_tall:
        lines.append(_("The guest seldom says which, so ask."))
    return lines


def slang(menu: Menu) -> list[Line]:
    return [
        Line(_("“%(word)s”") % {"word": word}, name_of(slug, menu.names))
        for word, slug in sorted(menu.rules.slang.items())
    ]


def patterns(menu: Menu) -> list[Line]:
    """What each makes of a base; the garnish where it is the pattern's own."""
    return [
        Line(
            _("“%(word)s”") % {"word": word},
            ", ".join(name_of(slug, menu.names) for slug in made.mixers),
            _pattern_note(made, menu),
        )
        for word, made in sorted(menu.rules.patterns.items())
    ]


def _pattern_note(made: Pattern, menu: Menu) -> str:
    notes = []
    if made.base:
        told = {"base": name_of(made.base, menu.names)}
        notes.append(_("%(base)s where the guest names no base") % told)
    if made.garnish is not None:
        notes.append(_what(made, menu))
    return "; ".join(notes)


def servings(menu: Menu) -> list[Line]:
    said = sorted(menu.rules.servings.items())
    return [Line(_("“%(word)s”") % {"word": word}, label(meant)) for word, meant in said]


def size_words(amount: float, unit: str, ml: float) -> str:
    """ "1 fl oz (30 ml)"; where the rule is written in millilitres, those alone."""
    said = amount_words(amount, unit)
    if unit in ("ml", "cl"):
        return said
    rounded = round(ml) if ml >= 100 else round(ml, 1)
    return _("%(amount)s (%(ml)s ml)") % {"amount": said, "ml": number_words(rounded)}


def _glass_note(key: str, glass: GlassRule, rules: HouseRules) -> str:
    notes = []
    if families := [label(f) for f in Family if rules.default_glass.get(f) == key]:
        notes.append(_("for a %(families)s") % {"families": either(families)})
    if glass.ice_share:
        told = {"share": share_words(100 * glass.ice_share)}
        said = _("full ice takes %(share)s of it, measured here") if glass.ice_measured else None
        notes.append((said or _("full ice takes %(share)s of it")) % told)
    return "; ".join(notes)


def garnish_rule(rule: GarnishRule, menu: Menu) -> str:
    told = {"drink": _upper(which_drinks(rule, menu)), "garnish": _what(rule, menu)}
    return _("%(drink)s: %(garnish)s") % told


def which_drinks(rule: GarnishRule, menu: Menu) -> str:
    """Which drinks the rule speaks of: "vodka with club soda and nothing else"."""
    groups = [either(_known_words(group, menu)) for group in rule.needs]
    said = _(" with ").join(groups) if groups else _("everything")
    if rule.only:
        said = _("%(drink)s and nothing else") % {"drink": said}
    if rule.families:
        families = either([label(family) for family in rule.families])
        said = _("%(drink)s, as a %(families)s") % {"drink": said, "families": families}
    return said


def rule_of(spec: HouseSpec, menu: Menu) -> str:
    """The garnish rule that decides for this drink, by number and name; "" where none does."""
    rules = menu.rules.garnish
    for number, rule in enumerate(rules, start=1):
        if rule.key == spec.origins.garnish_rule:
            told = {"number": number, "drinks": which_drinks(rule, menu)}
            return _("house rule %(number)s (%(drinks)s)") % told
    return ""


def _what(rule: GarnishRule | Pattern, menu: Menu) -> str:
    if not rule.garnish:
        return _("no garnish")
    garnish = rule.garnish or ()
    asked = [name_of(g.item, menu.names) for g in garnish if g.when is When.ASK]
    said = [
        _("%(item)s, %(when)s") % {"item": name_of(g.item, menu.names), "when": label(g.when)}
        for g in garnish
        if g.when is not When.ASK
    ]
    if asked:
        said.append(_("%(items)s (ask the guest)") % {"items": either(asked)})
    return "; ".join(said)


def _known_words(group: Sequence[str], menu: Menu) -> list[str]:
    """Of one thing or another those that the house has a name for; all where it has none."""
    names = {*menu.pantry, *Kind, *LiquorClass}
    return [any_word(word, menu) for word in group if word in names] or list(group)


def any_word(word: str, menu: Menu) -> str:
    """A garnish rule speaks of an ingredient, a kind or a class."""
    if word in menu.pantry:
        return menu.names[word]
    known: Sequence[type[Kind | LiquorClass]] = (Kind, LiquorClass)
    return next((label(enum(word)) for enum in known if word in set(enum)), word)


def _upper(text: str) -> str:
    return text[:1].upper() + text[1:]
