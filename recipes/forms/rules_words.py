"""What guests call things, and starting from the rules of another country."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from django import forms
from django.core.exceptions import ValidationError
from django.utils.translation import gettext as _

from recipes.forms.rules import SectionForm
from recipes.grammar.reasons import CannotBuild, Reason, Value
from recipes.grammar.rules import HouseRules, Pattern, Serving
from recipes.grammar.rules_lines import read_slang, write_slang
from recipes.grammar.rules_preset import PRESETS, fitted
from recipes.grammar.rules_said import (
    read_patterns,
    read_servings,
    write_patterns,
    write_servings,
)
from recipes.grammar.words_owned import PATTERN, SERVING, SLANG, without_owned
from recipes.naming import named_drinks
from recipes.saying import sentences
from recipes.shipped import shipped_rules
from recipes.wording import either, label
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
        self.fields["patterns"] = forms.CharField(
            label=_("Words that make a drink of any base"),
            help_text=_(
                "One a line, with what tops it up: “press = ginger ale, club soda”. After a "
                "semicolon its own garnish (“always lime wedge”, or “none”) and the base that is "
                "meant where the guest names none (“base bourbon”); otherwise the garnish rules "
                "decide, and the bartender asks."
            ),
            initial=write_patterns(self.rules.patterns, self.menu.pantry),
            max_length=4000,
            required=False,
            widget=forms.Textarea(attrs={"rows": 5, **TYPED}),
        )
        self.fields["servings"] = forms.CharField(
            label=_("Words that say how much"),
            help_text=_("One a line: “short = %(example)s”. It may mean %(meanings)s.")
            % {"example": label(Serving.ANY_SPIRIT), "meanings": either([*_labels().values()])},
            initial=write_servings(self.rules.servings, _labels()),
            max_length=1000,
            required=False,
            widget=forms.Textarea(attrs={"rows": 4, **TYPED}),
        )

    def clean_patterns(self) -> dict[str, Pattern]:
        try:
            return read_patterns(self.cleaned_data["patterns"], self.menu.pantry)
        except CannotBuild as bad:
            raise ValidationError(sentences(bad.reasons, self.menu)) from bad

    def clean_servings(self) -> dict[str, Serving]:
        try:
            return read_servings(self.cleaned_data["servings"], _labels())
        except CannotBuild as bad:
            raise ValidationError(sentences(bad.reasons, self.menu)) from bad

    def field_of(self, code: str, values: Mapping[str, Value]) -> str:
        return _FIELDS.get(str(values.get("section")), "")

    def clean_words(self) -> dict[str, str]:
        try:
            return read_slang(self.cleaned_data["words"], self.menu.pantry)
        except CannotBuild as bad:
            raise ValidationError(sentences(bad.reasons, self.menu)) from bad

    def changed(self) -> Mapping[str, Any]:
        said = self.cleaned_data
        patterns = {w: made.model_dump() for w, made in said["patterns"].items()}
        return {"slang": said["words"], "patterns": patterns, "servings": said["servings"]}


_FIELDS = {SLANG: "words", PATTERN: "patterns", SERVING: "servings"}


def _labels() -> dict[Serving, str]:
    return {serving: label(serving) for serving in Serving}


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
        menu = self.menu
        rules, told = fitted(preset, menu.venue.country, self.rules, menu.pantry)
        rules, owned = without_owned(rules, self.rules, menu.pantry, named_drinks(menu.venue))
        return rules, (*told, *owned)

    @property
    def country(self) -> str:
        """Once one is picked, its own."""
        picked = getattr(self, "cleaned_data", {}).get("preset")
        return shipped_rules(picked).country if picked else super().country

    def new_rules(self) -> HouseRules:
        return self._fitted()[0]

    def told(self) -> tuple[Reason, ...]:
        return self._fitted()[1]
