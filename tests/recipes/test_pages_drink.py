"""One drink of the house book, and publishing a revision of it, as pages."""

import datetime as dt
import re
import uuid
from html import unescape

import pytest
from django.utils import timezone

from barcourse.people import log
from barcourse.people.reasons import Refused
from recipes import publish
from recipes.grammar.rules import GlassRule
from recipes.menu import menu_at
from recipes.models import Ingredient, Recipe
from recipes.publish import OnMenu
from recipes.publish_recipes import Card, bring_back, change_card, retire
from tests.factories.people import OPENED
from tests.factories.recipes import DAY, change_rules, recipe, revise
from tests.grammar import kitchen
from tests.recipes.pages import look_at, publish_at, text, typed

MADRAS = "/h/harbour-lights/book/drink/madras/"
CHANGE = f"{MADRAS}change/"
NOW = OPENED + DAY


@pytest.fixture(autouse=True)
def _on_a_friday_in_march(time_machine):
    time_machine.move_to(NOW, tick=False)


# Reading


def test_the_spec_stands_in_words_by_aspect(visit, tamsin):
    page = text(visit(tamsin).get(MADRAS))

    assert "Glass by house rule Highball glass, 10 fl oz" in page
    assert "Pours 1 pour (1 fl oz) vodka" in page
    assert "Mixers cranberry juice orange juice in equal parts" in page
    assert "Finish garnish by house rule 5 (juice, as a highball) no garnish straw" in page
    assert "Method ice by house rule full ice build in the glass" in page


def test_the_steps_say_why_and_what_missing_them_means(visit, tamsin):
    page = text(visit(tamsin).get(MADRAS))

    assert re.search(r"1 pour vodka, by jigger [^.]+\. [^.]+\. Fails the build\.", page)
    assert re.search(r"Straw in (?:(?!Fails).)+ No garnish", page)


def test_the_caution_stands_beside_the_strength(visit, tamsin):
    page = text(visit(tamsin).get(MADRAS))

    # 1 fl oz at 40 % in 5 fl oz beside the ice: 8 %, 29.57 ml * 0.4 * 0.789 g/ml = 9.3 g.
    assert "as served 8.0 %" in page
    assert "Alcohol 9.3 g Standard drinks of 14 g 0.7 Estimates for training" in page
    assert "never a ground to serve or to drive" in page


def test_allergens_say_what_is_known_and_by_whom(visit, tamsin):
    stock = Ingredient.objects.in_house(tamsin.venue)
    stock.named(["vodka"]).update(allergens=["gluten"], checked_by=tamsin, checked_at=OPENED)
    stock.named(["orange-juice"]).update(allergens=[], checked_by=tamsin, checked_at=OPENED)
    page = text(visit(tamsin).get(MADRAS))

    assert "vodka Contains: cereals with gluten. Label read by Tamsin on March 5, 2026." in page
    assert "cranberry juice Nobody has checked this one." in page
    assert "orange juice None entered by the house." in page
    assert "read the label and fetch the manager" in page
    assert not re.search(r"free from|free of (gluten|milk|nuts)", page)


def test_rim_and_garnish_have_allergens_too(visit, tamsin):
    page = text(visit(tamsin).get("/h/harbour-lights/book/drink/salty-dog/"))

    assert re.search(r"Allergens .* lime .* salt .* This is what has been typed in", page)


def test_look_alikes_say_in_what_they_differ(visit, tamsin):
    page = text(visit(tamsin).get(MADRAS))

    assert (
        "Sea breeze Mixers Madras: cranberry juice, orange juice, in equal parts "
        "Sea breeze: cranberry juice, grapefruit juice, in equal parts" in page
    )


def test_the_international_list_stands_beside_it(visit, tamsin):
    page = text(visit(tamsin).get("/h/harbour-lights/book/drink/cuba-libre/"))

    assert "The list measures 50 ml rum" in page
    assert "International bartenders' list, 2023" in page
    assert "international list" not in text(visit(tamsin).get(MADRAS))


def test_how_the_house_differs_is_told_only_of_the_build_that_shipped(visit, tamsin):
    Recipe.objects.in_house(tamsin.venue).filter(slug="cuba-libre").update(
        listed={"list": "A list", "year": 2023, "differs": "It has 50 ml; the house pours less."}
    )
    shipped = text(visit(tamsin).get("/h/harbour-lights/book/drink/cuba-libre/"))
    revise(tamsin, "cuba-libre", glass="rocks")
    changed = text(visit(tamsin).get("/h/harbour-lights/book/drink/cuba-libre/"))

    assert "It has 50 ml; the house pours less." in shipped
    assert "It has 50 ml." in changed
    assert "the house pours" not in changed


def test_revisions_stand_with_number_and_hour_of_the_house(visit, tamsin):
    """Lisbon is an hour ahead of UTC once summer time has begun."""
    summer = dt.datetime(2026, 4, 2, 17, 0, tzinfo=dt.UTC)
    revise(tamsin, "madras", glass="rocks")
    revise(tamsin, "madras", glass="pint", takes_effect_at=summer)
    page = text(visit(tamsin).get(MADRAS))

    assert "Revision 3 from April 2, 2026, 6 p.m., by Tamsin waits" in page
    assert "Revision 2 from March 6, 2026, 3 p.m., by Tamsin holds now" in page
    assert "Revision 1 from March 5, 2026, 3 p.m., by Odalys past" in page


def test_the_drawing_is_there(visit, tamsin):
    page = visit(tamsin).get(MADRAS).content.decode()

    assert re.search(r'<svg[^>]*aria-labelledby="madras-title"', page)
    assert "style=" not in page


def test_a_drink_off_the_menu_is_read_too(visit, tamsin):
    publish.set_menu(by=tamsin, standing={"madras": OnMenu.OFF}, at=NOW)

    page = text(visit(tamsin).get(MADRAS))

    assert "Highballs · not poured" in page
    assert "Pours 1 pour (1 fl oz) vodka" in page


def test_a_drink_that_can_no_longer_be_built_says_why(visit, tamsin):
    publish.set_menu(by=tamsin, standing={"bottled-lager": OnMenu.OFF}, at=NOW)
    small = kitchen.RULES.glasses | {"bottle": GlassRule(name="Small bottle", amount=7)}
    change_rules(tamsin, glasses=small)

    page = text(visit(tamsin).get("/h/harbour-lights/book/drink/bottled-lager/"))

    assert "this drink can't be built: It runs over" in page


def test_a_page_of_a_drink_in_few_queries(visit, tamsin, django_assert_max_num_queries):
    browser = visit(tamsin)
    with django_assert_max_num_queries(12):
        browser.get(MADRAS)


# Changing


def form(browser, **said: object) -> dict[str, object]:
    """What the form would send with these fields changed."""
    return {**typed(browser.get(CHANGE)), "form_key": str(uuid.uuid4()), "look": "1", **said}


def look(browser, **said: object):
    return browser.post(CHANGE, form(browser, **said))


def publish_as_seen(browser, shown):
    """The other button is pressed: what the first sent with itself is gone."""
    return browser.post(CHANGE, {**typed(shown), "publish": "1"}, follow=True)


def test_the_form_shows_how_it_is_built(visit, tamsin):
    said = typed(visit(tamsin).get(CHANGE))

    assert said["parts"].splitlines() == ["1 pour vodka", "top cranberry juice", "top orange juice"]
    assert (said["glass"], said["ice"], said["straw"], said["garnish"]) == ("-", "-", "-", "")


def test_every_drink_is_published_as_its_form_shows_it(visit, tamsin):
    """Nothing that the form leaves out: sending it untouched is refused as no change."""
    browser = visit(tamsin)
    for slug in kitchen.MENU:
        url = f"/h/harbour-lights/book/drink/{slug}/change/"
        answer = browser.post(url, {**typed(browser.get(url)), "form_key": str(uuid.uuid4())})
        assert "It is built like this already." in text(answer), slug


def test_first_the_steps_then_published(visit, tamsin):
    browser = visit(tamsin)
    shown = look(browser, parts="2 pours vodka\ntop cranberry juice", garnish="ask lime")

    assert shown.status_code == 200
    page = text(shown)
    assert "nothing is saved yet" in page
    assert "Pours so far: 1 pour (1 fl oz) vodka 2 pours (2 fl oz) vodka" in page
    assert "Ask the guest: lime?" in page
    assert recipe(tamsin, "madras").revisions.count() == 1

    answer = publish_as_seen(browser, shown)

    assert answer.redirect_chain == [(MADRAS, 302)]
    assert "Madras: revision 2 is published and counts from now." in text(answer)
    spec = menu_at(tamsin.venue, NOW).by_slug["madras"].drink.spec
    assert [p.ingredient for p in spec.parts] == ["vodka", "cranberry-juice"]
    assert spec.parts[0].amount == 2


def test_everything_on_the_form_reaches_the_revision(visit, tamsin):
    browser = visit(tamsin)
    said = {
        "parts": "first in 15 ml grenadine; 1½ pours gin; top orange juice; float 10 ml lime juice",
        "method": "build", "glass": "pint", "ice": "light", "garnish": "on request mint\nlime",
        "rim": "salt", "wet_with": "lime", "half": "on", "straw": "no",
    }  # fmt: skip
    publish_as_seen(browser, look(browser, **said))

    build = recipe(tamsin, "madras").revisions.newest_first()[0].build
    assert [(p.ingredient, p.how.value, p.amount) for p in build.parts] == [
        ("grenadine", "first_in", 15), ("gin", "measured", 1.5), ("orange-juice", "top", None),
        ("lime-juice", "float", 10),
    ]  # fmt: skip
    assert (build.glass, build.ice, build.straw) == ("pint", "light", False)
    assert [(g.item, g.when.value) for g in build.garnish] == [
        ("mint", "on_request"), ("lime", "always"),
    ]  # fmt: skip
    assert (build.rim.item, build.rim.wet_with, build.rim.half) == ("salt", "lime", True)


def test_from_a_date_and_hour_of_the_house(visit, tamsin):
    browser = visit(tamsin)
    shown = look(browser, glass="rocks", takes_effect_at="2026-04-02T18:00")
    answer = publish_as_seen(browser, shown)

    revision = recipe(tamsin, "madras").revisions.newest_first()[0]
    assert revision.takes_effect_at == dt.datetime(2026, 4, 2, 17, 0, tzinfo=dt.UTC)
    assert "from April 2, 2026, 6 p.m. it counts." in text(answer)
    assert menu_at(tamsin.venue, NOW).by_slug["madras"].drink.spec.glass == "highball"


def test_what_was_changed_after_looking_is_shown_once_more(visit, tamsin):
    browser = visit(tamsin)
    shown = look(browser, glass="rocks")

    answer = browser.post(CHANGE, {**typed(shown), "glass": "pint", "publish": "1"})

    assert answer.status_code == 200
    assert "Pint glass, 16 fl oz" in text(answer)
    assert recipe(tamsin, "madras").revisions.count() == 1
    assert "revision 2 is published" in text(publish_as_seen(browser, answer))


def test_whoever_was_overtaken_looks_once_more(visit, tamsin, pia):
    browser = visit(tamsin)
    shown = look(browser, glass="rocks")
    revise(pia, "madras", garnish=[{"item": "lime"}])

    answer = browser.post(CHANGE, {**typed(shown), "publish": "1"})

    said = text(answer)
    assert "Pia published number 2 on March 6, 2026, 3 p.m., after you opened this page." in said
    assert "What changed by number 2 Finish so far: no garnish, straw lime, always, straw" in said
    assert "Yours beside it Glass number 2: Highball glass, 10 fl oz yours: Rocks glass" in said
    assert "Publish mine in place of number 2" in said
    assert recipe(tamsin, "madras").revisions.count() == 2
    assert "revision 3 is published" in text(publish_as_seen(browser, answer))


def test_whoever_is_overtaken_twice_looks_twice(visit, tamsin, pia):
    """A second press, or the fragment that follows the typing, publishes over nothing unseen."""
    browser = visit(tamsin)
    shown = look(browser, glass="rocks")
    revise(pia, "madras", garnish=[{"item": "lime"}])
    answer = browser.post(CHANGE, {**typed(shown), "publish": "1"})
    old = browser.post(CHANGE, {**typed(shown), "form_key": str(uuid.uuid4()), "publish": "1"})
    assert "Pia published number 2" in text(old)
    revise(pia, "madras", ice="light")

    again = browser.post(CHANGE, {**typed(answer), "publish": "1"})

    assert "Pia published number 3" in text(again)
    assert recipe(tamsin, "madras").revisions.count() == 3
    fragment = browser.post(f"{MADRAS}preview/", typed(shown))
    assert "Pia published number 3" in text(fragment)


def test_theirs_is_taken_over_where_nothing_was_typed(visit, tamsin, pia):
    browser = visit(tamsin)
    shown = look(browser, glass="rocks")
    revise(pia, "madras", garnish=[{"item": "lime"}], ice="light")

    answer = browser.post(CHANGE, {**typed(shown), "onto": "1"})
    kept = typed(answer)

    assert (kept["glass"], kept["garnish"], kept["ice"]) == ("rocks", "always lime", "light")
    assert "after you opened this page" not in text(answer)
    publish_as_seen(browser, answer)
    newest = recipe(tamsin, "madras").revisions.get(number=3).build
    assert (newest.glass, newest.ice, newest.garnish[0].item) == ("rocks", "light", "lime")


def test_a_button_alone_publishes_nothing(visit, tamsin):
    browser = visit(tamsin)

    assert look(browser, glass="rocks", publish="1").status_code == 200
    assert recipe(tamsin, "madras").revisions.count() == 1


WRONG = [
    ({"parts": ""}, "parts", "Type at least one thing that goes in."),
    ({"parts": "vodka"}, "parts", "Line 1: How much vodka?"),
    ({"parts": "1 pour vodak"}, "parts", "Line 1: There is no “vodak” here. Did you mean vodka?"),
    ({"parts": "9 pours vodka"}, "parts", "It runs over"),
    ({"parts": "1 pour vodka; 2 pours vodka"}, "parts", "stands in this recipe twice"),
    ({"parts": "top cola"}, "alcohol_free", "There is no alcohol in this drink."),
    ({"alcohol_free": "on"}, "alcohol_free", "can't be called alcohol-free"),
    ({"parts": "1 pour vodka", "method": "layer"}, "method", "at least two measured liquids"),
    (
        {"parts": "1 pour vodka; 1 pour cola", "method": "layer", "ice": "full"},
        "ice",
        "Layers don't hold over ice.",
    ),
    ({"rim": "salt", "parts": "1 pour vodka"}, "rim", "Nothing in this drink wets the edge"),
    ({"garnish": "always moonflower"}, "garnish", "Line 1: This house has no “moonflower”."),
    ({"garnish": "lime\nask lime"}, "garnish", "stands among the garnishes twice"),
    ({"glass": "bucket"}, "glass", "Select a valid choice"),
    *(
        ({"glass": "rocks", "takes_effect_at": said}, "takes_effect_at", sentence)
        for said, sentence in (
            ("2026-03-01T10:00", "That moment has passed."),
            ("1066-10-14T09:00", "That moment has passed."),
            ("2026-03-29T01:30", "The clocks change in that hour."),
            ("soon", "That is no date and hour."),
        )
    ),
]


@pytest.mark.parametrize(("said", "field", "sentence"), WRONG)
def test_a_refusal_stands_beside_its_field(visit, tamsin, said, field, sentence):
    head = log.head(tamsin.venue)
    answer = look(visit(tamsin), **said)

    page = unescape(answer.content.decode())
    pattern = rf'<p class="wrong-text" id="id_{field}_error">(.*?)</p>'
    [beside] = re.findall(pattern, page, re.DOTALL)
    assert sentence in beside
    assert "Publish this revision" not in page
    assert log.head(tamsin.venue) == head


def test_what_was_typed_stays(visit, tamsin):
    said = {
        "parts": "vodak\ntop <cola>", "garnish": "always moonflower", "method": "shake",
        "glass": "rocks", "ice": "light", "rim": "salt", "wet_with": "lime", "half": ["on"],
        "straw": "no", "alcohol_free": ["on"], "takes_effect_at": "soon",
    }  # fmt: skip

    kept = typed(look(visit(tamsin), **said))

    assert {name: kept[name] for name in said} == said


def test_rules_to_come_are_named_where_they_refuse_it(visit, tamsin):
    thimble = kitchen.RULES.glasses | {"wine": GlassRule(name="Thimble", amount=1)}
    change_rules(tamsin, glasses=thimble, takes_effect_at=NOW + 7 * DAY)

    page = text(look(visit(tamsin), glass="wine"))

    assert "Under house rules 2, which are to come: It runs over" in page


def test_a_resend_publishes_once(visit, tamsin):
    browser = visit(tamsin)
    sent = {**typed(look(browser, glass="rocks")), "publish": "1"}
    first, again = browser.post(CHANGE, sent), browser.post(CHANGE, sent)

    assert first.status_code == again.status_code == 302
    assert again["Location"] == first["Location"]
    assert recipe(tamsin, "madras").revisions.count() == 2


def test_the_same_key_for_another_recipe_is_refused(visit, tamsin):
    browser = visit(tamsin)
    sent = {**typed(look(browser, glass="rocks")), "publish": "1"}
    browser.post(CHANGE, sent)

    assert browser.post(CHANGE, {**sent, "glass": "pint"}).status_code == 409


def test_looking_leaves_nothing_behind(visit, tamsin):
    head = log.head(tamsin.venue)
    look(visit(tamsin), glass="rocks")

    assert log.head(tamsin.venue) == head
    assert menu_at(tamsin.venue, NOW).by_slug["madras"].drink.spec.glass == "highball"


def test_two_names_for_one_build_are_told_on_both_pages_and_before_publishing(visit, tamsin):
    browser = visit(tamsin)
    new = "/h/harbour-lights/book/new-drink/"
    said = {"name": "Porto Breeze", "parts": "1 pour vodka\ntop orange juice\ntop cranberry juice"}
    shown = look_at(browser, new, **said)
    told = "The same build as Madras: one of the two could be another name of the other."

    assert told in text(shown)
    assert "Other names of Madras" in text(shown)

    publish_at(browser, new, shown)
    porto = text(browser.get("/h/harbour-lights/book/drink/porto-breeze/"))
    madras = text(browser.get(MADRAS))

    assert told in porto
    assert "Retire Porto Breeze" in porto
    assert "Easily mixed up with Madras Nothing differs the same build under another name" in porto
    assert "The same build as Porto Breeze: one of the two" in madras
    assert "Easily mixed up with Porto Breeze Nothing differs" in madras


def test_the_name_of_a_retired_twin_goes_to_the_other(visit, tamsin):
    browser = visit(tamsin)
    retire(by=tamsin, recipe=recipe(tamsin, "sea-breeze"), at=timezone.now())
    madras = recipe(tamsin, "madras")
    card = Card(name="Madras", module=madras.module, aliases=("Sea breeze",))
    change_card(by=tamsin, recipe=madras, card=card, at=timezone.now())

    assert "Also called Sea breeze." in text(browser.get(MADRAS))
    with pytest.raises(Refused, match="name_taken_by_drink"):
        bring_back(by=tamsin, recipe=recipe(tamsin, "sea-breeze"), at=timezone.now())


@pytest.mark.parametrize(
    ("retired_after", "poured", "says"),
    [
        (0 * DAY, True, "is on the menu again."),
        (3 * DAY, True, "stays on the menu."),
        (0 * DAY, False, "stays in the book, off the menu."),
    ],
)
def test_what_brings_a_drink_back_is_said_as_it_is(visit, tamsin, retired_after, poured, says):
    browser, now = visit(tamsin), timezone.now()
    row = recipe(tamsin, "sea-breeze")
    Recipe.objects.filter(pk=row.pk).update(is_poured=poured, must_know=False)
    retire(by=tamsin, recipe=row, at=now, retires_at=now + retired_after)
    sent = {"form_key": str(uuid.uuid4())}
    path = MADRAS.replace("madras", "sea-breeze")
    shown = browser.post(f"{path}bring-back/", sent, follow=True)

    assert f"{row.name} {says}" in text(shown)


def test_a_revision_that_waits_is_taken_back_on_the_page(visit, tamsin):
    thursday = NOW + 6 * DAY
    revise(tamsin, "madras", glass="rocks", takes_effect_at=thursday)
    browser = visit(tamsin)
    shown = look_at(browser, CHANGE, parts="2 pours vodka\ntop orange juice")

    assert "Number 2 waits for March 12, 2026, 3 p.m. and will replace this." in text(shown)
    assert "Take number 2 back" in text(browser.get(MADRAS))

    answer = browser.send(f"{MADRAS}take-back/", {"number": "2"}, follow=True)

    assert "Madras: number 2 is taken back." in text(answer)
    assert "Take number" not in text(answer)
    assert "by Tamsin keeps the build as it is" in text(answer)
    assert "by Tamsin taken back or replaced before it came" in text(answer)
    assert menu_at(tamsin.venue, thursday).by_slug["madras"].drink.spec.glass == "highball"

    shown = look_at(browser, CHANGE, parts="2 pours vodka\ntop orange juice")

    assert "Number 3 waits for March 12, 2026, 3 p.m. and will replace this." in text(shown)


@pytest.mark.parametrize("number", ["", "one", "1", "99999999"])
def test_what_does_not_wait_is_not_taken_back(visit, tamsin, number):
    answer = visit(tamsin).send(f"{MADRAS}take-back/", {"number": number}, follow=True)

    assert "isn't waiting, so it can't be taken back" in text(answer)
