"""What a hire has said to an entry, in a word, for lists."""

from __future__ import annotations

from collections.abc import Mapping

from django import template

register = template.Library()


@register.filter
def word_for(words: Mapping[str, str] | None, code: str) -> str:
    """`words` by the code of an entry, see `assessments.said.in_a_word`; a list may have none."""
    return words.get(code, "") if words else ""
