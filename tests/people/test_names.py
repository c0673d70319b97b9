"""What may stand in a name. Rules as a table."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from barcourse.people.names import NAME_LENGTH, clean_name, clean_sign_in
from barcourse.people.reasons import Refused


@pytest.mark.parametrize(
    ("typed", "name"),
    [
        ("Nils", "Nils"),
        ("  Pia   Maria ", "Pia Maria"),
        ("Zoë", "Zoë"),
        ("Zoe\u0308", "Zoë"),  # composed, so that both ways of typing it are one name
        ("Ngũgĩ wa Ŧhiong'o", "Ngũgĩ wa Ŧhiong'o"),
        ("李小龍", "李小龍"),
        ("बिमल", "बिमल"),
        ("മീന\u200dാ", "മീന\u200dാ"),  # the joiner belongs to the spelling
        ("a" * NAME_LENGTH, "a" * NAME_LENGTH),
    ],
)
def test_any_script_is_a_name(typed, name):
    assert clean_name(typed) == name


@pytest.mark.parametrize(
    ("typed", "code"),
    [
        ("", "name_missing"),
        ("   ", "name_missing"),
        ("a" * (NAME_LENGTH + 1), "name_too_long"),
        ("Ni\x00ls", "name_control_characters"),
        ("Ni\x07ls", "name_control_characters"),
        ("Ni\tls", "name_control_characters"),
        ("Ni\nls", "name_control_characters"),
        ("Ni\u2028ls", "name_control_characters"),
        ("\u202eslin", "name_control_characters"),  # turns the reading direction round
        ("Ni\u200bls", "name_control_characters"),  # a space of no width
        ("Ni\ud800ls", "name_control_characters"),
        ("Ni\ue000ls", "name_control_characters"),
    ],
)
def test_a_name_is_refused_with_the_reason(typed, code):
    with pytest.raises(Refused) as refused:
        clean_name(typed, "owner_name")

    assert (refused.value.reason.code, refused.value.field) == (code, "owner_name")


@given(st.text(max_size=200))
def test_a_clean_name_stays_as_it_is(typed):
    try:
        name = clean_name(typed)
    except Refused:
        return
    assert clean_name(name) == name
    assert 1 <= len(name) <= NAME_LENGTH


@pytest.mark.parametrize(
    ("typed", "sign_in"),
    [
        ("Nils", "nils"),
        (" NILS@Harbour.Example ", "nils@harbour.example"),
        ("STRAẞE", "strasse"),
        ("ｎｉｌｓ", "nils"),
    ],
)
def test_a_sign_in_name_is_the_same_however_it_is_typed(typed, sign_in):
    assert clean_sign_in(typed) == sign_in


def test_a_sign_in_name_has_no_space_in_it():
    with pytest.raises(Refused) as refused:
        clean_sign_in("nils holm")

    assert refused.value.reason.code == "sign_in_has_space"


def test_a_sign_in_name_that_folding_makes_too_long_is_refused():
    with pytest.raises(Refused) as refused:
        clean_sign_in("ß" * NAME_LENGTH)

    assert refused.value.reason.code == "name_too_long"
