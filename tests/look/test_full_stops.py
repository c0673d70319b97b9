"""One full stop a sentence, and none of its marks after a blank: a time like "6 p.m." has one."""

import re
from pathlib import Path

import pytest

from barcourse.people.templatetags.house import closed
from tests.visiting import slips_in

TEMPLATES = Path(__file__).parents[2] / "templates"
EVERY = sorted(TEMPLATES.rglob("*.html"))
SENTENCE = re.compile(r"\{% blocktranslate([^%]*)%\}(.*?)\{% endblocktranslate %\}(\.?)", re.DOTALL)
HOUR = re.compile(
    r'(\w+)=\S+?\|(?:date:"(?:DATETIME|TIME|SHORT_DATETIME)_FORMAT"|house_moment:venue)(?!\|)'
)


def doubled(source: str) -> list[str]:
    """Sentences in which a full stop of ours would follow a time."""
    return [
        said
        for given, said, after in SENTENCE.findall(source)
        for name in HOUR.findall(given)
        if re.search(r"\{\{ " + name + r" \}\}\.", said + after)
    ]


@pytest.mark.parametrize("path", EVERY, ids=lambda p: str(p.relative_to(TEMPLATES)))
def test_no_full_stop_of_ours_follows_a_time(path):
    assert doubled(path.read_text()) == []


def test_what_would_double_it_is_caught():
    moment = '{% blocktranslate with at=row.at|date:"DATETIME_FORMAT" %}Until {{ at }}'

    assert doubled(moment + ".{% endblocktranslate %}")
    assert doubled(moment + "{% endblocktranslate %}.")
    assert not doubled(moment + "{% endblocktranslate %}")
    assert not doubled(moment.replace('FORMAT"', 'FORMAT"|closed') + ".{% endblocktranslate %}")


@pytest.mark.parametrize(
    ("told", "said"), [("6 p.m.", "6 p.m."), ("noon", "noon."), ("March 6, 2026", "March 6, 2026.")]
)
def test_a_sentence_is_closed_once(told, said):
    assert closed(told) == said


@pytest.mark.parametrize(
    ("page", "slips"),
    [
        ("<p>Until 6 p.m..</p>", ["p.m.."]),
        ("<span>1 of 16</span>\n, 10 minutes", ["16 ,"]),
        ("<p>Wait… or 1.5 cl</p><p>.5</p>", []),
        ("<p>It ends</p>\n<p>, so</p>", []),
        ("<textarea>so ..</textarea>", []),
    ],
)
def test_a_slip_of_the_pen_is_seen_on_a_page(page, slips):
    assert slips_in(page) == slips
