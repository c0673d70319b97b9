"""Measured pours, what is undone, proving builds and stock, on screen."""

import pytest

from assessments.models import Void, WatchedBuild
from assessments.models.practical import Came
from assessments.models.watch import MadeWith
from tests.assessments.pages import address, fields, text
from tests.assessments.practical_pages import at
from tests.factories import assessments as make
from tests.factories import hands
from tests.factories.assessments import NOW
from tests.factories.recipes import DAY, change_rules


def watch_on_screen(browser, hire, **said):
    path = at(hire, "watch_build", drink="madras")
    sent = {**fields(browser.get(path)), "help_level": "unprompted", "made_with": "stock"}
    return browser.send(path, {**sent, **said})


def test_a_measured_pour_decides_its_step(visit, tamsin, nils):
    browser = visit(tamsin)

    answer = watch_on_screen(browser, nils, **{"measured-pour:vodka": "0,8"})

    said = text(browser.get(answer["Location"]))
    assert "Not passed." in said
    assert "0.8 fl oz measured, 1 fl oz wanted" in said


def test_a_measured_pour_that_is_no_number_is_typed_again(visit, tamsin, nils):
    answer = watch_on_screen(visit(tamsin), nils, **{"measured-pour:vodka": "lots"})

    assert "Type in each pour as you read it off" in text(answer)
    assert fields(answer)["measured-pour:vodka"] == ["lots"]
    assert not WatchedBuild.objects.exists()


def test_a_slip_of_the_thumb_is_undone_and_the_checklist_comes_back(visit, tamsin, nils):
    browser = visit(tamsin)
    answer = watch_on_screen(browser, nils, off=["straw"], seconds="41", made_with="water")
    build = WatchedBuild.objects.get()
    assert "Undo: tapped wrong" in text(browser.get(answer["Location"]))

    undone = browser.send(address(nils, "take_back", code=build.code), {})

    assert Void.objects.get().watched == build
    again = fields(browser.get(undone["Location"]), undone["Location"])
    assert (again["off"], again["seconds"]) == (["straw"], ["41"])
    assert again["made_with"] == ["water"]


def test_nothing_is_undone_once_it_is_signed(visit, tamsin, nils):
    build = make.sign_off(tamsin, nils).watched
    browser = visit(tamsin)

    assert "Undo" not in text(browser.get(address(nils, "build", code=build.code)))
    answer = browser.send(address(nils, "take_back", code=build.code), {})
    assert "This build is signed off." in text(answer)
    assert not Void.objects.exists()


def test_another_s_checklist_does_not_come_back(visit, tamsin, pia, nils):
    build = make.watch(tamsin, nils)
    path = at(nils, "watch_build", drink="madras") + f"?after={build.code}"

    assert visit(pia).get(path).status_code == 404
    assert visit(tamsin).get(path).status_code == 200


def test_proving_builds_are_proposed_and_one_tap_away(visit, tamsin, nils):
    browser = visit(tamsin)
    page = browser.get(at(nils, "watch_hire"))

    proving = page.context["proving"]
    assert proving.is_fewest
    first = proving.builds[0].item.drink
    start = at(nils, "watch_build", drink=first.slug)
    assert start in browser.get(address(tamsin, "watch")).content.decode()
    assert "No fewer would do." in text(page)
    assert f"{first.name} {', '.join(proving.builds[0].work)}; " in text(page)
    assert "house rules" in text(page)
    make.sign_off(tamsin, nils, first.slug)
    left = browser.get(at(nils, "watch_hire")).context["proving"]
    assert len(left.builds) == len(proving.builds) - 1
    assert first.slug not in {b.item.drink.slug for b in left.builds}


def test_with_help_nothing_is_proven(visit, tamsin, nils):
    browser = visit(tamsin)
    before = browser.get(at(nils, "watch_hire")).context["proving"]
    make.sign_off(tamsin, nils, before.builds[0].item.drink.slug, help_level=make.HelpLevel.SHOWN)

    assert browser.get(at(nils, "watch_hire")).context["proving"] == before


def test_stock_used_is_listed_for_the_count(visit, tamsin, nils):
    make.watch(tamsin, nils)
    make.watch(tamsin, nils, made_with=MadeWith.WATER)
    make.watch(tamsin, nils, at=NOW - DAY)
    hands.pour(tamsin, nils, made_with=MadeWith.STOCK)
    browser, path = visit(tamsin), address(tamsin, "stock_used")

    week, day = (browser.get(path, {"days": d}).context["rows"] for d in ("7", "1"))

    amount = {d: {u.name: words for u, words in rows} for d, rows in ((7, week), (1, day))}
    assert amount[7]["vodka"] == "2 fl oz"
    assert amount[1]["vodka"] == "1 fl oz"
    assert amount[1]["gin"] == "5.04 fl oz"
    assert "orange juice" in amount[1]


@pytest.mark.parametrize(
    ("slug", "country", "words"),
    [
        ("bottled-lager", "us", "2 \N{MULTIPLICATION SIGN} Bottle"),
        ("draught-lager", "us", "US pint"),
        ("draught-lager", "gb", "pint"),
        ("draught-lager", "de", "l"),
    ],
)
def test_what_is_opened_counts_in_pieces_and_draught_in_pints_or_litres(
    visit, odalys, tamsin, nils, slug, country, words
):
    if country != "us":
        change_rules(odalys, country=country)
    make.watch(tamsin, nils, slug)
    make.watch(tamsin, nils, slug)

    page = visit(tamsin).get(address(tamsin, "stock_used"), {"days": "1"})

    [(used, said)] = page.context["rows"]
    assert said.endswith((words, f"{words}s"))
    assert "bottles:" not in text(page)
    assert (used.pieces, used.ml > 0) == ((2, False) if used.pieces else (0, True))


def test_nothing_used_is_said(visit, tamsin):
    assert "Nothing was made with stock." in text(
        visit(tamsin).get(address(tamsin, "stock_used"), {"days": "x"})
    )


def test_the_hire_sees_every_record_about_them_at_once(visit, tamsin, nils):
    hands.spot(tamsin, nils, came=Came.MENDED, sent_back=True)
    rows = {
        "my_pour_check": hands.pour(tamsin, nils),
        "my_pace_check": hands.pace(tamsin, nils),
        "my_round": hands.make_round(tamsin, nils, "madras"),
    }
    browser = visit(nils)

    mine = browser.get(address(nils, "my_record"))
    assert "1 drink marked in service" in text(mine)
    assert "sent back" in text(mine)
    for page, row in rows.items():
        path = address(nils, page, code=row.code)
        assert path in mine.content.decode()
        shown = browser.get(path)
        assert shown.status_code == 200
        assert shown.content.decode().count('<form method="post"') == 1  # the way out
