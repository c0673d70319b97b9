"""What guests say: a glass of which only the size was said keeps it, whichever answer is tapped."""

import re
from html import unescape
from urllib.parse import parse_qs, urlencode

import pytest
from django.urls import reverse

from tests.recipes.pages import text

CALLS = reverse("calls", kwargs={"house": "harbour-lights"})


@pytest.fixture
def taps(visit, nils):
    """The choices that stand below a call, each with the call that a tap leads to."""
    browser = visit(nils)

    def shown(call):
        page = browser.get(f"{CALLS}?{urlencode({'call': call})}").content.decode()
        links = re.findall(r'<a class="do second" href="([?][^"]*call=[^"]*)">([^<]*)</a>', page)
        return {unescape(words): unescape(href) for href, words in links}

    def tapped(call, choice):
        answer = browser.get(f"{CALLS}{shown(call)[choice]}", follow=True)
        last = answer.redirect_chain[-1][0] if answer.redirect_chain else shown(call)[choice]
        return parse_qs(last.partition("?")[2])["call"][0], text(answer)

    tapped.shown = shown
    return tapped


@pytest.mark.parametrize(
    ("call", "choice", "said", "asks"),
    [
        ("madras and a tall", "vodka", "madras and a vodka tall", "Which mixer?"),
        ("madras and a double tall", "vodka", "madras and a double vodka tall", "Which mixer?"),
        ("madras and a double", "gin", "madras and a gin double", "How?"),
        ("madras and a double", "another Madras, double",
         "madras and a double Madras", "Short or tall?"),
        ("gin tonic and a tall", "another Gin tonic, tall", "gin tonic and a tall Gin tonic", ""),
    ],
)  # fmt: skip
def test_a_tap_keeps_every_word(taps, call, choice, said, asks):
    call_after, page = taps(call, choice)

    assert call_after == said
    assert f"Ask back: {asks}" in page if asks else "Ready to build" in page


def test_every_tap_leads_on(taps):
    for call in ("madras and a double tall", "madras and a tall"):
        assert len(taps.shown(call)) > 2
        for choice in taps.shown(call):
            after, page = taps(call, choice)
            assert after != call
            assert {"tall", *after.split()} == set(after.split()), after
            assert "in the guest's own words" not in page


@pytest.mark.parametrize(
    "call",
    [
        "a double",  # of nothing before it
        "madras and a neat",  # no such madras
        "rickey and a double",  # nobody knows of what the first one is
        "madras and a double gin",  # said what it is
    ],
)
def test_one_more_is_offered_only_where_it_may_be(taps, call):
    assert not any(words.startswith("another ") for words in taps.shown(call))


def test_one_more_is_offered_first(taps):
    assert next(iter(taps.shown("two madras and a double"))) == "another Madras, double"
