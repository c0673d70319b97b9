"""Markup that is rendered once and shown many times, with what each showing needs of its own: the
token against forged requests and a fresh key a form.
"""

from __future__ import annotations

import secrets
import uuid

from django.template import Context
from django.utils.safestring import SafeString, mark_safe

from barcourse.people.device import device_of

TOKEN_HERE = f"token-{secrets.token_hex(16)}"
KEY_HERE = f"key-{secrets.token_hex(16)}"
"""Stand in kept markup; drawn anew by each process, so that nobody can type one."""

KEEPING = "is_kept_markup"


def placeholders() -> dict[str, object]:
    """What a context takes in for markup that is to be kept."""
    return {"csrf_token": TOKEN_HERE, KEEPING: True}


def filled(kept: str, context: Context) -> SafeString:
    """The kept markup for this request: every form gets a key of its own."""
    first, *others = kept.split(KEY_HERE)
    if others:
        device_of(context["request"])
    made = first + "".join(f"{uuid.uuid4()}{part}" for part in others)
    if TOKEN_HERE in made:
        made = made.replace(TOKEN_HERE, str(context["csrf_token"]))
    return mark_safe(made)  # noqa: S308 - a template made it
