"""What a call already means can't be given another meaning: one rule for every name of a house."""

from __future__ import annotations

import pytest

from recipes.grammar.calls.owned import Claim, Claimant, named_in, owner
from recipes.grammar.ingredients import Kind
from tests.grammar.called import book

US = "us-classic"
# The words; who owns them where a drink of gin and cola, a gin, slang for cola, a pattern or a
# serving wants them. "" is free.
WANTED = [
    # words, drink's name, other name, ingredient, slang, pattern, serving
    ("double", "way", "way", "way", "way", "way", "way"),
    ("no ice", "way", "way", "way", "way", "way", "way"),
    ("tall one", "way", "way", "way", "way", "way", "way"),
    ("on the rocks", "way", "way", "way", "way", "way", "way"),
    ("Premium", "way", "way", "way", "way", "way", "way"),
    ("please", "way", "way", "way", "way", "way", "way"),
    ("7", "way", "way", "way", "way", "way", "way"),
    ("half", "way", "way", "way", "way", "way", ""),
    ("a short", "way", "way", "way", "way", "way", ""),
    ("press", "pattern", "pattern", "pattern", "pattern", "", "pattern"),
    ("Highballs", "pattern", "pattern", "pattern", "pattern", "", "pattern"),
    ("beer", "kind", "kind", "kind", "kind", "kind", "kind"),
    ("wine", "kind", "kind", "kind", "kind", "kind", "kind"),
    ("vodkas", "thing", "thing", "thing", "", "thing", "thing"),
    ("lime wedges", "thing", "thing", "thing", "", "thing", "thing"),
    ("tonic", "thing", "thing", "thing", "thing", "thing", "thing"),
    ("madrases", "drink", "drink", "drink", "drink", "drink", "drink"),
    ("screw driver", "drink", "drink", "drink", "drink", "drink", "drink"),
    ("Gin & Tonics", "drink", "drink", "drink", "drink", "drink", "drink"),
    ("whisky sour", "drink", "drink", "drink", "drink", "drink", "drink"),
    ("double vodka", "call", "call", "call", "call", "call", "call"),
    ("two madras", "call", "call", "call", "call", "call", "call"),
    ("vodka soda, no ice", "call", "call", "call", "call", "call", "call"),
    # Free: nobody says it, a slip away from a name, a word of several names, a drink of the trade
    # that isn't sold here, what tells a bottle from another.
    ("Old Pier", "", "", "", "", "", ""),
    ("Martina", "", "", "", "", "", ""),
    ("martini", "", "", "", "", "", ""),
    ("gin fizz", "", "", "", "", "", ""),
    ("75", "", "", "", "", "", ""),
    ("50/50", "", "", "", "", "", ""),
    ("!!!", "", "", "", "", "", ""),
    ("Orange Gin", "call", "call", "", "call", "call", "call"),
    ("double cream", "", "", "", "", "", ""),
]
WHO = [
    Claimant(Claim.NAME, parts=frozenset({"gin", "cola"})),
    Claimant(Claim.ALIAS, parts=frozenset({"gin", "cola"})),
    Claimant(Claim.THING, kind=Kind.GIN),
    Claimant(Claim.SLANG, parts=frozenset({"cola"}), kind=Kind.SODA_MIXER),
    Claimant(Claim.PATTERN),
    Claimant(Claim.SERVING),
]


@pytest.mark.parametrize(("said", "owners"), [(said, owners) for said, *owners in WANTED])
def test_words_that_mean_something_already_have_an_owner(said, owners):
    found = [owner(book(US), said, who) for who in WHO]

    assert [o.owns if o else "" for o in found] == owners


def test_everything_that_ships_keeps_its_words():
    """By the rule each name of the course may stay what it is, under the rules of each country."""
    for preset in (US, "great-britain"):
        b = book(preset)
        for drink in b.stock.drinks.values():
            parts = frozenset(p.ingredient for p in drink.spec.parts)
            for said in (drink.name, *drink.aliases):
                claim = Claim.NAME if said == drink.name else Claim.ALIAS
                assert owner(b, said, Claimant(claim, drink.slug, parts)) is None, said
        for word, slug in b.rules.slang.items():
            parts = frozenset({slug})
            claim = Claimant(Claim.SLANG, parts=parts, kind=b.pantry[slug].kind)
            assert owner(b, word, claim) is None, word


def test_a_name_of_its_own_for_another_version_is_no_clash():
    b, drink = book(US), Claimant(Claim.NAME, "x", frozenset({"vodka", "club-soda", "lime-juice"}))

    assert owner(b, "Virgin Gin Rickey", drink) is None
    assert owner(b, "Dirty Vodka Sour", drink) is None
    assert owner(b, "Gin Shot", Claimant(Claim.NAME, "x", frozenset({"gin"}))) is None


@pytest.mark.parametrize(
    ("said", "names"),
    [("beer", "beer"), ("vodkas", "vodka"), ("double vodka", "vodka"), ("presses", "press")],
)
def test_the_owner_is_named(said, names):
    found = owner(book(US), said, WHO[1])

    assert found is not None
    assert named_in(book(US), found) == names


def test_an_ingredient_may_be_called_by_its_own_kind():
    b = book(US)

    assert owner(b, "beer", Claimant(Claim.THING, "harbour-ale", kind=Kind.BEER)) is None
    assert owner(b, "lager", Claimant(Claim.THING, "lager", kind=Kind.BEER)) is None
    assert owner(b, "lager", Claimant(Claim.THING, "harbour-ale", kind=Kind.BEER)) is not None
