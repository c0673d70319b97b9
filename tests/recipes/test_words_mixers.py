"""What stands over that which fills the glass."""

import pytest

from recipes.grammar.aspects import Aspect
from recipes.grammar.spec import Method
from recipes.words_mixers import aspect_label
from tests.grammar.kitchen import PANTRY, build, house, pour, top
from tests.recipes.pages import text


@pytest.mark.parametrize(
    ("spec", "said"),
    [
        ("gin-tonic", "Mixers"),
        ("negroni", "Mixers"),
        ("draught-lager", "Beer"),
        (build(top("lager"), top("cola"), method=Method.DRAUGHT), "Beer and mixer"),
        (build(top("sparkling-wine")), "Wine"),
        (build(pour("gin"), top("sparkling-wine")), "Mixers"),
        (build(top("cola"), alcohol_free=True), "Mixers"),
    ],
)
def test_a_beer_has_no_mixer(spec, said):
    assert aspect_label(Aspect.MIXERS, house(spec), PANTRY) == said


@pytest.mark.parametrize("aspect", sorted(set(Aspect) - {Aspect.MIXERS}))
def test_every_other_aspect_keeps_its_name(aspect):
    assert aspect_label(aspect, house("draught-lager"), PANTRY) == aspect.value.capitalize()


def test_a_draught_beer_says_so_on_its_page(visit, tamsin):
    page = text(visit(tamsin).get("/h/harbour-lights/book/drink/draught-lager/"))

    assert "Beer lager" in page
    assert "Mixers lager" not in page
