"""Every part renders, says its state in words, and ties what belongs together."""

from html.parser import HTMLParser

import pytest
from django import forms
from django.contrib.auth.models import AnonymousUser
from django.contrib.messages import constants
from django.contrib.messages.storage.base import Message
from django.template.loader import render_to_string
from django.test import RequestFactory
from django.urls import reverse
from django.utils import translation

from barcourse.people.models import Person
from barcourse.people.nav import Place
from tests.look.scan import TEMPLATES

PARTS = sorted(path.name for path in (TEMPLATES / "parts").glob("*.html"))


class Elements(HTMLParser):
    """The start tags of a page as (tag, attributes), and its visible text."""

    def __init__(self, html):
        super().__init__()
        self.tags, self.text, self.open = [], "", []
        self.feed(html)

    def handle_starttag(self, tag, attrs):
        self.tags.append((tag, dict(attrs)))

    def handle_data(self, data):
        self.text += f" {data}"

    def all(self, tag, **wanted):
        return [
            attrs
            for name, attrs in self.tags
            if name == tag and all(attrs.get(key) == value for key, value in wanted.items())
        ]

    def one(self, tag, **wanted):
        (found,) = self.all(tag, **wanted)
        return found

    @property
    def words(self):
        return " ".join(self.text.split())


class HireForm(forms.Form):
    name = forms.CharField(label="Name", help_text="As on the rota.", max_length=5)
    note = forms.CharField(label="Note", required=False)
    role = forms.ChoiceField(
        label="Role", choices=[("a", "trainee"), ("b", "trainer")], widget=forms.RadioSelect
    )
    read = forms.BooleanField(label="I have read it")
    key = forms.CharField(widget=forms.HiddenInput)


def part(name, /, **context):
    return Elements(render_to_string(f"parts/{name}.html", context))


def field(name, data=None):
    return part("field", field=HireForm(data)[name])


def base(**context):
    request = RequestFactory().get("/")
    request.user = context.pop("user", AnonymousUser())
    return Elements(render_to_string("base.html", context, request))


@pytest.mark.parametrize("name", PARTS)
def test_a_part_renders_without_being_told_anything(name):
    """A page that forgets a value shows a gap, never a traceback, never a template's own tags."""
    if name in NEED_THEIRS:
        return
    html = render_to_string(f"parts/{name}", {})

    assert "{%" not in html
    assert "{{" not in html


# A field is nothing without a form's field; it has its own tests below.
NEED_THEIRS = {"field.html"}


@pytest.mark.parametrize("name", PARTS)
def test_a_part_that_pages_use_is_in_the_guide(name):
    inside = {
        "glass.html", "glyph.html", "header.html", "page_files.html", "rooms.html", "slips.html",
        "styles.html", "top.html",
    }  # fmt: skip
    drawn_by_tag = {"rack.html": "{% rack ", "span.html": "{% span "}
    guide = (TEMPLATES.parent / "docs/look.md").read_text()

    assert name in inside or drawn_by_tag.get(name, name) in guide


def test_a_field_ties_its_help_to_its_control():
    page = field("name")

    control = page.one("input")
    assert page.one("label")["for"] == control["id"]
    assert page.one("p", id="id_name_helptext")["class"] == "help"
    assert control["aria-describedby"] == "id_name_helptext"
    assert "aria-invalid" not in control


def test_a_field_in_error_says_so_beside_the_control_and_keeps_what_was_typed():
    page = field("name", {"name": "Somebody"})

    control = page.one("input")
    assert control["aria-invalid"] == "true"
    assert control["aria-describedby"] == "id_name_helptext id_name_error"
    assert control["value"] == "Somebody"
    assert page.one("p", id="id_name_error")["class"] == "wrong-text"
    assert "at most 5 characters" in page.words


def test_only_a_field_that_may_stay_empty_is_marked():
    assert "(if you like)" in field("note").words
    assert "(if you like)" not in field("name").words


def test_radio_buttons_become_choices_with_a_legend_tied_to_their_error():
    page = field("role", {"role": "z"})

    assert len(page.all("label", **{"class": "choice"})) == 2
    assert page.one("fieldset")["aria-describedby"] == "id_role_error"
    assert page.one("p", id="id_role_error")
    assert page.words.startswith("Role trainee trainer")


def test_a_single_checkbox_is_a_choice_with_its_label_said_once():
    page = field("read", {})

    assert page.one("input")["type"] == "checkbox"
    assert page.words.count("I have read it") == 1
    assert page.one("p", id="id_read_error")


def test_a_hidden_field_shows_nothing():
    page = field("key")

    assert page.one("input")["type"] == "hidden"
    assert page.words == ""


def test_a_form_in_error_says_first_that_nothing_was_saved():
    assert part("form", form=HireForm({})).words.startswith("Something below needs another look.")
    assert "another look" not in part("form", form=HireForm()).words


def test_what_is_wrong_with_the_whole_form_is_said_in_its_own_words():
    form = HireForm({"name": "Noor", "role": "a", "read": "on", "key": "x"})
    form.add_error(None, "That link was used already.")

    page = part("form", form=form)

    assert page.all("div", role="alert")
    assert page.words.startswith("That link was used already. Name")


@pytest.mark.parametrize(
    ("standing", "words"), [("ready", "ready"), ("second", "second"), ("not_yet", "not yet")]
)
def test_a_standing_is_a_word_and_a_shape(standing, words):
    page = part("standing", standing=standing)

    assert page.words == words
    assert page.one("svg")["aria-hidden"] == "true"


def test_the_three_standings_have_three_shapes():
    shapes = {
        standing: tuple(path["d"] for path in part("standing", standing=standing).all("path"))
        for standing in ("ready", "second", "not_yet")
    }

    assert len(set(shapes.values())) == 3


def test_a_step_is_a_checkbox_inside_its_label_and_says_when_it_fails_the_build():
    page = part("step", name="off", value="ice", label="Ice with the scoop", fails=True)

    box = page.one("input")
    assert (box["type"], box["name"], box["value"]) == ("checkbox", "off", "ice")
    assert "checked" not in box
    assert page.words == "Ice with the scoop fails off"
    assert "checked" in part("step", label="Ice", checked=True).one("input")
    assert part("step", label="Glass", off="missed").words == "Glass missed"


def test_the_clock_is_a_number_field_until_its_script_runs():
    page = part("clock", value=38)

    box = page.one("input")
    assert (box["type"], box["name"], box["value"]) == ("number", "seconds", "38")
    assert "hidden" in page.one("output")
    assert "hidden" in page.one("button")
    assert part("clock", name="took").one("input")["name"] == "took"
    assert part("clock", value=None).one("input")["value"] == ""


def test_a_clock_at_nought_keeps_its_nought():
    assert part("clock", value=0).one("input")["value"] == "0"


def test_a_choice_is_a_radio_button_unless_told_otherwise():
    assert part("choice", name="a", value="b", label="c").one("input")["type"] == "radio"
    page = part("choice", type="checkbox", name="a", value="b", label="c", checked=True, apart=True)
    assert page.one("input") == {"type": "checkbox", "name": "a", "value": "b", "checked": None}
    assert page.one("label")["class"] == "choice apart"


def test_a_line_escapes_what_people_typed():
    html = render_to_string("parts/line.html", {"label": "<b>Noor</b>", "value": "A & B"})

    assert "&lt;b&gt;Noor" in html
    assert "A &amp; B" in html


def test_a_line_with_an_address_is_a_link():
    assert part("line", label="Madras", value="new", url="/x/").one("a")["href"] == "/x/"
    assert not part("line", label="Madras", value="new").all("a")


def test_the_count_is_in_the_reader_s_order():
    assert part("count", done=3, total=9).words == "3 of 9"


def test_the_base_has_one_main_one_heading_and_a_way_past_the_rooms():
    page = base()

    assert page.one("h1") == {}
    assert page.one("main")["id"] == "main"
    assert page.one("a", href="#main")["class"] == "skip"
    assert page.tags.index(("a", page.one("a", href="#main"))) < page.tags.index(
        ("main", page.one("main"))
    )


def test_the_base_names_the_reader_s_language():
    with translation.override("de"):
        assert base().one("html")["lang"] == "de"


def test_the_base_tells_htmx_to_keep_to_the_policy():
    config = base().one("meta", name="htmx-config")["content"]

    assert config == '{"includeIndicatorStyles": false, "allowEval": false}'


def test_the_rooms_mark_where_the_reader_is():
    page = base(places=[Place("Watch", "/watch/", True), Place("House book", "/book/", False)])

    assert page.one("a", href="/watch/")["aria-current"] == "page"
    assert "aria-current" not in page.one("a", href="/book/")
    assert not base().all("nav")


def test_messages_lie_on_slips_and_are_read_out():
    page = base(messages=[Message(constants.ERROR, "Used already."), Message(25, "Kept.")])

    assert page.one("div", **{"class": "slips"})["role"] == "status"
    assert page.all("p", **{"class": "slip error"})
    assert page.all("p", **{"class": "slip success"})
    assert "Used already." in page.words


def test_who_is_signed_in_stands_beside_the_way_out():
    page = base(user=Person(name="Noor"))

    assert "Noor Sign out" in page.words
    assert page.one("form")["action"] == reverse("sign_out")
    assert page.one("input", name="form_key")["type"] == "hidden"
    assert page.one("input", name="csrfmiddlewaretoken")["value"]
    assert not base().all("form")
