"""Small talk that changes what is built is handed back; true politeness is not. And ice of which
the house has no rule is never a glass full of it."""

import pytest

from recipes.grammar import calls
from recipes.grammar.calls import Status
from tests.grammar.called import book

US, GB = "us-classic", "great-britain"


def read(text, preset=US):
    return calls.read(text, book(preset))


@pytest.mark.parametrize(
    ("call", "handed_back"),
    [
        ("margarita with everything", "everything"),
        ("margarita with everything on it", "everything"),
        ("mojito maybe", "maybe"),
        ("maybe a mojito", "maybe"),
        ("mojito on top", "on top"),
        ("a madras each", "each"),
        ("all madras", "all"),
        ("two madras and a mojito with lime each", "each"),
        ("a mojito, sorry, a madras", "sorry"),
        ("mojito with", "with"),
        ("mojito and", "and"),
        ("mojito just lime", "just"),
        ("margarita ice only", "only"),
        ("screwdriver with fresh orange juice", "fresh"),
        ("whiskey neat cold", "cold"),
        ("red wine chilled", "chilled"),
        ("lager can", "can"),
        ("madras with a garnish", "garnish"),
    ],
)
def test_what_carries_meaning_is_handed_back(call, handed_back):
    reading = read(call)

    assert reading.status is not Status.READY
    assert " ".join(reading.unplaced) == handed_back


@pytest.mark.parametrize(
    ("call", "count", "name"),
    [
        ("just a mojito", 1, "Mojito"),
        ("can I get a mojito please", 1, "Mojito"),
        ("sorry, could we get two madras", 2, "Madras"),
        ("a nice cold lager", 1, "Draught Lager"),
        ("lager ice cold", 1, "Draught Lager"),
        ("a mojito then, thanks", 1, "Mojito"),
        ("two more mojitos", 2, "Mojito"),
        ("mojito with fresh mint", 1, "Mojito"),
        ("a pale ale can", 1, "Canned Pale Ale"),
        ("two mojitos, both double tall", 2, "Mojito"),
        ("two madras with lime each", 2, "Madras"),
    ],
)
def test_politeness_stays_small_talk(call, count, name):
    reading = read(call)

    assert (reading.status, reading.unplaced) == (Status.READY, ())
    assert [(d.count, d.name) for d in reading.drinks] == [(count, name)]


def test_both_behind_with_is_of_one_drink():
    madras, soda = read("a madras and a vodka soda with both lemon and lime").drinks

    assert madras.changes == ()
    assert [c.code for c in soda.changes] == ["with:lemon-wedge", "with:lime-wedge"]


def test_lime_on_top_goes_on_it():
    assert [c.code for c in read("vodka soda with lime on top").drinks[0].changes] == [
        "with:lime-wedge"
    ]


@pytest.mark.parametrize("preset", [US, GB])
@pytest.mark.parametrize(
    "ice",
    [
        "half ice", "half the ice", "double ice", "big ice", "quarter ice", "ice on the side",
        "with ice on the side", "and a glass of ice", "ice back", "splash of ice", "one ice cube",
    ],
)  # fmt: skip
def test_ice_that_no_house_has_a_rule_for_is_handed_back_whole(preset, ice):
    plain, reading = read("mojito", preset), read(f"mojito {ice}", preset)

    assert reading.status is Status.UNKNOWN
    assert "ice" in reading.unplaced
    assert [(d.changes, d.spec) for d in reading.drinks] == [((), plain.drinks[0].spec)]


@pytest.mark.parametrize(
    "call",
    [
        "cosmopolitan with ice", "cosmopolitan light ice", "gin martini crushed ice",
        "lager extra ice", "glass of red wine with ice",
    ],
)  # fmt: skip
def test_no_ice_is_put_into_what_comes_without(call):
    reading = read(call)

    assert reading.status is not Status.READY
    assert "ice" in reading.unplaced
    assert reading.drinks[0].spec.ice == "none"


@pytest.mark.parametrize(
    ("ice", "built"),
    [
        ("a little ice", "light"), ("with a bit of ice", "light"), ("light ice", "light"),
        ("extra ice", "full"), ("full ice", "full"), ("no ice", "none"),
    ],
)  # fmt: skip
def test_ice_of_which_the_house_has_a_rule_is_built(ice, built):
    reading = read(f"mojito {ice}")

    assert (reading.status, reading.drinks[0].spec.ice) == (Status.READY, built)


def crushed(book_):
    return sorted(s for s, d in book_.stock.drinks.items() if d.spec.ice == "crushed")


def test_crushed_ice_is_built_only_where_the_house_serves_any():
    words = book(US)
    assert crushed(words)
    sold = [d for slug, d in words.stock.drinks.items() if slug not in crushed(words)]
    without = calls.vocabulary(words.rules, sold, words.pantry)

    assert read("mojito crushed ice").drinks[0].spec.ice == "crushed"
    reading = calls.read("mojito crushed ice", without)
    assert (reading.status, reading.unplaced) == (Status.UNKNOWN, ("crushed", "ice"))


def test_crushed_ice_stays_so_and_has_no_more_or_less():
    name = book(US).stock.drinks[crushed(book(US))[0]].name

    assert read(f"{name} with ice").drinks[0].spec.ice == "crushed"
    for much in ("extra ice", "light ice"):
        reading = read(f"{name} {much}")
        assert (reading.drinks[0].spec.ice, reading.status) == ("crushed", Status.UNKNOWN)
