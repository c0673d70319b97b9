"""What guests say, on screen: read, asked back, answered with a tap; and everything that no guest
says."""

import re
import uuid
from html import unescape
from urllib.parse import parse_qs, urlencode, urlparse

import pytest
from django.urls import reverse

from recipes.call_sheet import LONGEST
from tests.recipes.pages import text

CALLS = reverse("calls", kwargs={"house": "harbour-lights"})


@pytest.fixture
def hear(visit, nils):
    browser = visit(nils)

    def heard(call, **said):
        return browser.get(f"{CALLS}?{urlencode({'call': call, **said})}")

    return heard


def test_it_begins_with_how_it_is_done(visit, nils):
    page = text(visit(nils).get(CALLS))

    assert "What does the guest say?" in page
    assert "two gin tonics and a beer" in page


def test_a_call_is_built_with_its_drawing_its_strength_and_every_reason(hear):
    answer = hear("two gin tonics no ice please")
    page = text(answer)

    assert "Ready to build" in page
    assert "2 × Gin tonic no ice" in page
    assert "2 glasses in all" in page
    assert "Why it is this" in page
    assert "“gin tonic” is the name of a drink: Gin tonic." in page
    assert "One pour is" in page
    assert "Alcohol by volume, as served" in page
    assert "never a ground to serve or to drive" in page
    assert ' role="img"' in answer.content.decode()


def test_what_may_have_been_meant_is_offered_and_a_tap_reads_that_call(hear):
    shown = hear("two Madrazzo, no ice, and a gin tonic")
    assert "Did they mean one of these?" in text(shown)
    [query] = re.findall(r'href="[?](call=[^"]*)">Madras<', shown.content.decode())

    [said] = parse_qs(unescape(query))["call"]
    assert said == "two Madras, no ice, and a gin tonic"
    page = text(hear(said))
    assert "Ready to build" in page
    assert "2 × Madras no ice" in page


def test_a_question_names_each_choice_once_where_it_stands_as_a_choice(hear):
    asked = text(hear("rickey")).split("Ask back: ")[1].split("Glass")[0]

    assert asked.startswith("Which base? what drink it is ")
    assert asked.split().count("vodka") == 1


def test_how_strong_an_open_base_is_nobody_knows(hear):
    page = text(hear("rickey"))

    assert "Which base?" in page
    assert "How strong it is, nobody knows before that is answered." in page
    assert "0.0 %" not in page


def test_a_better_bottle_than_there_is_is_asked_and_the_houses_own_is_never_offered_as_one(hear):
    page = text(hear("premium vodka cran"))

    assert "Ask back: Which base? what drink it is the house's own vodka after all" in page
    assert "Shown so far with the house's own vodka: that is still open." in page
    assert "vodka" in page.split("How it is built")[1].split("Strength")[0]


@pytest.mark.parametrize(
    ("call", "left"),
    [("premium vodka cran", ""), ("a madras and a premium vodka cran", "a madras")],
)
def test_something_else_leads_to_the_call_without_that_drink(visit, nils, call, left):
    browser = visit(nils)
    shown = browser.get(f"{CALLS}?{urlencode({'call': call})}")
    [query] = re.findall(r'href="[?]([^"]*choice=none[^"]*)"', shown.content.decode())
    answer = browser.get(f"{CALLS}?{unescape(query)}")

    assert answer.status_code == 302
    assert parse_qs(urlparse(answer.url).query, keep_blank_values=True)["call"] == [left]
    after = text(browser.get(answer.url))
    assert "Something else, then: what does the guest say?" in after
    assert "Ask back" not in after


def test_a_back_is_shown_as_a_step_and_in_the_picture_s_words(hear):
    page = text(answer := hear("gin tonic with a cola back"))

    assert "Beside it, in a glass of its own" in page
    assert "beside it a glass of its own" in answer.content.decode()
    assert "Alcohol besides, in the back" not in page


def test_alcohol_in_a_back_is_told_beside_that_of_the_drink(hear):
    page = text(hear("gin tonic with a vodka back"))
    plain = text(hear("gin tonic"))

    [own] = re.findall(r" Alcohol ([0-9.]+ g)", plain)
    assert f" Alcohol {own}" in page
    [more] = re.findall(r"Alcohol besides, in the back ([0-9.]+) g", page)
    assert float(more) > 0


def test_what_is_open_is_asked_and_a_tap_answers_it(hear, visit, nils):
    page = hear("double gin tonic, a madras")
    assert "Ask first" in text(page)
    assert "Ask back: Short or tall? how it is served" in text(page)

    answer = hear("double gin tonic, a madras", drink=0, about="size", choice="tall")

    assert answer.status_code == 302
    said = parse_qs(urlparse(answer.url).query)["call"][0]
    assert said == "double gin tonic tall, a madras"
    after = text(visit(nils).get(answer.url))
    assert "Ready to build" in after
    assert "Ask back" not in after


@pytest.mark.parametrize(
    "said",
    [
        {"drink": "0", "about": "size", "choice": "enormous"},
        {"drink": "7", "about": "size", "choice": "tall"},
        {"drink": "x", "about": "size", "choice": "tall"},
        {"drink": "0", "about": "weather", "choice": "tall"},
    ],
)
def test_an_answer_to_nothing_leads_back_to_the_call(hear, visit, nils, said):
    answer = hear("double gin tonic", **said)

    assert parse_qs(urlparse(answer.url).query) == {"call": ["double gin tonic"]}


@pytest.mark.parametrize(
    ("call", "says"),
    [
        ("xyzzy", "Not understood: xyzzy"),
        ("   ", "Nobody has said anything yet Type a call as a guest says it"),
        ("🍋🍹", "Not understood: 🍋"),
        ("جن وتونيك", "Not understood: جن"),
        ("gin tonic xyzzy", "Not understood: xyzzy"),
        ("gin tonic xyzzy xyzzy", "Not understood: xyzzy Ask the guest"),
        ("x" * 10_000, f"A call is {LONGEST} characters at the most"),
        (", ".join(["madras"] * 60), "60 glasses in all"),
        ("60 madras", "60 glasses in all"),
        ("<b>gin</b>", "Not understood"),
        ("gin\0 tonic", "Gin tonic"),
    ],
)
def test_whatever_is_typed_gets_a_clear_answer(hear, visit, nils, call, says):
    for answer in (hear(call), visit(nils).send(CALLS, {"call": call})):
        assert answer.status_code == 200
        assert says in text(answer)


def test_an_allergy_leads_to_label_and_manager_and_builds_nothing(hear):
    answer = hear("madras, I have a nut allergy")
    page = text(answer)

    assert "ask the manager before anything is poured" in page
    assert reverse("allergens", kwargs={"house": "harbour-lights"}) in answer.content.decode()
    assert "1 × Madras" not in page
    assert "Never guess" not in page


def test_what_is_sent_is_read_as_often_as_it_is_sent(visit, nils):
    """It writes nothing, so another call under the same key is no other form."""
    browser = visit(nils)
    key = str(uuid.uuid4())
    for call, says in (("madras", "1 × Madras"), ("gin tonic", "1 × Gin tonic")):
        answer = browser.send(CALLS, {"call": call, "form_key": key})

        assert answer.status_code == 200
        assert says in text(answer)


@pytest.mark.parametrize("letters", ["gin tonic ", "جن وتونيك ", "🍋 "])
def test_no_link_is_longer_than_a_server_takes(visit, nils, letters):
    """4094 bytes of a first line are common; the call is read whole all the same."""
    call = ("double gin tonic, xyzzy, " + letters * 200)[:LONGEST]
    page = visit(nils).send(CALLS, {"call": call}).content.decode()

    assert all(len(link) < 4000 for link in re.findall(r'href="([^"]*)"', page))
    assert "xyzzy" in page


def test_a_long_round_shows_its_first_drinks_whole_and_the_rest_as_lines(hear):
    answer = hear(", ".join(["madras"] * 60))

    assert "And also" in text(answer)
    assert answer.content.decode().count(' role="img"') == 8


def test_a_round_of_sixty_said_in_words_is_read(visit, nils):
    """As long as the command reads: 60 drinks with "and a" between them."""
    call = "a " + " and a ".join(["double vodka cran"] * 60)
    answer = visit(nils).send(CALLS, {"call": call})

    assert len(call) > 1000
    assert "60 glasses in all" in text(answer)


def test_glasses_are_not_summed_up_where_one_more_may_be_meant(hear):
    assert "in all" in text(hear("two madras and a gin tonic"))
    assert "in all" not in text(hear("two madras and a gin tonic and a xyzzy"))


def test_only_this_page_may_ask_for_the_microphone(visit, nils):
    browser = visit(nils)

    assert "microphone=(self)" in browser.get(CALLS).headers["Permissions-Policy"]
    other = browser.get(reverse("allergens", kwargs={"house": "harbour-lights"}))
    assert "microphone=()" in other.headers["Permissions-Policy"]
