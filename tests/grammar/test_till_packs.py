"""Which names on the till tell of several glasses, and of how many. As tills write them: common
practice, no source."""

import pytest

from recipes.grammar.calls.words import AGAIN, COUNTS
from recipes.grammar.till_packs import several

NAMES = frozenset({"madras", "draught lager", "pp codder", "lager"})


@pytest.mark.parametrize(
    ("said", "means"),
    [
        # packs
        ("lager 6 pack", (6, "lager")),
        ("6 pack lager", (6, "lager")),
        ("6-pack draught lager", (6, "draught lager")),
        ("6pk lager", (6, "lager")),
        ("2pk madras", (2, "madras")),
        ("six pack of lager", (6, "lager")),
        ("pack of 4 lager", (4, "lager")),
        ("bucket of 5 lager", (5, "lager")),
        ("lager bucket 5", (5, "lager")),
        ("5 bucket lager", (5, "lager")),
        ("round of four madras", (4, "madras")),
        ("tray of 12 b-52", (12, "b-52")),
        # deals: what is poured comes first
        ("4 for 3 madras", (4, "madras")),
        ("madras 2 for 1", (2, "madras")),
        ("2-4-1 madras", (2, "madras")),
        ("two for one madras", (2, "madras")),
        # counts
        ("2x madras", (2, "madras")),
        ("2 x madras", (2, "madras")),
        ("madras x2", (2, "madras")),
        ("madras x 2", (2, "madras")),
        ("x2 madras", (2, "madras")),
        ("lager 6 x", (6, "lager")),
        ("6x330ml lager", (6, "lager")),
        # a word
        ("two madras", (2, "madras")),
        ("pair of madras", (2, "madras")),
        ("half a dozen lagers", (6, "lagers")),
        # a bare figure: several before a plural, else a size
        ("3 pp codders", (3, "pp codders")),
        ("16 lagers", (16, "lagers")),
        ("3 double pp codders", (3, "double pp codders")),
        ("2 pp codder", None),
        ("2 madras", None),
        ("3 double madras", None),
        ("madras 2", None),
        ("draught lager 16", None),
        ("12 gin tonic", None),
        # one, or none of it
        ("1x madras", None),
        ("one madras", None),
        ("madras", None),
        ("madras double", None),
        ("6 pack", None),
        ("0x madras", None),
        ("b-52", None),
        ("50 50 martini", None),
        ("packed lunch", None),
        ("boxer", None),
        ("vodka 0.5 x", None),
        ("", None),
    ],
)
def test_how_many_glasses_a_name_tells_of(said, means):
    found = several(said, NAMES)

    assert (found and (found.each, found.rest)) == means


@pytest.mark.parametrize("word", sorted(w for w, n in COUNTS.items() if n > 1 and w not in AGAIN))
@pytest.mark.parametrize("said", ["{} pp codder", "pp codder {}"])
def test_every_number_that_a_guest_may_say_is_one(word, said):
    found = several(said.format(word))

    assert found is not None
    assert (found.each, found.rest) == (COUNTS[word], "pp codder")


@pytest.mark.parametrize(
    ("said", "sure"), [("2x madras", True), ("two madras", False), ("3 lagers", False)]
)
def test_a_number_alone_may_belong_to_the_name_itself(said, sure):
    assert several(said).is_sure is sure
