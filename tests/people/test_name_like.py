"""What looks like a name in a few words: asked about, never refused."""

import pytest

from barcourse.people.name_like import name_like


@pytest.mark.parametrize(
    ("words", "found"),
    [
        ("Tom Baker was loud", "Tom Baker"),
        ("loud, tall: Anne-Marie O'Neill", "Anne-Marie O'Neill"),
        ("He left. Jo Éclair came back", "Jo Éclair"),
        ("mr. Smith", "mr. Smith"),
        ("Dr Weiß fell", "Dr Weiß"),
        ("asked Miss Green to leave", "Miss Green"),
        ("Asked Tom to leave", "Asked Tom"),
        ("Łukasz Żak", "Łukasz Żak"),
        ("", ""),
        ("No ID at all", ""),
        ("A group of four, sent home by taxi. Water given.", ""),
        ("drunk. Left in a cab", ""),
        ("would miss the last bus", ""),
        ("On Friday at the Service Bar", ""),
        ("Red coat\nTaxi called", ""),
        ("I don't know", ""),
    ],
)
def test_a_title_or_two_capital_letters_in_a_row(words, found):
    assert name_like(words, ["Friday", "Service", "Bar"]) == found


def test_no_text_is_too_long_for_it():
    assert name_like("a " * 5000 + "Tom Baker") == "Tom Baker"
