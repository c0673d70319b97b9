"""Notes and lessons: Markdown as a trainer writes it, into HTML that can't do harm.

HTML in the source is text. Pictures are left out and only their words stay, since one from
elsewhere would tell its owner who reads when. Headings begin below the page's one h1.
"""

from __future__ import annotations

from collections.abc import MutableMapping, Sequence
from functools import lru_cache
from typing import Any

import nh3
from django.utils.safestring import SafeString
from markdown_it import MarkdownIt
from markdown_it.common.utils import escapeHtml
from markdown_it.renderer import RendererHTML
from markdown_it.token import Token
from markdown_it.utils import OptionsDict

TAGS = frozenset({
    "a", "blockquote", "br", "code", "em", "h2", "h3", "h4", "h5", "h6", "hr", "li", "ol", "p",
    "pre", "strong", "table", "tbody", "td", "th", "thead", "tr", "ul",
})  # fmt: skip
_ATTRIBUTES = {"a": {"href", "title"}, "ol": {"start"}}
_SCHEMES = {"http", "https", "mailto", "tel"}
_DEEPEST = 6


def _picture_words(
    self: RendererHTML,
    tokens: Sequence[Token],
    idx: int,
    options: OptionsDict,
    env: MutableMapping[str, Any],
) -> str:
    return escapeHtml(tokens[idx].content)


_MARKDOWN = MarkdownIt("commonmark", {"html": False}).enable("table")
_MARKDOWN.add_render_rule("image", _picture_words)


@lru_cache(maxsize=256)
def notes_html(text: str, below: int = 1) -> SafeString:
    """The text as HTML whose highest heading is one below `below` (1: the page's own h1)."""
    tokens = _MARKDOWN.parse(text)
    _shift_headings(tokens, below)
    html = _MARKDOWN.renderer.render(tokens, _MARKDOWN.options, {})
    clean = nh3.clean(html, tags=set(TAGS), attributes=_ATTRIBUTES, url_schemes=_SCHEMES)
    return SafeString(clean)  # safe: nh3 let through the tags above and nothing else


def _shift_headings(tokens: list[Token], below: int) -> None:
    headings = [t for t in tokens if t.type in ("heading_open", "heading_close")]
    if not headings:
        return
    down = below + 1 - min(int(t.tag[1]) for t in headings)
    for token in headings:
        token.tag = f"h{min(_DEEPEST, int(token.tag[1]) + down)}"
