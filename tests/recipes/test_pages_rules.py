"""The house rules, read and published anew, as pages."""

import datetime as dt
import re

import pytest

from barcourse.people import log
from recipes.grammar.ingredients import LiquorClass
from recipes.menu import menu_at
from recipes.models import RulesVersion
from tests.factories.people import OPENED
from tests.factories.recipes import DAY, change_rules
from tests.grammar import kitchen
from tests.recipes.pages import look_at, publish_at, text, typed

RULES = "/h/harbour-lights/book/rules/"
CHANGE = f"{RULES}change/"
NOW = OPENED + DAY


@pytest.fixture(autouse=True)
def _on_a_friday_in_march(time_machine):
    time_machine.move_to(NOW, tick=False)


def versions(member) -> int:
    return RulesVersion.objects.in_house(member.venue).count()


def look(browser, **said: object):
    return look_at(browser, CHANGE, **said)


def publish_as_seen(browser, shown):
    return publish_at(browser, CHANGE, shown)


# Reading


def test_the_rules_stand_in_words(visit, tamsin):
    page = text(visit(tamsin).get(RULES))

    assert "House rules version 1" in page
    assert "Spirits by jigger 1 fl oz (29.6 ml)" in page
    assert "A pour may be off by ⅛ fl oz (3.7 ml)" in page
    assert "Highball glass for a highball; full ice takes ½ of it 10 fl oz (296 ml)" in page
    assert "Highball full ice" in page
    assert "Tonic water: lime, always" in page
    assert "Vodka with club soda and nothing else: lemon or lime (ask the guest)" in page
    assert "Whiskey with fizzy mixer and nothing else: no garnish" in page
    assert "Juice, as a highball: no garnish" in page
    assert "A straw goes into every highball or blended drink" in page
    assert "A double has 2 pours. Short: in the same glass. Tall: in the Pint glass" in page


def test_versions_stand_with_the_hour_of_the_house(visit, tamsin):
    change_rules(tamsin, tolerance=0.25)
    summer = dt.datetime(2026, 4, 2, 17, 0, tzinfo=dt.UTC)
    change_rules(tamsin, tolerance=0.5, takes_effect_at=summer)
    page = text(visit(tamsin).get(RULES))

    assert "Version 3 waits; from April 2, 2026, 6 p.m. it counts." in page
    assert "Version 3 from April 2, 2026, 6 p.m., by Tamsin waits" in page
    assert "Version 2 from March 6, 2026, 3 p.m., by Tamsin holds now" in page
    assert "Version 1 from March 5, 2026, 3 p.m., by Odalys past" in page


def test_slang_is_told_in_names(visit, tamsin):
    change_rules(tamsin, slang={"cran": "cranberry-juice"})

    assert "“cran” cranberry juice" in text(visit(tamsin).get(RULES))


# Changing


def test_sent_as_it_is_it_changes_nothing(visit, tamsin):
    page = text(look(visit(tamsin)))

    assert "These are the rules already. Nothing was published." in page
    assert versions(tamsin) == 1


def test_first_what_would_change_then_published(visit, tamsin):
    browser = visit(tamsin)
    shown = look(browser, pour_fortified_amount="½")

    page = text(shown)
    assert "1 drink would change nothing is saved yet One pour of fortified wine so far" in page
    assert re.search(r"then ½ fl oz \(14.8 ml\) 1 drink Negroni", page)
    assert page.index("local law: ask your licensing") < page.index("Publish these rules")
    assert versions(tamsin) == 1

    answer = publish_as_seen(browser, shown)

    assert answer.redirect_chain == [(RULES, 302)]
    assert "House rules 2 are published and count from now." in text(answer)
    assert menu_at(tamsin.venue, NOW).rules.pours[LiquorClass.FORTIFIED].amount == 0.5


def test_how_one_pours_is_told_once_for_all_the_drinks(visit, tamsin):
    page = text(look(visit(tamsin), pour_spirit_by="optic"))

    assert page.count("How one pours spirits so far by jigger then by optic") == 1
    assert "One pour of" not in page


def test_what_the_form_does_not_ask_stays(visit, tamsin):
    browser = visit(tamsin)
    said = {
        "pour_spirit_amount": "30", "pour_spirit_unit": "ml", "pour_spirit_by": "optic",
        "pour_wine_amount": "", "tolerance": "0.2", "currency": "€",
    }  # fmt: skip
    publish_as_seen(browser, look(browser, **said))

    new, old = menu_at(tamsin.venue, NOW).rules, kitchen.RULES
    spirit = new.pours[LiquorClass.SPIRIT]
    assert (spirit.amount, spirit.unit, spirit.measured_by) == (30, "ml", "optic")
    assert LiquorClass.WINE not in new.pours
    assert (new.tolerance, new.currency) == (0.2, "€")
    assert "Money is written €" in text(browser.get(RULES))
    asked = {"pours", "tolerance", "tolerance_unit", "currency"}
    for name in set(type(new).model_fields) - asked:
        assert getattr(new, name) == getattr(old, name)


def test_from_a_date_and_hour_of_the_house(visit, tamsin):
    browser = visit(tamsin)
    shown = look(browser, tolerance="0.25", takes_effect_at="2026-04-02T18:00")

    assert "No drink on the menu would change" in text(shown)
    assert "from April 2, 2026, 6 p.m. they count." in text(publish_as_seen(browser, shown))
    assert menu_at(tamsin.venue, NOW).rules.tolerance == 0.125
    thursday = dt.datetime(2026, 4, 2, 17, 0, tzinfo=dt.UTC)
    assert menu_at(tamsin.venue, thursday).rules.tolerance == 0.25


def test_what_was_changed_after_looking_is_shown_once_more(visit, tamsin):
    browser = visit(tamsin)
    shown = look(browser, pour_fortified_amount="0.5")

    answer = browser.post(CHANGE, {**typed(shown), "pour_spirit_amount": "1.05", "publish": "1"})

    assert answer.status_code == 200
    assert "drinks would change" in text(answer)
    assert versions(tamsin) == 1


def test_whoever_was_overtaken_looks_once_more(visit, tamsin, pia):
    browser = visit(tamsin)
    shown = look(browser, tolerance="0.25")
    change_rules(pia, tolerance=0.5)

    answer = browser.post(CHANGE, {**typed(shown), "publish": "1"})

    assert answer.status_code == 200
    said = text(answer)
    assert "Pia published number 2 on March 6, 2026, 3 p.m., after you opened this page." in said
    assert "What changed by number 2 What a pour may be off by" in said
    assert "Publish mine in place of number 2" in said
    assert versions(tamsin) == 2
    assert "House rules 3 are published" in text(publish_as_seen(browser, answer))


def test_their_rules_are_taken_over_where_nothing_was_typed(visit, tamsin, pia):
    browser = visit(tamsin)
    shown = look(browser, tolerance="0.25")
    change_rules(pia, currency="€", straw_families=["shot"])

    answer = browser.post(CHANGE, {**typed(shown), "onto": "1"})
    assert "Pia published" not in text(answer)
    publish_as_seen(browser, answer)

    found = menu_at(tamsin.venue, NOW).rules
    assert (found.tolerance, found.currency, found.straw_families) == (0.25, "€", ("shot",))


WRONG = [
    ({"pour_spirit_amount": "a bit"}, "pour_spirit_amount", "That is no amount."),
    ({"pour_spirit_amount": "0"}, "pour_spirit_amount", "More than 0, please"),
    ({"pour_spirit_amount": "-1"}, "pour_spirit_amount", "That is no amount."),
    ({"pour_spirit_amount": "9999"}, "pour_spirit_amount", "no more than fits"),
    ({"tolerance": "0"}, "tolerance", "More than 0, please"),
    ({"tolerance": ""}, "tolerance", "How much?"),
    ({"currency": "pounds"}, "currency", "at most 3"),
    ({"pour_fortified_amount": ""}, "pour_fortified_amount", "Negroni: The house rules don't say"),
    (
        {"tolerance": "0.25", "takes_effect_at": "2026-03-01T10:00"},
        "takes_effect_at",
        "That moment has passed.",
    ),
    ({"pour_spirit_unit": "bucket"}, "pour_spirit_unit", "Select a valid choice"),
]


@pytest.mark.parametrize(("said", "field", "sentence"), WRONG)
def test_a_refusal_stands_beside_its_field(visit, tamsin, said, field, sentence):
    head = log.head(tamsin.venue)
    answer = look(visit(tamsin), **said)

    [beside] = re.findall(
        rf'<p class="wrong-text" id="id_{field}_error">(.*?)</p>',
        answer.content.decode(),
        re.DOTALL,
    )
    assert sentence in beside.replace("&#x27;", "'")
    assert "Publish these rules" not in text(answer)
    kept = typed(answer)
    assert {name: kept[name] for name in said if not name.endswith("unit")} == {
        name: value for name, value in said.items() if not name.endswith("unit")
    }
    assert log.head(tamsin.venue) == head


def test_a_resend_publishes_once(visit, tamsin):
    browser = visit(tamsin)
    sent = {**typed(look(browser, tolerance="0.25")), "publish": "1"}
    first, again = browser.post(CHANGE, sent), browser.post(CHANGE, sent)

    assert first.status_code == again.status_code == 302
    assert first["Location"] == again["Location"] == RULES
    assert versions(tamsin) == 2
    assert browser.post(CHANGE, {**sent, "tolerance": "0.5"}).status_code == 409


def test_looking_leaves_nothing_behind(visit, tamsin):
    head = log.head(tamsin.venue)
    look(visit(tamsin), tolerance="0.25")

    assert log.head(tamsin.venue) == head
    assert versions(tamsin) == 1
