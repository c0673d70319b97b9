"""What holds for every paper: its shape, its fonts, and that nothing is fetched from elsewhere."""

import hashlib
import logging
import subprocess
import sys
import threading
from pathlib import Path

import pytest
from django.utils import translation

from barcourse.papers import pdf
from barcourse.papers.certificate import certificate_pdf
from barcourse.papers.handout import handout_pdf
from barcourse.papers.lookalike_map import map_pdf
from barcourse.papers.ticket import ticket_pdf
from tests.papers import sheets

ROOT = Path(__file__).parent.parent.parent
PAPERS = {
    "certificate": lambda **said: certificate_pdf(sheets.certificate_facts(**said)),
    "handout": lambda **said: handout_pdf(sheets.handout_facts(**said)),
    "ticket": lambda **said: ticket_pdf(sheets.ticket_facts(**said)),
    "look-alikes": lambda **said: map_pdf(sheets.map_facts(**said)),
}
every_paper = pytest.mark.parametrize("paper", PAPERS.values(), ids=PAPERS)


@every_paper
def test_the_same_words_give_the_same_bytes(paper):
    assert paper() == paper()


def test_the_same_words_give_the_same_bytes_in_another_process():
    """What was laid out before leaves no trace: the other process draws a handout first."""
    code = (
        "import django; django.setup()\n"
        "import hashlib\n"
        "from barcourse.papers.certificate import certificate_pdf\n"
        "from barcourse.papers.handout import handout_pdf\n"
        "from tests.papers import sheets\n"
        "handout_pdf(sheets.handout_facts())\n"
        "print(hashlib.sha256(certificate_pdf(sheets.certificate_facts())).hexdigest())\n"
    )
    run = subprocess.run(
        [sys.executable, "-c", code], cwd=ROOT, capture_output=True, text=True, check=False
    )

    assert run.stderr == ""
    here = PAPERS["certificate"]()
    assert run.stdout.strip() == hashlib.sha256(here).hexdigest()


def test_papers_drawn_at_once_are_the_same_as_one_after_the_other():
    alone = PAPERS["certificate"]()
    drawn: list[bytes] = []
    threads = [
        threading.Thread(target=lambda: drawn.append(PAPERS["certificate"]())) for _ in range(4)
    ]
    for thread in threads:
        thread.start()
    for thread in threads:
        thread.join()

    assert drawn == [alone] * 4


@every_paper
@pytest.mark.parametrize("size", sheets.POINTS)
def test_paper_has_the_size_asked_for(paper, size):
    assert sheets.sizes_of(paper(size=size)) == {sheets.POINTS[size]}


@every_paper
def test_a_paper_says_its_language_title_and_dates(paper):
    with sheets.opened(paper()) as document:
        info, root = document.docinfo, document.Root
        assert str(root.Lang) == "en"
        assert str(info.Title)
        assert bool(root.ViewerPreferences.DisplayDocTitle)
        assert str(info.CreationDate).startswith("D:20260312150500")
        assert info.CreationDate == info.ModDate
        with document.open_metadata() as xmp:
            assert xmp["pdfuaid:part"] == "1"
            assert xmp["dc:title"] == str(info.Title)


@every_paper
def test_a_paper_is_tagged_and_every_picture_has_words(paper):
    with sheets.opened(paper()) as document:
        root = document.Root
        found = sheets.elements(root.StructTreeRoot.K[0])
        assert bool(root.MarkInfo.Marked)
        kinds = [str(element.S) for element in found]
        headings = [kind for kind in kinds if kind[:2] == "/H"]
        assert headings[0] == "/H1"
        assert headings.count("/H1") == 1
        assert all(str(element.Alt) for element in found if element.S == "/Figure")
        assert all(page.Tabs == "/S" for page in document.pages)


@every_paper
def test_fonts_are_ours_and_inside_the_file(paper):
    fonts = sheets.fonts_in(paper())

    assert len(fonts) == 3  # three weights, nothing of the machine's
    assert all("+Barcourse-Paper" in font.name and font.is_inside for font in fonts)


@every_paper
def test_nothing_in_it_is_strange_to_the_layout(paper, caplog):
    """An unknown property, a picture without words or a file not found would be logged."""
    with caplog.at_level(logging.WARNING, logger="weasyprint"):
        paper()

    assert caplog.messages == []


REFUSED = (
    "file:///etc/passwd",
    "file://" + str(ROOT / "static/fonts/Inter-Regular.woff2"),
    "http://127.0.0.1:8000/static/icons/barcourse.svg",
    "https://bar.example/logo.png",
    "ftp://bar.example/logo.png",
    "data:image/svg+xml,<svg xmlns='http://www.w3.org/2000/svg'/>",
    "paper:../models.py",
    "paper:",
    "",
)


@pytest.mark.parametrize("address", REFUSED)
def test_what_is_not_ours_is_refused(address):
    with pytest.raises(pdf.NotOurs):
        pdf.fetch(address)


def test_what_is_ours_is_a_font_or_a_drawing_of_this_repository():
    assert len(pdf.OURS) >= 8
    for address in pdf.OURS:
        found = pdf.fetch(address)
        path, kind = pdf.OURS[address]
        assert found.read() == path.read_bytes()
        assert path.is_relative_to(ROOT)
        assert kind in {"font/woff2", "image/svg+xml"}


def test_a_picture_from_elsewhere_never_reaches_a_paper(caplog):
    """Notes are the house's own words; one that slipped through is left out and logged."""
    notes = "![a](file:///etc/passwd) <img src='http://bar.example/a.png'> end of notes"
    with caplog.at_level(logging.ERROR, logger="weasyprint"):
        paper = PAPERS["handout"](notes=notes)

    assert "end of notes" in sheets.text_of(paper)
    with sheets.opened(paper) as document:
        images = [image for page in document.pages for image in page.get_images()]
    assert images == []


def test_an_unknown_size_is_no_paper():
    with pytest.raises(KeyError):
        PAPERS["certificate"](size="a5")


def test_the_reader_s_language_and_direction_stand_on_the_paper():
    with translation.override("ar"), sheets.opened(PAPERS["certificate"]()) as document:
        assert str(document.Root.Lang) == "ar"
