"""Facts for papers without a database, and readers of PDFs that share nothing with the writer."""

from __future__ import annotations

import datetime as dt
import io
from typing import Any, NamedTuple

import pikepdf
import pypdf
import pypdfium2
import zxingcpp
from django.http import HttpResponse
from django.utils.safestring import mark_safe

from barcourse.papers.certificate import CertificateFacts
from barcourse.papers.handout import DrinkRow, HandoutFacts
from barcourse.papers.house_rules import RuleLines
from barcourse.papers.lookalike_map import Drawn, Line, MapFacts, Pair, Placed
from barcourse.papers.mixed_up import MixedUp
from barcourse.papers.shown import OfHundred, PassedModule, Shown, SignedDrink
from barcourse.papers.ticket import TicketFacts
from barcourse.people.log import Head

ADDRESS = "https://bar.example/paper/abcdefghij0123456789/"
HEAD = Head(41, "0123456789abcdef" * 4)
LONG = "Maximiliana-Konstantina Papadopoulou-Featherstonehaugh of the Outer West Islands"
PICTURE = mark_safe(
    "<svg xmlns='http://www.w3.org/2000/svg' width='9' height='12'><title>A glass.</title></svg>"
)
POINTS = {"a4": (595.28, 841.89), "letter": (612.0, 792.0)}


def drinks(count: int, *, days: int = 3) -> tuple[SignedDrink, ...]:
    return tuple(
        SignedDrink(f"drink-{n}", f"Drink number {n}", 1 + n % 4, f"2026-03-{9 + n % days:02d}")
        for n in range(1, count + 1)
    )


def shown(**said: Any) -> Shown:
    return Shown(
        **{
            "station": "Well",
            "drinks": drinks(8),
            "modules": (PassedModule("service", "Service and safety", "2026-03-10"),),
            "orders": OfHundred(88, 81, 94, 8, 4, 70, 10, provisional=True),
            **said,
        }
    )


def certificate_facts(**said: Any) -> CertificateFacts:
    return CertificateFacts(
        **{
            "house": "Harbour Lights",
            "person": "Nils Aaltonen",
            "issued_by": "Marek Olander",
            "issued_at": dt.datetime(2026, 3, 12, 15, 5, tzinfo=dt.UTC),
            "valid_from": dt.date(2026, 3, 12),
            "valid_until": dt.date(2026, 9, 7),
            "shown": shown(),
            "head": HEAD,
            "rules_version": 3,
            "address": ADDRESS,
            **said,
        }
    )


def handout_facts(**said: Any) -> HandoutFacts:
    cells = (("highball glass, 10 fl oz",), ("1 pour vodka",), ("orange juice",), ("straw",), ())
    return HandoutFacts(
        **{
            "house": "Harbour Lights",
            "module": "Highballs",
            "notes": "## Ice\n\nTo the **top**.",
            "lessons": (("Ice is food", "The scoop, never the glass."),),
            "heads": ("Glass", "Pours", "Mixers", "Finish", "Method"),
            "drinks": (DrinkRow(PICTURE, "Screwdriver", 2, True, cells),),
            "mixed_up": (MixedUp("Sea Breeze", "Bay Breeze", (("Mixers", "a", "b"),)),),
            "rules": (RuleLines("Garnish", (("tonic water", "lime wedge, always"),)),),
            "rules_version": 3,
            "as_of": dt.datetime(2026, 3, 12, 15, 5, tzinfo=dt.UTC),
            **said,
        }
    )


def ticket_facts(**said: Any) -> TicketFacts:
    return TicketFacts(
        **{
            "house": "Harbour Lights",
            "station": "Well",
            "number": 7,
            "rung_up": True,
            "orders": (((2, "Sea Breeze"), (1, "Madras")), ((1, "Gin tonic"),)),
            "errors": ("A pour off", "Rung up wrong"),
            "as_of": dt.datetime(2026, 3, 12, 15, 5, tzinfo=dt.UTC),
            **said,
        }
    )


def map_facts(**said: Any) -> MapFacts:
    breeze = MixedUp("Sea Breeze", "Bay Breeze", (("Mixers", "grapefruit", "pineapple"),))
    drawn = Drawn(
        drinks=(Placed(0, 0, 20, "Sea Breeze", PICTURE), Placed(60, 30, 20, "Bay Breeze", PICTURE)),
        labels=(Placed(34, 20, 18, "1  mixers"),),
        lines=(Line(10, 8, 70, 38),),
        leaders=(Line(40, 23, 43, 22),),
        width=182,
        height=84,
        letter=3.05,
    )
    return MapFacts(
        **{
            "house": "Harbour Lights",
            "module": "Highballs",
            "only_must_knows": True,
            "map": drawn,
            "pairs": (Pair(1, breeze),),
            "rules_version": 3,
            "as_of": dt.datetime(2026, 3, 12, 15, 5, tzinfo=dt.UTC),
            **said,
        }
    )


def text_of(pdf: bytes) -> str:
    """All words, runs of space made one."""
    pages = pypdf.PdfReader(io.BytesIO(pdf)).pages
    return " ".join(" ".join(page.extract_text() for page in pages).split())


def opened(pdf: bytes) -> pikepdf.Pdf:
    return pikepdf.open(io.BytesIO(pdf))


def sizes_of(pdf: bytes) -> set[tuple[float, float]]:
    """Width and height of every page, in points."""
    pages = pypdf.PdfReader(io.BytesIO(pdf)).pages
    return {(round(float(p.mediabox.width), 2), round(float(p.mediabox.height), 2)) for p in pages}


def words(answer: HttpResponse) -> str:
    """A page as one line."""
    return " ".join(answer.content.decode().split())


def pages_of(pdf: bytes) -> int:
    return len(pypdf.PdfReader(io.BytesIO(pdf)).pages)


def codes_on(pdf: bytes) -> list[str]:
    """What a phone reads off the page, at 150 dots an inch."""
    document = pypdfium2.PdfDocument(pdf)
    image = document[0].render(scale=150 / 72).to_pil()
    document.close()
    return [found.text for found in zxingcpp.read_barcodes(image)]


class Font(NamedTuple):
    name: str
    is_inside: bool


def fonts_in(pdf: bytes) -> set[Font]:
    """Every simple font and every descendant of a composite one."""
    found = set()
    with opened(pdf) as document:
        for page in document.pages:
            for font in page.Resources.Font.values():
                for leaf in font.get("/DescendantFonts", [font]):
                    files = {"/FontFile", "/FontFile2", "/FontFile3"}
                    inside = bool(files & set(leaf.FontDescriptor.keys()))
                    found.add(Font(str(leaf.BaseFont), inside))
    return found


def elements(node: pikepdf.Object) -> list[pikepdf.Object]:
    """A structure element and all below it, in reading order."""
    kids = node.get("/K", [])
    below = list(kids) if isinstance(kids, pikepdf.Array) else [kids]
    return [node] + [
        deeper
        for kid in below
        if isinstance(kid, pikepdf.Dictionary) and "/S" in kid
        for deeper in elements(kid)
    ]


def bottoms(pdf: bytes) -> dict[str, float]:
    """Where each run of text on the first page begins, in points from its foot."""
    found: dict[str, float] = {}

    def note(text: str, matrix: list[float], place: list[float], *_rest: object) -> None:
        if text.strip():
            y = place[5] * matrix[3] + matrix[5]
            found.setdefault(text.strip(), y)

    pypdf.PdfReader(io.BytesIO(pdf)).pages[0].extract_text(visitor_text=note)
    return found
