"""The plan of a quiz as a trainer types it."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from django import forms
from django.utils.translation import gettext as _
from django.utils.translation import gettext_lazy, ngettext

from assessments.measures.quiz.blueprint import is_critical
from assessments.measures.quiz.lines import LINES
from assessments.models import QuizSheet
from assessments.wording_items import line_label
from barcourse.people.models import Venue
from recipes.grammar.course import fold
from recipes.grammar.drink import Drink
from recipes.menu import Menu
from recipes.models import Module, Scenario


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

    def clean(self) -> dict[str, Any]:
        """What must be right is asked: it has to be in the modules, and to fit."""
        said = super().clean() or self.cleaned_data
        if {"modules", "critical", "length", "scenarios", "cards"} <= said.keys():
            modules, critical = set(said["modules"]), said["critical"]
            inside = {i.drink.slug: i.drink for i in self.menu.items if i.recipe.module in modules}
            self._look_for(critical, inside)
            must = sum(is_critical(d, critical) for d in inside.values())
            if must > said["length"] - said["scenarios"] - said["cards"] >= 0:
                self.add_error("length", too_many_to_ask(must))
        if {"modules", "scenarios"} <= said.keys():
            there = Scenario.objects.filter(lesson__module__in=said["modules"]).count()
            if said["scenarios"] > there:
                self.add_error("scenarios", too_few_situations(there))
        return said

    def _look_for(self, critical: list[str], inside: Mapping[str, Drink]) -> None:
        for slug in critical:
            if slug not in inside:
                name = self.menu.by_slug[slug].drink.name
                told = _("%(name)s is in none of the modules of this quiz.") % {"name": name}
                self.add_error("critical", told)
                return


def too_few_situations(there: int) -> str:
    if not there:
        return _("None of these modules has a situation. Ask for none, or tick one that has.")
    return ngettext(
        "These modules have one situation and no more.",
        "These modules have %(count)s situations and no more.",
        there,
    ) % {"count": there}


def too_many_to_ask(must: int) -> str:
    """All of them are asked, so the quiz has a place for each."""
    return ngettext(
        "One drink must be right and is always asked: there is no place for it. "
        "Have more questions, or fewer situations and cards.",
        "%(count)s drinks must be right and are always asked: there is no place for all. "
        "Have more questions, fewer situations and cards, or fewer such drinks.",
        must,
    ) % {"count": must}
