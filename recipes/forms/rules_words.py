"""What guests call things, and starting from the rules of another country."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from django import forms
from django.core.exceptions import ValidationError
from django.utils.translation import gettext as _

from recipes.forms.rules import SectionForm
from recipes.grammar.reasons import CannotBuild, Reason
from recipes.grammar.rules import HouseRules
from recipes.grammar.rules_lines import read_slang, write_slang
from recipes.grammar.rules_preset import PRESETS, fitted
from recipes.saying import sentences
from recipes.shipped import shipped_rules
from recipes.words_rules import preset_name

TYPED = {"spellcheck": "false", "autocapitalize": "off"}


class WordsForm(SectionForm):
    def add_fields(self) -> None:
        self.fields["words"] = forms.CharField(
            label=_("Words and what the house means by them"),
            help_text=_("One a line: “cran = cranberry juice”. The same word means one thing."),
            initial=write_slang(self.rules.slang, self.menu.pantry),
            max_length=4000,
            required=False,
            widget=forms.Textarea(attrs={"rows": 8, **TYPED}),
        )

    def clean_words(self) -> dict[str, str]:
        try:
            return read_slang(self.cleaned_data["words"], self.menu.pantry)
        except CannotBuild as bad:
            raise ValidationError(sentences(bad.reasons, self.menu)) from bad

    def changed(self) -> Mapping[str, Any]:
        return {"slang": self.cleaned_data["words"]}


class PresetForm(SectionForm):
    """The rules that ship for a country, as this house can take them over."""

    can_join = False

    def add_fields(self) -> None:
        self.fields["preset"] = forms.ChoiceField(
            label=_("Start from"),
            choices=[(key, preset_name(key)) for key in PRESETS],
            widget=forms.RadioSelect,
            error_messages={"required": _("Pick one of them.")},
        )

    def _fitted(self) -> tuple[HouseRules, tuple[Reason, ...]]:
        preset = shipped_rules(self.cleaned_data["preset"])
        return fitted(preset, self.menu.venue.country, self.rules, self.menu.pantry)

    @property
    def country(self) -> str:
        """Once one is picked, its own."""
        picked = getattr(self, "cleaned_data", {}).get("preset")
        return shipped_rules(picked).country if picked else super().country

    def new_rules(self) -> HouseRules:
        return self._fitted()[0]

    def told(self) -> tuple[Reason, ...]:
        return self._fitted()[1]
