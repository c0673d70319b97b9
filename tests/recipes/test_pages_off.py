"""What is out tonight, on screen: said by trainers, seen first by everybody."""

import datetime as dt

import pytest
from django.urls import reverse
from django.utils import timezone

from recipes import publish_off
from recipes.models import Ingredient, OffTonight
from recipes.off_tonight import standing
from tests.factories.recipes import recipe
from tests.recipes.pages import text, typed

HOUSE = {"house": "harbour-lights"}
OFF, SAY, LIFT = (reverse(n, kwargs=HOUSE) for n in ("off_tonight", "off_say", "off_lift"))


def bottle(member, slug):
    return Ingredient.objects.in_house(member.venue).get(slug=slug)


def out(by, slug, use=None):
    return publish_off.say_bottle_out(
        by=by,
        ingredient=bottle(by, slug),
        substitute=bottle(by, use) if use else None,
        at=timezone.now() - dt.timedelta(hours=1),
    )


def test_on_a_plain_evening_it_says_so(visit, nils):
    page = text(visit(nils).get(OFF))

    assert "Nothing is out" in page
    assert "It is out" not in page


def look(browser, **said):
    return browser.send(SAY, said)


def say(browser, shown, **said):
    """The second tap, on what the first has shown."""
    return browser.send(SAY, {**typed(shown, "say"), "publish": "1", **said}, follow=True)


def test_a_trainer_says_it_with_a_substitute_and_a_hire_reads_it(visit, tamsin, nils):
    browser = visit(tamsin)
    shown = look(browser, what="bottle:gin", substitute="vodka")
    assert "Gin is out: poured with vodka" in text(shown)
    assert "4 drinks are poured with it: " in text(shown)
    assert "Allergens of what stands in, Vodka:" in text(shown)
    assert "doesn't stand in for" not in text(shown)
    assert standing(tamsin.venue) == ()

    answer = say(browser, shown)

    assert "Poured otherwise: Gin tonic" in text(answer)
    page = text(visit(nils).get(OFF))
    assert "Gin is out: poured with vodka." in page
    assert "gin is out: use vodka." in page
    assert "said by Tamsin" in page
    assert "Built otherwise" in page
    assert "It is there again" not in page


def test_another_kind_is_warned_of_and_must_be_ticked(visit, tamsin):
    browser = visit(tamsin)
    shown = look(browser, what="bottle:vodka", substitute="grenadine")
    said = "A syrup doesn't stand in for a spirit: as much grenadine would go in as the drinks have"
    assert said in text(shown)

    unsure = say(browser, shown)
    assert "Tick it if you mean it" in text(unsure)
    assert standing(tamsin.venue) == ()

    say(browser, unsure, sure="on")
    assert [row.substitute.slug for row in standing(tamsin.venue)] == ["grenadine"]


def test_a_tick_given_before_the_drinks_were_shown_counts_for_nothing(visit, tamsin):
    sent = {"what": "bottle:vodka", "substitute": "grenadine", "sure": "on", "publish": "1"}

    assert visit(tamsin).send(SAY, sent).status_code == 200
    assert standing(tamsin.venue) == ()


def test_what_is_near_is_offered_first(visit, tamsin):
    page = visit(tamsin).get(OFF, {"what": "bottle:gin"}).content.decode()
    offered = page[page.index('name="substitute"') :]

    near, far = offered.index("Close to it"), offered.index("Of another kind")
    assert near < offered.index('value="vodka"') < far < offered.index('value="grenadine"')


def test_what_cannot_take_its_place_is_said_plainly(visit, tamsin):
    shown = look(visit(tamsin), what="bottle:gin", substitute="salt")

    assert "Gin is out, and salt can't take its place in this one." in text(shown)


def test_what_goes_off_is_named_once_it_is_said(visit, tamsin):
    answer = visit(tamsin).send(SAY, {"what": "bottle:salt"}, follow=True)

    assert "Off tonight: Salty dog, Margarita." in text(answer)


def test_without_a_substitute_the_page_says_what_is_off_and_why(visit, tamsin, nils):
    visit(tamsin).send(SAY, {"what": "bottle:salt"})
    page = text(visit(nils).get(OFF))

    assert "salt is out; nothing stands in." in page
    assert "Salty dog Salt is out and nothing stands in for it." in page


def test_a_drink_goes_off_with_one_tap_on_its_page(visit, tamsin):
    browser = visit(tamsin)
    drink = reverse("drink", kwargs={**HOUSE, "slug": "madras"})
    assert 'value="drink:madras"' in browser.get(drink).content.decode()

    browser.send(SAY, {"what": "drink:madras"})

    assert "Off tonight. It is off by itself" in text(browser.get(drink))


def test_the_drink_page_leads_to_each_of_its_bottles(visit, tamsin):
    browser = visit(tamsin)
    drink = browser.get(reverse("drink", kwargs={**HOUSE, "slug": "negroni"})).content.decode()
    assert f'{OFF}?what=bottle:gin#say"' in drink

    page = browser.get(OFF, {"what": "bottle:gin"}).content.decode()
    assert '<option value="bottle:gin" selected>' in page


def test_lifted_with_one_tap(visit, tamsin):
    out(tamsin, "gin", "vodka")
    browser = visit(tamsin)
    assert 'name="out" value="bottle:gin"' in browser.get(OFF).content.decode()

    answer = browser.send(LIFT, {"out": "bottle:gin"}, follow=True)

    assert "gin is there again." in text(answer)
    assert standing(tamsin.venue) == ()


def test_lifted_by_a_colleague_meanwhile_is_as_good(visit, tamsin, pia):
    row = out(tamsin, "gin")
    publish_off.lift(by=pia, off=row, at=timezone.now())

    assert visit(tamsin).send(LIFT, {"out": "bottle:gin"}).status_code == 302
    row.refresh_from_db()
    assert row.lifted_by == pia


@pytest.mark.parametrize("code", ["", "bottle:vodka", "drink:gin", "bottle:", "nonsense"])
def test_what_was_never_out_can_not_be_lifted(visit, tamsin, code):
    out(tamsin, "gin")

    assert visit(tamsin).send(LIFT, {"out": code}).status_code == 404
    assert len(standing(tamsin.venue)) == 1


REFUSED = [
    ({}, "Which one? Pick a bottle or a drink."),
    ({"what": "bottle:kryptonite"}, "This house has no such bottle or drink any more."),
    ({"what": "bottle:gin", "substitute": "kryptonite"}, "This house hasn't got that one."),
    ({"what": "bottle:gin", "substitute": "gin"}, "Gin can't stand in for itself."),
    ({"what": "drink:madras", "substitute": "gin"}, "A drink has no substitute."),
    ({"what": "bottle:vodka", "substitute": "salt"}, "Salt is out too."),
]


@pytest.mark.parametrize(("sent", "said"), REFUSED, ids=[said for _sent, said in REFUSED])
def test_what_can_not_be_is_said_beside_the_field(visit, tamsin, sent, said):
    out(tamsin, "salt")
    answer = visit(tamsin).send(SAY, sent)

    assert answer.status_code == 200
    assert said in text(answer)
    assert OffTonight.objects.count() == 1


SEEN_BY_TRAINERS = ("watch", "who_is_ready", "book")


@pytest.mark.parametrize("name", SEEN_BY_TRAINERS)
def test_a_trainer_sees_it_first(visit, tamsin, name):
    out(tamsin, "gin", "vodka")
    out(tamsin, "salt")
    page = text(visit(tamsin).get(reverse(name, kwargs=HOUSE)))

    assert "Tonight: gin is out: use vodka. salt is out; nothing stands in." in page
    assert "Off: Salty dog, Margarita." in page


def test_a_hire_sees_it_first(visit, tamsin, nils):
    address = reverse("next_shift", kwargs=HOUSE)
    assert "All that is out tonight" not in text(visit(nils).get(address))
    out(tamsin, "gin", "vodka")

    assert "gin is out: use vodka." in text(visit(nils).get(address))


def test_a_long_list_is_counted(visit, tamsin):
    out(tamsin, "vodka")
    page = text(visit(tamsin).get(reverse("book", kwargs=HOUSE)))

    assert "Off: Vodka tonic, Vodka soda, Cape codder, Madras, Sea breeze, Bay breeze" in page
    assert "and 2 more." in page


def test_a_drink_off_by_itself_is_on_the_slip(visit, tamsin):
    publish_off.say_drink_out(by=tamsin, recipe=recipe(tamsin, "madras"), at=timezone.now())

    assert "Off: Madras." in text(visit(tamsin).get(reverse("book", kwargs=HOUSE)))


def test_a_card_stays_the_books_and_says_what_is_used_tonight(visit, tamsin, nils):
    address = reverse("module_cards", kwargs={**HOUSE, "module": "highballs"})
    plain = visit(nils).get(address).content.decode()
    out(tamsin, "gin", "vodka")
    answer = visit(nils).get(address)

    assert "Tonight: vodka instead of gin." in text(answer)
    pours = "Pours 1 pour gin one pour of spirits is 1 fl oz (29.6 ml) Tonight: 1 pour vodka missed"
    assert pours in text(answer)
    assert text(answer).count("Tonight: ") == 2
    assert "Tonight:" not in plain
    assert "1 pour" in plain
    for name in ("build", "drink"):
        assert _hidden(answer.content.decode(), name) == _hidden(plain, name)


def test_a_checklist_pours_what_stands_in_tonight(visit, tamsin, nils):
    address = reverse("watch_build", kwargs={**HOUSE, "hire": nils.code, "drink": "gin-tonic"})
    plain = visit(tamsin).get(address).content.decode()
    out(tamsin, "gin", "vodka")
    answer = visit(tamsin).get(address)

    assert "1 pour vodka" in text(answer)
    assert "1 pour gin" not in text(answer)
    assert "Tonight: vodka instead of gin." in text(answer)
    assert _hidden(answer.content.decode(), "build") != _hidden(plain, "build")


def _hidden(page: str, name: str) -> str:
    marker = f'name="{name}" value="'
    return page.split(marker, 1)[1].split('"', 1)[0] if marker in page else ""


def test_two_taps_from_every_page(visit, nils):
    page = visit(nils).get(reverse("my_record", kwargs=HOUSE)).content.decode()

    assert f'href="{OFF}"' in page
    assert f'href="{reverse("allergens", kwargs=HOUSE)}"' in page


def test_the_page_of_an_ingredient_leads_there_too(visit, tamsin):
    page = visit(tamsin).get(reverse("ingredient", kwargs={**HOUSE, "ingredient": "gin"}))

    assert f'{OFF}?what=bottle:gin#say"' in page.content.decode()
