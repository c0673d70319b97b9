"""What a recipe leaves open, by kind of drink: glass, ice, straw; and how doubles are made."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from typing import Any

from django import forms
from django.utils.translation import gettext as _

from recipes.forms.rules import FieldRow, SectionForm, choice, upper
from recipes.grammar.reasons import Value
from recipes.grammar.rules import Family
from recipes.grammar.spec import Ice
from recipes.wording import label


class KindsForm(SectionForm):
    def add_fields(self) -> None:
        for family in Family:
            self._add_family(family)
        self.fields["straw_families"] = forms.MultipleChoiceField(
            label=_("A straw goes into"),
            help_text=_("Unless a recipe says otherwise. Local law may say which kind of straw."),
            choices=[(family.value, label(family)) for family in Family],
            initial=[family.value for family in self.rules.straw_families],
            widget=forms.CheckboxSelectMultiple,
            required=False,
        )
        self._add_doubles()

    def _add_family(self, family: Family) -> None:
        glass = self.rules.default_glass.get(family, "")
        self.fields[f"family_{family}_glass"] = forms.ChoiceField(
            label=_("glass"), choices=list(self.menu.glass_names.items()), initial=glass
        )
        ice = self.rules.default_ice.get(family, Ice.NONE)
        self.fields[f"family_{family}_ice"] = choice(_("ice"), tuple(Ice), ice)

    def _add_doubles(self) -> None:
        doubles = self.rules.doubles
        self.fields["double_pours"] = forms.IntegerField(
            label=_("Pours in a double"), min_value=2, max_value=4, initial=doubles.pours
        )
        self.fields["tall_glass"] = forms.ChoiceField(
            label=_("A tall one goes in the"),
            choices=list(self.menu.glass_names.items()),
            initial=doubles.tall_glass,
        )
        self.fields["ask_short_or_tall"] = forms.BooleanField(
            label=_("Ask the guest: short or tall?"),
            initial=doubles.ask_short_or_tall,
            required=False,
        )

    def family_rows(self) -> Iterator[FieldRow]:
        for family in Family:
            fields = self.bound(f"family_{family}", "glass", "ice")
            yield FieldRow(upper(label(family)), fields)

    def doubles_row(self) -> FieldRow:
        return FieldRow(_("A double"), (self["double_pours"], self["tall_glass"]))

    def changed(self) -> Mapping[str, Any]:
        said = self.cleaned_data
        return {
            "default_glass": {f: said[f"family_{f}_glass"] for f in Family},
            "default_ice": {f: said[f"family_{f}_ice"] for f in Family},
            "straw_families": [f for f in Family if f.value in said["straw_families"]],
            "doubles": {
                "pours": said["double_pours"],
                "tall_glass": said["tall_glass"],
                "ask_short_or_tall": said["ask_short_or_tall"],
            },
        }

    def field_of(self, code: str, values: Mapping[str, Value]) -> str:
        """A glass too small for a drink stands beside the first kind that it was given to."""
        glass = values.get("glass")
        if glass is None:
            return ""
        given = (f for f in Family if self.cleaned_data.get(f"family_{f}_glass") == glass)
        return f"family_{next(given, '')}_glass"
