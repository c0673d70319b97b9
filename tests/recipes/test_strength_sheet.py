"""The strength of a drink on its page: lines, tables, and a plot that can be read back."""

import re
from itertools import pairwise

import pytest
from django.urls import reverse

from recipes.menu import menu_at
from recipes.strength_sheet import HEIGHT, PAD, WIDTH, strength_sheet
from tests.factories.people import OPENED
from tests.recipes.pages import text


@pytest.fixture
def menu(odalys):
    return menu_at(odalys.venue, OPENED)


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
    points = [tuple(map(float, p)) for p in re.findall(r"([\d.]+) ([\d.]+)", plot.path)]
    heights = [HEIGHT - PAD - y for _x, y in points]

    assert (points[0][0], points[-1][0]) == (PAD, WIDTH - PAD)
    assert heights[-1] / heights[0] == pytest.approx(2, rel=0.01)
    assert all(a <= b for a, b in pairwise(heights))
    assert {(float(m.x), float(m.y)) for m in plot.marks} <= set(points)
    assert "no ice: 4.0 %; light ice: 5.3 %; full ice: 8.0 %" in plot.title


@pytest.mark.parametrize("slug", ["negroni", "draught-lager", "tequila-shot", "three-layers"])
def test_no_plot_where_ice_leaves_no_room_to_fill(menu, slug):
    sheet = strength_sheet(menu.by_slug[slug], menu)

    assert (sheet.plot, sheet.ice, sheet.sizes) == (None, (), ())


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
