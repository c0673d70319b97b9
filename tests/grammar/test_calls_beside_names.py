"""Words beside a name: another base or mixer, a word out of another name, a drink not sold here.

Nothing is silently taken for another drink, and nothing that was said is dropped.
"""

import pytest

from recipes.grammar import calls
from recipes.grammar.calls import Status
from tests.grammar.called import book, smaller_book

US, GB = "us-classic", "great-britain"
UNSOLD = (
    "vodka-martini", "dirty-martini", "onion-martini", "passion-fruit-martini", "french-martini",
    "apple-martini", "lemon-drop-martini", "chocolate-martini", "vodka-collins", "daiquiri",
    "frozen-margarita", "frozen-strawberry-daiquiri", "half-and-half", "washington-apple",
    "vodka-ginger-ale", "snakebite", "snakebite-and-black", "green-tea", "lemon-drop",
)  # fmt: skip


def read(text, preset=US):
    return calls.read(text, smaller_book(preset, *UNSOLD))


def told(reading):
    return [(d.count, d.recipe or d.name, [c.code for c in d.changes]) for d in reading.drinks]


@pytest.mark.parametrize(
    ("text", "strange"),
    [
        ("blended margarita", "blended"), ("frozen margarita", "frozen"),
        ("dark margarita", "dark"), ("white margarita", "white"), ("sweet manhattan", "sweet"),
        ("red margarita", "red"), ("dry margarita", "dry"), ("peach margarita", "peach"),
        ("orange margarita", "orange"), ("black margarita", "black"), ("margarita peach", "peach"),
        ("long vodka", "long"), ("hard vodka", "hard"), ("rum and black", "black"),
        ("gin fizz", "gin fizz"), ("half and half", "half and half"),
        ("strawberry daiquiri", "strawberry daiquiri"), ("large margarita", "large"),
        ("green tea", "green tea"), ("lemon drop", "lemon drop"),
        ("scotch long island", "scotch"), ("manhattan dry", "dry"),
        ("strawberry mojito", "strawberry"),
        ("bloody mary no vodka", "no vodka"), ("gin tonic or madras", "or"),
        ("washington apple", "washington apple"),
    ],
)  # fmt: skip
def test_a_word_of_another_name_is_handed_back(text, strange):
    reading = read(text)

    assert " ".join(reading.unplaced) == strange
    assert reading.status is Status.UNKNOWN
    assert reading.did_you_mean == ()


@pytest.mark.parametrize(
    ("text", "name", "changes"),
    [
        ("vodka martini", "Vodka Martini", ["base:vodka"]),
        ("dirty vodka martini up", "Vodka Martini", ["base:vodka", "dirty"]),
        ("vodka martini, dirty", "Vodka Martini", ["base:vodka", "dirty"]),
        ("vodka collins", "Vodka Collins", ["base:vodka"]),
        ("vodka salty dog", "Salty Dog with vodka", ["base:vodka"]),
        ("salty dog with vodka", "Salty Dog with vodka", ["base:vodka"]),
        ("screwdriver with gin", "gin-and-orange", []),
        ("greyhound with mezcal", "Greyhound with mezcal", ["base:mezcal"]),
        ("rye old fashioned", "Rye Whiskey Old Fashioned", ["base:rye"]),
        ("vodka long island", "long-island-iced-tea", []),
        ("cuba libre with diet", "Cuba Libre with diet cola", ["mixer:diet-cola"]),
        ("diet cuba libre", "Cuba Libre with diet cola", ["mixer:diet-cola"]),
        ("moscow mule with ginger ale", "Moscow Mule with ginger ale", ["mixer:ginger-ale"]),
        ("screwdriver with cranberry", "madras", []),
        ("vodka and ginger ale", "vodka and ginger ale", []),
        ("white rum rickey", "White Rum Rickey", []),
        ("rum and cola with dark rum", "Dark Rum and Cola", ["base:dark-rum"]),
        (
            "paloma with grapefruit juice",
            "Paloma with grapefruit juice",
            ["mixer:grapefruit-juice"],
        ),
        ("gin and tonic with vodka", "vodka-tonic", []),
        ("cranberry vodka soda", "vodka, cranberry juice and club soda", []),
        ("negroni with vodka", "Negroni with vodka", ["base:vodka"]),
    ],
)
def test_another_base_or_mixer_beside_a_name(text, name, changes):
    assert told(read(text)) == [(1, name, changes)]
    assert read(text).unplaced == ()


def test_of_several_drinks_of_a_family_the_base_decides():
    whole = book(US)

    assert told(calls.read("vodka martini", whole)) == [(1, "vodka-martini", [])]
    assert told(calls.read("tequila martini", whole)) == [(1, "Tequila Martini", ["base:tequila"])]
    # Only a gin martini is sold: a vodka martini is made like it, and so both are offered.
    assert [(q.about.value, q.choices) for q in read("martini").ask] == [("base", ("gin", "vodka"))]


def test_a_drink_from_the_blender_is_frozen_or_blended():
    whole = book(US)

    for text in ("blended margarita", "frozen margarita", "margarita, blended"):
        assert told(calls.read(text, whole)) == [(1, "frozen-margarita", [])]
    assert told(calls.read("frozen pina colada", whole)) == [(1, "pina-colada", [])]


@pytest.mark.parametrize(
    ("text", "drinks"),
    [
        ("margaritas x 4", [(4, "margarita", [])]),
        ("g and t's, 2", [(2, "gin-and-tonic", [])]),
        ("margarita (2)", [(2, "margarita", [])]),
        ("gin tonic no ice x2", [(2, "gin-and-tonic", ["no_ice"])]),
        ("a gin tonic and another with no ice",
         [(1, "gin-and-tonic", []), (1, "gin-and-tonic", ["no_ice"])]),
        ("a madras and another", [(2, "madras", [])]),
        ("gin tonic, make that three", [(3, "gin-and-tonic", [])]),
        ("margarita (2), madras", [(2, "margarita", []), (1, "madras", [])]),
        ("gin tonic with lime and lemon",
         [(1, "gin-and-tonic", ["with:lime-wedge", "with:lemon-wedge"])]),
        ("2 VOD CRAN 1 NO ICE", [(1, "cape-codder", []), (1, "cape-codder", ["no_ice"])]),
        ("two gin tonics, make one of those tall",
         [(1, "gin-and-tonic", []), (1, "gin-and-tonic", ["tall"])]),
        ("two vodka sodas, one with lime one with lemon",
         [(1, "vodka-soda", ["with:lime-wedge"]), (1, "vodka-soda", ["with:lemon-wedge"])]),
    ],
)  # fmt: skip
def test_how_many_of_which(text, drinks):
    assert told(read(text)) == drinks
    assert read(text).status is Status.READY


def test_a_spirit_by_itself_is_no_recipe_before_its_style_is_known():
    assert told(read("whiskey")) == [(1, "bourbon", [])]
    assert told(read("whiskey on the rocks")) == [(1, "whiskey-on-the-rocks", [])]


def test_lime_in_a_lager_is_asked():
    [question] = read("lager and lime").ask

    assert (question.about.value, question.choices) == (
        "mixer", ("lime-juice", "lime-cordial", "lime-wedge"),
    )  # fmt: skip


@pytest.mark.parametrize("preset", [US, GB])
def test_and_makes_no_other_drink_of_a_base_and_a_mixer(preset):
    plain, *others = (
        read(t, preset) for t in ("vodka lemonade", "vodka and lemonade", "lemonade vodka")
    )

    for other in others:
        assert other.ask == plain.ask
        assert [(d.recipe, d.spec) for d in other.drinks] == [
            (d.recipe, d.spec) for d in plain.drinks
        ]


def test_two_fruits_that_were_asked_for_are_both_on_it():
    [drink] = read("gin tonic with lime and lemon").drinks

    assert drink.spec is not None
    assert [g.item for g in drink.spec.garnish] == ["lime-wedge", "lemon-wedge"]


def test_a_drink_that_another_is_not_made_of_is_no_part_of_it():
    assert [d.recipe for d in read("lager shandy").drinks] == ["shandy"]
    assert read("cider shandy").unplaced == ("cider",)


def test_a_spirit_that_none_of_a_family_has_is_not_dropped():
    assert "gin" in read("gin breeze").unplaced
    assert [q.about.value for q in read("vodka breeze").ask] == ["drink"]
    assert read("vodka breeze").unplaced == ()
