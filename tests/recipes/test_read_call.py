"""Calls heard at a house: the command's contract, its words, and what is out tonight."""

import ast
import datetime as dt
import json
from pathlib import Path

import pytest
from django.core.management import CommandError, call_command
from django.utils.functional import Promise

from recipes import hearing, publish, publish_off, shipped, wording
from recipes.grammar import calls
from recipes.grammar.calls import About, Status
from recipes.grammar.calls.reasoning import CODES
from recipes.grammar.reasons import Reason
from recipes.menu import menu_at
from recipes.models import Ingredient
from recipes.off_tonight import Tonight, standing
from recipes.words_calls import CALLS
from recipes.words_hearing import ask_words, change_words, reading_lines, why_words
from tests.factories.people import OPENED
from tests.factories.recipes import DAY

NOW = OPENED + dt.timedelta(days=3)
REAL_COURSE, REAL_RULES = shipped.shipped_course, shipped.shipped_rules


@pytest.fixture(autouse=True)
def _a_day_later(time_machine):
    time_machine.move_to(OPENED + DAY, tick=False)


@pytest.fixture
def _the_real_course(monkeypatch):
    monkeypatch.setattr(shipped, "shipped_course", REAL_COURSE)
    monkeypatch.setattr(shipped, "shipped_rules", REAL_RULES)


@pytest.fixture
def run(capsys):
    """Exit code, standard output, standard error of the command."""

    def call(*args: str):
        try:
            call_command("read_call", *args)
        except CommandError as refused:
            return refused.returncode, "", str(refused)
        said = capsys.readouterr()
        return 0, said.out, said.err

    return call


def told(run, text):
    code, out, _err = run(text, "--json")
    return code, json.loads(out)


# The command


def test_a_call_in_json(run, odalys):
    code, said = told(run, "double tall vodka cran, no ice")
    [drink] = said.pop("drinks")
    strength = drink.pop("strength")

    assert code == 0
    assert said == {"heard": "double tall vodka cran, no ice", "status": "ready", "ask": [],
                    "read_as": [], "unplaced": [], "did_you_mean": []}  # fmt: skip
    pours = {p["ingredient"]: p for p in drink.pop("parts")}
    assert drink == {
        "count": 1, "recipe": "cape-codder", "name": "Cape codder", "glass": "pint", "ice": "none",
        "method": "build", "rim": None, "straw": True, "changes": ["double", "tall", "no_ice"],
        "garnish": [{"item": "lime", "when": "on_request"}],
    }  # fmt: skip
    # Two US fluid ounces in a US pint without ice: 473.18 - 59.15 = 414.03 ml.
    assert pours == {
        "vodka": {"ingredient": "vodka", "how": "measured", "ml": 59.15},
        "cranberry-juice": {"ingredient": "cranberry-juice", "how": "top", "ml": 414.03},
    }
    assert strength["volume_ml"] == pytest.approx(473.176, abs=0.001)
    assert strength["ethanol_g"] == pytest.approx(59.147 * 0.4 * 0.789, abs=0.01)
    assert set(strength) == {"volume_ml", "abv_percent", "ethanol_g", "standard_drinks"}


def test_a_back_is_told_with_its_glass_and_what_is_in_it(run, odalys):
    [drink] = told(run, "gin tonic with a cola back")[1]["drinks"]

    [back] = drink["beside"]
    assert (back["glass"], [p["ingredient"] for p in back["parts"]]) == ("rocks", ["cola"])
    assert "cola" not in {p["ingredient"] for p in drink["parts"]}
    assert drink["changes"] == ["back:cola"]
    assert "in a glass of its own" in run("gin tonic with a cola back")[1]


def test_less_ice_is_more_mixer_and_weaker(run, odalys):
    [full] = told(run, "vodka cran")[1]["drinks"]
    [none] = told(run, "vodka cran no ice")[1]["drinks"]

    assert none["ice"] == "none"
    assert none["parts"][1]["ml"] > full["parts"][1]["ml"]
    assert none["strength"]["abv_percent"] < full["strength"]["abv_percent"]
    assert none["strength"]["ethanol_g"] == full["strength"]["ethanol_g"]


def test_what_a_guest_wants_on_it_is_always_there(run, odalys):
    [drink] = told(run, "vodka cran with lime")[1]["drinks"]

    assert drink["garnish"] == [{"item": "lime", "when": "always"}]


def test_a_question_has_choices_and_the_place_of_its_drink(run, odalys):
    said = told(run, "a margarita and a double gin tonic")[1]

    assert said["status"] == "ask"
    assert said["ask"] == [{"drink": 1, "about": "size", "choices": ["short", "tall"]}]


@pytest.mark.parametrize("text", ["", "🍺", "פיילה", "zorbleck", "x" * 10_000])
def test_any_text_is_answered(run, odalys, text):
    code, said = told(run, text)

    assert (code, said["status"], said["drinks"]) == (0, "unknown", [])
    assert said["heard"] == text


def test_a_misspelling_is_said_back(run, odalys):
    said = told(run, "margerita")[1]

    assert said["drinks"][0]["recipe"] == "margarita"
    assert said["read_as"] == [{"from": "margerita", "to": "margarita"}]


def test_in_plain_words(run, odalys):
    code, out, _err = run("two vodka cran no ice and a zorbleck")

    assert code == 0
    assert "2 × Cape codder (no ice)" in out
    assert "Not understood: zorbleck" in out
    assert run("")[1].strip() == "Nothing was said."


def test_no_such_house(run, odalys):
    assert run("gin", "--venue", "nowhere")[::2] == (2, "There is no house 'nowhere'.")


def test_sixty_drinks_are_all_there(run, odalys):
    said = told(run, "double tall vodka cran no ice, " * 60)[1]

    assert (said["status"], len(said["drinks"]), said["unplaced"]) == ("ready", 60, [])


def test_a_call_too_long_says_so_and_nothing_is_cut_off(run, odalys):
    text = "vodka cran " * 1000
    said = told(run, text)[1]

    assert (said["status"], said["drinks"], said["ask"]) == ("unknown", [], [])
    assert said["heard"] == text
    assert said["unplaced"] == [text.strip()]
    assert said["too_long"] == {"letters": 11_000, "most": 4000}
    assert "11000 letters, and 4000 is the most" in run(text)[1]


def test_a_call_that_was_read_doesn_t_speak_of_its_length(run, odalys):
    assert "too_long" not in told(run, "vodka cran")[1]


@pytest.mark.usefixtures("_the_real_course", "odalys")
@pytest.mark.parametrize("call", ["premium margarita", "top shelf long island"])
def test_a_drink_whose_bottle_is_asked_is_told_whole(run, call):
    """As the page has it: with the house's own in it, and its strength."""
    [drink] = told(run, call)[1]["drinks"]
    [plain] = told(run, call.split(" ", 2 if "shelf" in call else 1)[-1])[1]["drinks"]

    assert drink["parts"] == plain["parts"]
    assert drink["strength"] == plain["strength"]


@pytest.mark.parametrize("text", ["please", "!?", "   ", "thanks mate"])
def test_a_call_without_a_drink_says_so(run, odalys, text):
    said = told(run, text)[1]

    assert (said["status"], said["drinks"], said["unplaced"]) == ("unknown", [], [])
    said = "Nothing was said." if not text.strip() else "No drink was named."
    assert run(text)[1].strip() == said


# Off the menu


def test_what_was_probably_meant_is_offered_by_slug_and_by_name(run, odalys):
    said = told(run, "a Madrazzo please")[1]

    assert (said["status"], said["unplaced"]) == ("unknown", ["Madrazzo"])
    assert said["did_you_mean"] == ["madras"]
    assert "Did you mean Madras?" in run("a Madrazzo please")[1]


def test_a_drink_that_is_not_on_the_menu_is_not_sold_rather_than_not_understood(run, tamsin):
    standing = dict.fromkeys(("margarita", "cape-codder"), publish.OnMenu.OFF)
    publish.set_menu(by=tamsin, standing=standing, at=OPENED + DAY)
    said = told(run, "a margarita and a vodka and cranberry juice")[1]

    assert said["status"] == "unknown"
    assert said["unplaced"] == ["margarita"]
    assert [d["recipe"] for d in said["drinks"]] == [None]  # made of what is there all the same
    assert said["not_here"] == [{"drink": "Margarita", "why": "not_on_menu"}]
    assert "We don't sell Margarita here." in run("two margaritas")[1]
    assert "We don't sell Cape codder here." in run("vodka cran")[1]  # its other name
    assert "We don't sell Margarita here." in run("margerita")[1]


def test_a_drink_of_the_trade_that_the_house_has_not_is_told_in_json_with_why(run, odalys):
    said = told(run, "a black and tan")[1]

    assert (said["status"], said["not_here"]) == (
        "unknown",
        [{"drink": "black and tan", "why": "not_in_book"}],
    )
    assert "not_here" not in told(run, "margarita")[1]


@pytest.mark.usefixtures("_the_real_course", "odalys")
@pytest.mark.parametrize(
    "call", ["rickey", "double press", "white or dark rum and cola", "vodka with a mixer"]
)
def test_while_it_is_asked_what_goes_in_nobody_knows_how_strong_it_is(run, call):
    [drink] = told(run, call)[1]["drinks"]

    assert drink["strength"] is None
    assert all(p["ml"] is None for p in drink["parts"] if p["how"] == "top")


@pytest.mark.usefixtures("_the_real_course", "odalys")
@pytest.mark.parametrize("call", ["vodka rickey", "vodka soda with a back", "double gin tonic"])
def test_what_is_asked_beside_leaves_the_strength_known(run, call):
    [drink] = told(run, call)[1]["drinks"]

    assert drink["strength"]["ethanol_g"] > 0


@pytest.mark.usefixtures("_the_real_course")
def test_every_drink_of_the_book_answers_to_its_names(odalys):
    menu = menu_at(odalys.venue, NOW)
    for item in menu.items:
        for name in (item.drink.name, *item.drink.aliases):
            reading = hearing.hear_on(name, menu)
            assert [d.recipe for d in reading.drinks] == [item.drink.slug], name
            assert reading.unplaced == ()


# Words


def test_codes_are_what_the_reader_gives():
    folder = Path(calls.__file__).parent
    given = {
        node.args[0].value
        for path in folder.glob("*.py")
        for node in ast.walk(ast.parse(path.read_text()))
        if isinstance(node, ast.Call) and ast.unparse(node.func) == "Reason.of"
    }

    assert given == CODES == CALLS.keys()


def test_all_words_pass_through_translation():
    assert all(isinstance(text, Promise) for text in CALLS.values())
    assert CALLS.items() <= wording.WORDS.items()


REASONS = [
    Reason.of("call_name", said="madras", drink="madras"),
    Reason.of("call_slang", said="cran", ingredient="cranberry-juice"),
    Reason.of("call_other_base", ingredient="gin", instead="vodka"),
    Reason.of("call_word_outdone", said="whiskey", ingredient="gin", instead="vodka"),
    Reason.of("call_other_mixer", ingredient="diet-cola", instead="cola"),
    Reason.of("call_double", pours=2),
    Reason.of("call_tall", glass="pint"),
    Reason.of("call_style", style="neat"),
    Reason.of("call_rule_ice", ice="full"),
    Reason.of("call_rule_pour", ml=29.57),
    Reason.of("call_rule_garnish", rule="tonic"),
]


@pytest.mark.parametrize("reason", REASONS, ids=lambda r: r.code)
def test_why_reads_as_a_sentence(odalys, reason):
    said = why_words(reason, menu_at(odalys.venue, NOW))

    assert said.endswith(".")
    assert "%(" not in said
    assert not any(f"{slug}." in said for slug in ("cranberry-juice", "lime-wedge"))


@pytest.mark.usefixtures("_the_real_course")
def test_the_rule_for_all_that_is_left_is_said_as_one(odalys):
    menu = menu_at(odalys.venue, NOW)
    [rule] = [r for r in menu.rules.garnish if not (r.needs or r.only or r.families)]
    said = why_words(Reason.of("call_rule_garnish", rule=rule.key), menu)

    assert said == "What goes on it: the house's garnish rule for every other drink says so."


@pytest.mark.usefixtures("_the_real_course")
@pytest.mark.parametrize(
    ("text", "asked"),
    [
        ("a large glass of red wine", "The house's glass (5 fl oz) or something else?"),
        ("double gin tonic", "Short or tall?"),
        ("vodka", "How: neat, on the rocks, as a shot or with a mixer?"),
        ("vodka soda", "What on it: lemon wedge or lime wedge?"),
        ("breeze", "Which one: Bay Breeze, Sea Breeze or Coconut Bay Breeze?"),
        ("martini", "Which base: gin or vodka?"),
        ("a bottle of beer", "Which one: Bottled Lager or Light Lager (Bottle)?"),
    ],
)
def test_questions_as_a_bartender_asks_them(odalys, text, asked):
    menu = menu_at(odalys.venue, NOW)
    reading = hearing.hear_on(text, menu)
    [question] = reading.ask

    assert ask_words(question, menu, next(iter(reading.drinks), None)) == asked


@pytest.mark.usefixtures("_the_real_course")
def test_every_reading_of_the_course_is_said_in_words(odalys):
    """Steps, changes, questions and reasons of a call with many of them."""
    menu = menu_at(odalys.venue, NOW)
    text = (
        "two double vodka sodas, one with lemon, gin neat with a water back, breeze, martini, "
        "tall rum and cola extra lime no straw, margerita up, premium gin tonic, zorbleck"
    )
    reading = hearing.hear_on(text, menu)
    lines = reading_lines(reading, menu)
    said = [why_words(r, menu) for d in reading.drinks for r in d.why]
    said += [change_words(c, menu) for d in reading.drinks for c in d.changes]

    assert len(lines) > 20
    assert len(said) > 20
    assert not [line for line in (*lines, *said) if "%(" in line or not line]


# What is out tonight


def out(by, slug, use=None):
    rows = Ingredient.objects.in_house(by.venue)
    stands_in = rows.get(slug=use) if use else None
    publish_off.say_bottle_out(by=by, ingredient=rows.get(slug=slug), substitute=stands_in, at=NOW)


def heard(member, text):
    menu = menu_at(member.venue, NOW)
    return hearing.hear_on(text, menu, Tonight(menu, standing(member.venue)))


def test_what_stands_in_tonight_is_poured(tamsin):
    out(tamsin, "cranberry-juice", "pineapple-juice")
    [drink] = heard(tamsin, "vodka cran").drinks

    assert [p.ingredient for p in drink.spec.parts] == ["vodka", "pineapple-juice"]


def test_a_drink_that_is_off_is_asked_about(tamsin):
    out(tamsin, "cranberry-juice")
    reading = heard(tamsin, "a vodka cran and a margarita")

    assert reading.status is Status.ASK
    [question] = reading.ask
    assert (question.drink, question.about) == (0, About.DRINK)
    assert "cape-codder" not in question.choices
    assert question.choices
    assert "Cape codder is off tonight." in reading_lines(reading, menu_at(tamsin.venue, NOW))


def test_the_one_drink_like_it_is_offered_beside_something_else(tamsin, monkeypatch):
    monkeypatch.setattr(hearing, "OFFERED", 1)
    out(tamsin, "cranberry-juice")
    [question] = heard(tamsin, "a vodka cran").ask

    assert len(question.choices) == 2
    assert question.choices[1] == "none"
    assert ask_words(question, menu_at(tamsin.venue, NOW)).endswith(" or something else?")


def test_a_book_is_made_once_and_anew_when_anything_in_it_changes(tamsin):
    menu = menu_at(tamsin.venue, NOW)
    first = hearing.book_of(menu)

    assert hearing.book_of(menu_at(tamsin.venue, NOW)) is first
    out(tamsin, "cranberry-juice", "pineapple-juice")
    assert hearing.book_of(menu, Tonight(menu, standing(tamsin.venue))) is not first
