"""A form that two people have open at once, in the views: see `based_on`."""

from __future__ import annotations

from typing import Any, TypeVar

from django import forms
from django.contrib import messages

from barcourse.people.access import HouseRequest
from recipes.based_on import WAS, Since, opened_with, since_opened, taken_over
from recipes.publish import hold

_Form = TypeVar("_Form", bound=forms.BaseForm)


def hold_where_sent(request: HouseRequest) -> None:
    """Before anything is read: what a form is held against mustn't change until it is saved."""
    if request.method == "POST":
        hold(request.venue)


def reopened(request: HouseRequest, form: type[_Form], **told: Any) -> tuple[_Form, Since | None]:
    """The form as it is opened, or as it was sent with what others saved meanwhile. It isn't valid
    while both changed the same thing. Its page carries `form.was` along."""
    now = form(**told)
    if request.method != "POST":
        return _carrying(now, opened_with(now)), None
    since = since_opened(request.POST, now)
    bound = form(since.data, **told)
    since.tell(bound)
    return _carrying(bound, str(since.data[WAS])), since


def say_saved(request: HouseRequest, said: str, since: Since | None) -> None:
    more = taken_over(since) if since else ""
    messages.success(request, f"{said} {more}".strip())


def _carrying(form: _Form, was: str) -> _Form:
    form.was = was  # type: ignore[attr-defined]  # read by the page alone
    return form
