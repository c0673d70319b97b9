"""Fields that the forms of the house book share."""

from __future__ import annotations

import datetime as dt
from typing import Any

from django import forms
from django.core.exceptions import ValidationError
from django.utils.translation import gettext_lazy as _

from recipes.grammar.lines import read_amount, write_amount

MOST = 5000
"""No amount in a bar is this large, in whatever unit."""


class AmountField(forms.CharField):
    """A number as people at a bar write it: 1.5, 1,5, ½ or 1 1/2. More than 0."""

    def __init__(self, **kwargs: Any) -> None:
        widget = forms.TextInput(attrs={"inputmode": "decimal", "autocomplete": "off"})
        words = {"required": _("How much? Write 1, 1.5, ½ or 1 1/2.")}
        told = {"max_length": 20, "widget": widget, "error_messages": words}
        super().__init__(**{**told, **kwargs})

    def prepare_value(self, value: Any) -> Any:
        return write_amount(value) if isinstance(value, float) else value

    def to_python(self, value: Any) -> Any:
        text = super().to_python(value)
        if not text:
            return None
        try:
            amount = read_amount(text)
        except ValueError as bad:
            raise ValidationError(_("That is no amount. Write 1, 1.5, ½ or 1 1/2.")) from bad
        if not 0 < amount < MOST:
            raise ValidationError(_("More than 0, please, and no more than fits in a bar."))
        return amount

    def run_validators(self, value: Any) -> None:
        """Those of text, which a number is no longer."""


class _AsWritten(forms.Field):
    """A number with a point or with a comma, as the writer has it, within limits said plainly."""

    def __init__(self, **kwargs: Any) -> None:
        widget = forms.TextInput(attrs={"inputmode": "decimal", "autocomplete": "off"})
        words = {"invalid": _("That is no number. Write 8, 8.5 or 8,5.")}
        super().__init__(**{"widget": widget, "error_messages": words, **kwargs})

    def to_python(self, value: Any) -> Any:
        if isinstance(value, str) and value.count(",") == 1 and "." not in value:
            value = value.replace(",", ".")
        return super().to_python(value)


class NumberField(_AsWritten, forms.FloatField):
    """A plain number: percent, millilitres, a share."""


class SumField(_AsWritten, forms.DecimalField):
    """Money."""


class EffectField(forms.DateTimeField):
    """From when something published counts, on the house's own clock; empty is now."""

    def __init__(self, **kwargs: Any) -> None:
        told = {
            "required": False,
            "label": _("From when"),
            "widget": forms.DateTimeInput(
                attrs={"type": "datetime-local"}, format="%Y-%m-%dT%H:%M"
            ),
        }
        super().__init__(**{**told, **kwargs})

    def to_python(self, value: Any) -> dt.datetime | None:
        """Refuses the hour that the clocks skip and the one that they show twice."""
        try:
            return super().to_python(value)
        except ValidationError as bad:
            if bad.code == "ambiguous_timezone":
                text = _("The clocks change in that hour. Choose another one.")
            else:
                text = _("That is no date and hour.")
            raise ValidationError(text) from bad
