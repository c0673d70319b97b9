"""Draws the fields of forms; drop-down lists are put together here.

The framework renders two templates for every option of a list, which on a page with a few lists
takes longer than the rest of the page.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from typing import Any

from django.forms.renderers import DjangoTemplates
from django.http import HttpRequest
from django.utils.formats import localize
from django.utils.html import conditional_escape
from django.utils.safestring import SafeString

SELECT = "django/forms/widgets/select.html"
OPTION = "django/forms/widgets/select_option.html"


class FormRenderer(DjangoTemplates):
    """As the framework's own: the same markup, sooner."""

    def render(
        self, template_name: str, context: dict[str, Any], request: HttpRequest | None = None
    ) -> str:
        if template_name == SELECT and _is_plain(context["widget"]["optgroups"]):
            return SafeString(_select(context["widget"]))
        return super().render(template_name, context, request)


def _is_plain(groups: Iterable[tuple[Any, list[dict[str, Any]], int]]) -> bool:
    return all(o["template_name"] == OPTION for _name, options, _index in groups for o in options)


def _select(widget: Mapping[str, Any]) -> str:
    said = []
    for name, options, _index in widget["optgroups"]:
        inside = "".join(map(_option, options))
        said.append(f'<optgroup label="{_shown(name)}">{inside}</optgroup>' if name else inside)
    name, attributes = _shown(widget["name"]), _attributes(widget["attrs"])
    return f'<select name="{name}"{attributes}>{"".join(said)}</select>'


def _option(option: Mapping[str, Any]) -> str:
    value, attributes = _as_is(option["value"]), _attributes(option["attrs"])
    return f'<option value="{value}"{attributes}>{_shown(option["label"])}</option>'


def _attributes(attributes: Mapping[str, Any]) -> str:
    """What is True stands by its name alone, what is False not at all."""
    return "".join(
        f" {name}" if value is True else f' {name}="{_as_is(value)}"'
        for name, value in attributes.items()
        if value is not False
    )


def _as_is(value: object) -> str:
    """In a value no number gets the reader's commas."""
    return conditional_escape(value if isinstance(value, str) else str(value))


def _shown(value: object) -> str:
    told = localize(value)
    return conditional_escape(told if isinstance(told, str) else str(told))
