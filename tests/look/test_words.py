"""No word reaches a reader without having been offered to a translator."""

import pytest

from tests.look.scan import ROOT, TEMPLATES, bare_words, templates

CAUGHT = {
    "text": ("<p>Start</p>", "Start"),
    "text between tags": ("{% if x %}ready{% else %}{{ y }}{% endif %}", "ready"),
    "a label": ('<button aria-label="Close">+</button>', "Close"),
    "a picture's words": ("<img alt='A glass' src='a'>", "A glass"),
    "a hint": ('<input placeholder="Name">', "Name"),
    "a submit button": ('<input type="submit" value="Save">', "Save"),
    "a heading for phones": ('<td data-label="Missing">', "Missing"),
    "a default": ('<p>{{ name|default:"nobody" }}</p>', "nobody"),
    "an ending": ("{{ n }}{{ n|pluralize:'es' }}", "es"),
    "the first of": ('{% firstof a "none" %}', "none"),
    "letters that are not English": ("<p>{{ a }} für</p>", "für"),
    "an entity": ("<p>&Auml;</p>", "Ä"),
    "what an include is told": ('{% include "x.html" with label="Sea Breeze" %}', "Sea Breeze"),
    "words after a translation": ('{% translate "a" %} b', "b"),
    "words after a long translation": ("{% blocktranslate %}a{% endblocktranslate %} b", "b"),
    "text in a drawing": ("<svg><text>oz</text></svg>", "oz"),
    "text in a strange tag": ("<{% if a %}fieldset{% else %}div{% endif %} class='b'>c</div>", "c"),
}

LET_THROUGH = {
    "translated": '<p>{% translate "Start" %}</p>',
    "translated in a label": """<a aria-label="{% translate 'Start' %}">+</a>""",
    "translated block": "{% blocktranslate with a=b|default:'x' %}{{ a }}y{% endblocktranslate %}",
    "translated block with a percent": "{% blocktranslate %}100 % of it{% endblocktranslate %}",
    "translated default": '{{ a|default:_("none") }}',
    "a variable": "<p>{{ person.name }}, {{ n }} ({{ day|date:'j F' }})</p>",
    "a comment": "{# words #}{% comment %}more words{% endcomment %}<!-- and more -->",
    "codes": '<input type="radio" name="answer" value="ask" class="big">',
    "codes in an include": '{% include "x.html" with standing="ready" label=name name="off" %}',
    "the program's name": "<title>{{ a }} · Barcourse</title>",
    "an attribute's default": """<input type="{{ type|default:'radio' }}">""",
    "a file": """<link href="{% static 'css/base.css' %}"><script src="a.js"></script>""",
    "digits and marks": "<p>12 : 5 + 3 ½ → ✕</p>",
}


@pytest.mark.parametrize(("source", "word"), CAUGHT.values(), ids=CAUGHT)
def test_bare_words_are_caught(source, word):
    found = bare_words(f"<main>\n{source}</main>")

    assert len(found) == 1
    assert word in found[0].what
    assert found[0].line == 2


@pytest.mark.parametrize("source", LET_THROUGH.values(), ids=LET_THROUGH)
def test_what_is_translated_or_no_word_is_let_through(source):
    assert bare_words(source) == []


def test_a_word_is_found_on_its_line_behind_a_long_translation():
    source = (
        "{% blocktranslate %}a\nb{% endblocktranslate %}\n{# c\n#}{% comment %}\n{% endcomment %}d"
    )

    assert [found.line for found in bare_words(source)] == [5]


@pytest.mark.parametrize("path", templates(), ids=lambda path: str(path.relative_to(TEMPLATES)))
def test_a_template_has_no_bare_words(path):
    assert bare_words(path.read_text()) == []


def test_no_template_hides_elsewhere():
    """The scan reads one folder, so there must be no other."""
    apps = [ROOT / name for name in ("barcourse", "recipes", "assessments")]

    assert [path for app in apps for path in app.rglob("templates") if path.is_dir()] == []
