"""Addresses of static files, looked up once a process: every page names a dozen of them.

Files don't change under a running server: a house's are named by their content and collected before
it starts, and in the demo house an address says nothing of the content.
"""

from __future__ import annotations

from typing import Any

from django.contrib.staticfiles.storage import StaticFilesStorage
from whitenoise.storage import (  # type: ignore[import-untyped]
    CompressedManifestStaticFilesStorage,
)


class _Remembered:
    def __init__(self, *args: Any, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        self._addresses: dict[str, str] = {}

    def url(self, name: str | None, *args: Any, **kwargs: Any) -> str:
        if name is None or args or kwargs:
            return str(super().url(name, *args, **kwargs))  # type: ignore[misc]
        if name not in self._addresses:
            self._addresses[name] = str(super().url(name))  # type: ignore[misc]
        return self._addresses[name]


class PlainFiles(_Remembered, StaticFilesStorage):
    """The demo house's."""


class NamedFiles(_Remembered, CompressedManifestStaticFilesStorage):  # type: ignore[misc]
    """A house's: named by content, compressed, none missing."""
