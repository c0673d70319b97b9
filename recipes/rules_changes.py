"""What other house rules do to the drinks on the menu: before and after, and which drinks.

Told by what changes rather than by drink: a bigger highball glass is one line with 41 drinks.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass

from django.utils.translation import gettext as _

from recipes.grammar.aspects import Aspect, contents
from recipes.grammar.house_spec import HouseSpec
from recipes.grammar.ingredients import LiquorClass
from recipes.grammar.rules import HouseRules, MeasuredBy
from recipes.grammar.units import Unit
from recipes.menu import Menu
from recipes.rehearsal import Change
from recipes.rules_sheet import garnish_rule, rule_of, size_words
from recipes.wording import aspect_words, label, name_of, share_words
from recipes.words_rule_topics import garnish_words, straw_words


@dataclass(frozen=True)
class Altered:
    """One thing that is otherwise; `why` names the house rule where one decides."""

    what: str
    before: str
    after: str
    why: str = ""


@dataclass(frozen=True)
class AlteredAlike:
    """The same thing in all these drinks; names in the order of the menu."""

    change: Altered
    drinks: tuple[str, ...]


def grouped(changed: Iterable[Change], before: Menu, after: Menu) -> list[AlteredAlike]:
    """The largest group first; then pours and glasses that no drink on the menu has."""
    groups: dict[Altered, list[str]] = {}
    for change in changed:
        for altered in dict.fromkeys(_altered(change, before, after)):
            groups.setdefault(altered, []).append(change.after.drink.name)
    largest = sorted(groups.items(), key=lambda group: -len(group[1]))
    unused = [a for a in sizes(before.rules, after.rules) if a not in groups]
    return [AlteredAlike(altered, tuple(names)) for altered, names in largest] + [
        AlteredAlike(altered, ()) for altered in unused
    ]


def sizes(before: HouseRules, after: HouseRules) -> list[Altered]:
    """Pours and glasses of another size, whether or not a drink has them."""
    pours = [_pour(kind, before, after) for kind in {**before.pours, **after.pours}]
    glasses = [_glass_size(key, before, after) for key in before.glasses if key in after.glasses]
    return [altered for altered in (*pours, *glasses) if altered]


def rules_altered(before: HouseRules, after: HouseRules, menu: Menu) -> list[Altered]:
    """What of the rules themselves is otherwise, section by section; sizes told one by one."""
    found = sizes(before, after)
    sections: dict[str, tuple[object, object]] = {
        _("Which pours there are, and how one pours"): (_ways(before), _ways(after)),
        _("Which glasses there are, and their ice"): (_iced(before), _iced(after)),
        _("Glass, ice and straw by kind of drink"): (_kinds(before), _kinds(after)),
        _("Doubles"): (before.doubles, after.doubles),
        _("What guests call it"): (before.slang, after.slang),
        _("Words that make a drink of any base"): (before.patterns, after.patterns),
        _("Words that say how much"): (before.servings, after.servings),
        _("Money"): (before.currency, after.currency),
        _("What a pour may be off by"): (before.tolerance_ml, after.tolerance_ml),
    }
    found += [Altered(title, "", "") for title, (then, now) in sections.items() if then != now]
    if before.garnish != after.garnish:
        gone = [garnish_rule(r, menu) for r in before.garnish if r not in after.garnish]
        new = [garnish_rule(r, menu) for r in after.garnish if r not in before.garnish]
        found.append(Altered(_("Garnish rules"), "; ".join(gone), "; ".join(new)))
    return found


def words_altered(before: Menu, after: Menu) -> list[Altered]:
    """Every word of guests that means another thing, is new, or is asked about from then on."""
    then, now = _meanings(before), _meanings(after)
    said = sorted({word for word in (*then, *now) if then.get(word) != now.get(word)})
    asked = _("no word of the house")
    return [
        Altered(_("“%(word)s”") % {"word": w}, then.get(w, asked), now.get(w, asked)) for w in said
    ]


def _meanings(menu: Menu) -> dict[str, str]:
    slang = {word: name_of(slug, menu.names) for word, slug in menu.rules.slang.items()}
    made = {
        word: ", ".join(name_of(slug, menu.names) for slug in (p.base, *p.mixers) if slug)
        for word, p in menu.rules.patterns.items()
    }
    return made | {word: str(label(s)) for word, s in menu.rules.servings.items()} | slang


def _ways(rules: HouseRules) -> object:
    return {kind: pour.measured_by for kind, pour in rules.pours.items()}


def _iced(rules: HouseRules) -> object:
    return {key: (g.name, g.ice_share, g.stemmed) for key, g in rules.glasses.items()}


def _kinds(rules: HouseRules) -> object:
    return (rules.default_glass, rules.default_ice, rules.straw_families)


def _altered(change: Change, before: Menu, after: Menu) -> Iterator[Altered]:
    told = {
        Aspect.GLASS: _glass,
        Aspect.POURS: _pours,
        Aspect.FINISH: _finish,
        Aspect.METHOD: _method,
    }
    for aspect in change.aspects:
        tell = told.get(aspect)
        found = [a for a in tell(change, before, after) if a] if tell else []
        yield from found or [_whole(aspect, change, before, after)]


Found = list[Altered | None]


def _glass(change: Change, before: Menu, after: Menu) -> Found:
    then, now = change.before.drink.spec.glass, change.after.drink.spec.glass
    if then == now:
        return [_glass_size(then, before.rules, after.rules)]
    return [Altered(_("Glass"), before.glass_names[then], _glass_name(now, before, after))]


def _glass_name(key: str, before: Menu, after: Menu) -> str:
    """As the house calls it so far."""
    return before.glass_names.get(key) or after.glass_names[key]


def _glass_size(key: str, before: HouseRules, after: HouseRules) -> Altered | None:
    then, now = before.glasses[key], after.glasses[key]
    if then.ml == now.ml:
        return None
    return Altered(
        then.name,
        size_words(then.amount, then.unit, then.ml),
        size_words(now.amount, now.unit, now.ml),
    )


def _pours(change: Change, before: Menu, after: Menu) -> Found:
    pantry, found = after.pantry, []
    for then, now in zip(
        change.before.drink.spec.parts, change.after.drink.spec.parts, strict=True
    ):
        kind = pantry[now.ingredient].liquor_class
        if then.unit is Unit.POUR and then.ml != now.ml:
            found.append(_pour(kind, before.rules, after.rules))
        if then.measured_by is not now.measured_by:
            what = _("How one pours %(liquor)s") % {"liquor": label(kind)}
            found.append(Altered(what, _by(then.measured_by), _by(now.measured_by)))
    return found


def _by(measured_by: MeasuredBy | None) -> str:
    return label(measured_by) if measured_by else _("as one likes")


def _pour(kind: LiquorClass, before: HouseRules, after: HouseRules) -> Altered | None:
    then, now = _pour_words(kind, before), _pour_words(kind, after)
    if then == now:
        return None
    return Altered(_("One pour of %(liquor)s") % {"liquor": label(kind)}, then, now)


def _pour_words(kind: LiquorClass, rules: HouseRules) -> str:
    pour = rules.pours.get(kind)
    return size_words(pour.amount, pour.unit, pour.ml) if pour else _("no house pour")


def _finish(change: Change, before: Menu, after: Menu) -> Found:
    then, now = change.before.drink.spec, change.after.drink.spec
    found: Found = []
    if then.garnish != now.garnish:
        found.append(
            Altered(
                _("Garnish"),
                garnish_words(then, before),
                garnish_words(now, after),
                rule_of(now, after),
            )
        )
    if then.straw != now.straw:
        found.append(Altered(_("Straw"), straw_words(then.straw), straw_words(now.straw)))
    return found


def _method(change: Change, before: Menu, after: Menu) -> Found:
    then, now = change.before.drink.spec, change.after.drink.spec
    if then.ice is not now.ice:
        return [Altered(_("Ice"), label(then.ice), label(now.ice))]
    if then.ice_share != now.ice_share:
        told = {"glass": _glass_name(now.glass, before, after)}
        what = _("What ice takes of the %(glass)s") % told
        return [Altered(what, share_words(100 * then.ice_share), share_words(100 * now.ice_share))]
    return []


def _whole(aspect: Aspect, change: Change, before: Menu, after: Menu) -> Altered:
    """The aspect as it reads, where no single rule accounts for it."""
    return Altered(
        label(aspect),
        _words(aspect, change.before.drink.spec, before),
        _words(aspect, change.after.drink.spec, after),
    )


def _words(aspect: Aspect, spec: HouseSpec, menu: Menu) -> str:
    content, country = contents(spec)[aspect], menu.rules.country
    return ", ".join(aspect_words(aspect, content, menu.names, menu.glass_names, country))
