"""What is no drink by itself goes into the one before it, is handed back, or isn't here at all."""

import pytest

from recipes.grammar import calls
from recipes.grammar.calls import About, Status
from tests.grammar.called import book

US, GB = "us-classic", "great-britain"


@pytest.mark.parametrize(
    ("preset", "call", "change", "asks"),
    [
        (GB, "cider and black", "splash:blackcurrant-cordial", []),
        (GB, "lager and black", "splash:blackcurrant-cordial", []),
        (GB, "rum and black", "splash:blackcurrant-cordial", [About.STYLE]),
        (US, "vodka and lime juice", "splash:lime-juice", [About.STYLE]),
        (US, "gin lemon juice", "splash:lemon-juice", [About.STYLE]),
        (US, "gin and tonic with lime cordial", "splash:lime-cordial", []),
        (US, "lager and lime juice", "splash:lime-juice", []),
    ],
)
def test_a_liquid_beside_a_drink_goes_in_as_a_splash(preset, call, change, asks):
    reading = calls.read(call, book(preset))
    [drink] = reading.drinks

    assert [c.code for c in drink.changes] == [change]
    assert [q.about for q in reading.ask] == asks
    assert change.partition(":")[2] in {p.ingredient for p in drink.spec.parts}


@pytest.mark.parametrize(
    "call", ["margarita and lime juice", "gin, lime juice", "two lime juices", "lime juice"]
)
def test_elsewhere_it_is_handed_back(call):
    reading = calls.read(call, book(US))

    assert reading.status is Status.UNKNOWN
    assert {"lime"} <= {w.removesuffix("s") for w in reading.unplaced}


@pytest.mark.parametrize(
    ("call", "left"),
    [("black", 0), ("cider and black", 1), ("rum and black", 1), ("lager and black", 1)],
)
def test_a_word_of_the_country_for_what_the_house_lacks_names_it(call, left):
    whole = book(GB)
    pantry = {s: i for s, i in whole.pantry.items() if s != "blackcurrant-cordial"}
    made_of = {s for s, i in pantry.items()}
    drinks = [
        d for d in whole.stock.drinks.values() if {p.ingredient for p in d.spec.parts} <= made_of
    ]
    for slang in (whole.rules.slang, {}):  # a preset that was fitted to a house has no such word
        rules = whole.rules.model_copy(update={"slang": slang})
        reading = calls.read(call, calls.vocabulary(rules, drinks, pantry))

        assert reading.status is Status.UNKNOWN
        assert (reading.unplaced, reading.not_sold) == (("black",), ("blackcurrant cordial",))
        assert len(reading.drinks) == left


def test_by_itself_it_leads_to_the_drinks_with_it():
    reading = calls.read("black", book(GB))

    assert reading.not_sold == ()
    assert reading.did_you_mean == ("snakebite-and-black",)
