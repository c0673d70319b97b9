"""How much is in the glass and how strong it is, in words and as a small plot."""

from __future__ import annotations

from dataclasses import dataclass

from django.utils.formats import number_format
from django.utils.translation import gettext as _

from recipes.grammar import strength_curves as curves
from recipes.grammar.house_spec import HouseSpec
from recipes.grammar.rules import Family
from recipes.grammar.spec import Method
from recipes.grammar.strength import MODAL_STANDARD_DRINK_G, STANDARD_DRINK_G, Strength, strength
from recipes.menu import Menu, MenuDrink
from recipes.strength_plot import Plot, ice_plot, size_plot
from recipes.wording import label, volume_words


@dataclass(frozen=True)
class Line:
    label: str
    value: str


@dataclass(frozen=True)
class Row:
    """A way to serve the drink, in the table beside the plot."""

    name: str
    volume: str
    abv: str
    grams: str


@dataclass(frozen=True)
class Sheet:
    """`no_plot` and `no_sizes` say in a sentence why the plot or the one of doubles isn't there."""

    lines: tuple[Line, ...]
    ice: tuple[Row, ...]
    sizes: tuple[Row, ...]
    plot: Plot | None
    size_plot: Plot | None
    no_plot: str
    no_sizes: str


def strength_sheet(item: MenuDrink, menu: Menu) -> Sheet:
    spec, rules, pantry = item.drink.spec, menu.rules, menu.pantry
    by_ice = curves.by_ice(spec, rules, pantry)
    by_size = curves.by_size(spec, rules, pantry)
    why_not = curves.why_no_curve(spec, rules, pantry)
    size_curves = curves.size_curves(spec, rules, pantry)
    has_sizes = len(size_curves) > 1
    return Sheet(
        lines=tuple(lines_of(spec, menu)),
        ice=tuple(_row(label(a.ice), a.strength, menu) for a in by_ice),
        sizes=tuple(_row(label(a.size), a.strength, menu) for a in by_size),
        plot=ice_plot(by_ice, curves.ice_curve(spec, rules, pantry), percent) if by_ice else None,
        size_plot=size_plot(size_curves, percent) if has_sizes else None,
        no_plot=label(why_not) if why_not else "",
        no_sizes="" if why_not or has_sizes else _no_sizes(spec),
    )


def percent(value: float) -> str:
    return _("%(n)s %%") % {"n": number_format(f"{value:.1f}")}


def grams(value: float) -> str:
    return _("%(n)s g") % {"n": number_format(f"{value:.1f}")}


def lines_of(spec: HouseSpec, menu: Menu) -> list[Line]:
    """Of any build, on the menu or as it was called. Standard drinks are those of the country that
    the house stands in."""
    country, measures = menu.venue.country, menu.rules.country
    found, held = strength(spec, menu.pantry, country), curves.volumes(spec, menu.pantry)
    lines = [Line(_("Poured"), volume_words(held.poured, measures))] if held.poured else []
    if held.melted:
        lines += [
            Line(_("Water from the ice"), volume_words(held.melted, measures)),
            Line(_before(spec.method), percent(held.before_abv)),
        ]
    if spec.mixers:
        lines.append(Line(_("Room for the mixer"), volume_words(held.mixer, measures)))
    size = STANDARD_DRINK_G.get(country, MODAL_STANDARD_DRINK_G)
    standard = _("Standard drinks of %(n)s g") % {"n": number_format(f"{size:.4g}")}
    return [
        *lines,
        Line(_("Liquid in the glass, without its ice"), volume_words(found.volume_ml, measures)),
        Line(_("Alcohol by volume, as served"), percent(found.abv_percent)),
        Line(_("Alcohol"), grams(found.ethanol_g)),
        Line(standard, number_format(f"{found.standard_drinks:.1f}")),
        *_beside(spec, menu),
    ]


def _beside(spec: HouseSpec, menu: Menu) -> list[Line]:
    """A beer back has alcohol too, which is none of the drink's."""
    held = (strength(back, menu.pantry, menu.venue.country).ethanol_g for back in spec.beside)
    return [Line(_("Alcohol besides, in the back"), grams(g)) for g in held if g]


def _before(method: Method) -> str:
    """Blended and stirred drinks are thinned as shaken ones are."""
    if method is Method.SHAKE:
        return _("Alcohol by volume, before shaking")
    if method is Method.STIR:
        return _("Alcohol by volume, before stirring")
    return _("Alcohol by volume, before blending")


def _row(name: str, found: Strength, menu: Menu) -> Row:
    volume = volume_words(found.volume_ml, menu.rules.country)
    return Row(name, volume, percent(found.abv_percent), grams(found.ethanol_g))


def _no_sizes(spec: HouseSpec) -> str:
    if spec.family is not Family.HIGHBALL:
        return _("Doubles are reckoned for highballs alone, so there are none to compare here.")
    return _("A double of it leaves no room for the mixer, so there is none to compare.")
