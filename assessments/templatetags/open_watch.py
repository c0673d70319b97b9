"""`{% open_watch %}` in the tag of a form on which a hire is watched: where its taps are kept, and
what was tapped before."""

from __future__ import annotations

from django import template
from django.template import Context
from django.urls import reverse
from django.utils import timezone
from django.utils.html import format_html
from django.utils.safestring import SafeString

from assessments.open_watches import open_at
from assessments.watch_places import address
from barcourse.people.access import HouseRequest

register = template.Library()


@register.simple_tag(takes_context=True)
def open_watch(context: Context) -> SafeString:
    request: HouseRequest = context["request"]
    where = address(request.path, request.META["QUERY_STRING"])
    row = open_at(request.membership, where, timezone.now())
    return format_html(
        ' data-kept-there="{}" data-kept-code="{}" data-kept-before="{}"',
        reverse("keep_watch", kwargs={"house": request.venue.slug}),
        row.code if row else "",
        row.kept if row else "",
    )
