"""What the book says of a drink besides its build: name, place, share and price."""

from __future__ import annotations

import datetime as dt
import re
from decimal import Decimal
from typing import Any

from django import forms
from django.utils.translation import gettext_lazy as lazy

from barcourse.people.models import Venue
from recipes.forms.fields import EffectField, NumberField, SumField
from recipes.models import Module, Recipe
from recipes.publish_recipes import Card

MOST_ALIASES = 12
BETWEEN = "[,;\\n\\r]"
"""What stands between two names: nobody says a comma."""


class MoneyField(SumField):
    """Money of the house, empty where nobody has said."""

    def __init__(self, **kwargs: Any) -> None:
        told = {"required": False, "min_value": Decimal(0), "max_digits": 9, "decimal_places": 2}
        super().__init__(**{**told, **kwargs})


class AliasesField(forms.CharField):
    """Names, one a line or with commas between them; gives a tuple of them."""

    def __init__(self, **kwargs: Any) -> None:
        told: dict[str, Any] = {
            "label": lazy("Other names"),
            "help_text": lazy("One a line: what guests call it, and how they misspell it."),
            "required": False,
            "max_length": 800,
            "widget": forms.Textarea(attrs={"rows": 2, "spellcheck": "false"}),
        }
        super().__init__(**{**told, **kwargs})

    def prepare_value(self, value: Any) -> Any:
        return "\n".join(value) if isinstance(value, list | tuple) else value

    def to_python(self, value: Any) -> Any:
        return super().to_python(value)

    def clean(self, value: Any) -> Any:
        lines = [" ".join(line.split()) for line in re.split(BETWEEN, super().clean(value))]
        found = tuple(line for line in lines if line)
        if len(found) > MOST_ALIASES:
            raise forms.ValidationError(lazy("A dozen other names are enough."))
        if any(len(line) > 80 for line in found):
            raise forms.ValidationError(lazy("A name has at most 80 letters."))
        return found


class CardForm(forms.Form):
    """The card of a drink that the house has, or is about to have."""

    name = forms.CharField(label=lazy("Name of the drink"), max_length=80)
    module = forms.ModelChoiceField(
        label=lazy("Module"), queryset=Module.objects.none(), empty_label=None, to_field_name="slug"
    )
    aliases = AliasesField()
    share = NumberField(
        label=lazy("Share of sales"),
        help_text=lazy(
            "Relative to the others: a drink with 2 sells twice as often as one with 1. What sells "
            "more is asked and watched more."
        ),
        min_value=0,
        max_value=1000,
    )
    price = MoneyField(label=lazy("Price on the menu"))

    def __init__(
        self, *args: Any, venue: Venue, recipe: Recipe | None = None, **kwargs: Any
    ) -> None:
        kwargs["initial"] = {**_card(recipe), **kwargs.get("initial", {})}
        super().__init__(*args, **kwargs)
        self.fields["module"].queryset = Module.objects.in_house(venue)  # type: ignore[attr-defined]

    def card(self) -> Card:
        """What the form says; call it on a valid form."""
        said = self.cleaned_data
        return Card(
            name=" ".join(said["name"].split()),
            module=said["module"],
            aliases=said["aliases"],
            share=said["share"],
            price=said["price"],
        )


class NewCardForm(CardForm):
    """The card of a drink to come, which is the only time when its must-know is asked here."""

    must_know = forms.BooleanField(
        label=lazy("Everybody must know it before they are ready"), required=False
    )


class RetireForm(forms.Form):
    retires_at = EffectField(
        help_text=lazy("Leave it empty and it leaves the menu at once. Times are the house's own.")
    )

    @property
    def moment(self) -> dt.datetime | None:
        found: dt.datetime | None = self.cleaned_data["retires_at"]
        return found


def _card(recipe: Recipe | None) -> dict[str, Any]:
    if recipe is None:
        return {"share": 1}
    return {
        "name": recipe.name,
        "module": recipe.module.slug,
        "aliases": recipe.aliases,
        "share": f"{recipe.share:g}",
        "price": recipe.price,
    }
