"""Marks in service, on screen."""

import pytest

from assessments.models import SpotMark
from assessments.models.practical import Came
from barcourse.people import enrol
from tests.assessments.pages import address, fields, text
from tests.assessments.practical_pages import at
from tests.factories.assessments import NOW
from tests.factories.people import hire as hire_somebody
from tests.factories.recipes import revise


@pytest.mark.parametrize("came", Came)
@pytest.mark.parametrize("sent_back", [False, True])
def test_a_drink_in_service_in_three_taps(visit, tamsin, nils, came, sent_back):
    browser = visit(tamsin)
    watch = browser.get(address(tamsin, "watch")).content.decode()
    assert at(nils, "spot") in watch
    spot = browser.get(at(nils, "spot")).content.decode()
    path = at(nils, "spot_drink", drink="madras")
    assert path in spot
    sent = {"build": fields(browser.get(path))["build"], "came": came}

    answer = browser.send(path, sent | ({"sent_back": "on"} if sent_back else {}))

    assert (answer.status_code, answer["Location"]) == (302, at(nils, "spot"))
    mark = SpotMark.objects.get()
    assert (mark.hire, mark.came, mark.sent_back) == (nils, came, sent_back)
    page = browser.get(answer["Location"])
    how = f"sent back by a guest; {came.value}" if sent_back else came.value
    assert f"On record: Madras by Nils, {how}. Take it back" in text(page)
    assert f'href="{address(nils, "take_back_hand", code=mark.code)}"' in page.content.decode()


def test_a_name_in_the_message_is_no_markup(visit, tamsin, odalys):
    bo = hire_somebody(odalys, "Bo<b>")
    browser, path = visit(tamsin), at(bo, "spot_drink", drink="madras")

    browser.send(path, {"build": fields(browser.get(path))["build"], "came": "right"})

    assert "by Bo&lt;b&gt;, right." in browser.get(at(bo, "spot")).content.decode()


@pytest.mark.parametrize(
    ("page", "parts"),
    [
        ("watch_hire", {}), ("watch_build", {"drink": "madras"}), ("spot", {}),
        ("spot_drink", {"drink": "madras"}), ("pours", {}), ("pace", {}), ("watch_round", {}),
    ],
)  # fmt: skip
def test_nobody_opens_a_page_to_watch_themselves(visit, tamsin, page, parts):
    browser, path = visit(tamsin), at(tamsin, page, **parts)

    for answer in (browser.get(path), browser.send(path, {"came": "right"})):
        if answer.status_code != 405:
            assert answer.status_code == 403
            assert "Nobody signs for themselves. Ask another trainer." in text(answer)
            assert f'href="{address(tamsin, "watch")}"' in answer.content.decode()


def test_nobody_watches_themselves_beside_another(visit, tamsin, nils):
    page = visit(tamsin).get(address(tamsin, "together"), {"a": nils.code, "b": tamsin.code})

    assert "Nobody signs for themselves." in text(page)
    assert "Put both on record" not in text(page)


def test_the_board_leads_to_it_too(visit, tamsin, nils):
    assert at(nils, "spot") in visit(tamsin).get(address(tamsin, "who_is_ready")).content.decode()


@pytest.mark.parametrize("came", ["", "perfect"])
def test_nonsense_is_no_mark(visit, tamsin, nils, came):
    path = at(nils, "spot_drink", drink="madras")

    assert visit(tamsin).send(path, {"came": came}).status_code == 200
    assert not SpotMark.objects.exists()


def test_a_drink_changed_meanwhile_is_not_marked(visit, tamsin, nils):
    browser, path = visit(tamsin), at(nils, "spot_drink", drink="madras")
    sent = {"build": fields(browser.get(path))["build"], "came": "right"}
    revise(tamsin, "madras", glass="rocks", at=NOW)

    answer = browser.send(path, sent)
    assert "The house has just changed Madras." in text(answer)
    assert not SpotMark.objects.exists()


def test_a_drink_in_service_is_found_by_name(visit, tamsin, nils):
    browser, path = visit(tamsin), at(nils, "spot")

    assert "Madras" in text(browser.get(path, {"find": "MADR"}))
    assert "No drink on the menu is called that." in text(browser.get(path, {"find": "zz"}))


@pytest.mark.parametrize("page", ["spot", "pours", "pace", "watch_round"])
def test_nobody_who_has_left_is_marked(visit, odalys, tamsin, nils, page):
    enrol.mark_left(by=odalys, membership=nils, at=NOW)

    assert visit(tamsin).get(at(nils, page)).status_code == 404
