"""Whole rounds and two hires side by side, on screen."""

import pytest

from assessments.models import MeasuredPours, WatchedBuild, WatchedRound
from barcourse.people.models import PersonalText
from recipes.grammar.units import US_FLOZ_ML
from tests.assessments.pages import address, fields, text
from tests.assessments.practical_pages import at
from tests.factories.assessments import NOW
from tests.factories.people import hire as hire_somebody
from tests.factories.recipes import revise

HELP = {"help_level": "unprompted", "made_with": "stock"}
BOTH = {"a-help_level": "unprompted", "b-help_level": "unprompted", "made_with": "stock"}


def round_page(browser, hire, *slugs):
    path = at(hire, "watch_round") + "?" + "&".join(f"d={s}" for s in slugs)
    return browser.get(path), path


def test_a_round_shows_the_best_order_and_every_drink(visit, tamsin, nils):
    page, _ = round_page(visit(tamsin), nils, "madras", "nitro-stout", "gin-tonic")

    said = text(page)
    assert "Pour gin" in said
    order = ["Line up the glasses", "Start the", "Ice, all glasses at once", "Serve and say"]
    assert [said.index(words) for words in order] == sorted(said.index(words) for words in order)
    assert all(name in said for name in ("Madras", "Nitro stout", "Gin tonic"))


def test_a_round_as_proposed_goes_on_record(visit, tamsin, nils):
    browser = visit(tamsin)
    page, path = round_page(browser, nils, "madras", "gin-tonic")

    answer = browser.send(path, {**fields(page), **HELP})

    made = WatchedRound.objects.get()
    assert answer["Location"] == address(nils, "round_done", code=made.code)
    assert WatchedBuild.objects.count() == 2
    assert "Done in the best order." in text(browser.get(answer["Location"]))


def test_a_round_in_another_order_is_compared(visit, tamsin, nils):
    browser = visit(tamsin)
    page, path = round_page(browser, nils, "madras", "gin-tonic")
    ice = next(name for name in fields(page) if name.startswith("place-ice"))

    answer = browser.send(
        path, {**fields(page), **HELP, ice: "99", "off-0": ["straw"], "picked_up_again": "1"}
    )

    said = text(browser.get(answer["Location"]))
    assert "steps out of turn." in said
    assert "out of turn" in said
    assert "One bottle was picked up twice" in said
    assert WatchedBuild.objects.get(recipe__slug="madras").off == ["straw"]


def test_two_of_one_drink_are_two_builds_and_one_pour_across(visit, tamsin, nils):
    browser = visit(tamsin)
    page, path = round_page(browser, nils, "gin-tonic", "gin-tonic", "nitro-stout")
    assert all(name in text(page) for name in ("Gin tonic (1)", "Gin tonic (2)"))
    assert "2 \N{MULTIPLICATION SIGN} Gin tonic" in text(page)
    assert "Pick up gin once and pour across" in text(page)

    answer = browser.send(path, {**fields(page), **HELP, "off-1": ["straw"]})

    assert "A whole round" in text(browser.get(answer["Location"]))
    made = WatchedRound.objects.get()
    assert ["bottle", "gin", [0, 1]] in made.steps
    first, second, _stout = (WatchedBuild.objects.get(code=code) for code in made.builds)
    assert (first.recipe.slug, first.off) == ("gin-tonic", [])
    assert (second.recipe.slug, second.off) == ("gin-tonic", ["straw"])


def test_drinks_are_tapped_into_a_round_and_out_of_it(visit, tamsin, nils):
    page = visit(tamsin).get(at(nils, "watch_round") + "?d=madras&d=madras&pick=1")

    said = page.content.decode()
    assert 'href="?d=madras&amp;d=madras&amp;d=gin-tonic&amp;pick=1"' in said
    assert 'href="?d=madras&amp;pick=1"' in said
    assert 'class="do" href="?d=madras&amp;d=madras"' in said


def test_eight_drinks_fill_a_round(visit, tamsin, nils):
    address = at(nils, "watch_round") + "?pick=1" + "&d=madras" * 8
    page = visit(tamsin).get(address)

    assert "A round has up to 8 drinks." in text(page)
    assert "d=madras&amp;" * 8 + "pick=1" not in page.content.decode()


def test_what_is_tapped_comes_first_and_the_rest_as_is_best(visit, tamsin, nils):
    browser = visit(tamsin)
    page, path = round_page(browser, nils, "madras", "gin-tonic")
    names = [name.removeprefix("place-") for name in fields(page) if name.startswith("place-")]
    ice = next(name for name in names if name.startswith("ice"))

    answer = browser.send(path, {**fields(page), **HELP, f"place-{ice}": "1"})

    assert WatchedRound.objects.get().done == [ice, *(n for n in names if n != ice)]
    said = text(browser.get(answer["Location"]))
    assert "One of 10 steps out of turn." in said
    assert "Late: “Line up the glasses”. Best before “Ice, all glasses at once”." in said


@pytest.mark.parametrize("second", ["3", "03"])
def test_no_two_steps_of_a_round_have_one_place(visit, tamsin, nils, second):
    browser = visit(tamsin)
    page, path = round_page(browser, nils, "madras", "gin-tonic")
    glasses, ice = (
        next(name for name in fields(page) if name.startswith(f"place-{act}"))
        for act in ("glass", "ice")
    )

    answer = browser.send(path, {**fields(page), **HELP, glasses: "3", ice: second})

    assert "Two steps can't both be number 3: “Line up the glasses” and “Ice, all" in text(answer)
    assert fields(answer)[ice] == [second]
    assert not WatchedRound.objects.exists()


def test_a_round_of_a_drink_changed_meanwhile_is_looked_at_once_more(visit, tamsin, nils):
    browser = visit(tamsin)
    page, path = round_page(browser, nils, "madras", "gin-tonic")
    revise(tamsin, "madras", glass="rocks", at=NOW)

    answer = browser.send(path, {**fields(page), **HELP})
    assert "The house has just changed Madras." in text(answer)
    assert not WatchedBuild.objects.exists()


def test_a_round_of_what_is_not_on_the_menu(visit, tamsin, nils):
    browser = visit(tamsin)

    assert round_page(browser, nils, "absinthe")[0].status_code == 404


def test_a_ninth_drink_is_left_out_and_a_sentence_says_so(visit, tamsin, nils):
    page = round_page(visit(tamsin), nils, *["madras"] * 8, "gin-tonic")[0]

    assert page.status_code == 200
    assert "A round has up to 8 drinks: the first 8 of them are picked." in page.content.decode()
    assert [(d.name, d.count) for d in page.context["picked"]] == [("Madras", 8)]


@pytest.mark.parametrize("typed", ["first", "-1", "0", "1.5", "\N{SUPERSCRIPT TWO}", "1000"])
def test_a_place_that_is_no_number_is_refused_with_what_was_typed(visit, tamsin, nils, typed):
    browser = visit(tamsin)
    page, path = round_page(browser, nils, "madras", "gin-tonic")
    first, second = [name for name in fields(page) if name.startswith("place-")][:2]

    again = browser.send(
        path, {**fields(page), **HELP, first: typed, second: "7", "off-0": ["straw"]}
    )

    assert again.status_code == 200
    assert f"“{typed}” is none. Nothing has been saved yet." in text(again)
    kept = fields(again)
    assert (kept[first], kept[second], kept["off-0"]) == ([typed], ["7"], ["straw"])
    assert not WatchedRound.objects.exists()


def test_two_side_by_side_are_two_builds(visit, odalys, tamsin, nils):
    bo = hire_somebody(odalys, "Bo")
    browser = visit(tamsin)
    path = address(tamsin, "together") + f"?a={nils.code}&d=madras&b={bo.code}&d=gin-tonic"
    page = browser.get(path)
    assert "Nils Seconds taken 0:00 Start Madras" in text(page)
    assert "Bo Seconds taken 0:00 Start Gin tonic" in text(page)

    answer = browser.send(
        path,
        {**fields(page), **BOTH, "off-1": ["straw"], "b-help_level": "prompted", "a-seconds": "41"},
    )

    built = {b.hire: (b.recipe.slug, b.off) for b in WatchedBuild.objects.all()}
    assert built == {nils: ("madras", []), bo: ("gin-tonic", ["straw"])}
    said = {b.hire: (b.help_level, b.seconds) for b in WatchedBuild.objects.all()}
    assert said == {nils: ("unprompted", 41), bo: ("prompted", None)}
    after = text(browser.get(answer["Location"]))
    assert "Just put on record" in after


MEASURED = {"measured-1-pour:gin": "1.5"}


def noted(build):
    return PersonalText.objects.get(code=build.note_code).text if build.note_code else ""


def test_a_round_takes_a_measured_pour_and_a_note_of_each_drink(visit, tamsin, nils):
    browser = visit(tamsin)
    page, path = round_page(browser, nils, "madras", "gin-tonic")

    browser.send(path, {**fields(page), **HELP, **MEASURED, "build0-note": "Neat."})

    madras, gin = (WatchedBuild.objects.get(recipe__slug=slug) for slug in ("madras", "gin-tonic"))
    assert (madras.off, madras.passed, noted(madras)) == ([], True, "Neat.")
    assert (gin.off, gin.passed, noted(gin)) == (["pour:gin"], False, "")
    [pours] = MeasuredPours.objects.all()
    assert pours.watched == gin
    assert pours.pours["pour:gin"][1] == pytest.approx(1.5 * US_FLOZ_ML, abs=0.001)


def test_so_do_two_side_by_side(visit, odalys, tamsin, nils):
    bo = hire_somebody(odalys, "Bo")
    browser = visit(tamsin)
    path = address(tamsin, "together") + f"?a={nils.code}&d=madras&b={bo.code}&d=gin-tonic"
    sent = {**fields(browser.get(path)), **BOTH, **MEASURED, "build1-note": "Too long."}

    browser.send(path, sent)

    built = {b.hire: (b.off, noted(b)) for b in WatchedBuild.objects.all()}
    assert built == {nils: ([], ""), bo: (["pour:gin"], "Too long.")}


@pytest.mark.parametrize("typed", [{"measured-1-pour:gin": "lots"}, {"build1-note": "x" * 501}])
def test_what_is_no_pour_or_no_note_is_typed_again(visit, odalys, tamsin, nils, typed):
    bo = hire_somebody(odalys, "Bo")
    browser = visit(tamsin)
    together = address(tamsin, "together") + f"?a={nils.code}&d=madras&b={bo.code}&d=gin-tonic"
    a_round = round_page(browser, nils, "madras", "gin-tonic")[1]
    for path, said in ((together, BOTH), (a_round, HELP)):
        again = browser.send(path, {**fields(browser.get(path)), **said, **typed})

        assert again.status_code == 200
        [(name, value)] = typed.items()
        assert fields(again)[name] == [value]
        assert 'role="alert"' in again.content.decode()
    assert not WatchedBuild.objects.exists()


def test_a_pour_that_can_hardly_be_is_asked_about_in_a_round_too(visit, tamsin, nils):
    browser = visit(tamsin)
    page, path = round_page(browser, nils, "madras", "gin-tonic")
    sent = {**fields(page), **HELP, "measured-1-pour:gin": "30"}

    asked = browser.send(path, sent)
    assert "30 fl oz where 1 fl oz was to be poured?" in text(asked)
    assert not WatchedBuild.objects.exists()

    browser.send(path, {**sent, "sure": asked.context["form"].doubted})
    assert WatchedBuild.objects.count() == 2


@pytest.mark.parametrize("said", [{}, {"a-help_level": "unprompted"}])
def test_nothing_goes_on_record_before_somebody_says_how_much_help(
    visit, odalys, tamsin, nils, said
):
    bo = hire_somebody(odalys, "Bo")
    browser = visit(tamsin)
    together = address(tamsin, "together") + f"?a={nils.code}&d=madras&b={bo.code}&d=gin-tonic"
    for path in (together, round_page(browser, nils, "madras", "gin-tonic")[1]):
        page = browser.get(path)
        assert not any("help_level" in name or "made_with" in name for name in fields(page))
        assert "Say how much help there was." in text(browser.send(path, {**fields(page), **said}))
    assert not WatchedBuild.objects.exists()


def test_two_side_by_side_are_two_people(visit, tamsin, nils):
    path = address(tamsin, "together") + f"?a={nils.code}&b={nils.code}&d=madras"

    assert "Pick two people." in visit(tamsin).get(path).content.decode()


def test_what_is_wrong_with_one_of_two_is_said_beside_it(visit, odalys, tamsin, nils):
    bo = hire_somebody(odalys, "Bo")
    browser = visit(tamsin)
    path = address(tamsin, "together") + f"?a={nils.code}&b={bo.code}&d=madras"

    answer = browser.send(path, {**fields(browser.get(path)), **BOTH, "b-seconds": "9999"})

    assert "Nothing has been saved yet." in text(answer)
    assert "At most 3600, please." in text(answer)
    assert not WatchedBuild.objects.exists()


def test_both_or_neither(visit, odalys, tamsin, nils):
    bo = hire_somebody(odalys, "Bo")
    browser = visit(tamsin)
    path = address(tamsin, "together") + f"?a={nils.code}&b={bo.code}&d=madras"
    sent = {**fields(browser.get(path)), **BOTH, "build-1": "0" * 32}

    assert "The house has just changed Madras." in text(browser.send(path, sent))
    assert not WatchedBuild.objects.exists()


def test_somebody_of_another_house_is_nobody_here(visit, tamsin, nils, ravna):
    theirs = hire_somebody(ravna, "Bo")
    path = address(tamsin, "together") + f"?a={nils.code}&b={theirs.code}&d=madras"

    assert visit(tamsin).get(path).status_code == 404


def test_it_takes_two(visit, tamsin, nils):
    assert "It takes two" in text(visit(tamsin).get(address(tamsin, "together")))
