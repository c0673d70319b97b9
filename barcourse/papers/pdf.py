"""Paper from a template: tagged PDF, the same bytes for the same words, nothing fetched.

The few files that a paper may use stand in a list; WeasyPrint's fetcher here knows no other
address, neither of this machine nor of the network. Fonts come from the repository under a family
name of our own, so that no font of the machine steps in for a letter that ours have.
"""

from __future__ import annotations

import atexit
import threading
from dataclasses import dataclass
from functools import cache
from pathlib import Path
from typing import TYPE_CHECKING, Any

from django.conf import settings
from django.template.loader import render_to_string
from django.utils.translation import get_language, get_language_bidi

if TYPE_CHECKING:
    from weasyprint import CSS
    from weasyprint.text.fonts import FontConfiguration

FAMILY = "Barcourse Paper"
SIZES = {"letter": "letter", "a4": "A4"}
"""Names of paper as a house sets them, and as CSS calls them."""

_HERE = Path(__file__).parent
_FONTS = Path(settings.BASE_DIR) / "static" / "fonts"
_WEIGHTS = {400: "Inter-Regular.woff2", 600: "Inter-SemiBold.woff2", 700: "Inter-Bold.woff2"}

# Everything that a paper may ask for: "paper:" and a name. There is no path to climb out of.
OURS: dict[str, tuple[Path, str]] = {
    **{f"paper:{name}": (_FONTS / name, "font/woff2") for name in _WEIGHTS.values()},
    **{
        f"paper:{path.name}": (path, "image/svg+xml")
        for path in sorted((_HERE / "art").glob("*.svg"))
    },
}


class NotOurs(ValueError):  # noqa: N818  (an answer to WeasyPrint, which logs it and goes on)
    """A paper asked for a file that is none of ours."""


def fetch(url: str) -> Any:
    """The file behind an address in `OURS`. Raises `NotOurs` for every other address."""
    from weasyprint.urls import URLFetcherResponse

    if url not in OURS:
        raise NotOurs(url)
    path, kind = OURS[url]
    return URLFetcherResponse(url, path.read_bytes(), {"Content-Type": kind})


@dataclass(frozen=True)
class Paper:
    """A paper before it is laid out. `dated` is from the record: ISO 8601 with its zone. `places`
    is style for this paper alone: where on it something stands."""

    template: str
    styles: tuple[str, ...]
    size: str
    title: str
    dated: str
    context: dict[str, Any]
    places: str = ""


def to_pdf(paper: Paper) -> bytes:
    """The paper as PDF/UA-1. Equal papers in one language give equal bytes."""
    html = render_to_string(paper.template, _context(paper))
    return printed(html, paper.styles, SIZES[paper.size], paper.places)


def printed(html: str, styles: tuple[str, ...], size: str, places: str) -> bytes:
    """What follows from the words alone: `size` as CSS calls it, `places` style for this paper."""
    from weasyprint import HTML

    with _PRESS:
        press = _press()
        pdf: bytes = HTML(string=html, url_fetcher=fetch).write_pdf(
            stylesheets=press.sheets(styles, size, places),
            font_config=press.fonts,
            pdf_variant="pdf/ua-1",
        )
    return pdf


def _context(paper: Paper) -> dict[str, Any]:
    return {
        **paper.context,
        "title": paper.title,
        "dated": paper.dated,
        "language": get_language() or settings.LANGUAGE_CODE,
        "right_to_left": get_language_bidi(),
    }


# Pango's font map is not made for several threads: one paper at a time in a process.
_PRESS = threading.Lock()


@dataclass
class _Press:
    """Fonts read once a process, and the style sheets parsed against them."""

    fonts: FontConfiguration
    parsed: dict[str, CSS]

    def sheets(self, styles: tuple[str, ...], size: str, places: str) -> list[CSS]:
        sources = {
            "fonts": _font_faces(),
            "base": _css("base.css"),
            **{style: _css(style) for style in styles},
            size: f"@page {{ size: {size} portrait }}",
        }
        found = [self._sheet(name, source) for name, source in sources.items()]
        return [*found, self._parse(places)] if places else found

    def _sheet(self, name: str, source: str) -> CSS:
        if name not in self.parsed:
            self.parsed[name] = self._parse(source)
        return self.parsed[name]

    def _parse(self, source: str) -> CSS:
        from weasyprint import CSS

        return CSS(string=source, url_fetcher=fetch, font_config=self.fonts)


@cache
def _press() -> _Press:
    from weasyprint.text.fonts import FontConfiguration

    for name in _WEIGHTS.values():
        (_FONTS / name).stat()  # without its fonts a paper would come out in some other face
    atexit.register(_press.cache_clear)  # its folder of fonts goes while Python still stands
    return _Press(FontConfiguration(), {})


@cache
def _css(name: str) -> str:
    return (_HERE / "css" / name).read_text(encoding="utf-8")


def _font_faces() -> str:
    return "".join(
        f'@font-face {{ font-family: "{FAMILY}"; font-weight: {weight}; src: url(paper:{name}) }}\n'
        for weight, name in _WEIGHTS.items()
    )
