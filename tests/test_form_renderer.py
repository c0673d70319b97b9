"""Drop-down lists are put together by our own code and read as the framework's own."""

import re

import pytest
from django import forms
from django.forms.renderers import DjangoTemplates
from django.utils.safestring import mark_safe
from django.utils.translation import gettext_lazy
from hypothesis import given
from hypothesis import strategies as st

from barcourse.form_renderer import FormRenderer

LABELS = st.one_of(st.text(), st.integers(), st.text().map(mark_safe), st.none())
VALUES = st.one_of(st.text(), st.integers(), st.booleans(), st.none(), st.floats())
ATTRIBUTES = st.dictionaries(
    st.sampled_from(["class", "data-key", "required", "aria-label"]),
    st.one_of(st.booleans(), st.text(), st.integers()),
)
OPTIONS = st.lists(st.tuples(VALUES, LABELS), max_size=4)
CHOICES = st.lists(st.one_of(st.tuples(VALUES, LABELS), st.tuples(st.text(), OPTIONS)), max_size=4)


def alike(html: str) -> str:
    """Between tags the framework leaves line ends."""
    return re.sub(r">\s+<", "><", html.strip())


def both(widget: forms.Select, value: object, attrs: dict[str, object]) -> tuple[str, str]:
    ours = widget.render("a<name>", value, attrs, renderer=FormRenderer())
    theirs = widget.render("a<name>", value, attrs, renderer=DjangoTemplates())
    return ours, theirs


@given(CHOICES, VALUES, ATTRIBUTES)
def test_a_list_reads_as_the_frameworks_own(choices, value, attrs):
    ours, theirs = both(forms.Select(choices=choices), value, attrs)
    assert alike(ours) == alike(theirs)


@given(CHOICES, st.lists(VALUES, max_size=3))
def test_so_does_one_of_which_several_may_be_chosen(choices, values):
    ours, theirs = both(forms.SelectMultiple(choices=choices), values, {})
    assert alike(ours) == alike(theirs)


def test_words_to_be_translated_and_large_numbers_read_as_they_do_there():
    """Labels are told in the reader's way, values never."""
    choices = [("", gettext_lazy("everybody")), (1234567, 1234567), ("<b>", "<b>")]
    ours, theirs = both(forms.Select(choices=choices), "<b>", {"disabled": True})
    assert alike(ours) == alike(theirs)
    assert 'value="1234567"' in ours
    assert '<option value="&lt;b&gt;" selected>&lt;b&gt;</option>' in ours


def test_options_drawn_in_a_way_of_their_own_stay_so():
    class Starred(forms.Select):
        option_template_name = "django/forms/widgets/checkbox_option.html"

    ours, theirs = both(Starred(choices=[("a", "A")]), "a", {})
    assert ours == theirs


@pytest.mark.parametrize("widget", [forms.TextInput, forms.RadioSelect, forms.Textarea])
def test_other_fields_are_the_frameworks(widget):
    one = widget()
    assert one.render("n", "v", {}, renderer=FormRenderer()) == one.render(
        "n", "v", {}, renderer=DjangoTemplates()
    )


def test_the_house_draws_its_forms_with_it():
    assert isinstance(forms.renderers.get_default_renderer(), FormRenderer)
