"""Pages of a house that has nothing yet: they say so, and what to do."""

import pytest

from assessments import board
from recipes import publish
from recipes.models import Lesson, Module, Recipe, RulesVersion, Scenario
from recipes.publish import OnMenu
from tests.assessments.pages import address, text
from tests.cast import tampering
from tests.factories import assessments as make
from tests.factories.assessments import GATE, NOW

OWN = ("next_shift", "shift_cards", "modules", "my_record")


def clear_the_menu(owner):
    slugs = make.menu_of(owner).by_slug
    publish.set_menu(by=owner, standing=dict.fromkeys(slugs, OnMenu.OFF), at=NOW)


def texts(visit, trainer, hire):
    """Every page, by its name, of a trainer and a hire."""
    own = {page: text(visit(hire).get(address(hire, page))) for page in OWN}
    modules = {
        m.slug: text(visit(hire).get(address(hire, "module", module=m.slug)))
        for m in Module.objects.in_house(hire.venue)
    }
    watch = {
        "watch": text(visit(trainer).get(address(trainer, "watch"))),
        "watch_hire": text(visit(trainer).get(address(trainer, "watch_hire", hire=hire.code))),
        "hire_record": text(visit(trainer).get(address(trainer, "hire_record", code=hire.code))),
        "who_is_ready": text(visit(trainer).get(address(trainer, "who_is_ready"))),
    }
    return {**own, **modules, **watch}


def test_with_nothing_on_the_menu(visit, odalys, tamsin, nils):
    clear_the_menu(odalys)

    said = texts(visit, tamsin, nils)

    assert "Nothing is on the menu yet. Put drinks on it in the house book." in said["watch_hire"]
    assert "Nothing is on the menu yet." in said["who_is_ready"]
    assert "Nothing is on the menu yet." in said["next_shift"]
    assert "All cards" not in said["beer"]
    assert "Take the quiz" not in said["beer"]
    assert "Take the quiz" in said[GATE]
    assert "must-knows signed off" not in said["watch"]
    path = address(nils, "module_cards", module="beer")
    assert visit(nils).get(path).status_code == 404


def test_the_figures_of_an_empty_menu_are_no_proof(odalys, tamsin, nils):
    make.take_quiz(nils, GATE)
    clear_the_menu(odalys)

    [row, *_] = board.rows_of(nils, board.order_stations(nils.venue), make.menu_of(nils))

    assert "no_drinks" in [r.code for r in row.verdict.missing]
    assert row.verdict.standing != "ready"


def test_without_must_knows(visit, odalys, tamsin, nils):
    poured = {s: OnMenu.POURED for s, i in make.menu_of(odalys).by_slug.items()}
    publish.set_menu(by=odalys, standing=poured, at=NOW)

    said = texts(visit, tamsin, nils)

    assert "The house has marked no must-knows, so nobody can prove them." in said["next_shift"]
    assert "must-knows signed off" not in said["hire_record"]
    assert "Must-knows to sign off" not in said["watch_hire"]
    assert "Other drinks Gin tonic" in said["watch_hire"]


def test_a_hire_who_has_shown_nothing(visit, tamsin, nils):
    said = texts(visit, tamsin, nils)

    assert "Nobody has watched a build yet." in said["hire_record"]
    assert "No quiz finished yet." in said["hire_record"]
    assert (
        "No figures yet. They begin with the first quiz, the first call built in practice"
        in (said["hire_record"])
    )
    assert "No figures yet. They begin with your first quiz" in said["next_shift"]


def test_a_module_without_notes_lessons_and_drinks(visit, odalys, tamsin, nils):
    clear_the_menu(odalys)
    Scenario.objects.all().delete()
    Lesson.objects.all().delete()
    Module.objects.update(notes="")

    said = texts(visit, tamsin, nils)

    assert "There is nothing in this module yet." in said["beer"]
    assert "Take the quiz" not in said[GATE]


def test_a_house_without_modules(visit, odalys, tamsin, nils):
    with tampering():
        for model in (Scenario, Lesson):
            model.objects.all().delete()
        for relation in Recipe._meta.related_objects:
            relation.related_model._base_manager.all().delete()
        Recipe.objects.all().delete()
        Module.objects.all().delete()

    said = texts(visit, tamsin, nils)

    assert "The house has no modules yet." in said["modules"]


def test_a_house_whose_course_was_never_loaded_is_not_found(visit, tamsin, nils):
    with tampering():
        RulesVersion._base_manager.all().delete()

    for page in ("next_shift", "shift_cards", "modules", "my_record"):
        assert visit(nils).get(address(nils, page)).status_code == 404
    assert visit(tamsin).get(address(tamsin, "who_is_ready")).status_code == 404


@pytest.mark.parametrize("page", ["next_shift", "my_record"])
def test_a_house_where_no_station_takes_orders(visit, nils, page):
    nils.venue.stations.update(takes_orders=False)

    assert visit(nils).get(address(nils, page)).status_code == 200
