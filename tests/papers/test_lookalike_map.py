"""The look-alikes of a module on paper."""

import datetime as dt
from itertools import combinations

import pytest
from django.conf import settings
from fontTools.ttLib import TTFont

from barcourse.papers.lookalike_map import LETTER, MOST_PAIRS, facts_of, map_pdf, room_of
from recipes import publish, shipped
from recipes.menu import menu_at
from recipes.models import Module, Recipe
from recipes.publish import OnMenu
from tests.factories.people import OPENED
from tests.factories.recipes import DAY, revise
from tests.papers.sheets import elements, opened, sizes_of, text_of

SHIPPED = shipped.shipped_course()
FONT = TTFont(settings.BASE_DIR / "static/fonts/Inter-SemiBold.woff2")
ADVANCES = {
    chr(code): FONT["hmtx"][glyph][0] / FONT["head"].unitsPerEm
    for code, glyph in FONT.getBestCmap().items()
}
LATER = OPENED + 3 * DAY
HOUSE = "/h/harbour-lights"


@pytest.fixture
def all_must_know(odalys):
    """Every highball is one that everybody must know."""
    slugs = Recipe.objects.filter(venue=odalys.venue, module__slug="highballs")
    standing = dict.fromkeys(slugs.values_list("slug", flat=True), OnMenu.MUST_KNOW)
    publish.set_menu(by=odalys, standing=standing, at=OPENED + DAY)


def map_of(house, slug="highballs", *, at=LATER, size=""):
    return facts_of(menu_at(house, at), Module.objects.get(venue=house, slug=slug), size)


def pairs_of(facts):
    return {frozenset((p.told.one, p.told.other)): p for p in facts.pairs}


def test_every_must_know_stands_on_it_once(house, all_must_know):
    facts = map_of(house)
    names = [d.text for d in facts.map.drinks]

    assert facts.only_must_knows
    assert len(names) == len(set(names)) > 15
    assert "Madras" in names


def test_other_drinks_of_the_module_are_left_out(house):
    facts = map_of(house)

    assert sorted(d.text for d in facts.map.drinks) == ["Cape codder", "Gin tonic"]


def test_a_module_with_too_few_must_knows_shows_all_of_its_drinks(house):
    facts = map_of(house, "rocks")

    assert not facts.only_must_knows
    assert len(facts.map.drinks) == 6
    assert "All drinks of this module" in text_of(map_pdf(facts))


def test_pairs_are_told_apart_in_words(house, all_must_know):
    facts = map_of(house)
    pair = pairs_of(facts)[frozenset(("Sea breeze", "Bay breeze"))]
    [(part, one, other)] = pair.told.differ

    assert part == "Mixers"
    assert {"grapefruit" in one, "grapefruit" in other} == {True, False}
    text = text_of(map_pdf(facts))
    assert one in text
    assert other in text


def test_beside_each_line_stands_its_number_and_what_differs(house, all_must_know):
    facts = map_of(house)
    numbered = [p for p in facts.pairs if p.number]

    assert len(numbered) == len(facts.map.lines) == len(facts.map.leaders) > 5
    for pair, label in zip(numbered, facts.map.labels, strict=True):
        parts = ", ".join(part.lower() for part, _one, _other in pair.told.differ)
        assert label.text == f"{pair.number}  {parts}"
    assert [p.number for p in numbered] == list(range(1, len(numbered) + 1))
    assert len(facts.pairs) <= MOST_PAIRS


def test_no_line_runs_behind_a_third_drink(house, all_must_know):
    drawn = map_of(house).map
    pairs = [p.told for p in map_of(house).pairs if p.number]

    for line, pair in zip(drawn.lines, pairs, strict=True):
        third = [d for d in drawn.drinks if d.text not in (pair.one, pair.other)]
        for part in range(21):
            x = line.x1 + (line.x2 - line.x1) * part / 20
            y = line.y1 + (line.y2 - line.y1) * part / 20
            # The glass itself: its top left corner and the 10 mm that every glass has at least.
            assert not any(0 < x - d.left < d.width and 0 < y - d.top < 10 for d in third)


def lines_of(name, width):
    """On how many lines a name is set, by the widths that stand in the font itself."""
    lines, left = 1, 0.0
    for word in name.split():
        wide = LETTER * sum(ADVANCES[letter] for letter in word)
        space = LETTER * ADVANCES[" "] if left else 0.0
        if left and left + space + wide > width:
            lines, left, space = lines + 1, 0.0, 0.0
        left += space + wide
        assert left <= width, name
    return lines


@pytest.mark.parametrize(
    "drink", [d for m in SHIPPED.modules for d in m.drinks], ids=lambda drink: drink.slug
)
def test_a_name_takes_no_more_room_than_was_kept_for_it(drink):
    width, lines = room_of(drink.name)

    assert lines_of(drink.name, width) <= lines


def test_two_names_for_one_build_are_told_as_such(house, odalys, all_must_know):
    cola = Recipe.objects.get(venue=house, slug="cuba-libre").revisions.get().spec
    revise(odalys, "gin-tonic", at=OPENED + DAY, **cola)

    facts = map_of(house)

    twin = facts.pairs[0]
    assert {twin.told.one, twin.told.other} == {"Cuba libre", "Gin tonic"}
    assert (twin.number, twin.told.differ) == (1, ())
    assert facts.map.labels[0].text == "1  one build, two names"


def test_nothing_on_the_map_covers_anything(house, all_must_know):
    """By the widths that stand on the paper: nothing begins within another of its row."""
    drawn = map_of(house).map

    for one, other in combinations([*drawn.drinks, *drawn.labels], 2):
        beside = one.left + one.width <= other.left or other.left + other.width <= one.left
        assert beside or abs(one.top - other.top) > 3
    for thing in (*drawn.drinks, *drawn.labels):
        assert -0.2 <= thing.left <= drawn.width - thing.width + 0.2
        assert -0.2 <= thing.top < drawn.height


def test_equal_facts_give_equal_bytes_whatever_the_hour(house):
    one = map_of(house, "rocks", at=LATER)
    other = map_of(house, "rocks", at=LATER + dt.timedelta(hours=5))

    assert one == other
    assert map_pdf(one) == map_pdf(other)


def test_it_is_tagged_and_every_picture_says_what_it_shows(house):
    facts = map_of(house, "rocks")
    with opened(map_pdf(facts)) as document:
        found = elements(document.Root.StructTreeRoot.K[0])
        tags = {str(element.S) for element in found}
        said = [str(element.Alt) for element in found if element.S == "/Figure"]

    assert {"/H1", "/P", "/Figure"} <= tags
    assert len(said) >= 6
    assert all(words.strip() for words in said)
    assert any("Rocks glass" in words for words in said)


def test_it_is_dated_by_the_newest_thing_on_it(house, odalys):
    revise(odalys, "negroni", at=OPENED + DAY, glass="pint")

    assert map_of(house, "rocks").as_of == OPENED + DAY
    assert map_of(house, "highballs").as_of == OPENED


@pytest.mark.parametrize(("size", "points"), [("a4", (595.28, 841.89)), ("letter", (612.0, 792.0))])
def test_all_pages_are_of_one_size(house, all_must_know, size, points):
    assert sizes_of(map_pdf(map_of(house, size=size))) == {points}


def test_a_module_without_drinks_says_that_there_is_nothing_to_mix_up(house):
    text = text_of(map_pdf(map_of(house, "service-and-safety")))

    assert "there is nothing to mix up" in text
    assert "tell them apart" not in text


def test_a_map_is_downloaded(visit, nils):
    answer = visit(nils).get(f"{HOUSE}/papers/look-alikes/rocks.pdf")

    assert answer["Content-Type"] == "application/pdf"
    assert answer["Content-Disposition"] == 'attachment; filename="lookalike-map-rocks.pdf"'
    assert answer.content.startswith(b"%PDF-")


@pytest.mark.parametrize(
    ("path", "status"),
    [("cellar.pdf", 404), ("rocks.pdf?paper=a5", 400), ("rocks.pdf?paper=a4", 200)],
)
def test_which_maps_there_are(visit, nils, path, status):
    assert visit(nils).get(f"{HOUSE}/papers/look-alikes/{path}").status_code == status


@pytest.mark.parametrize("page", ["my-papers/", "modules/rocks/"])
def test_papers_and_the_module_lead_to_it(visit, nils, page):
    assert "/papers/look-alikes/rocks.pdf" in visit(nils).get(f"{HOUSE}/{page}").content.decode()
