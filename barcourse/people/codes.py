"""Unguessable public codes and invitation tokens."""

from __future__ import annotations

import base64
import hashlib
import secrets


def new_code() -> str:
    """100 random bits as 20 lower-case letters and digits; safe in an address."""
    return base64.b32encode(secrets.token_bytes(13)).decode("ascii").lower()[:20]


def new_token() -> str:
    """128 random bits; handed out once and stored nowhere but as `hash_of_token`."""
    return secrets.token_urlsafe(16)


def hash_of_token(token: str) -> str:
    """A fast hash is enough here: 128 random bits can't be tried one by one."""
    return hashlib.sha256(token.encode()).hexdigest()
