"""`{% load house %}`: the key that makes a form count once, and addresses inside the house."""

from __future__ import annotations

import datetime as dt
import uuid
from collections.abc import Hashable
from functools import lru_cache

from django import template
from django.conf import settings
from django.contrib.staticfiles.storage import staticfiles_storage
from django.template import Context, Engine
from django.template.loader import render_to_string
from django.urls import get_script_prefix, get_urlconf, reverse
from django.utils.formats import date_format, time_format
from django.utils.html import format_html
from django.utils.safestring import SafeString, mark_safe
from django.utils.translation import get_language, gettext

from barcourse.people.device import device_of
from barcourse.people.kept_forms import KEEPING, KEY_HERE, filled, placeholders
from barcourse.people.models import Venue

register = template.Library()

HIDDEN = '<input type="hidden" name="form_key" value="{}">'
MEANT_FOR = '<input type="hidden" name="form_by" value="{}">'


@register.simple_tag(takes_context=True)
def form_key(context: Context) -> SafeString:
    """A fresh key as a hidden field; put one in every form that posts. Beside it whose page it is,
    so that a form sent after somebody else came in says whose it was."""
    if context.get(KEEPING):
        return format_html(HIDDEN, KEY_HERE)
    device_of(context["request"])
    member = getattr(context["request"], "membership", None)
    key = format_html(HIDDEN, uuid.uuid4())
    return format_html("{}" + MEANT_FOR, key, member.code) if member else key


@register.filter
def house_day(at: dt.date | None, venue: Venue) -> dt.date | None:
    """The business day of the house that a moment belongs to; a day stays as it is."""
    return venue.business_day(at) if isinstance(at, dt.datetime) else at


@register.filter
def house_moment(at: dt.datetime, venue: Venue) -> str:
    """When something was done: the business day, as lists tell it, and the hour on the wall."""
    clock, day = venue.local(at), venue.business_day(at)
    told = {"day": date_format(day, "DATE_FORMAT"), "time": time_format(clock, "TIME_FORMAT")}
    if day < clock.date():
        return gettext("%(day)s, %(time)s after midnight") % told
    return gettext("%(day)s, %(time)s") % told


@register.filter
def closed(told: str) -> str:
    """What ends a sentence, with its full stop: "6 p.m." has one already."""
    return told if told.endswith(".") else f"{told}."


@register.simple_tag
def page_files() -> SafeString:
    """Styles, icons and scripts of every page; the same markup until the files are others."""
    return _page_files(staticfiles_storage.url("css/base.css"))


@lru_cache(maxsize=10)
def _page_files(_files: str) -> SafeString:
    return mark_safe(render_to_string("parts/page_files.html").strip())  # noqa: S308 - our own


@register.simple_tag(takes_context=True)
def page_header(context: Context) -> SafeString:
    """House, person, what is at hand and the rooms: kept by all that it tells."""
    if context.get("membership") is None:
        return _header(context)
    bars = (*context["places"], *context["at_hand"])
    here = tuple((place.url, place.current) for place in bars)
    told = (
        get_language(), gettext("Sign out"), context["venue"].name, context["request"].user.name,
        context["my_page"], context["on_tablet"], here,
    )  # fmt: skip
    if told not in _HEADERS:
        if len(_HEADERS) >= MOST_HEADERS:
            _HEADERS.clear()
        with context.push(**placeholders()):
            _HEADERS[told] = _header(context)
    return filled(_HEADERS[told], context)


MOST_HEADERS = 2000
_HEADERS: dict[Hashable, SafeString] = {}


def _header(context: Context) -> SafeString:
    engine = Engine.get_default()
    return engine.get_template("parts/header.html").render(context)


@register.simple_tag(takes_context=True)
def house_url(context: Context, name: str, *args: object, **kwargs: object) -> str:
    """`{% house_url 'watch_drink' code=hire.code %}`: the page of that name in this house."""
    house = context["request"].venue.slug
    conf = get_urlconf() or settings.ROOT_URLCONF
    return _address(conf, get_script_prefix(), name, (house, *args), tuple(kwargs.items()))


Args = tuple[object, ...]


@lru_cache(maxsize=5000)
def _address(
    conf: str,
    _prefix: str,
    name: str,
    args: tuple[object, ...],
    kwargs: tuple[tuple[str, object], ...],
) -> str:
    """A long list has the same ones each time, and a resolver takes long over each."""
    if not kwargs:
        return reverse(name, conf, args=args)
    house, *_no_others = args
    return reverse(name, conf, kwargs={"house": house, **dict(kwargs)})
