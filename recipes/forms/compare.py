"""Which two revisions to lay side by side."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

from django import forms
from django.utils.translation import gettext_lazy as lazy

from recipes.comparing import title
from recipes.models import Revision

THEN, NOW = "then", "now"


class CompareForm(forms.Form):
    """Unsaid, the newest is compared with the one before it, each under the rules of its time."""

    a = forms.TypedChoiceField(label=lazy("This one"), coerce=int)
    b = forms.TypedChoiceField(label=lazy("with this one"), coerce=int)
    rules = forms.ChoiceField(
        label=lazy("Built under"),
        choices=((THEN, lazy("the house rules of its time")), (NOW, lazy("today's house rules"))),
        widget=forms.RadioSelect,
    )

    def __init__(self, sent: Any, *, revisions: Sequence[Revision]) -> None:
        """`revisions` newest first."""
        numbers = [row.number for row in revisions]
        plain = {"a": str(min(numbers[1:2] or numbers)), "b": str(numbers[0]), "rules": THEN}
        super().__init__({name: sent.get(name) or value for name, value in plain.items()})
        choices = [(row.number, title(row)) for row in revisions]
        for name in ("a", "b"):
            self.fields[name].choices = choices  # type: ignore[attr-defined]  # it has them
