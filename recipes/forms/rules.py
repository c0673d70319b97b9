"""What the forms of the house rules share, and the one of pours and money.

Each form asks one section of the rules; what it doesn't ask stays as it is.
"""

from __future__ import annotations

import datetime as dt
from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from typing import Any

from django import forms
from django.forms import BoundField
from django.utils.translation import gettext as _
from django.utils.translation import gettext_lazy as lazy

from recipes.forms.fields import AmountField, EffectField
from recipes.grammar.ingredients import LiquorClass
from recipes.grammar.reasons import Reason, Value
from recipes.grammar.rules import HouseRules, MeasuredBy
from recipes.grammar.units import Unit
from recipes.menu import Menu
from recipes.wording import label

POURED = tuple(c for c in LiquorClass if c is not LiquorClass.SOLID)
POUR_UNITS = (Unit.FLOZ, Unit.ML, Unit.CL, Unit.IMPERIAL_FLOZ)


@dataclass(frozen=True)
class FieldRow:
    """Fields that belong together, under one heading; `note` says more of them."""

    heading: str
    fields: tuple[BoundField, ...]
    note: str = ""

    @property
    def wrong(self) -> bool:
        return any(field.errors for field in self.fields)


class SectionForm(forms.Form):
    """One section of the rules that hold, and from when its changes count.

    `can_join`: its fields stand for the same things whatever a colleague has published, so that
    each can be taken over by itself.
    """

    can_join = True
    takes_effect_at = EffectField(
        help_text=lazy("Leave it empty and the rules count at once. Times are the house's own.")
    )

    def __init__(self, *args: Any, menu: Menu, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        self.menu = menu
        self.rules = menu.rules
        self.add_fields()

    def add_fields(self) -> None:
        """Made from the rules that hold."""

    def changed(self) -> Mapping[str, Any]:
        """Fields of the rules, as the form says them; `CannotBuild` where that can't be."""
        raise NotImplementedError

    def new_rules(self) -> HouseRules:
        """The rules that hold with what the form says of them; call it on a valid form."""
        return HouseRules.model_validate({**self.rules.model_dump(), **self.changed()})

    def told(self) -> tuple[Reason, ...]:
        """What else comes of it, to be said before it is published."""
        return ()

    @property
    def country(self) -> str:
        """Whose measures the page is cautious about."""
        return str(self.menu.venue.country)

    @property
    def takes_effect(self) -> dt.datetime | None:
        found: dt.datetime | None = self.cleaned_data["takes_effect_at"]
        return found

    def field_for(self, code: str, values: Mapping[str, Value]) -> str | None:
        """The field that a refusal of these rules stands beside, if it is of one field."""
        if code == "takes_effect_in_the_past":
            return "takes_effect_at"
        name = self.field_of(code, values)
        return name if name in self.fields else None

    def field_of(self, code: str, values: Mapping[str, Value]) -> str:
        return ""

    def bound(self, stem: str, *ends: str) -> tuple[BoundField, ...]:
        return tuple(self[f"{stem}_{end}"] for end in ends)


class RulesForm(SectionForm):
    """Pours, what they may be off by, and the house's money."""

    def add_fields(self) -> None:
        for kind in POURED:
            self._add_pour(kind)
        self.fields["tolerance"] = AmountField(
            label=_("A pour may be off by"), initial=self.rules.tolerance
        )
        self.fields["tolerance_unit"] = choice(
            _("measured in"), POUR_UNITS, self.rules.tolerance_unit
        )
        self.fields["currency"] = forms.CharField(
            label=_("Money is written"),
            help_text=_("As the house writes it before a price: a sign, or three letters."),
            initial=self.rules.currency,
            max_length=3,
            required=False,
        )

    def _add_pour(self, kind: LiquorClass) -> None:
        rule = self.rules.pours.get(kind)
        self.fields[f"pour_{kind}_amount"] = AmountField(
            label=_("one pour"), required=False, initial=rule and rule.amount
        )
        unit = rule.unit if rule else self.rules.tolerance_unit
        self.fields[f"pour_{kind}_unit"] = choice(_("measured in"), POUR_UNITS, unit)
        by = rule.measured_by if rule else MeasuredBy.JIGGER
        self.fields[f"pour_{kind}_by"] = choice(_("poured"), tuple(MeasuredBy), by)

    def pour_rows(self) -> Iterator[FieldRow]:
        for kind in POURED:
            yield FieldRow(upper(label(kind)), self.bound(f"pour_{kind}", "amount", "unit", "by"))

    def tolerance_row(self) -> FieldRow:
        return FieldRow(_("Tolerance"), (self["tolerance"], self["tolerance_unit"]))

    def changed(self) -> Mapping[str, Any]:
        said = self.cleaned_data
        return {
            "pours": {kind: pour for kind in POURED if (pour := self._pour(kind))},
            "tolerance": said["tolerance"],
            "tolerance_unit": said["tolerance_unit"],
            "currency": said["currency"].strip(),
        }

    def _pour(self, kind: LiquorClass) -> dict[str, Any] | None:
        """None where the house has no pour of this class."""
        said = self.cleaned_data
        if said[f"pour_{kind}_amount"] is None:
            return None
        return {
            "amount": said[f"pour_{kind}_amount"],
            "unit": said[f"pour_{kind}_unit"],
            "measured_by": said[f"pour_{kind}_by"],
        }

    def field_of(self, code: str, values: Mapping[str, Value]) -> str:
        if code == "tolerance_too_large":
            return "tolerance"
        return f"pour_{values.get('liquor_class')}_amount" if code == "no_house_pour" else ""


def choice(title: str, members: tuple[Any, ...], chosen: Any) -> forms.ChoiceField:
    """Never without what is set now, whatever is usually offered."""
    offered = members if chosen in members else (*members, chosen)
    return forms.ChoiceField(
        label=title, choices=[(m.value, label(m)) for m in offered], initial=chosen.value
    )


def upper(text: str) -> str:
    return text[:1].upper() + text[1:]
