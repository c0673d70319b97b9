"""The strength of a drink on its page: lines, tables, and a plot that can be read back."""

import re
from itertools import pairwise

import pytest
from django.urls import reverse

from recipes.menu import menu_at
from recipes.strength_plot import BOTTOM, HEIGHT, LEFT, RIGHT, WIDTH
from recipes.strength_sheet import strength_sheet
from tests.factories.people import OPENED
from tests.recipes.pages import text


@pytest.fixture
def menu(odalys):
    return menu_at(odalys.venue, OPENED)


def points_of(line) -> list[tuple[float, float]]:
    found = re.findall(r"([\d.]+) ([\d.]+)", line.path)
    return [(float(x), float(y)) for x, y in found]


def said(sheet) -> dict[str, str]:
    return {line.label: line.value for line in sheet.lines}


def test_a_highball_says_what_goes_into_the_room(menu):
    lines = said(strength_sheet(menu.by_slug["gin-tonic"], menu))

    assert lines["Poured"] == "1 fl oz"
    assert lines["Room for the mixer"] == "4 fl oz"
    assert lines["Liquid in the glass, without its ice"] == "5 fl oz"
    assert lines["Alcohol by volume, as served"] == "8.0 %"


def test_a_stirred_drink_says_what_stirring_does(menu):
    """Negroni: equal parts at 40, 16 and 25 % are 27 %; the published curve then adds 39.3 %."""
    lines = said(strength_sheet(menu.by_slug["negroni"], menu))

    assert lines["Alcohol by volume, before stirring"] == "27.0 %"
    assert lines["Alcohol by volume, as served"] == "19.4 %"
    assert "Room for the mixer" not in lines


def test_ice_and_doubles_stand_in_tables(menu):
    sheet = strength_sheet(menu.by_slug["gin-tonic"], menu)

    assert [(r.name, r.abv) for r in sheet.ice] == [
        ("no ice", "4.0 %"),
        ("light ice", "5.3 %"),
        ("full ice", "8.0 %"),
    ]
    assert [(r.name, r.abv, r.grams) for r in sheet.sizes] == [
        ("single", "8.0 %", "9.3 g"),
        ("short double, same glass", "16.0 %", "18.7 g"),
        ("tall double", "10.0 %", "18.7 g"),
    ]


def test_the_plot_is_in_scale(menu):
    """Read back from the path alone: twice as strong is twice as high, and it rises all the way."""
    plot = strength_sheet(menu.by_slug["gin-tonic"], menu).plot
    points = points_of(plot.lines[0])
    heights = [HEIGHT - BOTTOM - y for _x, y in points]

    assert (points[0][0], points[-1][0]) == (LEFT, WIDTH - RIGHT)
    assert heights[-1] / heights[0] == pytest.approx(2, rel=0.01)
    assert all(a <= b for a, b in pairwise(heights))
    assert {(float(m.x), float(m.y)) for m in plot.dots} <= set(points)
    assert "no ice: 4.0 %; light ice: 5.3 %; full ice: 8.0 %" in plot.title


def test_both_axes_have_their_numbers_and_their_names(menu):
    """A 10 fl oz glass, half of it ice, one pour at 40 %: 8 % and an axis to 8 in steps of 2."""
    plot = strength_sheet(menu.by_slug["gin-tonic"], menu).plot
    at = {label.text: label for label in plot.labels}
    ground = HEIGHT - BOTTOM

    assert "percent alcohol by volume" in at
    assert "ice takes 0 to 50 % of the glass" in at
    ticks = {n: ground - (float(at[f"{n}"].y) - 5) for n in (0, 2, 4, 6, 8)}
    assert [round(height / ticks[2], 3) for height in ticks.values()] == [0, 1, 2, 3, 4]
    assert {"no ice", "light ice", "full ice", "4.0 %", "5.3 %", "8.0 %"} <= set(at)


def test_the_doubles_are_plotted_beside_the_single(menu):
    """Heights read back from the paths: with full ice 8, 16 and 10 %."""
    plot = strength_sheet(menu.by_slug["gin-tonic"], menu).size_plot
    single, short, tall = (HEIGHT - BOTTOM - points_of(line)[-1][1] for line in plot.lines)

    assert short / single == pytest.approx(2, rel=0.01)
    assert tall / single == pytest.approx(1.25, rel=0.01)
    assert len({line.dashes for line in plot.lines}) == 3
    names = [float(label.y) for label in plot.labels if label.text.endswith(("single", "double"))]
    assert all(b - a >= 17 for a, b in pairwise(sorted(names)))
    assert len(names) == 3
    assert "single: 8.0 %; short double: 16.0 %; tall double: 10.0 %" in plot.title


@pytest.mark.parametrize(
    ("slug", "why"),
    [
        ("negroni", "Nothing tops this drink up"),
        ("draught-lager", "served without ice"),
        ("tequila-shot", "Nothing tops this drink up"),
        ("three-layers", "Nothing tops this drink up"),
    ],
)
def test_no_plot_where_ice_leaves_no_room_to_fill_and_why(menu, slug, why):
    sheet = strength_sheet(menu.by_slug[slug], menu)

    assert (sheet.plot, sheet.size_plot, sheet.ice, sheet.sizes) == (None, None, (), ())
    assert why in sheet.no_plot
    assert sheet.no_sizes == ""


def test_the_page_shows_it_with_its_words_and_its_caution(visit, tamsin):
    address = reverse("drink", kwargs={"house": "harbour-lights", "slug": "gin-tonic"})
    answer = visit(tamsin).get(address)

    assert re.search(
        r'<svg class="plot"[^>]*role="img"[^>]*><title>Alcohol by volume', answer.content.decode()
    )
    page = text(answer)
    assert "Less ice is weaker" in page
    assert "tall double 8 fl oz 10.0 % 18.7 g" in page
    assert "never a ground to serve or to drive" in page
