"""What stands on the board many times over."""

from html import escape

from django import template
from django.utils.safestring import SafeString

register = template.Library()


@register.filter
def entries(texts: list[str]) -> SafeString:
    """The entries of a list. A board has thousands, and a template takes ten times as long."""
    return SafeString("".join(f"<li>{escape(text)}</li>" for text in texts))
