"""`{% load keep %}`: markup that says the same until something changes is rendered once."""

from __future__ import annotations

from django import template
from django.template import Context
from django.template.base import FilterExpression, NodeList, Parser, Token
from django.utils.safestring import SafeString

from barcourse.people.kept_forms import filled, placeholders

register = template.Library()


class Keep(template.Node):
    def __init__(self, html: FilterExpression, name: str, nodelist: NodeList) -> None:
        self.html, self.name, self.nodelist = html, name, nodelist

    def render(self, context: Context) -> SafeString:
        html: dict[str, str] | None = self.html.resolve(context, ignore_failures=True)
        if html is None:
            return self.nodelist.render(context)
        if self.name not in html:
            with context.push(**placeholders()):
                html[self.name] = self.nodelist.render(context)
        return filled(html[self.name], context)


@register.tag
def keep(parser: Parser, token: Token) -> Keep:
    """`{% keep page.html "rail" %}…{% endkeep %}`: kept by that name in the dictionary `page.html`,
    which lives as long as the page that it is of; without one it is rendered each time. Nothing in
    between may speak of anything but that page: not of the request, a message, a form's errors."""
    _, html, name = token.split_contents()
    nodelist = parser.parse(("endkeep",))
    parser.delete_first_token()
    return Keep(parser.compile_filter(html), name.strip("\"'"), nodelist)
