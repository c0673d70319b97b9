"""Glasses, ice, kinds of drink, garnish and words: a page for each, published in two steps."""

import re

import pytest

from recipes.grammar.rules import Family
from recipes.grammar.spec import Ice
from recipes.menu import menu_at
from recipes.models import RulesVersion
from tests.factories.people import OPENED
from tests.factories.recipes import DAY, change_rules
from tests.grammar import kitchen
from tests.recipes.pages import look_at, publish_at, text, typed

RULES = "/h/harbour-lights/book/rules/"
GLASSES, ICE, KINDS, GARNISH, WORDS = (
    f"{RULES}{page}/" for page in ("glasses", "ice", "kinds", "garnish", "words")
)
NOW = OPENED + DAY


@pytest.fixture(autouse=True)
def _on_a_friday_in_march(time_machine):
    time_machine.move_to(NOW, tick=False)


@pytest.fixture
def browser(visit, tamsin):
    return visit(tamsin)


def rules(member):
    return menu_at(member.venue, NOW).rules


def published(browser, path, **said):
    """Looked at, published, and gone back to the rules."""
    shown = look_at(browser, path, **said)
    answer = publish_at(browser, path, shown)
    assert answer.redirect_chain == [(RULES, 302)], text(shown)
    return shown


def beside(answer, field):
    [found] = re.findall(
        rf'<p class="wrong-text" id="id_{field}_error">(.*?)</p>',
        answer.content.decode(),
        re.DOTALL,
    )
    return found.replace("&#x27;", "'")


@pytest.mark.parametrize("path", [GLASSES, KINDS, GARNISH, WORDS])
def test_sent_as_it_stands_a_page_changes_nothing(browser, tamsin, path):
    assert "These are the rules already. Nothing was published." in text(look_at(browser, path))
    assert RulesVersion.objects.in_house(tamsin.venue).count() == 1


# Glasses


def test_a_glass_is_resized_renamed_and_given_its_ice(browser, tamsin):
    shown = published(
        browser, GLASSES, glass_highball_amount="12", glass_highball_name="Tall tumbler",
        glass_highball_ice="60", glass_highball_stemmed="on",
    )  # fmt: skip

    glass = rules(tamsin).glasses["highball"]
    assert "Highball glass so far 10 fl oz (296 ml) then 12 fl oz (355 ml)" in text(shown)
    assert "What ice takes of the Highball glass so far ½ then 60 %" in text(shown)
    assert (glass.name, glass.amount, glass.ice_share, glass.stemmed) == (
        "Tall tumbler", 12, 0.6, True,
    )  # fmt: skip
    assert rules(tamsin).glasses["rocks"] == kitchen.RULES.glasses["rocks"]


def test_a_glass_is_added_and_taken_away(browser, tamsin):
    published(browser, GLASSES, new_name="Pint tankard", new_amount="1", new_unit="imperial_pint")
    glass = rules(tamsin).glasses["pint-tankard"]
    assert (glass.name, glass.amount, glass.unit, glass.ice_share) == (
        "Pint tankard", 1, "imperial_pint", 0.5,
    )  # fmt: skip

    published(browser, GLASSES, **{"glass_pint-tankard_remove": "on"})
    assert rules(tamsin).glasses == kitchen.RULES.glasses


def test_two_glasses_may_have_one_name(browser, tamsin):
    published(browser, GLASSES, new_name="Pint", new_amount="20")

    assert rules(tamsin).glasses["pint-2"].name == "Pint"


WRONG_GLASSES = [
    ({"glass_pint_amount": ""}, "glass_pint_amount", "How much?"),
    ({"glass_pint_name": ""}, "glass_pint_name", "required"),
    ({"glass_pint_ice": "100"}, "glass_pint_ice", "At most 99, please."),
    ({"glass_highball_amount": "2"}, "glass_highball_amount", "Gin tonic: There is no room"),
    ({"glass_pint_remove": "on"}, "glass_pint_remove", "This house has no glass"),
    ({"new_name": "Boot"}, "new_amount", "needs a name and what it holds"),
    ({"new_amount": "10"}, "new_name", "needs a name and what it holds"),
    ({"new_name": "***", "new_amount": "10"}, "new_name", "with letters"),
]


@pytest.mark.parametrize(("said", "field", "sentence"), WRONG_GLASSES)
def test_a_glass_that_can_not_be_stands_open_with_its_reason(
    browser, tamsin, said, field, sentence
):
    answer = look_at(browser, GLASSES, **said)

    assert sentence in beside(answer, field)
    assert "Publish these rules" not in text(answer)
    assert 'class="fold ruled" open' in answer.content.decode() or field.startswith("new")
    assert RulesVersion.objects.in_house(tamsin.venue).count() == 1


def test_of_many_broken_drinks_only_some_are_named(browser):
    page = text(look_at(browser, GLASSES, glass_highball_amount="2"))

    assert re.search(r"And so it is with \d+ more\.", page)
    assert page.count("There is no room for the top-up") == 5


# The ice of a glass


def test_ice_is_measured_with_water(browser, tamsin):
    """A 10 fl oz glass takes 4 of water beside its ice: 6 of 10 are ice."""
    shown = published(browser, ICE, glass="highball", water="4", water_unit="floz")

    glass = rules(tamsin).glasses["highball"]
    assert (glass.ice_share, glass.ice_measured) == (0.6, True)
    assert "drinks would change nothing is saved yet What ice takes of the" in text(shown)
    assert "full ice takes 60 % of it, measured here" in text(browser.get(RULES))
    assert "Its ice was measured here: it takes 60 percent." in text(browser.get(GLASSES))


def test_a_measured_share_stays_exact_until_it_is_typed_over(browser, tamsin):
    change_rules(tamsin, glasses=_with_highball_ice(0.573))
    published(browser, GLASSES, glass_rocks_amount="10")
    assert rules(tamsin).glasses["highball"].ice_share == 0.573
    assert rules(tamsin).glasses["highball"].ice_measured

    published(browser, GLASSES, glass_highball_ice="58")
    assert rules(tamsin).glasses["highball"].ice_share == 0.58
    assert not rules(tamsin).glasses["highball"].ice_measured


def _with_highball_ice(share):
    glasses = dict(kitchen.RULES.glasses)
    measured = {"ice_share": share, "ice_measured": True}
    glasses["highball"] = glasses["highball"].model_copy(update=measured)
    return glasses


@pytest.mark.parametrize(
    ("water", "unit", "sentence"),
    [
        ("10", "floz", "10 fl oz of water is all that the glass holds without ice (10 fl oz)"),
        ("400", "ml", "is all that the glass holds without ice"),
        ("0", "ml", "More than 0, please"),
        ("-3", "ml", "That is no amount."),
        ("", "ml", "Measure the water that you pour off"),
    ],
)
def test_water_that_can_not_be_is_refused(browser, tamsin, water, unit, sentence):
    answer = look_at(browser, ICE, glass="highball", water=water, water_unit=unit)

    assert sentence in beside(answer, "water")
    assert RulesVersion.objects.in_house(tamsin.venue).count() == 1


# What recipes leave open


def test_kinds_of_drink_have_their_glass_ice_and_straw(browser, tamsin):
    shown = published(
        browser, KINDS, family_highball_glass="pint", family_rocks_ice="crushed",
        straw_families=["shot"], double_pours="3", tall_glass="hurricane", ask_short_or_tall=[],
    )  # fmt: skip
    found = rules(tamsin)

    assert "Glass so far Highball glass then Pint glass" in text(shown)
    assert "Ice so far full ice then crushed ice" in text(shown)
    assert "Straw so far a straw then no straw" in text(shown)
    assert found.default_glass[Family.HIGHBALL] == "pint"
    assert found.default_ice[Family.ROCKS] is Ice.CRUSHED
    assert found.straw_families == (Family.SHOT,)
    assert (found.doubles.pours, found.doubles.tall_glass) == (3, "hurricane")
    assert not found.doubles.ask_short_or_tall


def test_a_kind_in_too_small_a_glass_is_refused_beside_it(browser):
    answer = look_at(browser, KINDS, family_highball_glass="shot")

    assert "in the Shot glass" in beside(answer, "family_highball_glass")


# Garnish, in its order


def test_a_rule_is_edited(browser, tamsin):
    shown = published(browser, GARNISH, g0_garnish="ask lemon\nlime")
    [first, *_rest] = rules(tamsin).garnish

    assert re.search(
        r"Garnish so far lime, always then lime, always; .*lemon.* "
        r"By house rule 1 \(tonic water\)\. \d drinks Gin tonic, ",
        text(shown),
    )
    assert first.key == "tonic-lime"
    assert [(g.item, g.when) for g in first.garnish] == [("lemon", "ask"), ("lime", "always")]
    assert rules(tamsin).garnish[1:] == kitchen.RULES.garnish[1:]


def test_a_rule_is_added_with_a_key_of_its_own(browser, tamsin):
    last = len(kitchen.GARNISH_RULES)
    said = {"needs": "rum, tequila\nfizzy mixer", "only": "on", "families": ["highball"],
            "garnish": "on request mint"}  # fmt: skip
    published(browser, GARNISH, **{f"g{last}_{end}": value for end, value in said.items()})
    rule = rules(tamsin).garnish[-1]

    assert rule.key == "rum-tequila-soda-mixer"
    assert rule.needs == (("rum", "tequila"), ("soda_mixer",))
    assert (rule.only, rule.families) == (True, (Family.HIGHBALL,))
    assert [(g.item, g.when) for g in rule.garnish] == [("mint", "on_request")]


def test_a_rule_is_taken_out(browser, tamsin):
    published(browser, GARNISH, g0_remove="on")

    assert rules(tamsin).garnish == kitchen.RULES.garnish[1:]


@pytest.mark.parametrize(
    ("button", "keys"),
    [({"down": "0"}, [1, 0, 2]), ({"up": "1"}, [1, 0, 2]), ({"up": "2"}, [0, 2, 1])],
)
def test_a_rule_is_moved_without_saving_and_then_published(browser, tamsin, button, keys):
    before = [r.key for r in kitchen.GARNISH_RULES]
    sent = {**typed(browser.get(GARNISH)), **button}
    moved = browser.post(GARNISH, sent)
    assert RulesVersion.objects.in_house(tamsin.venue).count() == 1

    shown = browser.post(GARNISH, {**typed(moved), "look": "1"})
    publish_at(browser, GARNISH, shown)

    assert [r.key for r in rules(tamsin).garnish[:3]] == [before[n] for n in keys]
    assert len(rules(tamsin).garnish) == len(before)


@pytest.mark.parametrize("button", [{"up": "0"}, {"down": "99"}, {"up": "-1"}, {"down": "x"}])
def test_a_rule_that_can_not_be_moved_stays(browser, button):
    page = browser.get(GARNISH)
    moved = browser.post(GARNISH, {**typed(page), **button})

    assert moved.status_code == 200
    assert typed(moved)["g0_key"] == typed(page)["g0_key"]


EVERYTHING = {"key": "every-drink", "garnish": []}


def test_a_new_rule_begins_before_the_one_for_every_drink(browser, tamsin):
    change_rules(tamsin, garnish=[*kitchen.RULES.model_dump()["garnish"], EVERYTHING])
    last = len(kitchen.GARNISH_RULES)
    page = typed(browser.get(GARNISH))
    assert [page[f"g{last}_key"], page[f"g{last + 1}_key"]] == ["", "every-drink"]

    more = typed(browser.post(GARNISH, {**page, "more": "1"}))
    assert [more[f"g{last + n}_key"] for n in range(3)] == ["", "", "every-drink"]

    new = {f"g{last}_needs": "rum", f"g{last}_garnish": "always lime"}
    published(browser, GARNISH, **new)
    assert [rule.key for rule in rules(tamsin).garnish[-2:]] == ["rum", "every-drink"]


def test_another_new_rule_is_begun(browser):
    page = typed(browser.get(GARNISH))
    more = typed(browser.post(GARNISH, {**page, "more": "1"}))

    assert {name for name in more if name.endswith("_key")} - set(page) == {
        f"g{len(kitchen.GARNISH_RULES) + 1}_key"
    }


@pytest.mark.parametrize(
    ("said", "field", "sentence"),
    [
        ({"g0_needs": "moonshine"}, "g0_needs", "“moonshine” is no ingredient, kind or class"),
        ({"g0_garnish": "always umbrella"}, "g0_garnish", "This house has no “umbrella”"),
        ({"g1_families": ["boot"]}, "g1_families", "Select a valid choice"),
    ],
)
def test_a_rule_that_can_not_be_read_stands_open(browser, said, field, sentence):
    answer = look_at(browser, GARNISH, **said)

    assert sentence in beside(answer, field)
    assert f'id="rule-{field[1]}" open' in answer.content.decode()


def test_a_rule_that_never_gets_its_turn_is_pointed_out(browser, tamsin):
    sent = {"g0_needs": "", "g0_garnish": "none"}
    told = (
        "Garnish rule 2 (whiskey with fizzy mixer and nothing else) never gets its turn: "
        "rule 1 (everything) stands before it"
    )
    assert told in text(published(browser, GARNISH, **sent))
    assert told in text(browser.get(RULES))


def test_two_rules_that_contradict_each_other_are_pointed_out(browser):
    last = len(kitchen.GARNISH_RULES)
    said = {f"g{last}_needs": "tonic water", f"g{last}_garnish": "lemon"}
    page = text(look_at(browser, GARNISH, **said))

    assert f"Garnish rules 1 and {last + 1} speak of the same drinks (tonic water)" in page


# Words


def row_of(browser, word, stem="word"):
    """The end of the names of a word's fields."""
    shown = typed(browser.get(WORDS))
    return next(
        n.removeprefix(stem) for n, v in shown.items() if n.startswith(f"{stem}_") and v == word
    )


def pop(**said):
    return {"word_new1": "pop", "means_new1": "Cola", **said}


def test_a_word_is_added_changed_and_dropped_in_its_row(browser, tamsin):
    published(browser, WORDS, **pop(word_new2="cranny", means_new2="cranberry juice"))
    assert rules(tamsin).slang == {"pop": "cola", "cranny": "cranberry-juice"}

    end = row_of(browser, "cranny")
    published(browser, WORDS, **{f"means{end}": "tonic water"})
    assert rules(tamsin).slang == {"pop": "cola", "cranny": "tonic-water"}

    published(browser, WORDS, **{f"word{end}": ""})
    assert rules(tamsin).slang == {"pop": "cola"}


def test_under_each_word_stands_a_call_as_it_is_read_with_it(browser):
    page = text(look_at(browser, WORDS, **pop()))
    assert "“bourbon pop” is read as: Whiskey cola." in page

    published(browser, WORDS, **pop())
    assert "“bourbon pop” is read as:" in text(browser.get(WORDS))


def test_a_word_that_is_somebody_elses_name_is_pointed_out(browser):
    page = text(look_at(browser, WORDS, word_new1="Gin", means_new1="vodka"))

    assert "“Gin” means vodka in your list of words, but gin answers to it too." in page
    assert "Publish these rules" in page


WRONG_WORDS = [
    ({"word_new1": "cran"}, "word_new1", "needs both: the word, and what it means"),
    ({"means_new1": "cola"}, "word_new1", "needs both"),
    (pop(means_new1="moonshine"), "word_new1", "This house has no “moonshine”"),
    (pop(word_new2="POP", means_new2="gin"), "word_new2", "“POP” stands here twice."),
]


@pytest.mark.parametrize(("said", "field", "sentence"), WRONG_WORDS)
def test_a_word_that_can_not_be_taken_says_so_in_its_row(browser, said, field, sentence):
    shown = look_at(browser, WORDS, **said)

    assert sentence in beside(shown, field)
    assert "Line " not in beside(shown, field)
    assert "Publish these rules" not in text(shown)


def buck(**said):
    return {"pattern_new1": "buck", "mixers_new1": "ginger beer, tonic water", **said}


def test_patterns_and_servings_have_rows_too(browser, tamsin):
    shown = published(
        browser, WORDS, **buck(base_new1="gin", garnish_new1="none"),
        serving_new1="short", much_new1="any_spirit",
    )  # fmt: skip

    held = rules(tamsin)
    assert "No drink on the menu would change" in text(shown)
    assert held.patterns["buck"].mixers == ("ginger-beer", "tonic-water")
    assert (held.patterns["buck"].base, held.patterns["buck"].garnish) == ("gin", ())
    assert held.servings == {"short": "any_spirit"}
    back, end = typed(browser.get(WORDS)), row_of(browser, "buck", "pattern")
    assert [back[f"{part}{end}"] for part in ("mixers", "base", "garnish")] == [
        "ginger beer, tonic water", "gin", "none",
    ]  # fmt: skip
    page = text(browser.get(RULES))
    assert "gin where the guest names no base; no garnish ginger beer" in page
    assert "“short” a measure of any spirit" in page


def test_a_garnish_that_no_choice_says_is_kept(browser, tamsin):
    both = [{"item": "lime", "when": "ask"}, {"item": "lemon", "when": "ask"}]
    change_rules(tamsin, patterns={"buck": {"mixers": ["cola"], "garnish": both}})

    published(browser, WORDS, **pop())

    assert [g.item for g in rules(tamsin).patterns["buck"].garnish] == ["lime", "lemon"]


@pytest.mark.parametrize(
    ("said", "field", "sentence"),
    [
        (
            {"pattern_new1": "press", "base_new1": "gin"},
            "pattern_new1",
            "“press” needs both: the word, and what tops the base up",
        ),
        (buck(mixers_new1="moonshine"), "pattern_new1", "This house has no “moonshine”"),
        ({"serving_new1": "short"}, "serving_new1", "and how much it means"),
        (buck(pattern_new1="madras"), "pattern_new1", "the drink Madras is called that already"),
        (buck(pattern_new1="no ice"), "pattern_new1", "guests say that of any drink"),
        (
            {"serving_new1": "gin", "much_new1": "pint"},
            "serving_new1",
            "the ingredient gin is called that already",
        ),
        (
            {**buck(), "serving_new1": "buck", "much_new1": "pint"},
            "serving_new1",
            "it is a word that makes a drink of any base already",
        ),
    ],
)
def test_words_that_somebody_owns_or_nobody_understands(browser, said, field, sentence):
    answer = look_at(browser, WORDS, **said)

    assert sentence in beside(answer, field)
    assert "Publish these rules" not in text(answer)
