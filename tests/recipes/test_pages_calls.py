"""What guests say, on screen: read, asked back, answered with a tap; and everything that no guest
says."""

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
        ("   ", "Type a call as a guest says it"),
        ("🍋🍹", "Not understood: 🍋"),
        ("جن وتونيك", "Not understood: جن"),
        ("gin tonic xyzzy", "Not understood: xyzzy"),
        ("x" * 10_000, f"A call is {LONGEST} characters at the most"),
        (", ".join(["madras"] * 60), "60 glasses in all"),
        ("60 madras", "60 glasses in all"),
        ("<b>gin</b>", "Not understood"),
        ("gin\0 tonic", "Gin tonic"),
    ],
)
def test_whatever_is_typed_gets_a_clear_answer(hear, call, says):
    answer = hear(call)

    assert answer.status_code == 200
    assert says in text(answer)


def test_a_long_round_shows_its_first_drinks_whole_and_the_rest_as_lines(hear):
    answer = hear(", ".join(["madras"] * 60))

    assert "And also" in text(answer)
    assert answer.content.decode().count(' role="img"') == 8


def test_only_this_page_may_ask_for_the_microphone(visit, nils):
    browser = visit(nils)

    assert "microphone=(self)" in browser.get(CALLS).headers["Permissions-Policy"]
    other = browser.get(reverse("allergens", kwargs={"house": "harbour-lights"}))
    assert "microphone=()" in other.headers["Permissions-Policy"]
