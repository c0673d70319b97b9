"""The house's glasses: their names, what they hold, what their ice takes."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from typing import Any

from django import forms
from django.core.exceptions import ValidationError
from django.utils.text import slugify
from django.utils.translation import gettext as _

from recipes.forms.fields import AmountField
from recipes.forms.rules import POUR_UNITS, FieldRow, SectionForm, choice
from recipes.grammar.reasons import Value
from recipes.grammar.rules import DEFAULT_ICE_SHARE, GlassRule
from recipes.grammar.rules_ice import calibrated
from recipes.grammar.units import Unit, to_ml
from recipes.wording import number_words

GLASS_UNITS = (*POUR_UNITS, Unit.US_PINT, Unit.IMPERIAL_PINT)
NEW = "new"
_ENDS = ("name", "amount", "unit", "ice", "stemmed")


def percent(share: float) -> int:
    return round(100 * share)


class GlassesForm(SectionForm):
    """Every glass in a fold of its own, and room for a new one."""

    def add_fields(self) -> None:
        for key, glass in self.rules.glasses.items():
            self._add(f"glass_{key}", glass)
            self.fields[f"glass_{key}_remove"] = forms.BooleanField(
                label=_("The house has it no more"), required=False
            )
        self._add(NEW, None)

    def _add(self, stem: str, glass: GlassRule | None) -> None:
        known = glass is not None
        self.fields[f"{stem}_name"] = forms.CharField(
            label=_("name"), max_length=60, required=known, initial=glass and glass.name
        )
        self.fields[f"{stem}_amount"] = AmountField(
            label=_("holds, brimful"), required=known, initial=glass and glass.amount
        )
        unit = glass.unit if glass else self.rules.tolerance_unit
        self.fields[f"{stem}_unit"] = choice(_("measured in"), GLASS_UNITS, unit)
        share = glass.ice_share if glass else DEFAULT_ICE_SHARE
        self.fields[f"{stem}_ice"] = forms.IntegerField(
            label=_("full ice takes, percent"), min_value=0, max_value=99, initial=percent(share)
        )
        self.fields[f"{stem}_stemmed"] = forms.BooleanField(
            label=_("It has a stem"), required=False, initial=bool(glass and glass.stemmed)
        )

    def glass_rows(self) -> Iterator[FieldRow]:
        for key, glass in self.rules.glasses.items():
            fields = self.bound(f"glass_{key}", *_ENDS, "remove")
            yield FieldRow(glass.name, fields, note=_measured(glass))

    def new_row(self) -> FieldRow:
        return FieldRow(_("A new glass"), self.bound(NEW, *_ENDS))

    def clean(self) -> None:
        said = self.cleaned_data
        if bool(said.get("new_name")) != bool(said.get("new_amount")):
            missing = "new_amount" if said.get("new_name") else "new_name"
            self.add_error(missing, _("A new glass needs a name and what it holds."))
        elif said.get("new_name") and not slugify(said["new_name"]):
            self.add_error("new_name", _("Give it a name with letters, please."))

    def changed(self) -> Mapping[str, Any]:
        said = self.cleaned_data
        glasses = {
            key: self._glass(f"glass_{key}", glass)
            for key, glass in self.rules.glasses.items()
            if not said[f"glass_{key}_remove"]
        }
        if said["new_name"]:
            glasses[self._new_key()] = self._glass(NEW, None)
        return {"glasses": glasses}

    def _glass(self, stem: str, before: GlassRule | None) -> dict[str, Any]:
        """A measured share stays as exact as it is while its percent is left alone."""
        said = {end: self.cleaned_data[f"{stem}_{end}"] for end in _ENDS}
        ice = said.pop("ice")
        if before is not None and ice == percent(before.ice_share):
            return {**said, "ice_share": before.ice_share, "ice_measured": before.ice_measured}
        return {**said, "ice_share": ice / 100}

    def _new_key(self) -> str:
        wanted: str = slugify(self.cleaned_data["new_name"])
        key, number = wanted, 2
        while key in self.rules.glasses:
            key, number = f"{wanted}-{number}", number + 1
        return key

    def field_of(self, code: str, values: Mapping[str, Value]) -> str:
        if code == "glass_named_twice":
            name = f"glass_{values.get('glass')}_name"
            return name if name in self.fields else "new_name"
        end = "remove" if code == "unknown_glass" else "amount"
        return f"glass_{values.get('glass')}_{end}"


def _measured(glass: GlassRule) -> str:
    if glass.ice_measured:
        told = {"percent": number_words(round(100 * glass.ice_share, 1))}
        return _("Its ice was measured here: it takes %(percent)s percent.") % told
    return ""


class IceForm(SectionForm):
    """What came of filling a glass with ice and then with water."""

    can_join = False

    def add_fields(self) -> None:
        icy = {key: glass for key, glass in self.rules.glasses.items() if glass.ice_share}
        self.fields["glass"] = forms.ChoiceField(
            label=_("Which glass"), choices=[(key, g.name) for key, g in icy.items()]
        )
        self.fields["water"] = AmountField(
            label=_("How much water went in"),
            error_messages={"required": _("Measure the water that you pour off, and type it.")},
        )
        usual = Unit.FLOZ if self.rules.country == "us" else Unit.ML
        self.fields["water_unit"] = choice(_("measured in"), POUR_UNITS, usual)

    def clean_water(self) -> float:
        water: float | None = self.cleaned_data["water"]
        if water is None:
            raise ValidationError(_("Measure the water that you pour off, and type it."))
        return water

    def changed(self) -> Mapping[str, Any]:
        said = self.cleaned_data
        water = to_ml(said["water"], Unit(said["water_unit"]))
        glass = calibrated(self.rules.glasses[said["glass"]], water)
        return {"glasses": {**self.rules.model_dump()["glasses"], said["glass"]: glass}}

    def field_of(self, code: str, values: Mapping[str, Value]) -> str:
        return "water"
