"""The form on which the house rules are changed. What it doesn't ask stays as it is."""

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
from recipes.grammar.reasons import Value
from recipes.grammar.rules import Family, HouseRules, MeasuredBy
from recipes.grammar.units import Unit
from recipes.wording import label

POURED = tuple(c for c in LiquorClass if c is not LiquorClass.SOLID)
POUR_UNITS = (Unit.FLOZ, Unit.ML, Unit.CL, Unit.IMPERIAL_FLOZ)
GLASS_UNITS = (*POUR_UNITS, Unit.US_PINT, Unit.IMPERIAL_PINT)


@dataclass(frozen=True)
class FieldRow:
    """Fields that belong together, under one heading."""

    heading: str
    fields: tuple[BoundField, ...]


class RulesForm(forms.Form):
    """Fields are made from the rules that hold: a row for each class of pour and each glass."""

    takes_effect_at = EffectField(
        help_text=lazy("Leave it empty and the rules count at once. Times are the house's own.")
    )

    def __init__(self, *args: Any, rules: HouseRules, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        self.rules = rules
        for kind in POURED:
            self._add_pour(kind)
        for key in rules.glasses:
            self._add_glass(key)
        self.fields["tolerance"] = AmountField(
            label=_("A pour may be off by"), initial=rules.tolerance
        )
        self.fields["tolerance_unit"] = _choice(_("measured in"), POUR_UNITS, rules.tolerance_unit)
        self.fields["straw_families"] = forms.MultipleChoiceField(
            label=_("A straw goes into"),
            help_text=_("Unless a recipe says otherwise. Local law may say which kind of straw."),
            choices=[(family.value, label(family)) for family in Family],
            initial=[family.value for family in rules.straw_families],
            widget=forms.CheckboxSelectMultiple,
            required=False,
        )

    def _add_pour(self, kind: LiquorClass) -> None:
        rule = self.rules.pours.get(kind)
        self.fields[f"pour_{kind}_amount"] = AmountField(
            label=_("one pour"), required=False, initial=rule and rule.amount
        )
        unit = rule.unit if rule else self.rules.tolerance_unit
        self.fields[f"pour_{kind}_unit"] = _choice(_("measured in"), POUR_UNITS, unit)
        by = rule.measured_by if rule else MeasuredBy.JIGGER
        self.fields[f"pour_{kind}_by"] = _choice(_("poured"), tuple(MeasuredBy), by)

    def _add_glass(self, key: str) -> None:
        glass = self.rules.glasses[key]
        self.fields[f"glass_{key}_amount"] = AmountField(label=_("holds"), initial=glass.amount)
        self.fields[f"glass_{key}_unit"] = _choice(_("measured in"), GLASS_UNITS, glass.unit)

    def pour_rows(self) -> Iterator[FieldRow]:
        for kind in POURED:
            yield FieldRow(_upper(label(kind)), self._bound(f"pour_{kind}", "amount", "unit", "by"))

    def glass_rows(self) -> Iterator[FieldRow]:
        for key, glass in self.rules.glasses.items():
            yield FieldRow(glass.name, self._bound(f"glass_{key}", "amount", "unit"))

    def tolerance_row(self) -> FieldRow:
        return FieldRow(_("Tolerance"), (self["tolerance"], self["tolerance_unit"]))

    def _bound(self, stem: str, *ends: str) -> tuple[BoundField, ...]:
        return tuple(self[f"{stem}_{end}"] for end in ends)

    @property
    def takes_effect(self) -> dt.datetime | None:
        found: dt.datetime | None = self.cleaned_data["takes_effect_at"]
        return found

    def new_rules(self) -> HouseRules:
        """The rules that hold with what the form says of them; call it on a valid form."""
        said = self.cleaned_data
        glasses = {
            key: {
                **glass.model_dump(),
                "amount": said[f"glass_{key}_amount"],
                "unit": said[f"glass_{key}_unit"],
            }
            for key, glass in self.rules.glasses.items()
        }
        changed = {
            "pours": {kind: pour for kind in POURED if (pour := self._pour(kind))},
            "glasses": glasses,
            "tolerance": said["tolerance"],
            "tolerance_unit": said["tolerance_unit"],
            "straw_families": [f for f in Family if f.value in said["straw_families"]],
        }
        return HouseRules.model_validate({**self.rules.model_dump(), **changed})

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

    def field_for(self, code: str, values: Mapping[str, Value]) -> str | None:
        """The field that a refusal of these rules stands beside, if it is of one field."""
        if code == "takes_effect_in_the_past":
            return "takes_effect_at"
        stem = {"over_full": "glass", "no_room_to_top": "glass", "no_house_pour": "liquor_class"}
        named = values.get(stem.get(code, ""))
        name = f"glass_{named}_amount" if code != "no_house_pour" else f"pour_{named}_amount"
        return name if name in self.fields else None


def _choice(title: str, members: tuple[Any, ...], chosen: Any) -> forms.ChoiceField:
    """Never without what is set now, whatever is usually offered."""
    offered = members if chosen in members else (*members, chosen)
    return forms.ChoiceField(
        label=title, choices=[(m.value, label(m)) for m in offered], initial=chosen.value
    )


def _upper(text: str) -> str:
    return text[:1].upper() + text[1:]
