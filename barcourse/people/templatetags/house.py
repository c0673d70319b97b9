"""`{% load house %}`: the key that makes a form count once, and addresses inside the house."""

from __future__ import annotations

import uuid

from django import template
from django.template import Context
from django.urls import reverse
from django.utils.html import format_html
from django.utils.safestring import SafeString

from barcourse.people.device import device_of

register = template.Library()


@register.simple_tag(takes_context=True)
def form_key(context: Context) -> SafeString:
    """A fresh key as a hidden field; put one in every form that posts."""
    device_of(context["request"])
    return format_html('<input type="hidden" name="form_key" value="{}">', uuid.uuid4())


@register.simple_tag(takes_context=True)
def house_url(context: Context, name: str, *args: object, **kwargs: object) -> str:
    """`{% house_url 'watch_drink' code=hire.code %}`: the page of that name in this house."""
    house = context["request"].venue.slug
    if args:
        return reverse(name, args=(house, *args))
    return reverse(name, kwargs={"house": house, **kwargs})
