"""Who may open the pages of the house book, and how."""

import pytest
from django.urls import reverse

PAGES = {
    "book": {},
    "menu_marks": {},
    "house_rules": {},
    "house_rules_change": {},
    "drink": {"slug": "madras"},
    "drink_change": {"slug": "madras"},
}
READ_ONLY = {"book", "house_rules", "drink"}


def address(name: str, house: str = "harbour-lights") -> str:
    return reverse(name, kwargs={"house": house, **PAGES[name]})


@pytest.mark.parametrize("name", PAGES)
@pytest.mark.parametrize("who", ["tamsin", "marek", "odalys"])
def test_trainers_and_above_may(name, who, visit, request):
    assert visit(request.getfixturevalue(who)).get(address(name)).status_code == 200


@pytest.mark.parametrize("name", PAGES)
def test_a_trainee_may_not(name, visit, nils):
    browser = visit(nils)

    assert browser.get(address(name)).status_code == 403
    assert browser.send(address(name)).status_code == 403


@pytest.mark.parametrize("name", PAGES)
def test_to_a_stranger_there_is_no_such_page(name, visit, tamsin, ravna):
    assert visit(ravna).get(address(name)).status_code == 404


@pytest.mark.parametrize("name", PAGES)
def test_nobody_is_asked_to_sign_in(name, visit, tamsin):
    answer = visit().get(address(name))

    assert answer.status_code == 302
    assert answer["Location"].startswith(reverse("sign_in"))


@pytest.mark.parametrize("name", PAGES)
def test_no_other_method(name, visit, tamsin):
    browser = visit(tamsin)

    assert browser.put(address(name)).status_code == 405
    assert browser.delete(address(name)).status_code == 405
    if name in READ_ONLY:
        assert browser.send(address(name)).status_code == 405


@pytest.mark.parametrize("name", sorted(set(PAGES) - READ_ONLY))
def test_a_form_without_its_key_is_refused(name, visit, tamsin):
    assert visit(tamsin).post(address(name), {}).status_code == 400


@pytest.mark.parametrize("name", ["drink", "drink_change"])
def test_no_such_drink(name, visit, tamsin):
    url = reverse(name, kwargs={"house": "harbour-lights", "slug": "moonwater"})

    assert visit(tamsin).get(url).status_code == 404


@pytest.mark.parametrize("name", ["house_rules", "house_rules_change", "drink", "drink_change"])
def test_a_house_without_a_course_has_no_such_page(name, visit, tamsin, monkeypatch):
    from recipes.menu import NoRules
    from recipes.views import finding

    def none(*args):
        raise NoRules

    monkeypatch.setattr(finding, "menu_at", none)

    assert visit(tamsin).get(address(name)).status_code == 404
