"""Every pair of colours that carries words or a state is told apart well enough.

The formula is that of WCAG 2.2 (relative luminance, contrast ratio). Checked against two greys
known at the edge of AA: #767676 on white is 4.54, #777777 on white is 4.48.
"""

import re

import pytest

from tests.look.scan import ROOT

TOKENS = (ROOT / "static/css/tokens.css").read_text()
WORDS, SHAPES = 4.5, 3.0

# What lies on what: text needs 4.5, the edge of a control or a drawing 3.
PAIRS = [
    ("ink", "paper", WORDS),
    ("ink", "paper-2", WORDS),
    ("ink-2", "paper", WORDS),
    ("ink-2", "paper-2", WORDS),
    ("bottle", "paper", WORDS),
    ("bottle", "paper-2", WORDS),
    ("lime", "paper", WORDS),
    ("lime", "paper-2", WORDS),
    ("brick", "paper", WORDS),
    ("brick", "paper-2", WORDS),
    ("paper", "brick", WORDS),
    ("paper", "bottle", WORDS),
    ("bottle-text", "bottle", WORDS),
    ("bottle-text", "bottle-deep", WORDS),
    ("bottle-quiet", "bottle", WORDS),
    ("bottle-quiet", "bottle-deep", WORDS),
    ("brass", "paper", SHAPES),
    ("brass", "paper-2", SHAPES),
    ("brass-hi", "bottle", SHAPES),
    ("brass-hi", "bottle-deep", SHAPES),
    ("paper", "bottle", SHAPES),
]


def luminance(colour):
    digits = colour.removeprefix("#")
    if len(digits) == 3:
        digits = "".join(digit * 2 for digit in digits)
    shares = [int(digits[at : at + 2], 16) / 255 for at in (0, 2, 4)]
    red, green, blue = (s / 12.92 if s <= 0.04045 else ((s + 0.055) / 1.055) ** 2.4 for s in shares)
    return 0.2126 * red + 0.7152 * green + 0.0722 * blue


def contrast(one, other):
    dark, light = sorted((luminance(one), luminance(other)))
    return (light + 0.05) / (dark + 0.05)


def tokens(source):
    return dict(re.findall(r"--([\w-]+):\s*(#[0-9a-f]{3,6});", source))


def moods():
    """The tokens by day, on a phone set to dark, and where more contrast is asked for."""
    by_day, *others = re.split(r"@media", TOKENS)
    day = tokens(by_day)
    found = {"by day": day}
    for block in others:
        found[re.search(r"\((.*?)\)", block)[1]] = day | tokens(block)
    found["both"] = found["prefers-color-scheme: dark"] | tokens(others[-1])
    return found


@pytest.mark.parametrize(
    ("colour", "ratio"),
    [("#767676", 4.54), ("#777777", 4.48), ("#000", 21.0), ("#ffffff", 1.0)],
)
def test_the_formula_gives_the_known_ratios_on_white(colour, ratio):
    assert contrast(colour, "#fff") == pytest.approx(ratio, abs=0.005)


def test_the_tokens_are_read_in_every_mood():
    assert set(moods()) == {
        "by day", "prefers-color-scheme: dark", "prefers-contrast: more", "both",
    }  # fmt: skip
    assert moods()["by day"]["paper"] != moods()["prefers-color-scheme: dark"]["paper"]


@pytest.mark.parametrize("mood", moods())
@pytest.mark.parametrize(("front", "back", "least"), PAIRS)
def test_a_pair_is_told_apart(mood, front, back, least):
    colours = moods()[mood]

    assert contrast(colours[front], colours[back]) >= least


@pytest.mark.parametrize("colour", ["#10332a", "#963420", "#94631c"])
def test_what_the_drawings_draw_with_stands_out_in_the_rack(colour):
    """Drawings carry their colours themselves, because papers show them too."""
    rack = (ROOT / "templates/parts/rack.html").read_text()

    assert colour in rack
    assert colour in tokens(TOKENS).values()
    assert contrast(colour, "#fffdf6") >= SHAPES
