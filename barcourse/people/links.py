"""An invitation's link and its QR code."""

from __future__ import annotations

from dataclasses import dataclass

import segno
from django.conf import settings
from django.urls import reverse
from django.utils.safestring import SafeString, mark_safe

from .models import Invitation


@dataclass(frozen=True)
class Link:
    invitation: Invitation
    url: str
    qr: SafeString


def link_for(invitation: Invitation, token: str) -> Link:
    url = settings.BASE_URL + reverse("join", args=(token,))
    return Link(invitation, url, qr_code(url))


def password_address(token: str) -> str:
    """Where a link to a new password leads."""
    return settings.BASE_URL + reverse("new_password", args=(token,))


def qr_code(text: str) -> SafeString:
    """An inline SVG, dark on white with the quiet zone that readers need. It holds nothing but
    the squares segno draws."""
    code = segno.make(text, error="m", micro=False)
    drawing = code.svg_inline(
        border=4, dark="#000", light="#fff", omitsize=True, svgclass=None, lineclass=None
    )
    return mark_safe(drawing)  # noqa: S308
