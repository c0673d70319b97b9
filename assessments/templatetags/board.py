"""What stands on the board many times over: drawn or written once and given out again."""

from functools import lru_cache
from html import escape

from django import template
from django.template.loader import render_to_string
from django.utils.safestring import SafeString
from django.utils.translation import get_language

register = template.Library()


@register.simple_tag
def standing(value: str) -> SafeString:
    """See parts/standing.html."""
    return _standing(value, get_language())


@lru_cache(maxsize=100)
def _standing(value: str, _language: str | None) -> SafeString:
    return render_to_string("parts/standing.html", {"standing": value})


@register.filter
def entries(texts: list[str]) -> SafeString:
    """The entries of a list. A board has thousands, and a template takes ten times as long."""
    return SafeString("".join(f"<li>{escape(text)}</li>" for text in texts))
