"""How much is in the glass and how strong it is, in words and as a small plot."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from django.utils.formats import number_format
from django.utils.translation import gettext as _

from recipes.grammar import strength_curves as curves
from recipes.grammar.house_spec import HouseSpec
from recipes.grammar.spec import Method
from recipes.grammar.strength import MODAL_STANDARD_DRINK_G, STANDARD_DRINK_G, Strength, strength
from recipes.menu import Menu, MenuDrink
from recipes.wording import label, volume_words

WIDTH, HEIGHT, PAD = 280.0, 120.0, 14.0
"""The plot's own units; the paper decides how big it is drawn."""


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
class Mark:
    x: str
    y: str
    abv: str
    name: str


@dataclass(frozen=True)
class Plot:
    """A curve of strength over the share of the glass that ice takes; `title` says it in words."""

    title: str
    path: str
    axis: str
    marks: tuple[Mark, ...]


@dataclass(frozen=True)
class Sheet:
    lines: tuple[Line, ...]
    ice: tuple[Row, ...]
    sizes: tuple[Row, ...]
    plot: Plot | None


def strength_sheet(item: MenuDrink, menu: Menu) -> Sheet:
    spec, rules, pantry = item.drink.spec, menu.rules, menu.pantry
    by_ice = curves.by_ice(spec, rules, pantry)
    by_size = curves.by_size(spec, rules, pantry)
    return Sheet(
        lines=tuple(_lines(spec, menu)),
        ice=tuple(_row(label(a.ice), a.strength, menu) for a in by_ice),
        sizes=tuple(_row(label(a.size), a.strength, menu) for a in by_size),
        plot=_plot(by_ice, curves.ice_curve(spec, rules, pantry)) if by_ice else None,
    )


def percent(value: float) -> str:
    return _("%(n)s %%") % {"n": number_format(f"{value:.1f}")}


def grams(value: float) -> str:
    return _("%(n)s g") % {"n": number_format(f"{value:.1f}")}


def _lines(spec: HouseSpec, menu: Menu) -> list[Line]:
    """Standard drinks are those of the country that the house stands in."""
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
    ]


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


def _plot(at: Sequence[curves.AtIce], curve: Sequence[tuple[float, float]]) -> Plot:
    most_ice = curve[-1][0]
    most_abv = max(abv for _share, abv in curve)

    def place(share: float, abv: float) -> tuple[float, float]:
        x = PAD + share / most_ice * (WIDTH - 2 * PAD)
        return x, HEIGHT - PAD - abv / most_abv * (HEIGHT - 3 * PAD)

    points = [place(share, abv) for share, abv in curve]
    marks = []
    for a in at:
        x, y = place(a.ice_share, a.strength.abv_percent)
        said = percent(a.strength.abv_percent)
        marks.append(Mark(f"{x:.1f}", f"{y:.1f}", said, label(a.ice)))
    said = "; ".join(f"{m.name}: {m.abv}" for m in marks)
    return Plot(
        title=_("Alcohol by volume, as served, over the ice in the glass. %(said)s.")
        % {"said": said},
        path="M" + "L".join(f"{x:.1f} {y:.1f}" for x, y in points),
        axis=f"M{PAD:g} {HEIGHT - PAD:g}H{WIDTH - PAD:g}",
        marks=tuple(marks),
    )
