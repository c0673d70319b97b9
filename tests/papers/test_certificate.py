"""The certificate as it comes out of the printer."""

import dataclasses
import datetime as dt
import re

import pytest

from barcourse.papers.certificate import address_of, certificate_pdf, facts_of, name_size
from barcourse.papers.shown import OfHundred, PassedModule, SignedDrink
from tests.papers import sheets
from tests.papers.sheets import certificate_facts, codes_on, shown, text_of

MILLIMETRE = 72 / 25.4


def test_it_says_who_is_ready_for_what_and_until_when():
    text = text_of(certificate_pdf(certificate_facts()))

    for words in (
        "Harbour Lights",
        "Nils Aaltonen",
        "Ready · Well",
        "Valid from March 12, 2026",
        "Valid until the end of Sept. 7, 2026",
        "Issued by Marek Olander",
    ):
        assert words in text


def test_the_doubt_stands_beside_the_numbers():
    text = text_of(certificate_pdf(certificate_facts()))

    assert re.search(r"\b88\s*right, likely 81 to 94", text)
    assert re.search(r"\b8\s*would ask first", text)
    assert re.search(r"\b4\s*wrong", text)
    assert "Provisional." in text
    assert "at least 70 right" in text
    assert "at most 10 wrong" in text


def test_only_a_provisional_figure_is_called_so():
    orders = OfHundred(88, 81, 94, 8, 4, 70, 10, provisional=False)
    text = text_of(certificate_pdf(certificate_facts(shown=shown(orders=orders))))

    assert "Provisional" not in text


def test_each_drink_stands_with_its_revision_under_its_day():
    pair = (
        SignedDrink("negroni", "Negroni", 4, "2026-03-10"),
        SignedDrink("sea-breeze", "Sea Breeze", 2, "2026-03-11"),
    )
    text = text_of(certificate_pdf(certificate_facts(shown=shown(drinks=pair))))

    assert "March 10, 2026 Negroni rev. 4 March 11, 2026 Sea Breeze rev. 2" in text
    assert "Service and safety: passed on March 10, 2026" in text


def test_the_stub_has_the_address_the_head_of_the_log_and_the_caution():
    text = text_of(certificate_pdf(certificate_facts()))

    assert sheets.ADDRESS in text
    assert "entry 41, 01234567; in full:" in text
    assert sheets.HEAD.hash in text
    assert "House rules 3" in text
    assert "No legal permit to serve. Local law decides on age, hours and permits." in text


@pytest.mark.parametrize("size", sheets.POINTS)
def test_a_phone_reads_the_address_off_the_page(size):
    assert codes_on(certificate_pdf(certificate_facts(size=size))) == [sheets.ADDRESS]


def test_a_revoked_one_says_so_across_the_page():
    revoked = certificate_pdf(certificate_facts(revoked_on=dt.date(2026, 5, 3)))

    assert "Revoked on May 3, 2026" in text_of(revoked)
    assert "Revoked" not in text_of(certificate_pdf(certificate_facts()))
    assert codes_on(revoked) == [sheets.ADDRESS]


NAMES = {
    "eighty letters": sheets.LONG,
    "eighty wide letters": "W" * 80,
    "one letter": "Q",
    "accents": "Søren Łukasz Nguyễn-Þórðarson",
    "greek and cyrillic": "Ελένη Παπαδοπούλου Олександра",
    "right to left": "محمد الأمين בן־דוד",
    "letters no font here may have": "山田 太郎",
    "markup": "<b>Nils</b> & {{ facts }} 'x'",
}


@pytest.mark.parametrize("size", sheets.POINTS)
@pytest.mark.parametrize("name", NAMES.values(), ids=NAMES)
def test_any_name_makes_one_page(name, size):
    facts = certificate_facts(person=name, house=name, issued_by=name, size=size)
    pdf = certificate_pdf(facts)

    assert sheets.sizes_of(pdf) == {sheets.POINTS[size]}
    assert sheets.pages_of(pdf) == 1
    assert codes_on(pdf) == [sheets.ADDRESS]


@pytest.mark.parametrize("name", ["Søren Łukasz Nguyễn-Þórðarson", "Ελένη Олександра"])
def test_names_of_europe_need_no_font_of_the_machine(name):
    pdf = certificate_pdf(certificate_facts(person=name))

    assert name in text_of(pdf)
    assert all("+Barcourse-Paper" in font.name for font in sheets.fonts_in(pdf))


def test_markup_in_a_name_is_only_letters():
    assert "<b>Nils</b> & {{ facts }}" in text_of(
        certificate_pdf(certificate_facts(person="<b>Nils</b> & {{ facts }}"))
    )


CROWDED = {
    "many short ones": sheets.drinks(120, days=3),
    "a day each": tuple(
        SignedDrink(f"d{n}", f"Drink {n}", 1, f"2026-03-{n:02d}") for n in range(1, 29)
    ),
    "names of eighty letters": tuple(
        SignedDrink(f"d{n}", f"{n:02d} " + "Wm " * 25, 1, "2026-03-09") for n in range(40)
    ),
}


@pytest.mark.parametrize("size", sheets.POINTS)
@pytest.mark.parametrize("person", ["Nils", "Nils Aaltonen of the Harbour", sheets.LONG])
@pytest.mark.parametrize("drinks", CROWDED.values(), ids=CROWDED)
def test_however_many_there_are_they_end_above_the_line_to_sign_on(drinks, person, size):
    what = shown(drinks=drinks, station="The long bar by the east window of the hall")
    pdf = certificate_pdf(certificate_facts(shown=what, person=person, size=size))
    places = sheets.bottoms(pdf)
    listed = [y for text, y in places.items() if text.startswith(("Drink", "rev.", "and ", "Wm"))]
    signed = next(y for text, y in places.items() if "Signed by hand" in text)

    assert listed
    assert min(listed) > signed + 10 * MILLIMETRE


def test_how_many_more_is_said():
    pdf = certificate_pdf(certificate_facts(shown=shown(drinks=sheets.drinks(100, days=1))))
    text = text_of(pdf)
    listed = text.count("Drink number")

    assert 20 < listed < 100
    assert f"and {100 - listed} more" in text


def test_without_drinks_or_modules_there_is_still_a_paper():
    pdf = certificate_pdf(certificate_facts(shown=shown(drinks=(), modules=())))

    assert "Nils Aaltonen" in text_of(pdf)


@pytest.mark.parametrize(
    ("letters", "size"), [(1, ""), (20, ""), (21, "medium"), (44, "medium"), (45, "small")]
)
def test_long_names_are_set_smaller(letters, size):
    assert name_size("n" * letters) == size


CHANGED = {
    "house": "The Anchor Room",
    "person": "Pia",
    "issued_by": "Odalys",
    "issued_at": dt.datetime(2026, 3, 12, 15, 6, tzinfo=dt.UTC),
    "valid_from": dt.date(2026, 3, 13),
    "valid_until": dt.date(2026, 9, 8),
    "shown": shown(station="Beer point"),
    "head": dataclasses.replace(sheets.HEAD, number=42),
    "rules_version": 4,
    "address": "https://bar.example/paper/another/",
    "revoked_on": dt.date(2026, 5, 3),
    "size": "letter",
}


@pytest.mark.parametrize("field", [f.name for f in dataclasses.fields(sheets.certificate_facts())])
def test_every_fact_shows(field):
    """A fact that leaves no mark on the paper would be a fact that nobody can check."""
    changed = dataclasses.replace(certificate_facts(), **{field: CHANGED[field]})

    assert certificate_pdf(changed) != certificate_pdf(certificate_facts())


def test_the_facts_come_from_the_record(certificate, settings):
    settings.BASE_URL = "https://bar.example/"
    facts = facts_of(certificate)

    assert (facts.house, facts.person, facts.issued_by) == ("Harbour Lights", "Nils", "Marek")
    assert facts.address == f"https://bar.example/paper/{certificate.code}/"
    assert facts.head.number == certificate.log_number
    assert facts.size == "a4"
    assert facts.shown.station == "Beer point"
    assert facts_of(certificate, "letter").size == "letter"


def test_the_address_is_never_taken_from_a_request(settings):
    settings.BASE_URL = "https://bar.example"

    assert address_of("abc") == "https://bar.example/paper/abc/"


def test_a_passed_module_is_named_as_it_was_called():
    modules = (PassedModule("s", "Safety first", "2026-02-01"),)
    text = text_of(certificate_pdf(certificate_facts(shown=shown(modules=modules))))

    assert "Safety first: passed on Feb. 1, 2026" in text
