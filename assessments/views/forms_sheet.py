"""The plan of a quiz as a trainer types it."""

from __future__ import annotations

from typing import Any

from django import forms
from django.utils.translation import gettext as _
from django.utils.translation import gettext_lazy

from assessments.measures.quiz.lines import LINES
from assessments.models import QuizSheet
from assessments.wording_items import line_label
from barcourse.people.models import Venue
from recipes.grammar.course import fold
from recipes.menu import Menu
from recipes.models import Module


class SheetForm(forms.ModelForm[QuizSheet]):
    modules = forms.ModelMultipleChoiceField(
        label=gettext_lazy("Modules"),
        queryset=Module.objects.none(),
        to_field_name="slug",
        widget=forms.CheckboxSelectMultiple,
    )
    mix = forms.MultipleChoiceField(
        label=gettext_lazy("Kinds of questions"),
        widget=forms.CheckboxSelectMultiple,
        required=False,
        help_text=gettext_lazy(
            "Nothing ticked: must-knows as whole builds first, then all kinds in turn."
        ),
    )
    critical = forms.CharField(
        label=gettext_lazy("Drinks that must be right"),
        widget=forms.Textarea({"rows": 3}),
        required=False,
        max_length=2000,
        help_text=gettext_lazy("One a line. Drinks without alcohol must be right anyway."),
    )

    class Meta:
        model = QuizSheet
        fields = (
            "name", "modules", "length", "scenarios", "cards", "mix", "critical", "pass_mark",
            "minutes", "retake_hours",
        )  # fmt: skip

    def __init__(self, *args: Any, venue: Venue, menu: Menu, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        self.menu = menu
        self.fields["modules"].queryset = Module.objects.in_house(venue)  # type: ignore[attr-defined]
        self.fields["mix"].choices = [(word, line_label(line)) for word, line in LINES.items()]  # type: ignore[attr-defined]
        if self.instance.pk:
            chosen = list(self.instance.modules.values_list("slug", flat=True))
            self.initial["modules"] = chosen
            self.initial["critical"] = self._names(self.instance.critical)

    def _names(self, slugs: list[str]) -> str:
        found = (self.menu.by_slug.get(slug) for slug in slugs)
        return "\n".join(item.drink.name for item in found if item)

    def clean_name(self) -> str:
        return " ".join(str(self.cleaned_data["name"]).split())

    def clean_critical(self) -> list[str]:
        """Slugs of the drinks named."""
        named = {fold(n): d.slug for d in self.menu.drinks for n in (d.name, *d.aliases)}
        said = [line.strip() for line in self.cleaned_data["critical"].splitlines()]
        unknown = [line for line in said if line and fold(line) not in named]
        if unknown:
            raise forms.ValidationError(
                _("No drink on the menu is called %(name)s.") % {"name": unknown[0][:80]}
            )
        return list(dict.fromkeys(named[fold(line)] for line in said if line))
