"""Marks in service, pours, pace, rounds and two side by side, on screen."""

import datetime as dt
import re
from html import unescape

import pytest

from assessments.hands import show_pace
from assessments.measures.pace_check import Error
from assessments.models import PaceCheck, PourCheck, SpotMark, Void, WatchedBuild, WatchedRound
from assessments.models.practical import Came
from assessments.models.watch import MadeWith
from barcourse.people import enrol
from recipes.grammar.rules import MeasuredBy
from recipes.models import Ingredient
from tests.assessments.pages import address, fields, text
from tests.factories import assessments as make
from tests.factories import hands
from tests.factories.assessments import NOW
from tests.factories.people import hire as hire_somebody
from tests.factories.recipes import DAY, change_rules, revise
from tests.grammar import kitchen


def at(hire, page, **parts):
    return address(hire, page, hire=hire.code, **parts)


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


def pour_on_screen(browser, hire, *pours, **said):
    path = at(hire, "pours")
    sent = {**fields(browser.get(path)), "ingredient": "gin", "made_with": "water"}
    return browser.send(path, sent | {"pour": list(pours)} | said)


def test_pours_are_typed_one_by_one_with_point_or_comma(visit, tamsin, nils):
    browser = visit(tamsin)

    answer = pour_on_screen(browser, nils, "1.0", "1,05", "0.96", "", "1", " 1.01 ", "")

    check = PourCheck.objects.get()
    assert answer["Location"] == address(nils, "pour_check", code=check.code)
    assert len(check.pours_ml) == 5
    said = text(browser.get(answer["Location"]))
    assert "Passed: all 5 within tolerance." in said
    assert "5 of 5; of pours to come at least 48 of 100, perhaps all: so few can't say more" in said
    assert "<title>5 pours in their order, 5 of them within tolerance.</title>" in (
        browser.get(answer["Location"]).content.decode()
    )


@pytest.mark.parametrize("pour", ["much", "-1", "nan", "99999"])
def test_what_is_no_volume_is_typed_again(visit, tamsin, nils, pour):
    answer = pour_on_screen(visit(tamsin), nils, "1.0", pour)

    assert "Type in each pour as you read it off, 0 or more." in text(answer)
    assert fields(answer)["pour"][1] == pour
    assert not PourCheck.objects.exists()


def test_no_pours_are_no_check(visit, tamsin, nils):
    assert "Type in each pour" in text(pour_on_screen(visit(tamsin), nils))
    assert not PourCheck.objects.exists()


def test_too_few_pours_are_kept_and_said_to_be_too_few(visit, tamsin, nils):
    browser = visit(tamsin)

    answer = pour_on_screen(browser, nils, "1.0", "1.0")

    assert "Too few pours to say: 2 so far, the house wants 5." in text(
        browser.get(answer["Location"])
    )


@pytest.mark.parametrize(("written", "money"), [("", "$8.45"), ("€", "€8.45"), ("SEK", "8.45 SEK")])
def test_what_it_costs_a_week_at_the_house_s_prices(visit, tamsin, nils, written, money):
    """A tenth of an ounce over, 100 times, of a bottle of 700 ml for 20.00."""
    if written:
        change_rules(tamsin, currency=written, at=NOW)
    Ingredient.objects.filter(venue=tamsin.venue, slug="gin").update(
        bottle_ml=700, bottle_price="20.00"
    )
    browser = visit(tamsin)

    answer = pour_on_screen(browser, nils, *["1.1"] * 5, pours_a_week="100")

    said = text(browser.get(answer["Location"]))
    assert f"At 100 pours of gin a week this gives away about {money}." in said
    assert "+0.1 fl oz off" in said


def stamp(tamsin):
    pours = kitchen.RULES.model_dump()["pours"]
    stamped = {k: {**v, "measured_by": MeasuredBy.STAMPED} for k, v in pours.items()}
    change_rules(tamsin, pours=stamped, at=NOW)


def test_where_measures_are_stamped_free_pouring_is_not_allowed(visit, tamsin, nils):
    browser = visit(tamsin)
    assert "no free pouring" not in text(browser.get(at(nils, "pours")))
    stamp(tamsin)

    assert "no free pouring" in text(browser.get(at(nils, "pours")))
    answer = pour_on_screen(browser, nils, *["1.0"] * 4, "0.98")
    said = text(browser.get(answer["Location"]))
    assert "one is short, and a stamped measure is never under" in said


def test_weighed_pours_say_by_which_density(visit, tamsin, nils):
    browser = visit(tamsin)

    answer = pour_on_screen(browser, nils, *["28"] * 5, unit="g", made_with="water")
    assert "a millilitre of water taken as 0.998 g" in text(browser.get(answer["Location"]))


def test_history_tells_a_drift(visit, tamsin, nils):
    for day, ounces in enumerate((0.9, 0.95, 1.0, 1.05)):
        hands.pour(tamsin, nils, (ounces,) * 5, at=NOW + day * dt.timedelta(days=3))

    said = text(visit(tamsin).get(at(nils, "pours")))
    assert "Over 4 checks the pours creep up." in said
    assert said.count("passed") == 4


@pytest.mark.parametrize(("unit", "amount"), [("g", "28"), ("floz", "1.0")])
def test_what_was_poured_must_be_said(visit, tamsin, nils, unit, amount):
    """Left open it would be taken for water, and the bottle would be missing from the count."""
    browser = visit(tamsin)
    assert "made_with" not in fields(browser.get(at(nils, "pours")))

    answer = pour_on_screen(browser, nils, *[amount] * 5, unit=unit, made_with="")
    assert "Say what was poured" in text(answer)
    assert not PourCheck.objects.exists()

    pour_on_screen(browser, nils, *[amount] * 5, unit=unit, made_with="stock")
    assert PourCheck.objects.get().made_with == "stock"


def test_each_bottle_says_its_pour_and_measure_before_pours_are_typed(visit, tamsin, nils):
    """A house that pours spirits freely and wine by stamped measure."""
    pours = kitchen.RULES.model_dump()["pours"]
    by = {"wine": MeasuredBy.STAMPED, "spirit": MeasuredBy.FREE_POUR}
    pours = {k: {**v, "measured_by": by.get(k, v["measured_by"])} for k, v in pours.items()}
    change_rules(tamsin, pours=pours, at=NOW)

    page = visit(tamsin).get(at(nils, "pours"))
    assert dict(page.context["house"]["pours"]) == {
        "Spirits": "1 fl oz by count, free pour, give or take 0.125 fl oz",
        "Liqueurs, fortified wine": "1 fl oz by jigger, give or take 0.125 fl oz",
        "Wine": "5 fl oz by stamped measure, never under, no free pouring",
    }
    choices = dict(page.context["form"].fields["ingredient"].choices)
    wines = [name for slug, name in choices.items() if "(stamped)" in name]
    assert choices["gin"] == "gin"
    assert wines == ["red wine (stamped)", "sparkling wine (stamped)"]
    assert "Wine 5 fl oz by stamped measure, never under" in text(page)


def test_an_evening_s_checks_tell_no_drift(visit, tamsin, nils):
    for nth, ounces in enumerate((0.9, 0.95, 1.0, 1.05)):
        hands.pour(tamsin, nils, (ounces,) * 5, at=NOW - (4 - nth) * dt.timedelta(minutes=5))

    said = text(visit(tamsin).get(at(nils, "pours")))
    assert "Too short to say whether they drift" in said
    assert "a month" not in said


def test_pours_that_are_just_right_are_just_right(visit, tamsin, nils):
    browser = visit(tamsin)

    answer = pour_on_screen(browser, nils, *["29.6"] * 5, unit="ml")

    said = text(browser.get(answer["Location"]))
    assert "They all read alike" in said
    assert "not by chance" not in said
    assert "19 of 20" not in said


def draw(browser, hire, **said):
    path = at(hire, "pace")
    query = {"station": "well", "seed": "5", "orders": "6", "rung_up": "yes", **said}
    page = browser.get(path, query)
    action = f"{path}?" + "&".join(
        f"{k}={query[k]}" for k in ("station", "orders", "seed", "rung_up")
    )
    return page, action


def test_a_ticket_is_the_same_for_the_same_number(visit, tamsin, nils):
    browser = visit(tamsin)

    first, second = (draw(browser, nils)[0].context["lines"] for _ in range(2))
    assert first == second
    assert draw(browser, nils, seed="6")[0].context["lines"] != first


def test_a_pace_goes_on_record_with_its_errors(visit, tamsin, nils):
    browser = visit(tamsin)
    page, action = draw(browser, nils)

    answer = browser.send(action, {**fields(page, action), "seconds": "300", "finish": "2"})

    check = PaceCheck.objects.get()
    assert answer["Location"] == address(nils, "pace_check", code=check.code)
    assert (check.seed, check.seconds, check.errors) == (5, 300, {"finish": 2})
    said = text(browser.get(answer["Location"]))
    told = show_pace(check).said
    assert f"{told}." in said
    assert told in text(browser.get(address(nils, "hire_record", code=nils.code)))
    assert "things went wrong in" in said


@pytest.mark.parametrize("said", [{"seconds": ""}, {"seconds": "0"}, {"finish": "-1"}])
def test_a_pace_that_cannot_be_is_typed_again(visit, tamsin, nils, said):
    browser = visit(tamsin)
    page, action = draw(browser, nils)

    answer = browser.send(action, {**fields(page, action), "seconds": "60", **said})
    assert "Nothing has been saved yet." in text(answer)
    assert not PaceCheck.objects.exists()


def test_a_ticket_changed_meanwhile_is_shown_anew(visit, tamsin, nils):
    browser = visit(tamsin)
    page, action = draw(browser, nils)
    sent = {**fields(page, action), "seconds": "240", "ticket": "0" * 32}

    assert "the ticket with it" in text(browser.send(action, sent))
    assert not PaceCheck.objects.exists()


def ticket_of(page):
    """Where the form of the ticket goes."""
    [action] = re.findall(r'class="ticket" action="([^"]+)"', page.content.decode())
    return unescape(action)


@pytest.mark.parametrize("rings_up", [True, False])
def test_a_ticket_is_rung_up_where_the_station_rings_up(visit, odalys, tamsin, nils, rings_up):
    enrol.set_tills(by=odalys, ringing=[], at=NOW)
    if rings_up:
        enrol.set_tills(by=odalys, ringing=["well"], at=NOW)

    page = visit(tamsin).get(at(nils, "pace") + "?station=well&seed=3")

    assert ("Each order is greeted, built, rung up and paid." in text(page)) is rings_up
    assert (Error.RUNG_UP.value in fields(page, ticket_of(page))) is rings_up


def test_without_a_till_nothing_is_rung_up_wrong(visit, tamsin, nils):
    page, action = draw(visit(tamsin), nils, rung_up="no")

    assert Error.RUNG_UP.value not in fields(page, action)
    assert "nothing is rung up" in text(page)


@pytest.mark.parametrize(
    ("query", "says"),
    [
        ({"seed": "x"}, "Ticket number: Enter a whole number."),
        ({"orders": "0"}, "Orders: Ensure this value is greater than or equal to 1."),
        ({"orders": "9999"}, "Orders: Ensure this value is less than or equal to 60."),
    ],
)
def test_no_such_ticket_is_said_beside_the_field(visit, tamsin, nils, query, says):
    page, _action = draw(visit(tamsin), nils, **query)

    assert page.status_code == 200
    assert "There is no such ticket." in text(page)
    assert says in text(page)
    assert "Put on record" not in text(page)


def test_no_such_station(visit, tamsin, nils):
    assert draw(visit(tamsin), nils, station="attic")[0].status_code == 404


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

    answer = browser.send(path, fields(page))

    made = WatchedRound.objects.get()
    assert answer["Location"] == address(nils, "round_done", code=made.code)
    assert WatchedBuild.objects.count() == 2
    assert "Done in the best order." in text(browser.get(answer["Location"]))


def test_a_round_in_another_order_is_compared(visit, tamsin, nils):
    browser = visit(tamsin)
    page, path = round_page(browser, nils, "madras", "gin-tonic")
    ice = next(name for name in fields(page) if name.startswith("place-ice"))

    answer = browser.send(
        path, {**fields(page), ice: "99", "off-0": ["straw"], "picked_up_again": "1"}
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

    answer = browser.send(path, {**fields(page), "off-1": ["straw"]})

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

    answer = browser.send(path, {**fields(page), f"place-{ice}": "1"})

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

    answer = browser.send(path, {**fields(page), glasses: "3", ice: second})

    assert "Two steps can't both be number 3: “Line up the glasses” and “Ice, all" in text(answer)
    assert fields(answer)[ice] == [second]
    assert not WatchedRound.objects.exists()


def test_a_round_of_a_drink_changed_meanwhile_is_looked_at_once_more(visit, tamsin, nils):
    browser = visit(tamsin)
    page, path = round_page(browser, nils, "madras", "gin-tonic")
    revise(tamsin, "madras", glass="rocks", at=NOW)

    answer = browser.send(path, fields(page))
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

    again = browser.send(path, {**fields(page), first: typed, second: "7", "off-0": ["straw"]})

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
        {**fields(page), "off-1": ["straw"], "b-help_level": "prompted", "a-seconds": "41"},
    )

    built = {b.hire: (b.recipe.slug, b.off) for b in WatchedBuild.objects.all()}
    assert built == {nils: ("madras", []), bo: ("gin-tonic", ["straw"])}
    said = {b.hire: (b.help_level, b.seconds) for b in WatchedBuild.objects.all()}
    assert said == {nils: ("unprompted", 41), bo: ("prompted", None)}
    after = text(browser.get(answer["Location"]))
    assert "Just put on record" in after


def test_two_side_by_side_are_two_people(visit, tamsin, nils):
    path = address(tamsin, "together") + f"?a={nils.code}&b={nils.code}&d=madras"

    assert "Pick two people." in visit(tamsin).get(path).content.decode()


def test_what_is_wrong_with_one_of_two_is_said_beside_it(visit, odalys, tamsin, nils):
    bo = hire_somebody(odalys, "Bo")
    browser = visit(tamsin)
    path = address(tamsin, "together") + f"?a={nils.code}&b={bo.code}&d=madras"

    answer = browser.send(path, {**fields(browser.get(path)), "b-seconds": "9999"})

    assert "Nothing has been saved yet." in text(answer)
    assert "less than or equal to 3600" in text(answer)
    assert not WatchedBuild.objects.exists()


def test_both_or_neither(visit, odalys, tamsin, nils):
    bo = hire_somebody(odalys, "Bo")
    browser = visit(tamsin)
    path = address(tamsin, "together") + f"?a={nils.code}&b={bo.code}&d=madras"
    sent = {**fields(browser.get(path)), "build-1": "0" * 32}

    assert "The house has just changed Madras." in text(browser.send(path, sent))
    assert not WatchedBuild.objects.exists()


def test_somebody_of_another_house_is_nobody_here(visit, tamsin, nils, ravna):
    theirs = hire_somebody(ravna, "Bo")
    path = address(tamsin, "together") + f"?a={nils.code}&b={theirs.code}&d=madras"

    assert visit(tamsin).get(path).status_code == 404


def test_it_takes_two(visit, tamsin, nils):
    assert "It takes two" in text(visit(tamsin).get(address(tamsin, "together")))


def watch_on_screen(browser, hire, **said):
    path = at(hire, "watch_build", drink="madras")
    return browser.send(path, {**fields(browser.get(path)), **said})


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
