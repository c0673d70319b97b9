"""Publishing in two steps: first what would come of it, then, if it is still the same, for good.

The page of the first step carries a digest of what it showed (`seen`). Whoever changes something
and presses "publish" gets the first step once more, and so does whoever was overtaken by a
colleague: nobody publishes over what they haven't seen.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from typing import Any, Protocol

from django.utils.datastructures import MultiValueDict

from recipes.grammar.aspects import fingerprint
from recipes.grammar.reasons import Reason, Value
from recipes.menu import Menu
from recipes.saying import sentences

Sent = Mapping[str, Any]
"""What a form was sent: a QueryDict, or what a form was bound to."""


class Refusable(Protocol):
    """A form that knows beside which of its fields a refusal stands."""

    def field_for(self, code: str, values: Mapping[str, Value]) -> str | None: ...

    def add_error(self, field: str | None, error: Any) -> None: ...


def seen_digest(sent: Sent, published: int) -> str:
    """Of everything that was typed, and how much was `published` before (a count that grows); the
    form's key, its buttons, and the tick that one is sure of what was shown are no part of it."""
    left_out = {
        "csrfmiddlewaretoken",
        "form_key",
        "form_by",
        "seen",
        "look",
        "publish",
        "sure",
        "onto",
    }
    typed = {
        name: [_lines(value) for value in _values(sent, name)]
        for name in sent
        if name not in left_out
    }
    return fingerprint([typed, published])


def _values(sent: Sent, name: str) -> list[str]:
    return sent.getlist(name) if isinstance(sent, MultiValueDict) else [sent[name]]


def _lines(text: str) -> str:
    """A script sends a line's end as it is, a browser's own form as two characters."""
    return text.replace("\r\n", "\n")


def wants_to_publish(sent: Sent, published: int) -> bool:
    """The button was pressed, and what it publishes is what was shown."""
    return "publish" in sent and sent.get("seen") == seen_digest(sent, published)


def put_refusals(
    form: Refusable,
    reasons: Iterable[Reason],
    menu: Menu,
    drinks: Mapping[str, str] | None = None,
) -> None:
    """Each refusal beside its field, those of the whole above the form."""
    beside: dict[str | None, list[Reason]] = {}
    for reason in reasons:
        field = form.field_for(reason.code, reason.values)
        beside.setdefault(field, []).append(reason)
    for field, some in beside.items():
        form.add_error(field, sentences(some, menu, drinks))
