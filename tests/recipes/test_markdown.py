"""Notes and lessons as HTML."""

import re

import pytest
from django.template import Context, Template
from hypothesis import given
from hypothesis import strategies as st

from recipes.markdown import TAGS, notes_html


@pytest.mark.parametrize(
    ("text", "html"),
    [
        ("Ice is *food*.", "<p>Ice is <em>food</em>.</p>"),
        ("- scoop\n- **not** glass", "<ul><li>scoop</li><li><strong>not</strong> glass</li></ul>"),
        ("3. third", '<ol start="3"><li>third</li></ol>'),
        ("> wait", "<blockquote><p>wait</p></blockquote>"),
        (
            "|a|b|\n|-|-:|\n|1|2|",
            (
                "<table><thead><tr><th>a</th><th>b</th></tr></thead>"
                "<tbody><tr><td>1</td><td>2</td></tr></tbody></table>"
            ),
        ),
        ("<b>&", "<p>&lt;b&gt;&amp;</p>"),
    ],
)
def test_what_may_stand_in_notes(text, html):
    assert notes_html(text).replace("\n", "") == html


@pytest.mark.parametrize(
    ("text", "below", "levels"),
    [
        ("# Ice\n## Scoop\n# Glass", 1, "232"),
        ("## Ice\n### Scoop", 1, "23"),
        ("### Ice", 1, "2"),
        ("# Ice\n## Scoop", 2, "34"),
        ("# a\n###### b", 3, "46"),
        ("Setext\n===", 1, "2"),
    ],
)
def test_headings_begin_below_the_page_s_own(text, below, levels):
    assert "".join(re.findall(r"<h(\d)>", notes_html(text, below))) == levels


@pytest.mark.parametrize(
    "text",
    [
        "![a glass](https://elsewhere.example/eye.png)",
        "![a glass](/local.png)",
        "![a glass][eye]\n\n[eye]: https://elsewhere.example/eye.png",
    ],
)
def test_of_a_picture_only_its_words_stay(text):
    assert notes_html(text).strip() == "<p>a glass</p>"


@pytest.mark.parametrize(
    "text",
    [
        "<script>alert(1)</script>",
        "<img src=x onerror=alert(1)>",
        "[tap](javascript:alert(1))",
        "[tap](data:text/html,x)",
        '<a href="x" onclick="y">z</a>',
        "<style>*{}</style>",
        "<iframe src=//elsewhere.example></iframe>",
    ],
)
def test_what_does_harm_is_text_or_gone(text):
    assert set(re.findall(r"<(\w+)", notes_html(text))) <= {"p", "a"}
    assert not re.search(r"<[^>]*(javascript|data:|on\w+=)", notes_html(text))


def test_a_link_takes_nothing_of_the_reader_with_it():
    html = notes_html("[the food code](https://law.example/ice)")

    assert 'href="https://law.example/ice"' in html
    assert 'rel="noopener noreferrer"' in html


@given(st.text(alphabet=st.sampled_from(list("<>&\"'`#*_[]()!|-=+ \nabimgsrcx:/1")), max_size=80))
def test_whatever_is_written_only_known_tags_come_out(text):
    assert {tag.lower() for tag in re.findall(r"</?([a-zA-Z][\w-]*)", notes_html(text))} <= TAGS


def test_the_filter():
    page = Template("{% load drinks %}{{ text|notes }}{{ text|notes:2 }}")

    assert page.render(Context({"text": "# Ice"})) == "<h2>Ice</h2>\n<h3>Ice</h3>\n"
